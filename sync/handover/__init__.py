"""The hand-over file: records and photos of one boiler, carried from one database to another."""
