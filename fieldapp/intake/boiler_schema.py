"""What may stand in ``boiler.toml``: sections, keys, kinds of values and their limits, in SI.

Not here: reading the file (``boiler_toml``), and rules between keys (``boiler_checks``).
"""

from collections.abc import Mapping
from typing import Any

from fieldapp.intake.faults import quoted
from fieldapp.intake.toml_fields import (
    MAX_TABLES,
    Read,
    Schema,
    Spot,
    by_pass,
    choice,
    day,
    number,
    partial_date,
    read_table_of,
    tables,
    text,
    text_or_number,
    texts,
    whole,
)
from model.condition.clusters import WIDEST_ACCEPTED_MM
from model.condition.stored_figures import LONGEST_YEARS, SHORTEST_INTERVAL_YEARS
from model.record.words import BoilerKind, End, Looks
from model.tubesheet.layout import KEY_RULE, is_key

COST_SOURCES = ("quoted", "owner", "assumed")
TUBE_ENDS = ("rolled", "rolled-flared", "rolled-beaded", "rolled-welded", "welded")
RETIREMENT_RULES = ("stated", "us-historic", "lloyds-table")
FUELS = ("natural gas", "light oil")

_SIZE = number(above=0, most=100_000)
_PLACE = number(least=-100_000, most=100_000)
_PRESSURE = number(above=0, most=100)
_PERCENT = number(least=0, most=100)
_INTERVAL = number(least=SHORTEST_INTERVAL_YEARS, most=LONGEST_YEARS)
_DRAFT = number(least=0, most=100_000)
_GAS_TEMPERATURE = number(least=-60, most=2_500)

BOILER: Schema = {
    "tag": text,
    "owner": text,
    "site": text,
    "kind": choice(BoilerKind),
    "year_built": whole(least=1800, most=2200),
    "mawp_mpa": _PRESSURE,
    "operating_pressure_mpa": _PRESSURE,
    "numbering_note": text,
}
IDENTITY: Schema = {
    "maker": text,
    "serial": text_or_number,
    "national_board": text_or_number,
    "jurisdiction": text,
    "code": text,
    "heating_surface_m2": number(above=0, most=100_000),
    "certificate_expiry": day,
    "safety_valve_mpa": _PRESSURE,
    "insurer_object": text_or_number,
    "earlier_retubes": texts,
}
TUBES: Schema = {
    "od_mm": number(above=0, most=1_000),
    "wall_mm": number(above=0, most=100),
    "length_mm": _SIZE,
    "material": text,
    "installed": partial_date,
    "ends": by_pass(choice(TUBE_ENDS)),
}
SHELL: Schema = {
    "diameter_mm": _SIZE,
    "furnaces": tables(
        {"x_mm": _PLACE, "y_mm": _PLACE, "diameter_mm": _SIZE},
        needed=("x_mm", "y_mm", "diameter_mm"),
    ),
}
SHEET: Schema = {
    "key": text,
    "name": text,
    "plate_mm": _SIZE,
    "stress_mpa": number(above=0, most=2_000),
    "hole_mm": _SIZE,
    "material": text,
}
FACE: Schema = {
    "key": text,
    "name": text,
    "sheet": text,
    "looks": choice(Looks),
    "shows": tables({"pass": whole(least=1, most=9), "end": choice(End)}, needed=("pass", "end")),
}
WALL: Schema = {
    "retirement": choice(RETIREMENT_RULES),
    "stated_mm": number(above=0, most=100),
    "basis": text,
    "allowance_mm": number(least=0, most=100),
    "note_percent": number(above=0, most=100),
}
FIRING: Schema = {
    "fuel": choice(FUELS),
    "output_kw": number(above=0, most=1_000_000),
    "needed_output_kw": number(least=0, most=1_000_000),
    "standby_kw": number(least=0, most=1_000_000),
    "oxygen_percent": number(least=0, most=20.9),
    "stack_c": _GAS_TEMPERATURE,
    "air_c": number(least=-60, most=400),
    "load_percent": number(above=0, most=150),
    "hours_per_year": number(least=0, most=8_784),
    "furnace_exit_c": _GAS_TEMPERATURE,
    "furnace_pressure_pa": number(least=-100_000, most=100_000),
    "burner_loss_pa": _DRAFT,
    "fan_pressure_pa": _DRAFT,
    "retarders": by_pass(text),
}
OUTAGE: Schema = {
    "next": day,
    "interval_years": _INTERVAL,
    "legal_interval_years": _INTERVAL,
    "tube_lead_weeks": number(least=0, most=1_000),
}
_LIMIT: Schema = {"watch": _PERCENT, "act": _PERCENT, "basis": text}
_ACCEPTED: Schema = {"act_mm": number(above=0, most=WIDEST_ACCEPTED_MM), "basis": text}


def accepted_by_sheet(value: object, spot: Spot) -> dict[str, Any] | None:
    """The open places that an engineer accepts, by the key of the sheet, each with its basis."""
    width = "act_in = 9.5" if spot.is_us else "act_mm = 240"
    example = f'write one such as {{chamber = {{{width}, basis = "..."}}}}.'
    if not isinstance(value, Mapping):
        spot.fault(f"must be a table by sheet; {example}")
        return None
    if len(value) > MAX_TABLES:
        spot.fault(f"has {len(value)} entries; at most {MAX_TABLES}.")
        return None
    found: dict[str, Any] = {}
    for key, answer in value.items():
        here = spot.inside(key if is_key(key) else quoted(key))
        if not is_key(key):
            here.fault(f"the key of a sheet must be {KEY_RULE}.")
        elif not isinstance(answer, Mapping):
            here.fault(f"must be the table of a sheet; {example}")
        else:
            found[key] = read_table_of(answer, _ACCEPTED, here, needed=tuple(_ACCEPTED))
    return found or None


LIMITS: Schema = {
    **{
        name: lambda value, spot: read_table_of(value, _LIMIT, spot)
        for name in ("plugged_percent", "out_of_service_percent", "coverage_percent")
    },
    "cluster": accepted_by_sheet,
}

_HOURS_BY_END: Schema = {end: number(least=0) for end in ("rolled", "beaded", "welded")}


def cost(read_value: Read) -> Read:
    """A cost item: a bare value (assumed) or a table with its value and source."""

    def read(value: object, spot: Spot) -> dict[str, Any] | None:
        if isinstance(value, Mapping) and "value" in value:
            found = read_table_of(value, {"value": read_value, "source": _SOURCE}, spot)
            if "value" not in found:
                return None
            return {"value": found["value"], "source": found.get("source", "assumed")}
        if isinstance(value, Mapping) and read_value is not _hours:
            spot.fault('must be a number, or {value = 1.0, source = "quoted"}.')
            return None
        kept = read_value(value, spot)
        return None if kept is None else {"value": kept, "source": "assumed"}

    return read


def _hours(value: object, spot: Spot) -> object:
    """Hours for a tube: one number, or one for each way its ends are made."""
    if isinstance(value, Mapping):
        return read_table_of(value, _HOURS_BY_END, spot)
    return number(least=0)(value, spot)


_SOURCE = choice(COST_SOURCES)
_MONEY = cost(number(least=0, most=1e12))
_HOURS = cost(number(least=0, most=100_000))

COSTS: Schema = {
    "currency": text,
    "fuel_per_gj": _MONEY,
    "labour_per_hour": _MONEY,
    "set_up_hours": _HOURS,
    "hours_per_tube": cost(_hours),
    "hours_per_plug": _HOURS,
    "hours_per_re_roll": _HOURS,
    "tube_each": _MONEY,
    "plug_each": _MONEY,
    "open_and_close": _MONEY,
    "doors_and_refractory": _MONEY,
    "sheet_renewal": _MONEY,
    "pressure_test": _MONEY,
    "inspector": _MONEY,
    "cleaning": _MONEY,
    "freight": _MONEY,
    "mobilisation": _MONEY,
    "outage_per_day": _MONEY,
    "days_per_100_tubes": cost(number(least=0, most=10_000)),
    "forced_outage_days": cost(number(least=0, most=10_000)),
    "forced_outage_per_day": _MONEY,
    "capacity_per_mwh": _MONEY,
    "rental_per_week": _MONEY,
    "rental_mobilise": _MONEY,
    "new_boiler": _MONEY,
    "deductible": _MONEY,
    "discount_percent": cost(_PERCENT),
    "horizon_years": cost(number(least=1, most=LONGEST_YEARS)),
}

SETTINGS: Mapping[str, Schema] = {
    "wall": WALL,
    "firing": FIRING,
    "outage": OUTAGE,
    "costs": COSTS,
    "limits": LIMITS,
}
SECTIONS: Mapping[str, Schema] = {
    "boiler": BOILER,
    "identity": IDENTITY,
    "tubes": TUBES,
    "shell": SHELL,
    **SETTINGS,
}
LISTS: Mapping[str, Read] = {
    "sheets": tables(SHEET, needed=("key",)),
    "faces": tables(FACE, needed=("key", "sheet", "looks", "shows")),
}
