"""A photo of a tube end: by the device's camera, or an image file; then kept with a caption.

Not here: the camera (``ports``), what a picture must be (``fieldapp.intake.image_file``).
"""

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TypeVar

from kivy.clock import Clock

from fieldapp.intake.image_file import read_image
from fieldapp.tablet.framing import frame
from fieldapp.tablet.screen import TabletScreen
from fieldapp.tablet.tube_end import end_ref, say_end_place
from fieldapp.tablet.widgets.big_key import BigKey
from fieldapp.tablet.widgets.choices import KeyGrid
from fieldapp.tablet.widgets.labelled_line import LabelledLine
from fieldapp.tablet.widgets.panel import ScrollList
from fieldapp.tablet.widgets.words import Words
from fieldapp.view.outcome import Outcome
from fieldapp.view.session import InspectionSession
from model.record.words import End

T = TypeVar("T")
ENDINGS = (".jpg", ".jpeg", ".png", ".webp")
TAKEN = "camera"
"""Folder beside the database into which the camera writes; what is kept is copied from there."""


class PhotoScreen(TabletScreen):
    """``hole`` and ``end``: what it shows."""

    def build(self) -> None:
        shown = self.services.shown
        if shown is None:
            return
        kit = self.kit
        self._ref = end_ref(shown, self.what["hole"], End(self.what["end"]))
        place = say_end_place(shown, self._ref.hole, self._ref.end)
        self.list = ScrollList(kit)
        camera = self.services.ports.camera
        self.caption = LabelledLine(
            kit,
            "Caption, if one is needed",
            self.kept.get("caption", ""),
            partial(self.kept.__setitem__, "caption"),
        )
        self.take = BigKey(kit, "Take a photo", self._take, leads=camera.is_there)
        self.take.disabled = not camera.is_there
        self.choose = BigKey(kit, "Choose an image file", self._choose, leads=not camera.is_there)
        self.list.put(self.caption, KeyGrid(kit, self.take, self.choose, least_mm=40.0))
        if not camera.is_there:
            words = "No camera can be used here: take the photo with the device's own camera app."
            self.list.put(Words(kit, words, "quiet"))
        self.list.put(Words(kit, "A photo is never required.", "quiet"))
        frame(self, f"Photo: {place}", self.list, [])

    def _take(self) -> None:
        folder = self.services.places.data.parent / TAKEN
        stamp = self.services.surroundings.clock().strftime("%Y%m%d-%H%M%S-%f")
        try:
            folder.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            self.services.say(f"The camera has no place to write to: {error.strerror}.")
            return
        self.services.ports.camera.take(
            folder / f"{stamp}.jpg", _on_screen(self._taken), _on_screen(self._failed)
        )

    def _taken(self, file: Path) -> None:
        self._keep(file, take_away=True)

    def _failed(self, words: str) -> None:
        self.services.say(words)

    def _choose(self) -> None:
        start = self.kept.get("folder") or pictures_folder()
        self.services.go(
            "choose file", title="Choose a photo", endings=ENDINGS, start=start, picked=self._picked
        )

    def _picked(self, file: Path) -> None:
        self.kept["folder"] = file.parent
        self._keep(file, take_away=False)

    def _keep(self, file: Path, *, take_away: bool) -> None:
        ref, caption = self._ref, self.kept.get("caption", "").strip()

        def keep(session: InspectionSession) -> Outcome:
            data, _facts = read_image(file)
            outcome = session.add_photo(data, file.name, ref, caption)
            if take_away:
                file.unlink(missing_ok=True)  # it is on the shelf now
            return outcome

        self.services.do(keep, lambda _outcome: self.services.back())


def pictures_folder() -> Path:
    """Where devices put their photos, as far as it is there."""
    for folder in (Path("/sdcard/DCIM"), Path.home() / "Pictures"):
        if folder.is_dir():
            return folder
    return Path.home()


def _on_screen(what: Callable[[T], object]) -> Callable[[T], None]:
    """The camera answers on a thread of its own."""

    def told(answer: T) -> None:
        Clock.schedule_once(lambda _passed: what(answer), -1)

    return told
