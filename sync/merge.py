"""What two databases that exchanged records still lack, and what they must know.

Merging itself is the union of sets: verified records are added where they are not there yet. Not
here: verifying what came (``sync.verify``), how it came.
"""

import json
from collections.abc import Collection

from model.store.queries import Fork, list_forks, list_origins
from model.store.store import Store
from model.store.streams import Gap, list_gaps, photo_lines
from sync.photo_names import photo_name, place_of
from sync.vector import Vector


def gaps_of(store: Store, boilers: Collection[str], known: Vector) -> list[Gap]:
    """What is missing of the boilers' streams, up to the numbers that somebody else holds.

    Records of no boiler are left out: only those that a boiler cites travel with it, so that
    numbers between them are not awaited.
    """
    gaps: list[Gap] = []
    for boiler in sorted(set(boilers)):
        elsewhere = known.get(boiler, {})
        for origin in sorted({*list_origins(store, boiler), *elsewhere}):
            up_to = elsewhere[origin].seq if origin in elsewhere else 0
            gaps += list_gaps(store, boiler, origin, up_to)
    return gaps


def forks_of(store: Store, boilers: Collection[str]) -> list[Fork]:
    """The forks in the streams of the boilers, and in those of no boiler."""
    return [fork for fork in list_forks(store) if fork.boiler in {"", *boilers}]


def awaited_photos(store: Store, boilers: Collection[str]) -> list[str]:
    """Names of the photos that records of the boilers name and that are not here yet."""
    names = {
        name
        for _boiler, _origin, _seq, line in photo_lines(store, boilers)
        if (name := photo_name(json.loads(line)["body"])) is not None
    }
    return sorted(name for name in names if not place_of(store.photos, name).exists())
