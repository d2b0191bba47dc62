"""``history.csv`` and ``work.csv``: past events and work done, row by row.

Not here: what work does to a tube (``tests/model/condition``).
"""

import pytest

from fieldapp.intake.history import HistoryRow, read_history
from fieldapp.intake.work_rows import WorkRow, read_work
from model.record.words import Does, End, EventWhat, PlugType

LAYOUT = {"passes_by_tube": {"P2-R01-C01": 2, "P3-R01-C01": 3}}


def test_past_events_may_be_of_a_tube_a_pass_or_the_boiler(written):
    path = written(
        "date,what,tube,pass,count,plug_type,by,source\n"
        "2021-03-14,plug,p2-r01-c01,2,1,driven,Night crew,log\n"
        "2019-06,leak,,3,2,,,\n"
        "2015,retubed,,2,,,,\n"
        "2010,cleaned,,,,,,\n"
    )
    blank = {"tube": None, "pass_": None, "count": None, "plug_type": None, "by": None,
             "source": None}  # fmt: skip
    assert read_history(path, **LAYOUT) == (
        HistoryRow(**{**blank, "line": 2, "date": "2021-03-14", "what": EventWhat.PLUG,
                      "tube": "P2-R01-C01", "plug_type": PlugType.DRIVEN, "by": "Night crew",
                      "source": "log"}),
        HistoryRow(**{**blank, "line": 3, "date": "2019-06", "what": EventWhat.LEAK, "pass_": 3,
                      "count": 2}),
        HistoryRow(**{**blank, "line": 4, "date": "2015", "what": EventWhat.RETUBED, "pass_": 2}),
        HistoryRow(**{**blank, "line": 5, "date": "2010", "what": EventWhat.CLEANED}),
    )  # fmt: skip


def test_every_faulty_cell_of_a_history_is_named(written, faults_of):
    path = written(
        "date,what,tube,pass,count,plug_type\n"
        ",,,,,\n"
        "2019-00,replace,P2-R01-C01,3,2,\n"
        ",leak,,4,0,cap\n"
        "2019,,P9,,x,\n"
    )
    assert faults_of(read_history, path, **LAYOUT) == [
        "line 3, date: '2019-00' is not a date; write 2019, 2019-06 or 2019-06-01.",
        "line 3, what: 'replace' is not known; did you mean 'replaced'?",
        "line 3, pass: is 3, but P2-R01-C01 is in pass 2.",
        "line 3, count: is 2, but the row names one tube; leave one of them empty.",
        "line 4, date: is empty; write 2019, 2019-06 or 2019-06-01.",
        "line 4, count: 0 must be at least 1 and at most 100000.",
        "line 4, pass: 4 has no tubes in the layout; it has pass 2, 3.",
        "line 4, plug_type: belongs to a plug, but what is 'leak'.",
        "line 5, what: is empty; write one of: leak, plug, re-roll, replaced, cleaned, retubed.",
        "line 5, tube: 'P9' is not in the layout.",
        "line 5, count: 'x' is not a whole number; write one such as 3.",
    ]


def test_work_is_on_a_tube_or_on_a_number_of_tubes_of_a_pass(written):
    path = written(
        "tube,pass,count,does,date,ends,plug_type,heat,od_in,wall_mm,material,by,source,follows,"
        "corrects\n"
        "P2-R01-C01,,,replace,2026-11-26,,,H1,2,2.9,steel,Crew,order,ABCD12,yes\n"
        ",3,7,plug,2019,both,cap,,,,,,,,\n"
        "P3-R01-C01,,,re-roll,2026-11-26,rear,,,,,,,,abcd,\n"
    )
    replaced, plugged, rolled = read_work(path, **LAYOUT)
    assert replaced == WorkRow(
        line=2,
        tube="P2-R01-C01",
        pass_=None,
        count=None,
        does=Does.REPLACE,
        date="2026-11-26",
        ends=(),
        plug_type=None,
        heat="H1",
        od_mm=50.8,
        wall_mm=2.9,
        material="steel",
        by="Crew",
        source="order",
        follows="abcd12",
        corrects=True,
    )
    assert (plugged.pass_, plugged.count, plugged.ends) == (3, 7, (End.FRONT, End.REAR))
    assert (plugged.plug_type, plugged.date) == (PlugType.CAP, "2019")
    assert (rolled.ends, rolled.follows, rolled.corrects) == ((End.REAR,), "abcd", False)


@pytest.mark.parametrize(
    ("row", "faults"),
    [
        (",,,plug,2019,,,,,", ["tube: is empty; write a tube, or a pass and a count."]),
        (",2,,plug,2019,,,,,", ["count: is empty; write how many tubes of the pass."]),
        (",,3,plug,2019,,,,,", ["pass: is empty; write the pass of the tubes that were counted."]),
        ("P2-R01-C01,,,plugged,26.11.2026,left,,,,",
         ["does: 'plugged' is not known; did you mean 'plug'?",
          "date: '26.11.2026' is not a date; write 2019, 2019-06 or 2019-06-01.",
          "ends: 'left' is not known; write one of: front, rear, both."]),
        ("P2-R01-C01,,,,,,,,,",
         ["does: is empty; write one of: plug, unplug, re-roll, replace, weld, clean, other.",
          "date: is empty; write 2019, 2019-06 or 2019-06-01."]),
        ("P2-R01-C01,,,clean,2019,,cap,50.8,,",
         ["plug_type: belongs to 'plug', but does is 'clean'.",
          "od_mm: belongs to 'replace', but does is 'clean'."]),
        ("P2-R01-C01,,,replace,2019,,,4,2,",
         ["wall_mm: 2 mm leaves no bore in a tube of 4 mm."]),
        ("P2-R01-C01,,,clean,2019,,,,,yes",
         ["corrects: is yes, but follows is empty; write the id of the wrong record."]),
    ],
)  # fmt: skip
def test_wrong_work_is_refused_with_these_sentences(written, faults_of, row, faults):
    header = "tube,pass,count,does,date,ends,plug_type,od_mm,wall_mm,corrects\n"
    told = faults_of(read_work, written(header + row + "\n"), **LAYOUT)
    assert told == [f"line 2, {fault}" for fault in faults]
