"""What may be done: options as plans, their bills, limits after them, gates before money."""
