"""Reads the files that other people write into plain, checked rows; stores nothing."""
