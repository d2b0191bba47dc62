"""What is known about boilers and their tubes.

Imports neither ``sync`` nor ``fieldapp``; knows no window and no network.
"""
