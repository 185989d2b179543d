"""What runs out, what is missing, and the kit for a job."""
