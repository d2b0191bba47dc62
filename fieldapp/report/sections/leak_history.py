"""Tubes lost to leaks and plugs over the years, pass by pass, and how fast more are lost.

Not here: the leaks of today (``bad_tubes``, ``joint_leaks``).
"""

import math

from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import (
    Column,
    Paragraph,
    Piece,
    Points,
    Row,
    Section,
    Table,
    drop_empty,
    words,
)
from fieldapp.report.wording import say_count
from model.wall.leak_history import CONFIDENCE, PassLeaks
from model.wall.leak_process import LEAK_GROWTH_SOURCE

_SHORTEST_YEARS = 0.1
"""In less time nothing could be lost, so having lost nothing says nothing."""

_HOW = (
    "Lost is a tube that leaked from its bore or ligament, split or was plugged, each once; leaks "
    "at the joint stand apart. A shape above 1 says that losses come faster and faster, as far as "
    "its bounds do. A loss found at an inspection came at some time since the one before: the "
    "growth takes the middle of that time, the law of tube lives (Weibull) takes all of it, and "
    "tubes still in service count as running. What nobody recorded is not in it. Source of the "
    f"growth: {LEAK_GROWTH_SOURCE}."
)


def build_leak_history(numbers: ConditionNumbers) -> Section:
    """What the history of each pass says, or that it says too little."""
    pieces: list[Piece] = [
        drop_empty(
            Table(
                caption="Tubes lost in each pass up to this inspection",
                columns=(
                    Column(heading="pass"),
                    Column(heading="since"),
                    Column(heading="tubes lost", is_number=True),
                    Column(heading="joint leaks", is_number=True),
                    Column(heading="shape of the growth", is_number=True),
                    Column(heading="its 90 % bounds", is_number=True),
                    Column(heading="next interval", unit="years", is_number=True),
                    Column(heading="expected in it", unit="tubes", is_number=True),
                    Column(heading="shape of tube lives", is_number=True),
                    Column(heading="scale of tube lives", unit="years", is_number=True),
                ),
                rows=tuple(_row(each) for each in numbers.leaks),
                if_empty="The boiler has no tubes.",
            )
        )
    ]
    reasons = tuple(said for each in numbers.leaks for said in _reasons(each))
    if reasons:
        pieces.append(Points(items=reasons))
    pieces.append(Paragraph(words=_HOW))
    return Section(
        key="leak-history", heading="Leaks and plugs over the years", pieces=tuple(pieces)
    )


def _row(each: PassLeaks) -> Row:
    bounds = each.shape_bounds
    return Row(
        cells=words(
            str(each.pass_),
            each.since or "the record began",
            str(each.lost),
            str(each.joint_leaks),
            "" if each.growth is None else f"{each.growth.beta:.2f}",
            "" if bounds is None else f"{bounds[0]:.2f} to {bounds[1]:.2f}",
            "" if each.next_years is None or each.growth is None else f"{each.next_years:g}",
            "" if each.expected_next is None else f"{each.expected_next:.1f}",
            "" if each.law is None else f"{each.law.beta:.2f}",
            "" if each.law is None else f"{each.law.eta:.0f}",
        )
    )


def _reasons(each: PassLeaks) -> list[str]:
    said: list[str] = []
    if each.why_no_growth is not None:
        said.append(f"Pass {each.pass_}: no growth. {each.why_no_growth}")
    if each.why_no_law is not None and each.why_no_law != each.why_no_growth:
        said.append(f"Pass {each.pass_}: no law of tube lives. {each.why_no_law}")
    if each.upper_bound is not None and each.years_on_record >= _SHORTEST_YEARS:
        said.append(f"Pass {each.pass_}: {_at_most(each, each.upper_bound)}")
    return said


def _at_most(each: PassLeaks, upper_bound: float) -> str:
    """The bound, in whole tubes, which it is rounded up to."""
    lost = "none" if not each.lost else say_count(each.lost, "tube")
    years = f"{each.years_on_record:.1f} years"
    return (
        f"with {lost} lost in {years}, at most {math.ceil(upper_bound)} are to be expected in the "
        f"next {years}, with {100.0 * CONFIDENCE:.0f} % confidence, if nothing changes."
    )
