"""What the record of a boiler says of risk: weak tubes, walls due, leaks, sheets to renew."""
