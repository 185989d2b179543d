"""What the trade knows: pure functions over plain floats, no I/O beyond its own tables."""
