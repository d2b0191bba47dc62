"""The cautions, in full: shown at the start of an inspection, in every report, by what advises.

Written once, so that no face of the program says less than another. Not here: where they are shown.
"""

ENTRY = (
    "Enter only under the site's permit, with the isolation proved by you: fuel, pilot, fan and "
    "ignition locked out; steam, feed and blow-off closed by two valves with an open bleed "
    "between, or blanked, toward anything shared with a live boiler; drained, vented, cooled "
    "(refractory too), vacuum broken before a manhole is opened. Test oxygen, flammables, toxics "
    "(carbon monoxide) from outside, in that order, and go on testing and ventilating; any oxygen "
    "reading other than normal air is explained before entry. Outside 19.5 to 23.5 % oxygen, or "
    "above 10 % of the lower flammable limit (United States figures; the law of the place "
    "governs): out. Attendant and rescue outside, low-voltage light, respirator for soot and old "
    "insulation. This tablet is not a gas monitor, not a permit, and not rated for explosive air."
)

PRESSURE = (
    "Test with water only, all air vented, never compressed air. Stand clear of the line of tube "
    "ends, plugs and handholes while under pressure; never drive a plug, roll a tube or tighten a "
    "cover under pressure. A tube plugged at both ends may hold water or pressure: vent it before "
    "heating, cutting or welding, and see that the bore is not blocked before plugging."
)

DECISION = (
    "Not an inspection certificate and not a repair report. The figures are a decision aid made "
    "from what was entered. Retirement limits, repairs, welding, plugging, pressure tests and "
    "return to service are decided by the owner with a licensed repair organisation and the "
    "authorised inspector, told before work starts, under the code and law of the place."
)

CAUTIONS: tuple[tuple[str, str], ...] = (
    ("Entry", ENTRY),
    ("Pressure", PRESSURE),
    ("Decision", DECISION),
)
"""Every caution with its heading, in the order in which they are shown."""
