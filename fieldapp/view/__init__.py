"""What the screens show and what a touch means, without any window toolkit."""
