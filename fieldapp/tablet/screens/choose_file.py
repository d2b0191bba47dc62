"""Choose a file of the device, in rows for a gloved finger. Not here: what the file is for."""

from collections.abc import Callable
from functools import partial
from pathlib import Path

from fieldapp.tablet.framing import frame
from fieldapp.tablet.screen import TabletScreen
from fieldapp.tablet.widgets.big_key import BigKey
from fieldapp.tablet.widgets.panel import ScrollList
from fieldapp.tablet.widgets.words import Words

MOST_SHOWN = 200
"""More rows than this nobody scrolls through."""


class ChooseFileScreen(TabletScreen):
    """``title``; ``endings``: of the files shown, lower case; ``start``: a folder;
    ``picked``: told the path, after this screen was left."""

    def build(self) -> None:
        self.list = ScrollList(self.kit)
        frame(self, self.what["title"], self.list, [])
        self.kept.setdefault("folder", nearest_folder(Path(self.what["start"])))
        self._show()

    def _show(self) -> None:
        kit, folder = self.kit, self.kept["folder"]
        self.list.empty()
        self.list.scroll_y = 1.0
        self.list.put(Words(kit, str(folder), "quiet"))
        if folder.parent != folder:
            self._put_row(f"Up to {folder.parent.name or folder.parent}", folder.parent, self._open)
        folders, files, fault = list_folder(folder, self.what["endings"])
        for each in folders[:MOST_SHOWN]:
            self._put_row(f"{each.name}/", each, self._open)
        for each in files[:MOST_SHOWN]:
            self._put_row(each.name, each, self._pick)
        if fault is not None:
            self.list.put(Words(kit, fault, "warning"))
        elif not files:
            kinds = ", ".join(self.what["endings"])
            self.list.put(Words(kit, f"No file of this kind here ({kinds}).", "quiet"))
        left_out = max(0, len(folders) - MOST_SHOWN) + max(0, len(files) - MOST_SHOWN)
        if left_out:
            self.list.put(Words(kit, f"{left_out} more are not shown: put it in a smaller folder."))

    def _put_row(self, words: str, path: Path, pressed: Callable[[Path], object]) -> None:
        self.list.put(
            BigKey(self.kit, words, partial(pressed, path), aligned="left", size_hint_y=None)
        )

    def _open(self, folder: Path) -> None:
        self.kept["folder"] = folder
        self._show()

    def _pick(self, file: Path) -> None:
        picked: Callable[[Path], object] = self.what["picked"]
        self.services.back()
        picked(file)


def list_folder(
    folder: Path, endings: tuple[str, ...]
) -> tuple[list[Path], list[Path], str | None]:
    """Folders and fitting files by name, hidden ones left out; and why there are none."""
    try:
        inside = sorted(folder.iterdir(), key=lambda each: each.name.casefold())
    except OSError as error:
        return [], [], f"This folder cannot be opened: {error.strerror}."
    folders, files = [], []
    for each in inside:
        if each.name.startswith("."):
            continue
        try:
            if each.is_dir():
                folders.append(each)
            elif each.is_file() and each.suffix.lower() in endings:
                files.append(each)
        except OSError:
            continue  # it vanished, or may not be looked at
    return folders, files, None


def nearest_folder(wanted: Path) -> Path:
    """The folder, or the nearest above it that is there."""
    for folder in (wanted, *wanted.parents):
        if folder.is_dir():
            return folder
    return Path.home()
