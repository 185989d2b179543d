"""The Textual app: screens and widgets. No SQL, no formulas."""
