"""The maps: the boiler from its side, and every face as it is seen.

Not here: how they are drawn (``face_pictures``).
"""

from fieldapp.drawing.looks import BELOW
from fieldapp.report.face_grounds import ends_shown
from fieldapp.report.face_pictures import faces_of, named_clusters
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Drawing, Paragraph, Piece, Section
from fieldapp.report.wording import capital, say_list
from model.record.words import End
from model.tubesheet.faces import Face


def build_maps(numbers: ConditionNumbers) -> Section:
    """One picture for each place to stand."""
    pieces: list[Piece] = [
        Paragraph(
            words="Each face is drawn as it is seen from where one stands, with what stands there "
            "now: a leak that was plugged the same day is drawn plugged. A broken ring means "
            "from last time, not confirmed today."
            + _about_walls(numbers)
            + " The legend under each map names the signs on it."
        ),
        Drawing(
            face=None,
            title="Where the faces are",
            caption="A sketch to find one's way, not to scale; the front is on the left.",
        ),
    ]
    pieces += [
        Drawing(
            face=face.key,
            title=capital(face.name),
            caption=f"{_about_ends(numbers, face)}{_about_clusters(numbers, face)}",
        )
        for face in faces_of(numbers)
        if ends_shown(face)
    ]
    return Section(key="maps", heading="Maps, face by face", pieces=tuple(pieces))


def _about_walls(numbers: ConditionNumbers) -> str:
    said: list[str] = []
    if any(BELOW in each.left.bad for each in numbers.tubes):
        said.append(" The solid triangle also marks a tube measured below the retirement wall.")
    if any(each.is_measured_thin for each in numbers.tubes):
        said.append(" The open triangle also marks a tube called sound that measured thin.")
    return "".join(said)


def _about_ends(numbers: ConditionNumbers, face: Face) -> str:
    """Which ends, and in which sheet they sit."""
    shown = ends_shown(face)
    said = [
        f"{end} ends of {'pass' if len(passes) == 1 else 'passes'} {say_list(passes)}"
        for end in End
        if (passes := [str(number) for number, at in sorted(shown.items()) if at is end])
    ]
    sheet = numbers.facts.sheet(face.sheet)
    return capital(f"{say_list(said)} in the {sheet.name if sheet else face.sheet}.")


def _about_clusters(numbers: ConditionNumbers, face: Face) -> str:
    circled = [
        (name, each.is_bare)
        for name, each in named_clusters(numbers)
        if each.sheet == face.sheet and each.status == "refer"
    ]
    if not circled:
        return ""
    said = f" Circled: {say_list(name for name, _ in circled)}, see the clusters of plugs."
    bare = [name for name, is_bare in circled if is_bare]
    if bare:
        verb = "lies" if len(bare) == 1 else "lie"
        said += f" {say_list(bare)} {verb} beside bare plate and cannot be judged by the plugs."
    return said
