"""The side view of a boiler for the tablet's screens, from its facts. Not here: the drawing."""

from fieldapp.drawing.palette import Theme
from fieldapp.drawing.primitives import Picture
from fieldapp.drawing.side_view import SideFace, SideView, build_side_view
from model.condition.boiler_facts import BoilerFacts


def side_view_of(facts: BoilerFacts, here: str | None = None) -> SideView:
    """What the side view needs to know of a boiler."""
    return SideView(
        title=facts.tag,
        kind=facts.kind,
        faces=[
            SideFace(
                key=face.key,
                name=face.name,
                sheet=face.sheet,
                looks=face.looks,
                shows=[(shown.pass_, shown.end) for shown in face.shows],
            )
            for face in facts.faces
        ],
        has_furnace=bool(facts.furnaces),
        here=here,
        has_list=False,
    )


def side_picture(facts: BoilerFacts, theme: Theme, here: str | None = None) -> Picture:
    """The picture, without a list of the faces: the screens have keys for them."""
    return build_side_view(side_view_of(facts, here), theme)
