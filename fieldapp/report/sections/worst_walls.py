"""What planned readings say of the tubes that nobody measured, and which to measure next.

Not here: the walls that were measured (``readings``, ``walls``).
"""

from fieldapp.report.numbers import FORECAST_SEED, ConditionNumbers
from fieldapp.report.pieces import Column, Paragraph, Piece, Points, Row, Section, Table, words
from fieldapp.report.tube_words import say_tube
from fieldapp.report.wording import UNKNOWN, say_count, say_mm, say_number
from model.record.words import Purpose
from model.wall.more_readings import MoreReadings
from model.wall.next_tubes import MOST_NAMED
from model.wall.pass_forecast import PassForecast, WallsAhead


def build_worst_walls(numbers: ConditionNumbers) -> Section:
    """The forecast of each pass now and at the next outage, or why there is none."""
    given = [each for each in numbers.worst if each.now is not None]
    pieces: list[Piece] = [
        Table(
            caption="Thinnest wall expected of the tubes that nobody measured, for thinning only",
            columns=(
                Column(heading="pass"),
                Column(heading="on"),
                Column(heading="measured as planned", is_number=True),
                Column(heading="not measured", is_number=True),
                Column(heading="most likely thinnest", unit="mm", is_number=True),
                Column(heading="all thicker than, with 90 %", unit="mm", is_number=True),
                Column(heading="expected below retirement", unit="tubes", is_number=True),
                Column(heading="probability that none is", unit="%", is_number=True),
            ),
            rows=tuple(
                _row(each, ahead)
                for each in given
                for ahead in (each.now, each.at_outage)
                if ahead is not None
            ),
            if_empty="No forecast can be given of the tubes that nobody measured.",
        )
    ]
    reasons = tuple(said for each in numbers.worst for said in _reasons(each))
    if reasons:
        pieces.append(Points(items=reasons))
    if given:
        pieces.append(Paragraph(words=_HOW))
    pieces += _next_readings(numbers)
    return Section(
        key="worst-walls", heading="The worst tube nobody measured", pieces=tuple(pieces)
    )


_HOW = (
    "Only planned readings speak here: suspect tubes were chosen because they look bad. The losses "
    "from the wall as supplied are taken to follow Gumbel's law of the largest value, which the "
    "test above did not refuse; of few readings the test seldom notices another law or a second "
    "kind of damage, and then the bound often fails. The bound takes in how little so few readings "
    f"say of the law, by simulation with the fixed seed {FORECAST_SEED}. Until the next outage "
    "every loss is taken to grow in proportion to the age of the tubes. A place along the tubes "
    "where nobody measures is not covered, nor are tubes that look suspect, pits, cracks and "
    "joints."
)


_HOW_CHOSEN = (
    "Tubes to measure for the spread lie as far as possible from all that were measured; they are "
    "chosen by place alone, so record them as planned: only these count among the further readings "
    "and speak for the others. Those beside the thin lie around the three thinnest walls; record "
    "them as suspect. Plugged, bad and renewed tubes are left out, and tubes of another wall, "
    f"diameter or age. At most {MOST_NAMED} a pass are named, in the order to take them."
)


def _next_readings(numbers: ConditionNumbers) -> list[Piece]:
    """What it takes to say more, where there are tubes left to measure."""
    asked = [each for each in numbers.worst if each.measure_next]
    if not asked:
        return [Paragraph(words="No tube is left that could be measured next.")]
    width_mm = say_number(asked[0].more_readings.width_mm)
    tubes = {each.tube.key: each.tube for each in numbers.tubes}

    def named(each: PassForecast, purpose: Purpose) -> str:
        chosen = (next_.tube for next_ in each.measure_next if next_.purpose is purpose)
        return ", ".join(say_tube(tubes[key]) for key in chosen)

    return [
        Table(
            caption="Which tubes to measure next, and how many more would do",
            columns=(
                Column(heading="pass"),
                Column(heading="width now", unit="mm", is_number=True),
                Column(heading=f"further planned readings for {width_mm} mm"),
                Column(heading="next, for the spread (planned)"),
                Column(heading="next, beside the thin (suspect)"),
            ),
            rows=tuple(
                Row(
                    cells=words(
                        str(each.pass_),
                        ""
                        if each.more_readings.width_now_mm is None
                        else say_mm(each.more_readings.width_now_mm),
                        _how_many(each.more_readings),
                        named(each, Purpose.PLANNED),
                        named(each, Purpose.SUSPECT),
                    )
                )
                for each in asked
            ),
            if_empty="Every tube was measured.",
        ),
        Paragraph(
            words="The width is that from the most likely thinnest wall to the bound. To want "
            f"{width_mm} mm is a default of ours, and the further readings are a figure for "
            "planning: they take the scatter of the losses to stay as it is. " + _HOW_CHOSEN
        ),
    ]


def _how_many(plan: MoreReadings) -> str:
    if plan.more is None:
        return plan.why_not or UNKNOWN
    return "none: close enough" if plan.more == 0 else f"about {plan.more}"


def _row(each: PassForecast, ahead: WallsAhead) -> Row:
    below, none_below = ahead.expected_below, ahead.chance_of_none_below
    return Row(
        cells=words(
            str(each.pass_),
            ahead.on,
            str(each.sample),
            str(each.unmeasured),
            say_mm(ahead.most_likely_thinnest_mm),
            say_mm(ahead.bound_mm),
            "" if below is None else _tubes(below),
            "" if none_below is None else _chance(none_below),
        )
    )


def _tubes(expected: float) -> str:
    return "under 0.1" if expected < 0.05 else f"{expected:.1f}"


def _chance(probability: float) -> str:
    """Never rounded up to a certainty."""
    return "over 99" if probability > 0.99 else f"{probability * 100.0:.0f}"


def _reasons(each: PassForecast) -> list[str]:
    said: list[str] = []
    if each.why_not is not None:
        said.append(f"Pass {each.pass_}: no forecast. {each.why_not}")
    elif each.test is not None:
        said.append(f"Pass {each.pass_}: {each.test}.")
    if each.why_no_outage is not None:
        said.append(f"Pass {each.pass_}: no figure for the next outage. {each.why_no_outage}")
    if each.left_out:
        said.append(
            f"Pass {each.pass_}: {say_count(each.left_out, 'tube')} of another wall, diameter or "
            "age than most of the pass left out."
        )
    return said
