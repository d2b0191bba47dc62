"""A small recorded boiler with a burner, to ask about its gas side."""

from model.condition.boiler_facts import boiler_facts
from model.condition.tubes import WallConcerns, tube_conditions
from tests.model.condition.small_boiler import SmallBoiler

FIRING = {
    "fuel": "natural gas",
    "output_kw": 1500.0,
    "needed_output_kw": 1200.0,
    "oxygen_percent": 4.0,
    "stack_c": 235.0,
    "air_c": 24.0,
    "load_percent": 60.0,
    "hours_per_year": 5000.0,
    "furnace_exit_c": 980.0,
    "furnace_pressure_pa": 700.0,
    "burner_loss_pa": 1000.0,
    "fan_pressure_pa": 2600.0,
    "retarders": {"2": "none", "3": "none"},
}
SIZES = {"od_mm": 51.0, "wall_mm": 3.0, "length_mm": 4500.0}
DOCUMENT = {
    "tag": "B-7",
    "kind": "wet-back",
    "operating_pressure_mpa": 0.8,
    "mawp_mpa": 1.0,
    "tubes": SIZES,
    "shell": {"furnaces": [{"x_mm": 0.0, "y_mm": -400.0, "diameter_mm": 700.0}]},
}


def fired_boiler(*, firing=None, found=(), plugged_now=(), sizes=None, **document):
    """Facts and tubes; ``firing`` changes figures, None takes one away; ``found`` are plugs."""
    boiler = SmallBoiler({2: 50, 3: 40}, sizes=sizes)
    boiler.journal.add("boiler", {"boiler": boiler.journal.boiler, **DOCUMENT, **document})
    values = {name: value for name, value in (FIRING | (firing or {})).items() if value is not None}
    boiler.journal.add("settings", {"section": "firing", "values": values})
    for key in found:
        boiler.see(key, "plugged")
    for key in plugged_now:
        boiler.see(key, "leaking", "front", leak_at="bore")
        boiler.work(key, "plug")
    boiler.see_rest()
    folded = boiler.folded()
    tubes = tube_conditions(folded, boiler.inspection(folded=folded), WallConcerns())
    return boiler_facts(folded), tubes
