"""Starting data: what speed, feed and depth, on which machine."""
