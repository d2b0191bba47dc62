"""The condition report: numbers once, then sections, then files. Renderers only format."""
