"""Moves records between databases. Imports ``model`` only. (The hub is not built yet.)"""
