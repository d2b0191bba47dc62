"""``settle``: say which state of a tube end holds, weighing every opinion there is.

Not here: listing disputes (``disputes``).
"""

import argparse
from collections.abc import Mapping, Sequence

from fieldapp.cli.answer import Answer, count_of
from fieldapp.cli.choosing import chosen_boiler, open_or_latest
from fieldapp.cli.context import Context
from fieldapp.cli.option_types import Arguments, word
from fieldapp.cli.parsers import add_filled, add_inspection, add_tag, describe
from fieldapp.cli.refusals import Refused
from fieldapp.intake.known_tubes import KnownTubes
from model.condition.states import FoldedInspection
from model.record.words import End, LeakAt, PlugCondition, PlugType, SettledFrom, State
from model.store.edits.disputes import Verdict, settle


def add_arguments(parser: argparse.ArgumentParser) -> None:
    describe(
        parser,
        "Settle a dispute: the state given holds from now on, and every opinion stays readable.",
        "settle LB-2 P2-R05-C02 sound --end rear --by 'A. Example' --why 'looked again, dry' "
        "--from looked-again",
        run,
    )
    add_tag(parser)
    parser.add_argument("tube", metavar="TUBE", help="the tube's key")
    parser.add_argument(
        "state", metavar="STATE", type=word("state", State), help=", ".join(map(str, State))
    )
    parser.add_argument(
        "--end",
        type=word("--end", End),
        metavar="END",
        help="front or rear (default: the ends in dispute)",
    )
    add_filled(parser, "--by", "NAME", "who settles it")
    add_filled(parser, "--why", "TEXT", "the reason")
    parser.add_argument(
        "--from",
        dest="source",
        type=word("--from", SettledFrom),
        default=SettledFrom.PHOTOS,
        metavar="WHAT",
        help="looked-again, photos (default) or readings; only looked-again counts as a look",
    )
    parser.add_argument(
        "--leak-at",
        type=word("--leak-at", LeakAt),
        metavar="PLACE",
        help=f"where it leaks: {', '.join(LeakAt)}",
    )
    parser.add_argument(
        "--plug-type",
        type=word("--plug-type", PlugType),
        metavar="TYPE",
        help=", ".join(PlugType),
    )
    parser.add_argument(
        "--plug-condition",
        type=word("--plug-condition", PlugCondition),
        metavar="HOW",
        help=", ".join(PlugCondition),
    )
    add_inspection(parser, "the only open one, else the latest")


def run(context: Context, arguments: Arguments) -> Answer:
    _refuse_what_does_not_belong(arguments)
    with context.open() as store:
        boiler = chosen_boiler(store, arguments.tag)
        inspection = open_or_latest(boiler, arguments.inspection)
        tube = KnownTubes(boiler).typed(arguments.tube)
        hole = tube.hole or ""
        ends = _ends(inspection, hole, tube.key, arguments.end)
        verdict = Verdict(
            state=arguments.state,
            leak_at=arguments.leak_at,
            plug=_plug(arguments),
            why=arguments.why,
            source=arguments.source,
        )
        weighed = settle(store, boiler, inspection, hole, ends, verdict, arguments.by)
    where = " and ".join(str(end) for end in ends)
    return Answer(
        lines=[
            f"{tube.key} {where}: settled as {arguments.state}, "
            f"{count_of(weighed, 'opinion')} weighed."
        ],
        data={
            "inspection": inspection.facts.inspection,
            "tube": tube.key,
            "ends": [str(end) for end in ends],
            "state": str(arguments.state),
            "weighed": weighed,
        },
    )


def _refuse_what_does_not_belong(arguments: Arguments) -> None:
    if arguments.leak_at is not None and arguments.state is not State.LEAKING:
        raise Refused(f"--leak-at goes with leaking, but the state is {arguments.state}.")
    if _plug(arguments) is not None and arguments.state is not State.PLUGGED:
        raise Refused(
            f"--plug-type and --plug-condition go with plugged, but the state is {arguments.state}."
        )


def _plug(arguments: Arguments) -> Mapping[str, object] | None:
    if arguments.plug_type is None and arguments.plug_condition is None:
        return None
    return {
        "type": arguments.plug_type,
        "condition": arguments.plug_condition,
        "vented": None,
    }


def _ends(inspection: FoldedInspection, hole: str, key: str, end: End | None) -> Sequence[End]:
    if end is not None:
        return [end]
    disputed = [each for each in End if inspection.end_found(hole, each).disputed]
    if not disputed:
        raise Refused(
            f"Nobody disagrees about {key} in the inspection of {inspection.facts.date}; name the "
            "end that you settle with --end front or --end rear."
        )
    return disputed
