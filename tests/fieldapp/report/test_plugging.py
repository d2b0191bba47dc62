"""The section and the JSON block on plugging: they say the model's figures, or why there are none.

Not here: the figures themselves (``tests/model/decision``).
"""

import json
from dataclasses import replace
from html import unescape

import pytest

from fieldapp.cli.main import main
from fieldapp.drawing.palette import DARK, LIGHT
from fieldapp.drawing.primitives import Text, flatten
from fieldapp.report.condition_json import condition
from fieldapp.report.html_page import render_html
from fieldapp.report.pieces import Chart, Paragraph, Points, Table, Tone
from fieldapp.report.sections.plugging import build_plugging
from model.thermal.plugging_cost import RETUNE_CAUTION, one_more_plug, plugging_cost
from tests.fieldapp.report.invented_advice import BY_MONEY
from tests.model.decision.fired_boiler import fired_boiler

PLUGS = {"found": ("2.1", "2.2", "3.1"), "plugged_now": ("2.3",)}
COSTS = {"currency": "EUR", "fuel_per_gj": {"value": 12.5, "source": "quoted"}}


@pytest.fixture(scope="module")
def numbers_with(numbers):
    """``numbers_with(firing={...}, costs={...})``: the report's numbers with another gas side."""

    def made(*, costs=None, **changes):
        facts, tubes = fired_boiler(**PLUGS | changes)
        settings = {**facts.settings, **({} if costs is None else {"costs": costs})}
        return replace(numbers, facts=replace(facts, settings=settings), tubes=tubes)

    return made


@pytest.fixture(scope="module")
def usual(numbers_with):
    return numbers_with(costs=COSTS)


def of(numbers, kind):
    return [piece for piece in build_plugging(numbers).pieces if isinstance(piece, kind)]


def said(numbers):
    points = [item for piece in of(numbers, Points) for item in piece.items]
    return "\n".join([*(piece.words for piece in of(numbers, Paragraph)), *points])


def rows(numbers):
    (table,) = of(numbers, Table)
    return [[cell.words for cell in row.cells] for row in table.rows]


# ------------------------------------------------------------------ the section


def test_the_table_has_each_pass_and_all_together(usual):
    cost = usual.gas_side.cost
    of_2, of_3, of_all = rows(usual)
    assert of_2[:4] == ["2", "50", "3", "6.0"]
    assert of_3[:4] == ["3", "40", "1", "2.5"]
    assert of_all[:4] == ["all", "90", "4", ""]
    assert of_2[4:] == [
        f"{cost.by_pass[0].draft_without_plugs_pa:.0f}",
        f"{cost.by_pass[0].draft_loss_pa:.0f}",
        f"{cost.by_pass[0].draft_ratio:.2f}",
    ]
    assert of_all[6] == f"{cost.draft_ratio:.2f}"


def test_the_sentences_say_stack_efficiency_fuel_money_output_and_the_next_plug(usual):
    gas = usual.gas_side
    first, output, next_plug = of(usual, Points)[0].items
    assert f"the stack is {gas.cost.stack_rise_k:.1f} K hotter" in first
    assert f"{gas.cost.efficiency_loss_points:.2f} percentage points lower" in first
    assert f"takes {gas.cost.fuel_rise_percent:.2f} % more fuel" in first
    assert "In a year of 5,000 hours at 60 % load that is" in first
    assert first.endswith("EUR at 12.5 EUR for a GJ (source: quoted).")
    money = float(first.split(" GJ of fuel, or ")[1].split(" EUR")[0].replace(",", ""))
    assert money == pytest.approx(12.5 * gas.extra_fuel_gj, rel=5e-3)
    assert "1,200 kW is needed. An upper bound" in output
    worst = gas.next_plug[0]
    assert next_plug.startswith(
        f"One more plug costs most in pass {worst.pass_}: {worst.draft_rise_pa:.1f} Pa more draft"
    )


def test_the_caution_stands_beside_the_result(usual):
    (notice,) = [piece for piece in of(usual, Paragraph) if piece.heading == "After plugging"]
    assert notice.words == RETUNE_CAUTION
    assert notice.tone is Tone.WATCH


def test_without_a_price_there_is_fuel_and_no_money(numbers_with):
    first = of(numbers_with(), Points)[0].items[0]
    assert first.endswith("GJ of fuel; [costs] has no fuel_per_gj, so no money is said.")


def test_without_hours_the_fuel_of_a_year_is_said_not_to_be_computed(numbers_with):
    first = of(numbers_with(firing={"hours_per_year": None}), Points)[0].items[0]
    assert "needs hours_per_year and load_percent in [firing]" in first
    assert "GJ" not in first


def test_without_a_plug_nothing_is_lost(numbers_with):
    bare = numbers_with(found=(), plugged_now=())
    assert (
        of(bare, Points)[0].items[0] == "No tube is plugged as left, so plugs cost nothing today."
    )


def test_an_output_beyond_the_fan_stands_out(numbers_with):
    (notice,) = [
        piece
        for piece in of(numbers_with(firing={"needed_output_kw": 2500.0}), Paragraph)
        if piece.tone is Tone.ACT
    ]
    assert notice.heading == "The output needed is beyond the fan"
    assert "2,500 kW is needed" in notice.words


def test_retarders_are_said_before_the_figures_and_once(numbers_with):
    twisted = numbers_with(firing={"retarders": {"2": "none", "3": "twisted strip"}})
    first = build_plugging(twisted).pieces[0]
    assert first.heading == "Retarders in pass 3 are outside the model"
    assert "draft loss is therefore too low" in first.words
    assert "twisted strip" not in said(twisted).replace(first.words, "")


def test_the_table_and_first_principles_stand_side_by_side(usual, numbers_with):
    check = usual.gas_side.check
    words = said(usual)
    assert f"{check.first_principles_percent:.1f} % by first principles" in words
    assert f"{check.table_percent:.1f} % by the published table" in words
    assert "Steam Tip Sheet 4" in words
    oil = said(numbers_with(firing={"fuel": "light oil"}))
    assert "no value by the published table, since the published table is of natural gas" in oil


def test_what_was_assumed_is_listed(usual):
    listed = of(usual, Points)[1]
    assert listed.heading == "Assumed, and where not to trust it"
    assert any("plugged as found in this inspection" in item for item in listed.items)
    assert any("economisers are outside the model" in item for item in listed.items)


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
def test_two_charts_show_output_and_efficiency_by_pass(usual, theme):
    output, efficiency = of(usual, Chart)
    assert output.title == "Highest output by the share of a pass that is plugged"
    assert efficiency.title == "Combustion efficiency by the share of a pass that is plugged"
    for chart in (output, efficiency):
        picture = chart.build(theme=theme)
        named = [shape.words for shape in flatten(picture.primitives) if isinstance(shape, Text)]
        assert {"pass 2", "pass 3"} <= set(named)
        assert "pass 2 from" in picture.words
    words = [s.words for s in flatten(output.build().primitives) if isinstance(s, Text)]
    assert "needed: 1,200 kW" in words


def test_without_pressures_the_draft_ratio_is_drawn_instead(numbers_with):
    bare = numbers_with(firing={"fan_pressure_pa": None})
    ratio, _ = of(bare, Chart)
    assert ratio.title.startswith("Draft loss of all tube passes")
    assert "from 1.00 to" in ratio.build().words
    assert "Output limit not computed: it needs furnace_pressure_pa" in said(bare)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        (
            {"firing": {"stack_c": None, "air_c": None}, "tubes": {"od_mm": 51, "wall_mm": 3}},
            "[tubes] lacks length_mm, [firing] lacks stack_c and air_c.",
        ),
        ({"kind": "other"}, "the kind of this boiler is 'other'."),
        ({"firing": {"output_kw": "much"}}, "output_kw in [firing] is 'much', but must be above"),
        ({"firing": {"burner_loss_pa": -5, "stack_c": -5}}, "stack_c is -5, but must be"),
    ],
)
def test_where_nothing_is_computed_one_sentence_says_why(numbers_with, photo_path, changes, words):
    nothing = numbers_with(**changes)
    (paragraph,) = build_plugging(nothing).pieces
    assert words in paragraph.words
    block = condition(nothing, BY_MONEY)["plugging"]
    assert block["why_not"] == paragraph.words
    assert (block["by_pass"], block["curves"], block["stack_rise_k"]) == ([], [], None)
    assert paragraph.words in unescape(
        render_html(nothing, [build_plugging(nothing)], photo_path).decode()
    )


# ------------------------------------------------------------------ the file


def test_the_block_is_what_plugging_cost_says(usual):
    fit = usual.gas_side.fit
    cost = plugging_cost(fit.boiler, {2: 3, 3: 1}, fit.pressures)
    block = json.loads(json.dumps(condition(usual, BY_MONEY)["plugging"], allow_nan=False))
    assert block["why_not"] is None
    for name in ("stack_rise_k", "efficiency_loss_points", "fuel_rise_percent", "draft_ratio"):
        assert block[name] == getattr(cost, name)
    assert block["output_limit_kw"] == cost.limit.output_kw
    assert block["output_remark"] == cost.limit.remark
    assert block["needed_output_kw"] == 1200.0
    assert block["by_pass"] == [
        {
            "pass": each.pass_,
            "tubes": each.tubes,
            "plugged": each.plugged,
            "plugged_percent": each.plugged_percent,
            "draft_loss_pa": each.draft_loss_pa,
            "draft_loss_without_plugs_pa": each.draft_without_plugs_pa,
            "draft_ratio": each.draft_ratio,
        }
        for each in cost.by_pass
    ]
    assert block["next_plug"] == [
        {"pass": each.pass_, "draft_rise_pa": each.draft_rise_pa, "stack_rise_k": each.stack_rise_k}
        for each in one_more_plug(fit.boiler, {2: 3, 3: 1})
    ]
    assert block["remarks"][0] == RETUNE_CAUTION
    assert 0.0 < block["efficiency_percent"] - block["table_efficiency_percent"] < 1.0
    assert [curve["pass"] for curve in block["curves"]] == [2, 3]
    for curve in block["curves"]:
        assert [point["plugged_percent"] for point in curve["points"]] == [0, 10, 20, 30, 40]
        outputs = [point["output_limit_kw"] for point in curve["points"]]
        assert outputs == sorted(outputs, reverse=True)


def test_a_boiler_entered_from_files_has_its_block(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    firing = "\n".join(
        f"{name} = {value}"
        for name, value in {
            "fuel": '"natural gas"', "output_kw": 500, "needed_output_kw": 450,
            "oxygen_percent": 3.5, "stack_c": 235, "air_c": 20, "load_percent": 70,
            "hours_per_year": 4000, "furnace_exit_c": 950, "furnace_pressure_pa": 600,
            "burner_loss_pa": 900, "fan_pressure_pa": 2000, "retarders": '{2 = "none"}',
        }.items()
    )  # fmt: skip
    (tmp_path / "boiler.toml").write_text(
        '[boiler]\ntag = "B-1"\nkind = "dry-back"\noperating_pressure_mpa = 0.7\n'
        "[tubes]\nod_mm = 51.0\nwall_mm = 3.0\nlength_mm = 3500\n"
        f"[firing]\n{firing}\n",
        encoding="utf-8",
    )
    layout = ["tube,pass,row,column,x_mm,y_mm"]
    layout += [f"T{n:02d},2,1,{n},{80 * n},0" for n in range(1, 31)]
    (tmp_path / "layout.csv").write_text("\n".join(layout) + "\n", encoding="utf-8")
    seen = ["tube,state", "T01,plugged", "T02,plugged", "T03,plugged"]
    (tmp_path / "seen.csv").write_text("\n".join(seen) + "\n", encoding="utf-8")
    data = ["--data", str(tmp_path / "b.db")]
    for command in (
        ["boiler", "new", "boiler.toml", "--layout", "layout.csv", "--by", "Ada Moss"],
        ["inspection", "new", "B-1", "--date", "2026-03-10", "--inspector", "Ada Moss"],
        ["observe", "B-1", "seen.csv"],
        ["report", "B-1", "--out", "r", "--only", "json"],
    ):
        assert main([*data, *command]) == 0
    block = json.loads((tmp_path / "r" / "condition.json").read_text())["plugging"]
    (only,) = block["by_pass"]
    assert block["why_not"] is None
    assert (only["pass"], only["tubes"], only["plugged"], only["plugged_percent"]) == (2, 30, 3, 10)
    # At a fixed gas flow 10 % plugged: a few degrees, and about a fifth more draft.
    assert only["draft_ratio"] == block["draft_ratio"] == pytest.approx(1.22, abs=0.03)
    assert 1.0 < block["stack_rise_k"] < 10.0
    assert block["output_limit_kw"] > 450.0
    assert "27 tubes that nobody looked at count as open." in block["remarks"]
