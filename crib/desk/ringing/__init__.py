"""How a set-up gives, when it rings, and what to change."""
