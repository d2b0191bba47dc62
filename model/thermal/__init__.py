"""Heat and steam: saturation, boiler horsepower."""
