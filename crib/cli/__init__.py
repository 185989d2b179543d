"""Commands: parse arguments, call one desk function, print. No SQL, no formulas."""
