"""The columns of a row as a person at a face counts them.

Not here: the keys of tubes, which never change with where one stands.
"""

from collections.abc import Mapping, Sequence

from model.tubesheet.faces import Face, is_mirrored, mirrored_column
from model.tubesheet.layout import Tube


def columns_as_seen(tubes: Sequence[Tube], face: Face) -> Mapping[str, int]:
    """The column of every tube by key, counted from the left as seen from the face.

    In a row of n columns the k-th from the front is the (n + 1 - k)-th from the other side; a row
    that begins at another column than 1 keeps its numbers in the same way.
    """
    rows: dict[tuple[int, int], list[Tube]] = {}
    for tube in tubes:
        rows.setdefault((tube.pass_, tube.row), []).append(tube)
    columns: dict[str, int] = {}
    for members in rows.values():
        before = min(tube.column for tube in members) - 1
        last = max(tube.column for tube in members) - before
        for tube in members:
            own = tube.column - before
            seen = mirrored_column(own, last) if is_mirrored(face) else own
            columns[tube.key] = before + seen
    return columns
