"""What follows for the owner: acceptance limits, and the option by condition alone."""
