"""Moves records between databases. Imports ``model`` only. (Hand-over and hub: not built yet.)"""
