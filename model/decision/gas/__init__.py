"""The gas side of a boiler as recorded, and what plugs do to it, as values and as tables."""
