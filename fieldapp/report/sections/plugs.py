"""Every plugged tube as left, its plug at each end, and what is dangerous about it.

Not here: where plugs stand close together (``plug_clusters``).
"""

from fieldapp.drawing.looks import tube_look
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Cell, Paragraph, Row, Section, Table, Tone, columns, words
from fieldapp.report.tube_words import say_plug, say_tube
from fieldapp.report.wording import capital, say_count
from model.condition.states import EndLeft
from model.condition.tubes import TubeCondition
from model.record.words import End, State


def build_plugs(numbers: ConditionNumbers) -> Section:
    """The plugs with their hazards."""
    plugged = [each for each in numbers.tubes if each.left.state is State.PLUGGED]
    return Section(
        key="plugs",
        heading="Plugs",
        pieces=(
            Paragraph(words=_summary(plugged)),
            Table(
                caption="Plugged tubes, as left",
                columns=columns("tube", "pass", "front end", "rear end", "since", "hazard"),
                rows=tuple(_row(each) for each in plugged),
                if_empty="No tube is plugged.",
            ),
            Paragraph(
                words="A tube plugged at both ends may hold water or pressure: vent it before "
                "heating, cutting or welding. A tube plugged at one end fills from the other. A "
                "plugged stay tube is always referred to an engineer."
            ),
        ),
    )


def hazards(each: TubeCondition) -> tuple[str, ...]:
    """What is dangerous or not known about a plugged tube, worst first."""
    said: list[str] = []
    if each.plugged_one_end == "yes":
        said.append("plugged at one end only, the other end was seen open")
    if each.tube.kind == "stay":
        said.append("stay tube: refer to an engineer")
    plugged = [left for left in each.ends_left.values() if left.state is State.PLUGGED]
    said += [
        f"plug {left.plug.condition}"
        for left in plugged
        if left.plug is not None and left.plug.is_bad and left.plug.condition is not None
    ]
    if each.plugged_one_end == "other_end_not_seen":
        said.append("plugged at one end, the other end was not seen")
    if any(left.plug is None or left.plug.vented is None for left in plugged):
        said.append("whether it is vented is not known")
    elif any(left.plug is not None and left.plug.vented is False for left in plugged):
        said.append("not vented")
    if any(left.plug is None or left.plug.condition is None for left in plugged):
        said.append("tightness is not known")
    return tuple(dict.fromkeys(said))


def _summary(plugged: list[TubeCondition]) -> str:
    if not plugged:
        return "No tube of the boiler is plugged as left."
    carried = sum(each.left.carried for each in plugged)
    one_end = sum(each.plugged_one_end == "yes" for each in plugged)
    words = f"{say_count(len(plugged), 'tube')} plugged"
    if carried:
        words += f", {carried} of them known from last time only and not confirmed today"
    return words + (f"; {one_end} at one end with the other end open." if one_end else ".")


def _row(each: TubeCondition) -> Row:
    said = hazards(each)
    is_grave = any(word.startswith(("plugged at one end only", "stay", "plug ")) for word in said)
    since = sorted(
        {
            left.since
            for left in each.ends_left.values()
            if left.state is State.PLUGGED and left.since
        }
    )
    return Row(
        cells=(
            Cell(words=say_tube(each.tube), look=tube_look(each)),
            *words(
                str(each.tube.pass_),
                *(_end(each, end) for end in End),
                ", ".join(since),
            ),
            Cell(
                words=capital("; ".join(said)) or "none known",
                tone=Tone.ACT if is_grave else Tone.WATCH if said else Tone.PLAIN,
            ),
        ),
        tube=each.tube.key,
    )


def _end(each: TubeCondition, end: End) -> str:
    left: EndLeft = each.ends_left[end]
    if left.state is not State.PLUGGED:
        return "not seen" if left.state is None else f"no plug: {left.state}"
    said = say_plug(left.plug)
    return f"{said}; not confirmed today" if left.carried else said
