"""One option's cash flows in a workbook of formulas, reckoned by another program.

The test writes counts, bills and prices as plain numbers and everything that follows as formulas;
``formulas`` (which knows nothing of us) reads the file and evaluates them.
"""

import dataclasses

import formulas
import openpyxl
import pytest
from openpyxl.utils import get_column_letter as letter

from model.decision.money.option_money import price_options
from model.decision.trials.draws import PRICE_ITEMS, draw
from model.decision.trials.trial_runs import run_trials
from tests.model.decision.small_situation import (
    a_pass,
    a_plan,
    a_risk,
    a_situation,
    all_of,
    some_bills,
    some_effects,
    some_prices,
)

RATE, YEARS = 7.5, 6
NOW = "now"


@pytest.fixture(scope="module")
def boiler():
    """A boiler on which everything happens that can be counted."""
    prices = {name: 3.0 + 1.7 * place for place, name in enumerate(PRICE_ITEMS)}
    return a_situation(
        a_pass(2, 60, bad=3, weak=6, due_weak=(1.0, 0.5), risk=a_risk(losses=9)),
        a_pass(3, 50, plugged=1, bad=1),
        prices=some_prices(**prices),
        out_of_service_act={2: 14.0, 3: None},
        needed_output_kw=5000.0,
        standby_kw=1.0,
        hours_per_year=5000.0,
        load_percent=80.0,
    )


@pytest.fixture(scope="module")
def run(boiler):
    plan = a_plan(
        plug=all_of(boiler, "bad"),
        retube_in_year={3: 2},
        bill_now={"labour_per_hour": 12.5, "plug_each": 8.0, "open_and_close": 1.0},
    )
    draws = draw(boiler, years=YEARS, trials=200, seed=8)
    effects = some_effects(2, 3, fan_pa=1000.0)
    counts = run_trials((plan,), boiler, effects, draws, years=YEARS, discount_percent=RATE)
    priced = price_options((plan,), counts, some_bills(boiler), boiler.prices, draws)
    return plan, counts, priced.money[plan.key]


def write_workbook(path, plan, counts, boiler):
    """Three sheets: what each event takes, how often it comes, and what that costs."""
    bills = {NOW: plan.bill_now} | some_bills(boiler)
    kinds = (NOW, *counts.kinds)
    book = openpyxl.Workbook()
    takes = book.active
    takes.title = "TAKES"
    takes.append(["", *kinds, "price"])
    for name in PRICE_ITEMS:
        given = [bills[kind].get(name, 0.0) for kind in kinds]
        takes.append([name, *given, boiler.prices.value(name)])
    last, price = len(PRICE_ITEMS) + 1, letter(len(kinds) + 2)
    # What one event costs.
    costs = last + 1
    takes.cell(costs, 1, "cost")
    for column in range(2, len(kinds) + 2):
        at = letter(column)
        takes.cell(costs, column, f"=SUMPRODUCT({at}2:{at}{last},{price}2:{price}{last})")
    often = book.create_sheet("OFTEN")
    often.append(["year", *kinds, "flow", "factor", "today"])
    end = letter(len(kinds) + 1)
    flow, factor, today = (letter(len(kinds) + extra) for extra in (2, 3, 4))
    for year in range(YEARS + 1):
        row = year + 2
        happens = counts.mean_by_year[0, year - 1].tolist() if year else [0.0] * len(counts.kinds)
        often.append([year, float(year == 0), *happens])
        often[f"{flow}{row}"] = f"=SUMPRODUCT(B{row}:{end}{row},TAKES!B{costs}:{end}{costs})"
        often[f"{factor}{row}"] = f"=1/(1+RATE!A1/100)^A{row}"
        often[f"{today}{row}"] = f"={flow}{row}*{factor}{row}"
    rate = book.create_sheet("RATE")
    rate["A1"] = RATE
    rate["A2"] = f"=SUM(OFTEN!{today}2:{today}{YEARS + 2})"
    rate["A3"] = f"=OFTEN!{flow}2+NPV(A1/100,OFTEN!{flow}3:{flow}{YEARS + 2})"
    book.save(path)
    return flow


def evaluate(path):
    """Value of every cell, by sheet and place."""
    solution = formulas.ExcelModel().loads(str(path)).finish().calculate()
    cells = {}
    for name, found in solution.items():
        sheet, _, place = str(name).rpartition("!")
        if ":" not in place:
            cells[sheet.rpartition("]")[2].strip("'"), place] = found.value[0, 0]
    return cells


def test_a_workbook_of_formulas_comes_to_the_same_flows_and_present_value(tmp_path, boiler, run):
    plan, counts, money = run
    assert (counts.mean_by_year.sum(axis=(0, 1)) > 0.0).all(), "something never happens"
    path = tmp_path / "cash.xlsx"
    flow = write_workbook(path, plan, counts, boiler)
    cells = evaluate(path)
    flows = [cells["OFTEN", f"{flow}{row}"] for row in range(2, YEARS + 3)]
    assert flows == pytest.approx(money.flows, rel=1e-9)
    assert cells["RATE", "A2"] == pytest.approx(money.present_value, rel=1e-9)
    assert cells["RATE", "A3"] == pytest.approx(money.present_value, rel=1e-9)


def test_the_workbook_would_tell_a_flow_that_is_wrong(tmp_path, boiler, run):
    plan, counts, money = run
    wrong = counts.mean_by_year.copy()
    wrong[0, 3, 0] += 0.01  # a hundredth of a leak in year 4
    path = tmp_path / "cash.xlsx"
    flow = write_workbook(path, plan, dataclasses.replace(counts, mean_by_year=wrong), boiler)
    cells = evaluate(path)
    assert cells["OFTEN", f"{flow}6"] != pytest.approx(money.flows[4], rel=1e-9)
    assert cells["RATE", "A2"] > money.present_value
