"""Speeds, feeds, the engaged edge, forces, power, finish and passes."""
