"""How long the whole advice takes: 1,000 tubes in three passes, 20 years, 10,000 trials.

From the numbers of the inspection to the advice: situation, gas side after every option, limits,
gates, trials, money, break-evens and what to measure. At least eight options have a price. It may
take two seconds on two cores. Not here: whether the advice is right (``tests/model/decision``).
"""

import random
import tempfile
import time
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from fieldapp.report.deciding import decide
from fieldapp.report.writing import numbers_of
from model.record.words import Scope
from model.store.edits.boilers import BoilerDocument, create_boiler
from model.store.edits.entries import Entry, record_entries
from model.store.edits.inspections import NewInspection, open_inspection
from model.store.loading import load_boiler
from model.store.opening import open_store
from model.store.surroundings import Surroundings
from model.tubesheet.layout import Tube, default_key
from tests.benchmarks.measuring import Measured, hand_over
from tests.model.decision.situation_cases import COSTS

AT = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)
WHO = "An Inspector"
ROWS = {2: (0, 10), 3: (10, 9), 4: (19, 6)}
"""First row and number of rows of each pass, 40 tubes in each row: 400, 360 and 240."""
COLUMNS = 40
PITCH_MM = 70.0
LONGEST_S = 2.0
LEAST_OPTIONS = 8
ROUNDS = 3
FIRING = {
    "fuel": "natural gas", "output_kw": 9000.0, "needed_output_kw": 8000.0, "standby_kw": 1000.0,
    "oxygen_percent": 4.0, "stack_c": 235.0, "air_c": 20.0, "load_percent": 70.0,
    "hours_per_year": 6000.0, "furnace_exit_c": 1000.0, "furnace_pressure_pa": 500.0,
    "burner_loss_pa": 1200.0, "fan_pressure_pa": 2600.0,
}  # fmt: skip


def measure(rounds=ROUNDS):
    with tempfile.TemporaryDirectory() as folder:
        numbers = example(Path(folder))
    times, of_its_own = [], []
    for _ in range(rounds):
        fresh = replace(numbers)  # without the gas side that a round before worked out
        began, began_itself = time.perf_counter(), time.process_time()
        advice = decide(fresh)
        times.append(time.perf_counter() - began)
        of_its_own.append(time.process_time() - began_itself)
    priced = [each for each in advice.options if each.money is not None]
    assert len(priced) >= LEAST_OPTIONS, advice.by
    assert advice.changes_if, advice.by
    what = f"{len(numbers.tubes)} tubes, {len(priced)} options, {advice.horizon_years} years, "
    what += f"{advice.trials} trials, gas side " + (
        "computed" if numbers.gas_side.fit.boiler is not None else numbers.gas_side.fit.why_not
    )
    return [
        Measured(name="the whole advice", value=min(times), unit="s", limit=LONGEST_S, note=what),
        Measured(name="of that, processor time", value=min(of_its_own), unit="s"),
    ]


def example(folder):
    """The numbers of one inspection with some bad, plugged and thinned tubes."""
    surroundings = Surroundings(
        clock=lambda: AT, random_bits=random.Random(5), device="bench", app_version="0"
    )
    with open_store(folder / "boilers.db", surroundings) as store:
        boiler = create_boiler(store, document(), tubes(), WHO)
        given = NewInspection(date="2026-11-25", scope=Scope.FULL, opened=[], cleaned=[])
        inspection = open_inspection(store, boiler, given, WHO)
        look(store, boiler, inspection)
        return numbers_of(store, load_boiler(store, boiler), inspection, AT)


def look(store, boiler, inspection):
    """Every end seen; plugs, leaks and thinned tubes far from each other, a wall here and there."""
    entries = []
    for number, tube in enumerate(load_boiler(store, boiler).tubes):
        state = {37: "plugged", 81: "leaking", 55: "thinned"}.get(number % 101, "sound")
        body = {"inspection": inspection, "hole": tube.hole, "tube": tube.key}
        for end in ("front", "rear"):
            more = {"leak_at": "bore"} if state == "leaking" else {}
            said = {"end": end, "state": state, "how": "seen", **more}
            entries.append(Entry(kind="observation", body={**body, **said}, by=WHO))
        if number % 23 == 5:
            wall = {"inspection": inspection, "hole": tube.hole, "end": "front", "at_mm": 300.0}
            wall |= {"wall_mm": 2.6 + 0.01 * (number % 30), "purpose": "planned"}
            wall |= {"method": "ultrasonic", "side": "unknown", "in_rolled_zone": False}
            entries.append(Entry(kind="reading", body=wall, by=WHO))
    record_entries(store, boiler, entries)


def tubes():
    return [
        Tube(
            key=default_key(pass_, row + 1, column + 1),
            pass_=pass_,
            row=row + 1,
            column=column + 1,
            x_mm=(column - (COLUMNS - 1) / 2) * PITCH_MM,
            y_mm=(12 - first - row) * PITCH_MM,
        )
        for pass_, (first, rows) in ROWS.items()
        for row in range(rows)
        for column in range(COLUMNS)
    ]


def document():
    faces = [
        {"key": end, "name": f"{end} smokebox", "sheet": end, "looks": looks,
         "shows": [{"pass": number, "end": end} for number in ROWS]}
        for end, looks in (("front", "rearward"), ("rear", "forward"))
    ]  # fmt: skip
    sheets = [
        {"key": end, "name": f"{end} tube sheet", "plate_mm": 18.0, "stress_mpa": 92.0}
        for end in ("front", "rear")
    ]
    return BoilerDocument(
        body={
            "tag": "BENCH", "owner": "", "site": "", "kind": "dry-back", "identity": {},
            "mawp_mpa": 1.0, "operating_pressure_mpa": 0.8, "numbering_note": "",
            "tubes": {"od_mm": 50.8, "wall_mm": 3.0, "length_mm": 6000.0, "installed": "2010-01"},
            "shell": {"diameter_mm": 3600.0, "furnaces": []}, "sheets": sheets, "faces": faces,
        },
        settings={
            "firing": FIRING,
            "costs": {**COSTS, "horizon_years": 20},
            "outage": {"next": "2027-07-01", "interval_years": 1.0, "tube_lead_weeks": 8.0},
            "wall": {"retirement": "stated", "stated_mm": 2.0, "basis": "invented"},
        },
    )  # fmt: skip


if __name__ == "__main__":
    hand_over(measure())
