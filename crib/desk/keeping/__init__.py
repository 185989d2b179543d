"""The store itself: where it is, its settings, checks and backups."""
