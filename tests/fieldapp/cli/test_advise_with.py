"""``advise --with``: a what-if from a file of settings, of which nothing is stored."""

import shutil

import pytest


def _with_price(folder, price):
    """The inputs of the advice with another price of a tube."""
    text = (folder / "i.toml").read_text(encoding="utf-8")
    other = text.replace("value = 118", f"value = {price}")
    assert other != text
    (folder / "other.toml").write_text(other, encoding="utf-8")


def test_a_what_if_gives_what_storing_its_file_would_give(priced, done, folder):
    stored = done("advise B-1 --out i.toml")
    _with_price(folder, 1118)
    what_if = done("advise B-1 --with other.toml")
    assert (stored.pop("what_if"), what_if.pop("what_if")) == (None, "other.toml")
    assert what_if != stored
    assert done("boiler update B-1 other.toml --by Ada")["changed"] == ["costs"]
    kept = done("advise B-1")
    assert kept.pop("what_if") is None
    assert kept == what_if


def test_a_what_if_leaves_every_byte_of_the_database_as_it_was(priced, done, folder):
    stored = done("advise B-1 --out i.toml")
    _with_price(folder, 1118)
    before = (folder / "b.db").read_bytes()
    assert done("advise B-1 --with other.toml --out again.toml") != stored
    assert (folder / "b.db").read_bytes() == before
    assert "value = 1118" in (folder / "again.toml").read_text(encoding="utf-8")
    assert done("advise B-1") == stored


def test_a_what_if_says_first_what_it_is_and_what_differs(priced, tubewright, folder):
    tubewright("advise B-1 --out i.toml")
    _with_price(folder, 1118)
    lines = tubewright("advise B-1 --with other.toml").out.splitlines()
    assert lines[:4] == [
        "What if: inputs from other.toml; nothing is stored.",
        "Other than stored: [costs].",
        "",
        "B-1, inspection of 2026-03-10",
    ]
    lines = tubewright("advise B-1 --with i.toml").out.splitlines()
    assert lines[1] == "They are the stored ones."


def test_costs_of_a_what_if_are_enough_for_an_advice_by_money(looked_at, costs, done):
    assert done("advise B-1")["is_by_money"] is False
    assert done("advise B-1 --with costs.toml")["is_by_money"] is True


def test_a_wall_of_a_what_if_makes_tubes_bad(priced, done, write):
    write("wall.toml", "[wall]", 'retirement = "stated"', "stated_mm = 2.85")
    before, after = (
        {each["key"]: each["cost_now"] for each in done(words)["options"]}
        for words in ("advise B-1", "advise B-1 --with wall.toml")
    )
    # One tube of each pass was measured at 2.8 mm.
    more = {key: after[key] - before[key] for key in ("plug-bad", "retube-pass-2", "retube-all")}
    assert more["retube-pass-2"] > 0
    assert more["plug-bad"] == pytest.approx(2 * more["retube-pass-2"])
    assert more["retube-all"] == 0


def test_what_else_stands_in_the_file_of_a_what_if_is_left_out_and_named(
    priced, costs, done, folder
):
    text = (folder / "boiler.toml").read_text(encoding="utf-8")
    (folder / "all.toml").write_text(f"{text}\n{costs}", encoding="utf-8")
    assert done("advise B-1 --with all.toml")["notes"] == [
        "Left out of the file: [boiler], [tubes], [shell]; a what-if changes only [wall], "
        "[firing], [outage], [costs], [limits]."
    ]


BAD_INPUTS = {
    "[costs]\ntube_each = -1\n": ["[costs] tube_each: -1 must be at least 0 and at most 1e+12."],
    "[costs\n": ["f.toml is not valid TOML: Expected ']' at the end of a table declaration"],
    '[limits]\ncluster = {rearr = {act_mm = 240, basis = "x"}}\n': [
        "[limits] cluster: 'rearr' is not the key of a sheet; write one of: front (front tube "
        "sheet), turnaround (turnaround chamber tube sheet), rear (rear tube sheet)."
    ],
    '[limits]\ncluster = {"rear tube sheet" = {act_mm = 240, basis = "x"}}\n': [
        "[limits] cluster, 'rear tube sheet': the key of a sheet must be ",
        "[limits] cluster: 'rear tube sheet' is not the key of a sheet; write one of: front (",
    ],
}


@pytest.mark.parametrize("text", BAD_INPUTS)
@pytest.mark.parametrize("words", ["advise B-1 --with f.toml", "boiler update B-1 f.toml --by A"])
def test_inputs_are_refused_alike_whether_they_are_to_be_stored_or_not(
    looked_at, refused, folder, words, text
):
    (folder / "f.toml").write_text(text, encoding="utf-8")
    said = refused(words)
    assert len(said) == len(BAD_INPUTS[text])
    for sentence, begins in zip(said, BAD_INPUTS[text], strict=True):
        assert sentence.startswith(begins)


def test_an_answer_for_a_sheet_that_only_the_file_has_is_refused(looked_at, refused, folder):
    (folder / "f.toml").write_text(
        '[[sheets]]\nkey = "middle"\n[limits]\ncluster = {middle = {act_mm = 240, basis = "x"}}\n',
        encoding="utf-8",
    )
    (said,) = refused("advise B-1 --with f.toml")
    assert said.startswith("[limits] cluster: 'middle' is not the key of a sheet; write one of: ")


def test_a_what_if_of_a_file_without_settings_is_refused(looked_at, refused, folder):
    shutil.copy(folder / "boiler.toml", folder / "f.toml")
    assert refused("advise B-1 --with f.toml") == [
        "The file has none of the sections of a what-if: [wall], [firing], [outage], [costs], "
        "[limits]."
    ]
    (said,) = refused("advise B-1 --with nothing.toml")
    assert said.endswith("nothing.toml does not exist.")
