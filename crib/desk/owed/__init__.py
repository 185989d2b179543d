"""What was brought in, what it is worth, and what is owed for it."""
