"""What have we got, and what is this."""
