"""What is stored: closed lists, bodies, the canonical line and its id. No SQL, no state."""
