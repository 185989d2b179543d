"""The store: SQLAlchemy models, engine, ledger, upgrade, and the quick reading path (crib.store.read)."""
