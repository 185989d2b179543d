"""The chain behind a figure: formula, numbers, source, and what would change it most."""
