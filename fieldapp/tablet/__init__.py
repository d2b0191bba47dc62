"""The touch app: the only place that opens a window. Widgets hold no facts; they draw and tell."""
