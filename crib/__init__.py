"""crib: a machinist's tool crib, at the bench and at the command line."""

__version__ = "0.1.0"
