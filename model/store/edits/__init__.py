"""What people change: one file per thing, each change one transaction. Nothing is ever deleted."""
