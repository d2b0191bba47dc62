"""What follows from the records: a pure function of their set. No store, no file, no clock."""
