"""What every option costs, from what happens in the trials and the prices."""
