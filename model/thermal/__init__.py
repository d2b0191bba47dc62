"""Heat: combustion, flue gas, tube passes, the gas side of a boiler, what plugs cost, steam."""
