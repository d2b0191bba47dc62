"""``boiler.toml``: what may stand in it, in either system of units, and every refusal in words.

Not here: what a boiler becomes in the store.
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.intake.boiler_schema import COSTS, FACE, LIMITS, SECTIONS, SHEET
from fieldapp.intake.boiler_toml import BoilerFile, read_boiler
from fieldapp.intake.templates import BOILER_TOML

TAG = '[boiler]\ntag = "B1"\n'


@pytest.fixture
def read(written):
    return lambda text, **named: read_boiler(written(text, "boiler.toml"), **named)


@pytest.fixture
def refused(written, faults_of):
    return lambda text: faults_of(read_boiler, written(text, "boiler.toml"))


def test_only_the_tag_is_needed_and_not_even_that_for_an_update(read):
    empty = {"boiler": {}, "identity": {}, "tubes": {}, "shell": {}, "sheets": [], "faces": [],
             "settings": {}}  # fmt: skip
    assert read(TAG) == BoilerFile(**{**empty, "boiler": {"tag": "B1"}})
    assert read("", tag_needed=False) == BoilerFile(**empty)


def test_a_section_that_stands_empty_is_given_and_one_that_is_absent_is_not(read):
    assert read(TAG + "[wall]\n").settings == {"wall": {}}


def test_every_key_that_may_stand_is_in_the_template(read):
    found = read(BOILER_TOML)
    for name, schema in SECTIONS.items():
        given_keys = found.settings[name] if name in found.settings else getattr(found, name)
        assert list(given_keys) == list(schema), name
    assert list(found.sheets[0]) == list(SHEET)
    assert list(found.faces[0]) == list(FACE)


def test_dates_come_out_as_text_and_may_stand_in_quotes_or_not(read):
    found = read(
        TAG + '[identity]\ncertificate_expiry = 2027-05-31\n[outage]\nnext = "2027-04-01"\n'
        "[tubes]\ninstalled = 2015-06-01\n"
    )
    assert found.identity == {"certificate_expiry": "2027-05-31"}
    assert found.settings == {"outage": {"next": "2027-04-01"}}
    assert found.tubes == {"installed": "2015-06-01"}
    assert read(TAG + "[tubes]\ninstalled = 2015\n").tubes == {"installed": "2015"}
    assert read(TAG + '[tubes]\ninstalled = "2015-06"\n').tubes == {"installed": "2015-06"}


def test_a_cost_is_assumed_unless_its_source_is_given(read):
    found = read(
        TAG + '[costs]\ncurrency = "EUR"\ntube_each = 90\n'
        'plug_each = {value = 25.5, source = "quoted"}\nfreight = {value = 0}\n'
        "hours_per_tube = {rolled = 1, welded = 2}\n"
        "cleaning = 0\n"
    )
    assert found.settings["costs"] == {
        "currency": "EUR",
        "tube_each": {"value": 90.0, "source": "assumed"},
        "plug_each": {"value": 25.5, "source": "quoted"},
        "freight": {"value": 0.0, "source": "assumed"},
        "hours_per_tube": {"value": {"rolled": 1.0, "welded": 2.0}, "source": "assumed"},
        "cleaning": {"value": 0.0, "source": "assumed"},
    }
    assert read(
        TAG + '[costs]\nhours_per_tube = {value = {beaded = 3}, source = "owner"}\n'
    ).settings["costs"] == {"hours_per_tube": {"value": {"beaded": 3.0}, "source": "owner"}}


def test_sheets_and_faces_without_a_name_are_called_by_their_key(read):
    found = read(
        TAG + '[[sheets]]\nkey = "front"\n'
        '[[faces]]\nkey = "F"\nsheet = "front"\nlooks = "rearward"\n'
        'shows = [{pass = 2, end = "front"}]\n'
    )
    assert found.sheets == [{"key": "front", "name": "front"}]
    assert found.faces == [
        {
            "key": "F",
            "name": "F",
            "sheet": "front",
            "looks": "rearward",
            "shows": [{"pass": 2, "end": "front"}],
        }
    ]


def test_serial_numbers_may_stand_without_quotes(read):
    found = read(TAG + '[identity]\nserial = 123\nnational_board = "77"\nearlier_retubes = 2015\n')
    assert found.identity == {
        "serial": "123",
        "national_board": "77",
        "earlier_retubes": ["2015"],
    }


SI = """
[boiler]
tag = "B1"
mawp_mpa = 1.034214
operating_pressure_mpa = 0.689476
[identity]
heating_surface_m2 = 92.90304
safety_valve_mpa = 1.034214
[tubes]
od_mm = 50.8
wall_mm = 2.413
length_mm = 3048
[shell]
diameter_mm = 2540
furnaces = [{x_mm = 0, y_mm = -254, diameter_mm = 762}]
[[sheets]]
key = "front"
plate_mm = 12.7
stress_mpa = 95.147651
hole_mm = 51.59375
[wall]
retirement = "stated"
stated_mm = 1.778
allowance_mm = 0.254
[firing]
output_kw = 9810.554074
stack_c = 200
air_c = -40
oxygen_percent = 3
[limits]
cluster = {front = {act_mm = 254, basis = "letter"}}
"""
US = """
units = "us"
[boiler]
tag = "B1"
mawp_psi = 150
operating_pressure_psi = 100
[identity]
heating_surface_ft2 = 1000
safety_valve_psi = 150
[tubes]
od_in = 2
wall_in = 0.095
length_in = 120
[shell]
diameter_in = 100
furnaces = [{x_in = 0, y_in = -10, diameter_in = 30}]
[[sheets]]
key = "front"
plate_in = 0.5
stress_psi = 13800
hole_in = 2.03125
[wall]
retirement = "stated"
stated_in = 0.07
allowance_in = 0.01
[firing]
output_bhp = 1000
stack_f = 392
air_f = -40
oxygen_percent = 3
[limits]
cluster = {front = {act_in = 10, basis = "letter"}}
"""


def test_a_file_in_us_units_equals_its_twin_in_si(read):
    # 150 psi = 1.034214 MPa, 33,475 Btu/h a boiler horsepower; 6 places are what a record keeps.
    assert read(US) == read(SI)


def test_a_key_in_the_wrong_units_is_refused_either_way(refused):
    assert refused(TAG + "[tubes]\nod_in = 2\nwall_mm = 2.9\n") == [
        '[tubes] od_in: this file is in SI units; write od_mm, or units = "us" on top.'
    ]
    assert refused('units = "us"\n' + TAG + "[tubes]\nod_mm = 50.8\n[firing]\nstack_c = 200\n") == [
        "[tubes] od_mm: this file is in US units; write od_in.",
        "[firing] stack_c: this file is in US units; write stack_f.",
    ]


def test_square_metres_may_stand_in_a_us_file_but_not_beside_square_feet(read, refused):
    head = 'units = "us"\n' + TAG + "[identity]\nheating_surface_m2 = 40\n"
    assert read(head).identity == {"heating_surface_m2": 40.0}
    assert refused(head + "heating_surface_ft2 = 400\n") == [
        "[identity] heating_surface_m2: stands twice, in two units; keep one of them."
    ]


def test_limits_are_told_in_the_units_of_the_file(refused):
    assert refused('units = "us"\n' + TAG + "[tubes]\nod_in = 50\n[firing]\nair_f = -500\n") == [
        "[tubes] od_in: 50 must be above 0 and at most 39.3701.",
        "[firing] air_f: -500 must be at least -76 and at most 752.",
    ]


@pytest.mark.parametrize(
    ("text", "faults"),
    [
        ("", ["[boiler] tag: is missing."]),
        ('[boiler]\ntag = " "\n', ["[boiler] tag: is missing."]),
        ("[boiler]\ntag = 7\n", ["[boiler] tag: must be text in quotes."]),
        ('[boiler]\ntag = "a\\nb"\n',
         [r"[boiler] tag: 'a\nb' must be one line of at most 40 letters."]),
        ('[boiler]\ntag = "a\\u0007b"\n',
         ["[boiler] tag: holds the control character U+0007; type it again."]),
        ("boiler = 3\n", ["[boiler]: must be a table of keys and values."]),
        ('units = "metric"\n' + TAG, ['units: must be "si" or "us".']),
        (TAG + "[tube]\n", ["[tube] is not a known section; did you mean 'tubes'?"]),
        (TAG + "[zzz]\n", ["[zzz] is not a known section."]),
        (TAG + "mawp_bar = 10\n",
         ["[boiler] mawp_bar: is not a known key; did you mean 'mawp_mpa'?"]),
        (TAG + '"a\\nb" = 10\n', [r"[boiler] 'a\nb': is not a known key."]),
        (TAG + 'mawp_mpa = "1.0"\n',
         ["[boiler] mawp_mpa: '1.0' is in quotes; write megapascals such as 1.0 without quotes."]),
        (TAG + "mawp_mpa = nan\n",
         ["[boiler] mawp_mpa: nan is not a number; write megapascals such as 1.0."]),
        (TAG + "mawp_mpa = 1e999\n",
         ["[boiler] mawp_mpa: inf is not a number; write megapascals such as 1.0."]),
        (TAG + "mawp_mpa = true\n",
         ["[boiler] mawp_mpa: must be a number; write megapascals such as 1.0."]),
        (TAG + f"mawp_mpa = {'9' * 400}\n",
         ["[boiler] mawp_mpa: is too large; write megapascals such as 1.0."]),
        (TAG + "mawp_mpa = -1\n", ["[boiler] mawp_mpa: -1 must be above 0 and at most 100."]),
        (TAG + "mawp_mpa = 1\noperating_pressure_mpa = 1.1\n",
         ["[boiler] operating_pressure: 1.1 MPa is above the MAWP of 1 MPa; "
          "correct one of them."]),
        (TAG + "year_built = 1700\n",
         ["[boiler] year_built: must be a whole number from 1800 to 2200."]),
        (TAG + 'kind = "wetback"\n',
         ["[boiler] kind: 'wetback' is not known; write one of: wet-back, dry-back, other."]),
        (TAG + "kind = 1\n",
         ["[boiler] kind: it is not known; write one of: wet-back, dry-back, other."]),
        (TAG + "[identity]\ncertificate_expiry = 2027\n",
         ["[identity] certificate_expiry: must be a date; write one such as 2026-11-25."]),
        (TAG + '[outage]\nnext = "spring"\n',
         ["[outage] next: 'spring' is not a day; write one such as 2026-11-25."]),
        (TAG + "[outage]\nnext = 2027-04-01T00:00:00Z\n",
         ["[outage] next: must be a date; write one such as 2026-11-25."]),
        (TAG + "[tubes]\nod_mm = 50\nwall_mm = 25\n",
         ["[tubes] wall: 25 mm leaves no bore in a tube of 50 mm."]),
        (TAG + '[tubes]\nends = {2 = "glued", ten = "rolled"}\n',
         ["[tubes] ends, 2: 'glued' is not known; "
          "write one of: rolled, rolled-flared, rolled-beaded, rolled-welded, welded.",
          "[tubes] ends, ten: is not the number of a pass; write one such as 2."]),
        (TAG + '[tubes]\nends = "rolled"\n',
         ['[tubes] ends: must be a table by pass; write one such as {2 = "..."}.']),
        (TAG + "[shell]\nfurnaces = [{x_mm = 0}, 7]\n",
         ["[shell] furnaces 1, y_mm: is missing.",
          "[shell] furnaces 1, diameter_mm: is missing.",
          "[shell] furnaces 2: must be a table of keys and values."]),
        (TAG + '[sheets]\nkey = "front"\n',
         ["[[sheets]]: must be a list of tables; see the template."]),
        (TAG + '[[sheets]]\nkey = "a b"\n[[sheets]]\nkey = "x"\n'
         '[[sheets]]\nkey = "X"\n[[sheets]]\n',
         ["[[sheets]] 4, key: is missing.",
          "[[sheets]] 1, key: 'a b' must be 1 to 32 letters, digits, '.', '_' or '-', "
          "the first a letter or digit.",
          "[[sheets]] 3, key: 'X' is the key of number 2 too."]),
        (TAG + '[[faces]]\nkey = "F"\nsheet = "frnt"\nlooks = "back"\nshows = []\n'
         '[[sheets]]\nkey = "front"\n',
         ["[[faces]] 1, shows: is missing.",
          "[[faces]] 1, looks: 'back' is not known; write one of: rearward, forward.",
          "[[faces]] 1, sheet: 'frnt' is none of the [[sheets]]; did you mean 'front'?"]),
        (TAG + '[[sheets]]\nkey = "a"\n[[sheets]]\nkey = "b"\n'
         '[[faces]]\nkey = "A"\nsheet = "a"\nlooks = "rearward"\n'
         'shows = [{pass = 2, end = "front"}, {pass = 2, end = "front"}, '
         '{pass = 0, end = "left"}]\n'
         '[[faces]]\nkey = "B"\nsheet = "b"\nlooks = "forward"\n'
         'shows = [{pass = 2, end = "front"}, {pass = 3}]\n',
         ["[[faces]] 1, shows 3, pass: must be a whole number from 1 to 9.",
          "[[faces]] 1, shows 3, end: 'left' is not known; write one of: front, rear.",
          "[[faces]] 2, shows 2, end: is missing.",
          "[[faces]] 1, shows 2: the front ends of pass 2 stand twice.",
          "[[faces]] 2, shows 1: the front ends of pass 2 are in the sheet 'a' by another face; "
          "an end is in one sheet only."]),
        (TAG + '[wall]\nretirement = "stated"\n',
         ['[wall] retirement: is "stated", so stated_mm (or stated_in) must be given.']),
        (TAG + '[wall]\nretirement = "us-historic"\nstated_mm = 2\n',
         ['[wall] stated: a stated wall needs retirement = "stated".']),
        (TAG + "[wall]\nstated_mm = 2\n",
         ['[wall] stated: a stated wall needs retirement = "stated".']),
        (TAG + '[firing]\nfuel = "coal"\noxygen_percent = 21\n',
         ["[firing] fuel: 'coal' is not known; write one of: natural gas, light oil.",
          "[firing] oxygen_percent: 21 must be at least 0 and at most 20.9."]),
        (TAG + '[costs]\ntube_each = -1\nplug_each = {value = 1, source = "guess"}\n'
         "freight = {amount = 1}\ncleaning = {value = 1, note = 2}\nhours_per_tube = {glued = 1}\n"
         "tubes_each = 1\n",
         ["[costs] tubes_each: is not a known key; did you mean 'tube_each'?",
          "[costs] tube_each: -1 must be at least 0 and at most 1e+12.",
          "[costs] hours_per_tube, glued: is not a known key.",
          "[costs] plug_each, source: 'guess' is not known; "
          "write one of: quoted, owner, assumed.",
          "[costs] cleaning, note: is not a known key.",
          '[costs] freight: must be a number, or {value = 1.0, source = "quoted"}.']),
        (TAG + "[limits]\nplugged_percent = {watch = 10, act = 5}\n"
         "coverage_percent = {watch = 80, act = 95}\nout_of_service_percent = {basis = \"x\"}\n"
         "clusters = {}\n",
         ["[limits] clusters: is not a known key; did you mean 'cluster'?",
          "[limits] plugged_percent: watch 10 must be at most act 5.",
          "[limits] out_of_service_percent: watch or act must be given.",
          "[limits] coverage_percent: watch 80 must be at least act 95."]),
        (TAG + "[limits]\nplugged_percent = {act = 3}\nout_of_service_percent = {watch = 12}\n",
         ["[limits] out_of_service_percent: watch 12 lies beyond act, which is 10 where it is not "
          "given; give act too, at least 12."]),
        (TAG + "[limits]\ncoverage_percent = {watch = 70}\n",
         ["[limits] coverage_percent: watch 70 lies beyond act, which is 80 where it is not given; "
          "give act too, at most 70."]),
        (TAG + "[outage]\ninterval_years = 0.05\nlegal_interval_years = 0\n",
         ["[outage] interval_years: 0.05 must be at least 0.1 and at most 100.",
          "[outage] legal_interval_years: 0 must be at least 0.1 and at most 100."]),
        (TAG + "[costs]\nhorizon_years = 0.5\ndiscount_percent = 101\n",
         ["[costs] discount_percent: 101 must be at least 0 and at most 100.",
          "[costs] horizon_years: 0.5 must be at least 1 and at most 100."]),
        (TAG + "[limits]\ncluster = 240\n",
         ["[limits] cluster: must be a table by sheet; write one such as "
          '{chamber = {act_mm = 240, basis = "..."}}.']),
        ('units = "us"\n' + TAG + "[limits]\ncluster = {act_in = 9}\n",
         ["[limits] cluster, act_in: must be the table of a sheet; write one such as "
          '{chamber = {act_in = 9.5, basis = "..."}}.']),
        (TAG + '[limits]\ncluster = {a = {act_mm = 240}, b = {act_in = 9, basis = " "}, '
         '"c d" = {}, e = {act_mm = 0, basis = 1, act = 3}}\n',
         ["[limits] cluster, a, basis: is missing.",
          "[limits] cluster, b, act_in: this file is in SI units; write act_mm, or "
          'units = "us" on top.',
          "[limits] cluster, b, act_mm: is missing.",
          "[limits] cluster, b, basis: is missing.",
          "[limits] cluster, 'c d': the key of a sheet must be 1 to 32 letters, digits, '.', '_' "
          "or '-', the first a letter or digit.",
          "[limits] cluster, e, act: is not a known key; did you mean 'act_mm'?",
          "[limits] cluster, e, act_mm: 0 must be above 0 and at most 100000.",
          "[limits] cluster, e, basis: must be text in quotes."]),
        (TAG + '[[sheets]]\nkey = "front"\n[[sheets]]\nkey = "rear"\n[limits]\n'
         'cluster = {front = {act_mm = 240, basis = "x"}, Rear = {act_mm = 240, basis = "x"}}\n',
         ["[limits] cluster: 'Rear' is not the key of a sheet; write one of: front, rear."]),
        (TAG + "[limits]\ncluster = {"
         + ", ".join(f's{n} = {{act_mm = 1, basis = "x"}}' for n in range(101)) + "}\n",
         ["[limits] cluster: has 101 entries; at most 100."]),
    ],
)  # fmt: skip
def test_a_wrong_file_is_refused_with_these_sentences(refused, text, faults):
    assert sorted(refused(text)) == sorted(faults)


def test_an_engineers_answer_is_kept_by_the_key_of_the_sheet(read):
    """Which sheets there are is not known without [[sheets]]: such an answer is kept."""
    answer = {"chamber": {"act_mm": 240.0, "basis": "letter of 2026-10-01"}}
    text = '[limits.cluster.chamber]\nact_mm = 240\nbasis = " letter of 2026-10-01 "\n'
    assert read(TAG + text).settings == {"limits": {"cluster": answer}}
    assert read(TAG + "[limits]\ncluster = {}\n").settings == {"limits": {}}
    sheets = '[[sheets]]\nkey = "chamber"\n'
    assert read(TAG + text + sheets).settings == {"limits": {"cluster": answer}}


def test_faults_of_different_sections_come_in_one_refusal(refused):
    assert refused("[boiler]\nmawp_mpa = 0\n[tubes]\nod = 5\n[wall]\nbasis = 3\n") == [
        "[boiler] tag: is missing.",
        "[boiler] mawp_mpa: 0 must be above 0 and at most 100.",
        "[tubes] od: is not a known key.",
        "[wall] basis: must be text in quotes.",
    ]


def test_what_is_no_toml_is_refused_in_one_sentence(refused):
    assert refused("[boiler\n") == [
        "boiler.toml is not valid TOML: Expected ']' at the end of a table declaration "
        "(at line 1, column 8)."
    ]
    assert refused("x = " + "[" * 5_000) == [
        "boiler.toml is nested too deep; see `boiler template`."
    ]
    (told,) = refused("x = " + "9" * 5_000)
    assert told.startswith("boiler.toml is not valid TOML: ")
    assert refused(b"tag = \xff") == [
        "boiler.toml is not UTF-8 (byte 0xff in line 1); save it again as UTF-8."
    ]
    assert refused("#" * 300_000) == ["boiler.toml is larger than 256 kB; split or reduce it."]


def is_finite(value):
    if isinstance(value, dict):
        return all(is_finite(item) for item in value.values())
    if isinstance(value, list):
        return all(is_finite(item) for item in value)
    return not isinstance(value, float) or math.isfinite(value)


@given(content=st.binary())
def test_any_bytes_are_read_or_refused(any_file, is_read_or_refused, content):
    assert is_read_or_refused(read_boiler, any_file(content, "any.toml"))


VALUES = st.sampled_from(
    ["1", "-1", "0", "nan", "inf", "1e999", "true", '""', '"x"', '"2026-01-01"', "2026-01-01",
     "12:00:00", "[]", "[1]", "{}", "{value = 1}", "{2 = 3}", "[{}]", '{watch = 1, act = "x"}',
     '"stated"', '"assumed"', "{value = {rolled = -1}}", "9" * 400]
)  # fmt: skip


@given(
    section=st.sampled_from([*SECTIONS, "sheets", "faces", "other"]),
    double=st.booleans(),
    keys=st.dictionaries(
        st.sampled_from(
            sorted({key for schema in SECTIONS.values() for key in schema})
            + sorted({*SHEET, *FACE, *LIMITS, *COSTS, "od_in", "units"})
        ),
        VALUES,
        max_size=4,
    ),
    us=st.booleans(),
)
def test_any_values_are_read_as_finite_or_refused(
    any_file, is_read_or_refused, section, double, keys, us
):
    name = f"[[{section}]]" if double else f"[{section}]"
    text = ('units = "us"\n' if us else "") + name + "\n"
    text += "".join(f"{key} = {value}\n" for key, value in keys.items())
    path = any_file(text.encode(), "any.toml")

    def read_finite(path):
        found = read_boiler(path, tag_needed=False)
        assert is_finite([found.boiler, found.identity, found.tubes, found.shell, found.sheets,
                          found.faces, found.settings])  # fmt: skip

    assert is_read_or_refused(read_finite, path)


def test_levels_and_years_at_their_bounds_are_taken(tmp_path):
    path = tmp_path / "boiler.toml"
    path.write_text(
        "[outage]\ninterval_years = 0.1\n[costs]\nhorizon_years = 1\ndiscount_percent = 100\n"
        "[limits]\nplugged_percent = {act = 3}\nout_of_service_percent = {watch = 10}\n"
        "coverage_percent = {watch = 90, act = 90}\n",
        encoding="utf-8",
    )
    found = read_boiler(path, tag_needed=False).settings
    assert found["outage"] == {"interval_years": 0.1}
    assert found["costs"]["horizon_years"]["value"] == 1
    assert found["limits"]["plugged_percent"] == {"act": 3.0}


@given(place=st.integers(0, len(BOILER_TOML) - 1), letter=st.characters())
def test_the_template_with_any_letter_changed_is_read_or_refused(
    any_file, is_read_or_refused, place, letter
):
    text = BOILER_TOML[:place] + letter + BOILER_TOML[place + 1 :]
    path = any_file(text.encode("utf-8", "surrogatepass"), "any.toml")
    assert is_read_or_refused(read_boiler, path)
