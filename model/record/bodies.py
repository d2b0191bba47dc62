"""The fields of each kind's body, with the rule that each must keep.

Frozen: a field is added in a new schema number, never changed. Not here: who may supersede what
(``model.record.kinds``).
"""

from collections.abc import Mapping

from model.record import words
from model.record.fields import (
    Check,
    anything,
    day,
    entity,
    filled_text,
    flag,
    list_of,
    map_of,
    number,
    object_of,
    one_of,
    optional,
    partial_date,
    sha256,
    text,
    tube_key,
    whole,
)

_SIZE_MM = number(0, 100_000, above=True)
_PLACE_MM = number(-100_000, 100_000)
_PRESSURE_MPA = number(0, 100)
_CLOCK_H = number(0, 12, above=True)
_PASS = whole(1, 9)
_PLUG = optional(
    object_of(
        {
            "type": optional(one_of(words.PlugType)),
            "condition": optional(one_of(words.PlugCondition)),
            "vented": optional(flag),
        }
    )
)
_FINDING = object_of(
    {
        "mechanism": one_of(words.Mechanism),
        "side": one_of(words.Side),
        "at_mm": optional(_PLACE_MM),
        "clock_h": optional(_CLOCK_H),
        "extent_mm": optional(number(0, 100_000)),
        "thickness_mm": optional(number(0, 1_000)),
        "grade": one_of(words.Grade),
        "note": text,
    }
)
_INSTRUMENT = object_of(
    {
        "name": filled_text,
        "method": optional(one_of(words.ReadingMethod)),
        "accuracy_mm": optional(number(0, 100)),
        "calibration": text,
    }
)
_HOLE = object_of(
    {
        "hole": entity,
        "tube": tube_key,
        "label": optional(text),
        "pass": _PASS,
        "row": whole(1, 10_000),
        "column": whole(1, 10_000),
        "x_mm": _PLACE_MM,
        "y_mm": _PLACE_MM,
        "od_mm": optional(_SIZE_MM),
        "wall_mm": optional(_SIZE_MM),
        "length_mm": optional(_SIZE_MM),
        "material": optional(text),
        "kind": one_of(words.TubeKind),
    }
)
_SHEET = object_of(
    {
        "key": filled_text,
        "name": filled_text,
        "plate_mm": optional(_SIZE_MM),
        "stress_mpa": optional(number(0, 10_000, above=True)),
        "hole_mm": optional(_SIZE_MM),
        "material": optional(text),
    }
)
_FACE = object_of(
    {
        "key": filled_text,
        "name": filled_text,
        "sheet": filled_text,
        "looks": one_of(words.Looks),
        "shows": list_of(object_of({"pass": _PASS, "end": one_of(words.End)})),
    }
)
_TUBE_STOCK = optional(
    object_of(
        {
            "od_mm": optional(_SIZE_MM),
            "wall_mm": optional(_SIZE_MM),
            "material": optional(text),
        }
    )
)
_VECTOR = map_of(entity, map_of(entity, whole(1, 2**53)))
_ENDS = list_of(one_of(words.End), most=2)

BODIES: Mapping[str, Mapping[str, Check]] = {
    "person": {
        "person": entity,
        "name": filled_text,
        "company": text,
        "role": text,
        "certificate": text,
    },
    "origin": {"app_version": text, "device": text, "cloned_from": optional(entity)},
    "boiler": {
        "boiler": entity,
        "tag": filled_text,
        "owner": text,
        "site": text,
        "kind": one_of(words.BoilerKind),
        "year_built": optional(whole(1800, 2200)),
        "mawp_mpa": optional(_PRESSURE_MPA),
        "operating_pressure_mpa": optional(_PRESSURE_MPA),
        "identity": map_of(filled_text, anything),
        "tubes": map_of(filled_text, anything),
        "shell": map_of(filled_text, anything),
        "sheets": list_of(_SHEET, most=20),
        "faces": list_of(_FACE, most=40),
        "numbering_note": text,
    },
    "layout": {"holes": list_of(_HOLE), "retired": list_of(entity)},
    "settings": {
        "section": one_of(words.SettingsSection),
        "values": map_of(filled_text, anything),
        "basis": text,
    },
    "inspection": {
        "inspection": entity,
        "date": day,
        "scope": one_of(words.Scope),
        "passes": list_of(_PASS, most=9),
        "purpose": text,
        "opened": list_of(filled_text, most=40),
        "cleaned": list_of(filled_text, most=40),
        "instruments": list_of(_INSTRUMENT, most=40),
    },
    "close": {
        "inspection": entity,
        "vector": _VECTOR,
        "beyond_gap": list_of(sha256),
        "digest": sha256,
    },
    "observation": {
        "inspection": entity,
        "hole": entity,
        "tube": tube_key,
        "face": optional(filled_text),
        "end": one_of(words.End),
        "state": optional(one_of(words.State)),
        "reason": optional(one_of(words.Reason)),
        "leak_at": optional(one_of(words.LeakAt)),
        "leak_at_mm": optional(_PLACE_MM),
        "found_by": optional(one_of(words.FoundBy)),
        "test_mpa": optional(_PRESSURE_MPA),
        "how": one_of(words.How),
        "plug": _PLUG,
        "findings": list_of(_FINDING, most=50),
        "note": text,
        "act": optional(entity),
    },
    "reading": {
        "inspection": entity,
        "hole": entity,
        "end": optional(one_of(words.End)),
        "at_mm": optional(_PLACE_MM),
        "clock_h": optional(_CLOCK_H),
        "side": one_of(words.Side),
        "wall_mm": optional(number(0, 1_000)),
        "loss_percent": optional(number(0, 100)),
        "entered": optional(object_of({"value": number(), "unit": filled_text})),
        "method": optional(one_of(words.ReadingMethod)),
        "instrument": text,
        "surface": optional(one_of(words.Surface)),
        "accuracy_mm": optional(number(0, 100)),
        "in_rolled_zone": flag,
        "purpose": one_of(words.Purpose),
        "confirmed": flag,
        "note": text,
    },
    "part": {
        "inspection": entity,
        "part": one_of(words.PartWhat),
        "where": object_of(
            {
                "holes": list_of(entity),
                "sheet": optional(filled_text),
                "distance_mm": optional(_PLACE_MM),
                "clock_h": optional(_CLOCK_H),
                "text": text,
            }
        ),
        "mechanism": optional(one_of(words.Mechanism)),
        "side": one_of(words.Side),
        "method": optional(one_of(words.FoundBy)),
        "length_mm": optional(number(0, 100_000)),
        "depth_mm": optional(number(0, 1_000)),
        "remaining_percent": optional(number(0, 100)),
        "grade": one_of(words.Grade),
        "note": text,
    },
    "photo": {
        "inspection": optional(entity),
        "about": object_of(
            {
                "what": one_of(words.PhotoAbout),
                "hole": optional(entity),
                "end": optional(one_of(words.End)),
                "key": optional(filled_text),
            }
        ),
        "sha256": sha256,
        "bytes": whole(1, 2**40),
        "media": filled_text,
        "caption": text,
        "taken_at": optional(filled_text),
    },
    "test_run": {
        "inspection": entity,
        "pressure_mpa": _PRESSURE_MPA,
        "medium": one_of(words.Medium),
        "water_c": optional(number(-50, 400)),
        "metal_c": optional(number(-50, 400)),
        "started": optional(filled_text),
        "held_minutes": optional(number(0, 100_000)),
        "end_pressure_mpa": optional(_PRESSURE_MPA),
        "gauge": text,
        "leaks_seen": optional(flag),
        "by_rule": text,
    },
    "settle": {
        "inspection": entity,
        "hole": entity,
        "end": one_of(words.End),
        "state": one_of(words.State),
        "leak_at": optional(one_of(words.LeakAt)),
        "plug": _PLUG,
        "why": filled_text,
        "from": one_of(words.SettledFrom),
    },
    "withdraw": {"why": filled_text},
    "work": {
        "inspection": optional(entity),
        "hole": optional(entity),
        "pass": optional(_PASS),
        "count": optional(whole(1, 100_000)),
        "does": one_of(words.Does),
        "ends": _ENDS,
        "plug": _PLUG,
        "heat": text,
        "tube": _TUBE_STOCK,
        "done_on": optional(partial_date),
        "source": text,
        "corrects": flag,
    },
    "event": {
        "hole": optional(entity),
        "pass": optional(_PASS),
        "count": optional(whole(1, 100_000)),
        "what": one_of(words.EventWhat),
        "date": partial_date,
        "plug": _PLUG,
        "by_text": text,
        "source": text,
    },
    "cause": {
        "inspection": entity,
        "group": filled_text,
        "side": one_of(words.Side),
        "evidence": text,
        "suspected": text,
        "confirmed_by": text,
    },
    "same": {
        "what": one_of(words.SameWhat),
        "a": entity,
        "b": entity,
        "holes": map_of(entity, entity),
    },
    "sign_off": {
        "inspection": entity,
        "name": filled_text,
        "role": filled_text,
        "certificate": text,
        "statement": text,
        "vector": _VECTOR,
        "beyond_gap": list_of(sha256),
        "digest": sha256,
    },
}
