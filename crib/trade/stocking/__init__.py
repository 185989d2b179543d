"""When to buy again: pure sums over counts and days."""
