"""What happens to tools: moved, lent, brought in, worn, counted; each one told in a line and undone."""
