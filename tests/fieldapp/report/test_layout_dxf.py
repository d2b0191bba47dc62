"""The drawing: every tube where it is, to the last digit, in a file that audits clean."""

import sys
from collections import Counter
from dataclasses import replace
from io import BytesIO

import ezdxf
import ezdxf.recover
import pytest

from fieldapp.errors import FieldAppError
from fieldapp.report.layout_dxf import APP, UNKNOWN_DIAMETER_MM, render_dxf


def read(content):
    drawing, auditor = ezdxf.recover.read(BytesIO(content))
    assert auditor.errors == []
    assert auditor.fixes == []
    return drawing


@pytest.fixture(scope="module")
def content(numbers):
    return render_dxf(numbers)


@pytest.fixture(scope="module")
def drawing(content):
    return read(content)


def circles(drawing):
    """Circles by the key that they carry."""
    return {
        circle.get_xdata(APP)[0].value: circle for circle in drawing.modelspace().query("CIRCLE")
    }


def data(circle):
    return [tag.value for tag in circle.get_xdata(APP)]


def with_tubes(numbers, **changes):
    """The same numbers with every tube changed."""
    tubes = tuple(replace(each, tube=replace(each.tube, **changes)) for each in numbers.tubes)
    return replace(numbers, tubes=tubes)


def test_it_audits_clean_and_is_in_millimetres(drawing):
    assert drawing.audit().errors == []
    assert drawing.units == ezdxf.units.MM


def test_there_is_one_circle_for_every_tube_and_no_other(drawing, numbers):
    space = drawing.modelspace()
    assert len(space.query("CIRCLE")) == len(numbers.tubes) == 56
    assert set(circles(drawing)) == {each.tube.key for each in numbers.tubes}


def test_every_circle_stands_exactly_where_its_tube_is(drawing, numbers):
    drawn = circles(drawing)
    for each in numbers.tubes:
        centre = drawn[each.tube.key].dxf.center
        assert (centre.x, centre.y, centre.z) == (each.tube.x_mm, each.tube.y_mm, 0.0)


def test_odd_numbers_survive_the_round_trip_exactly(numbers):
    odd = with_tubes(numbers, x_mm=-1234.567890123, y_mm=1 / 3)
    for circle in read(render_dxf(odd)).modelspace().query("CIRCLE"):
        assert (circle.dxf.center.x, circle.dxf.center.y) == (-1234.567890123, 1 / 3)


def test_no_circle_is_extruded_the_other_way_which_would_mirror_it(drawing):
    for entity in drawing.modelspace():
        if entity.dxf.hasattr("extrusion") or entity.dxf.is_supported("extrusion"):
            assert tuple(entity.dxf.extrusion) == (0.0, 0.0, 1.0)
    for circle in drawing.modelspace().query("CIRCLE"):
        assert circle.ocs().to_wcs(circle.dxf.center) == circle.dxf.center


def test_layers_are_passes_with_their_states_as_left(drawing, what_is_what):
    drawn = circles(drawing)
    layer = {what: drawn[key].dxf.layer for what, key in what_is_what.items()}
    assert layer["split"] == "PASS-2-SPLIT"
    assert layer["leak plugged the same day"] == "PASS-2-PLUGGED"
    assert layer["joint leak"] == "PASS-2-LEAKING"
    assert layer["thinned"] == "PASS-2-THINNED"
    assert layer["replaced"] == "PASS-3-NOT-INSPECTED"
    assert layer["finding to watch"] == "PASS-3-SOUND"
    names = {each.dxf.name for each in drawing.layers}
    assert {circle.dxf.layer for circle in drawn.values()} <= names


def test_a_circle_is_the_tube_where_no_hole_is_known(drawing):
    assert Counter(circle.dxf.radius for circle in circles(drawing).values()) == {25.5: 56}


def test_a_circle_is_the_hole_of_the_front_sheet_where_it_is_known(numbers):
    holes = {"front": 51.8, "chamber": 52.4}
    sheets = tuple(replace(each, hole_mm=holes.get(each.key)) for each in numbers.facts.sheets)
    drawn = circles(read(render_dxf(replace(numbers, facts=replace(numbers.facts, sheets=sheets)))))
    assert {circle.dxf.radius for circle in drawn.values()} == {25.9}


def test_the_hole_of_the_other_sheet_counts_where_the_front_one_is_not_known(numbers):
    sheets = tuple(
        replace(each, hole_mm=52.4 if each.key == "chamber" else None)
        for each in numbers.facts.sheets
    )
    drawn = circles(read(render_dxf(replace(numbers, facts=replace(numbers.facts, sheets=sheets)))))
    assert {circle.dxf.radius for key, circle in drawn.items() if key.startswith("P2")} == {26.2}
    assert {circle.dxf.radius for key, circle in drawn.items() if key.startswith("P3")} == {25.5}


def test_a_tube_of_another_size_is_no_hole_of_the_usual_size(numbers):
    sheets = tuple(replace(each, hole_mm=51.8) for each in numbers.facts.sheets)
    facts = replace(numbers.facts, sheets=sheets)
    first, *others = numbers.tubes
    first = replace(first, tube=replace(first.tube, od_mm=63.5))
    drawn = circles(read(render_dxf(replace(numbers, facts=facts, tubes=(first, *others)))))
    assert drawn[first.tube.key].dxf.radius == 31.75


def test_without_any_diameter_only_the_centre_is_marked_and_the_file_says_so(numbers):
    bare = replace(numbers, facts=replace(numbers.facts, od_mm=None))
    for circle in circles(read(render_dxf(bare))).values():
        assert circle.dxf.radius == UNKNOWN_DIAMETER_MM / 2
        assert data(circle)[2] == "diameter not known"


def test_shell_and_furnace_are_closed_lines_of_the_right_width(drawing):
    widths = {}
    for line in drawing.modelspace().query("LWPOLYLINE"):
        assert line.closed
        points = line.get_points("xyb")
        assert [point[2] for point in points] == [1.0, 1.0]
        widths[line.dxf.layer] = points[1][0] - points[0][0]
    assert widths == {"SHELL": 1400.0, "FURNACE": 420.0}


def test_keys_of_any_kind_are_text_on_one_line(numbers):
    odd = with_tubes(numbers, key="%%c ^J\n\u00e9\u4e2d\x00 " + "x" * 300)
    drawing = read(render_dxf(odd))
    for words in drawing.modelspace().query("TEXT"):
        assert words.dxf.text.startswith("% %c 'J \u00e9\u4e2d\ufffd xxx")
        assert len(words.dxf.text) <= 60


def test_the_same_numbers_give_the_same_bytes(content, numbers):
    assert render_dxf(numbers) == content


def test_the_librarys_switches_are_as_they_were(numbers):
    before = ezdxf.options.write_fixed_meta_data_for_testing
    render_dxf(numbers)
    assert ezdxf.options.write_fixed_meta_data_for_testing is before is False


def test_without_the_library_it_says_what_to_install(numbers, monkeypatch):
    monkeypatch.setitem(sys.modules, "ezdxf", None)
    with pytest.raises(FieldAppError, match=r"python3 -m pip install 'tubewright\[office\]'"):
        render_dxf(numbers)
