"""Sheets of any size with every look on them, for tests, benchmarks and pictures of the map."""

import itertools

from fieldapp.drawing.marks import TubeLook
from model.condition.boiler_facts import BoilerFacts
from model.record.words import State
from model.tubesheet.faces import Face, Sheet, Shown
from model.tubesheet.layout import Circle, Tube, default_key


def facts(*, shell_mm=2200.0, furnaces=(), kind="dry-back", od_mm=50.8, faces=()):
    """A boiler of which only the sizes are known."""
    return BoilerFacts(
        boiler="b",
        tag="B-1",
        owner="",
        site="",
        kind=kind,
        year_built=None,
        mawp_mpa=None,
        operating_pressure_mpa=None,
        identity={},
        numbering_note="",
        od_mm=od_mm,
        wall_mm=2.9,
        length_mm=4000.0,
        material=None,
        installed=None,
        shell_diameter_mm=shell_mm,
        furnaces=tuple(Circle(x_mm=x, y_mm=y, diameter_mm=d) for x, y, d in furnaces),
        sheets=(Sheet(key="front", name="front"),),
        faces=faces,
        settings={},
    )


def face(*, looks="rearward", passes=(2,), end="front"):
    shows = tuple(Shown(pass_=number, end=end) for number in passes)
    name = "front smokebox" if looks == "rearward" else "rear smokebox"
    return Face(key="front", name=name, sheet="front", looks=looks, shows=shows)


def grid(rows, columns, *, pitch_mm=70.0, pass_number=2, middle=(0.0, 0.0), staggered=False):
    """Rows from the top, columns from the left, centred."""
    tubes = []
    for row, column in itertools.product(range(rows), range(columns)):
        shift = 0.25 * pitch_mm * (1 if row % 2 else -1) if staggered else 0.0
        rise = 0.866 * pitch_mm if staggered else pitch_mm
        tubes.append(
            Tube(
                key=default_key(pass_number, row + 1, column + 1),
                pass_=pass_number,
                row=row + 1,
                column=column + 1,
                x_mm=middle[0] + (column - (columns - 1) / 2) * pitch_mm + shift,
                y_mm=middle[1] + ((rows - 1) / 2 - row) * rise,
                hole=f"hole-{pass_number}-{row + 1}-{column + 1}",
            )
        )
    return tuple(tubes)


ALL_LOOKS = tuple(
    TubeLook(
        state=state,
        joint_leak=joint and state == State.LEAKING,
        carried=added == "carried",
        filled=added == "filled",
        disputed=added == "disputed",
        finding=added if added in ("watch", "act") else None,
        stay=added == "stay",
        replaced=added == "replaced",
        plug_bad=joint and state == State.PLUGGED,
    )
    for added in ("", "carried", "filled", "disputed", "watch", "act", "stay", "replaced")
    for state, joint in (
        (State.SOUND, False),
        (State.THINNED, False),
        (State.LEAKING, False),
        (State.LEAKING, True),
        (State.PLUGGED, False),
        (State.PLUGGED, True),
        (State.SPLIT, False),
        (None, False),
    )
)


def looks_for(count):
    """Mostly plain, as on a real sheet, but every look somewhere."""
    usual = (TubeLook(state=State.SOUND), TubeLook(state=None))
    return [
        ALL_LOOKS[(index // 3) % len(ALL_LOOKS)] if index % 3 == 0 else usual[index % 5 == 1]
        for index in range(count)
    ]
