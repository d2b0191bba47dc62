"""Faces people: the command line, the tablet, the drawing, the report."""
