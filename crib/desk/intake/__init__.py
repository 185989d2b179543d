"""Taking tools in: one by one, a drawer, a list; and the labels on them."""
