"""The database: opening, schema, journal, queries, cache, photos. SQL lives only here."""
