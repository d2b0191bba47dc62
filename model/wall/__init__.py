"""Readings to walls: which reading governs a tube, against which wall, and what is below it."""
