"""Two tablets, two files, one report: as if one database had recorded it all."""

import json
import re
import shutil

import pytest

TOM = (
    "tube,end,state,leak_at,wall_mm,inspector,observed_at",
    "P2-R01-C01,front,leaking,joint,,Tom,2026-03-10T09:00:00+00:00",
    "P2-R01-C02,front,plugged,,,Tom,2026-03-10T09:00:00+00:00",
    "P2-R02-C03,front,thinned,,2.1,Tom,2026-03-10T09:00:00+00:00",
    "P3-R01-C01,front,sound,,,Tom,2026-03-10T09:00:00+00:00",
)
UMA = (
    "tube,end,state,leak_at,wall_mm,inspector,observed_at",
    "P2-R01-C01,front,sound,,,Uma,2026-03-10T09:30:00+00:00",
    "P2-R01-C02,rear,sound,,,Uma,2026-03-10T09:30:00+00:00",
    "P3-R02-C05,rear,split,,,Uma,2026-03-10T09:30:00+00:00",
    "P3-R01-C01,rear,sound,,2.8,Uma,2026-03-10T09:30:00+00:00",
)
INSPECTION = "inspection new B-1 --date 2026-03-10 --inspector 'Ida Berg' --scope full"
SETTLE = "settle B-1 P2-R01-C01 leaking --leak-at joint --by 'Ida Berg' --why 'looked at photos'"


@pytest.fixture
def on(done, folder):
    """``on("tablet 1", words)``: a command on the database of one device."""

    def run(device, words):
        (folder / device).mkdir(exist_ok=True)
        return done(words, data=f"{device}/b.db")

    return run


@pytest.fixture
def boiler_file(on, folder):
    """The office makes the boiler and hands it out."""
    on("office", "boiler new boiler.toml --layout layout.csv --by 'Ada Moss'")
    on("office", "handover write B-1 boiler.zip")
    return folder / "boiler.zip"


@pytest.fixture
def merged(on, write, boiler_file):
    """Each tablet records its half; the office reads both and says what is one."""
    write("tom.csv", *TOM)
    write("uma.csv", *UMA)
    for tablet, table in (("tablet 1", "tom.csv"), ("tablet 2", "uma.csv")):
        on(tablet, "handover read boiler.zip")
        on(tablet, INSPECTION)
        on(tablet, f"observe B-1 {table}")
        on(tablet, f"handover write B-1 '{tablet}.zip' --since boiler.zip")
    for tablet in ("tablet 2", "tablet 1"):
        assert on("office", f"handover read '{tablet}.zip'")["gaps"] == []
    first, second = (each["inspection"] for each in on("office", "inspection list B-1"))
    berg = [p["person"] for p in on("office", "person list") if p["name"] == "Ida Berg"]
    on("office", f"person same {berg[0]} {berg[1]} --by 'Ada Moss'")
    on("office", f"inspection same {first} {second} --by 'Ada Moss'")


def test_the_dispute_between_two_tablets_is_listed_settled_and_reported(merged, on, folder):
    (dispute,) = on("office", "disputes B-1")["disputes"]
    assert (dispute["tube"], dispute["end"], dispute["counted_as"]) == (
        "P2-R01-C01",
        "front",
        "leaking",
    )
    on("office", SETTLE)
    assert on("office", "disputes B-1")["disputes"] == []
    on("office", "report B-1 --out report --only json")
    condition = json.loads((folder / "report" / "condition.json").read_text(encoding="utf-8"))
    tubes = {each["tube"]: each for each in condition["tubes"]}
    assert tubes["P2-R01-C01"]["disputed"] is False
    assert condition["totals"]["joint_leaks_only"] == 1
    assert condition["totals"]["plugged"] == 1
    assert condition["totals"]["split"] == 1
    assert tubes["P2-R01-C02"]["plugged_one_end"] == "yes"


@pytest.mark.parametrize("is_settled", [False, True])
def test_the_report_of_the_halves_is_that_of_one_database(
    merged, on, boiler_file, folder, is_settled
):
    on("one", "handover read boiler.zip")
    on("one", INSPECTION)
    on("one", "observe B-1 tom.csv")
    on("one", "observe B-1 uma.csv")
    for device in ("office", "one"):
        if is_settled:
            on(device, SETTLE)
        on(
            device,
            f"report B-1 --out {device}-report --only json,csv,html --at 2026-03-11T10:00:00Z",
        )
    merged_text, one_text = (scrubbed(folder / f"{name}-report") for name in ("office", "one"))
    assert merged_text.keys() == one_text.keys()
    for name, text in one_text.items():
        assert merged_text[name].splitlines() == text.splitlines(), name


def test_tablets_learn_what_the_office_settled(merged, on, folder):
    on("office", SETTLE)
    on("office", "handover write B-1 back.zip --since 'tablet 1.zip'")
    read = on("tablet 1", "handover read back.zip")
    assert read["gaps"] == []
    assert on("tablet 1", "disputes B-1") == on("office", "disputes B-1")
    assert on("tablet 1", "inspection list B-1") == on("office", "inspection list B-1")
    shutil.rmtree(folder / "tablet 2")
    on("office", "handover write B-1 all.zip")
    assert on("tablet 2", "handover read all.zip")["records_added"] > 0
    assert on("tablet 2", "disputes B-1") == on("office", "disputes B-1")


def scrubbed(folder):
    """The files of a report without ids, digests and the report's number."""
    files = {}
    for path in sorted(folder.iterdir()):
        text = path.read_text(encoding="utf-8")
        text = re.sub(r"\b[0-9a-f]{64}\b", "DIGEST", text)
        text = re.sub(r"\b[a-z2-7]{13}\b", "ID", text)
        # In the page each word of the number is held together by a span of its own.
        text = text.replace('<span class="steady">', "").replace("</span>", "")
        files[path.name] = re.sub(r"\bB-1 2026-03-10 [0-9a-f]{8}\b", "NUMBER", text)
    assert files
    return files
