"""What is missing before you leave; a touch on an item goes to its tube. Then close and hand over.

Not here: what is missing (``fieldapp.view.before_you_leave``), the files (``handing_over``).
"""

from collections.abc import Callable
from datetime import datetime
from functools import partial
from pathlib import Path

from fieldapp.tablet.framing import frame
from fieldapp.tablet.handing_over import write_handover_file, write_site_sheet
from fieldapp.tablet.screen import TabletScreen
from fieldapp.tablet.tube_end import face_of_end, tube_of
from fieldapp.tablet.widgets.big_key import BigKey
from fieldapp.tablet.widgets.choices import KeyGrid
from fieldapp.tablet.widgets.panel import ScrollList, Stack
from fieldapp.tablet.widgets.words import Words
from fieldapp.view import outcome as kinds
from fieldapp.view.before_you_leave import Item, Leaving, Matter
from fieldapp.view.outcome import Outcome
from fieldapp.view.session import InspectionSession
from fieldapp.view.session_pages import leaving_of
from model.record.words import End
from model.tubesheet.faces import Face

MOST_SHOWN = 48
"""Items of one list with a key each; whoever has more goes to the face."""
_SHOWN = frozenset((kinds.MARKS, kinds.READINGS, kinds.INSPECTION, kinds.EVERYTHING))
Write = Callable[[InspectionSession, Path, datetime], str]


class BeforeLeavingScreen(TabletScreen):
    """Shown with an open inspection."""

    def build(self) -> None:
        kit = self.kit
        self.kept.setdefault("unfolded", set())
        self.list = ScrollList(kit)
        go = self.services.go
        self.keys = {
            "crew": BigKey(kit, "Crew list", partial(go, "crew")),
            "limits": BigKey(kit, "Limits", partial(go, "limits"), under="how far each is"),
            "sheet": BigKey(kit, "Site sheet", partial(self._write, write_site_sheet)),
            "hand over": BigKey(
                kit, "Hand over", partial(self._write, write_handover_file), under="write the file"
            ),
            "close": BigKey(kit, "Close", self._ask_close, under="the inspection", leads=True),
        }
        frame(self, "Before you leave", self.list, list(self.keys.values()))
        self._ask()

    def took(self, outcome: Outcome) -> None:
        if outcome.changed & _SHOWN:
            self._ask()

    def _ask(self) -> None:
        self.services.ask_session(leaving_of, self._show)

    def _show(self, leaving: Leaving) -> None:
        kit = self.kit
        self.leaving = leaving
        place = self.list.scroll_y
        self.list.empty()
        missing = [matter for matter in leaving.matters if matter.must_be_empty]
        known = [matter for matter in leaving.matters if not matter.must_be_empty]
        self.list.put(Words(kit, "Still missing" if missing else leaving.words, "heading"))
        self.list.put(*(self._matter(matter) for matter in missing))
        if known:
            self.list.put(Words(kit, "To be known", "heading"))
            self.list.put(*(self._matter(matter) for matter in known))
        self.list.scroll_y = place

    def _matter(self, matter: Matter) -> Stack:
        kit = self.kit
        stack = Stack(kit)
        name = (matter.key, matter.face)
        is_unfolded = name in self.kept["unfolded"]
        stack.add_widget(
            BigKey(
                kit,
                matter.words,
                partial(self._turn_over, name),
                under="touch to fold" if is_unfolded else "touch to see them",
                chosen=is_unfolded,
                aligned="left",
                size_hint_y=None,
            )
        )
        if is_unfolded:
            shown = matter.items[:MOST_SHOWN]
            stack.add_widget(
                KeyGrid(
                    kit,
                    *(
                        BigKey(
                            kit,
                            _say(item),
                            partial(self._go_to, item, matter.face),
                            under=item.words,
                        )
                        for item in shown
                    ),
                    least_mm=34.0,
                )
            )
            if len(shown) < matter.count:
                more = matter.count - len(shown)
                stack.add_widget(Words(kit, f"and {more} more: see them on the map.", "quiet"))
        return stack

    def _turn_over(self, name: tuple[str, str | None]) -> None:
        self.kept["unfolded"] ^= {name}
        self._show(self.leaving)

    # Going to a tube

    def _go_to(self, item: Item, face: str | None) -> None:
        shown = self.services.shown
        if shown is None:
            return
        key = face or self._face_of(item)
        if key is None:
            self.services.say(f"No face of this boiler shows {_say(item)}.")
            return
        shown.highlight = item.hole
        if key == shown.face:
            self.services.start_over(
                ("boilers", {}), ("boiler", {"boiler": shown.boiler}), ("map", {})
            )
        else:
            self.services.go("check", face=key)

    def _face_of(self, item: Item) -> str | None:
        """Where the item is seen; for a whole tube rather where one stands already."""
        shown = self.services.shown
        if shown is None:
            return None
        pass_ = tube_of(shown, item.hole).pass_
        ends = [item.end] if item.end is not None else list(End)
        found: list[Face] = [
            face for end in ends if (face := face_of_end(shown.facts, pass_, end)) is not None
        ]
        keys = [face.key for face in found]
        if shown.face in keys:
            return shown.face
        return keys[0] if keys else None

    # Leaving

    def _write(self, write: Write) -> None:
        data, now = self.services.places.data, self.services.surroundings.clock()
        self.services.ask_session(lambda session: write(session, data, now), self._written)

    def _written(self, words: str) -> None:
        self.services.ask(words, [("Understood", None)])

    def _ask_close(self) -> None:
        self.services.ask(
            f"{self.leaving.words} Close the inspection? Late marks are still taken, and show as "
            "made after closing.",
            [("Not yet", None), ("Close it", self._close)],
        )

    def _close(self) -> None:
        self.services.do(lambda session: session.close(), lambda _outcome: self._ask())


def _say(item: Item) -> str:
    return item.tube if item.end is None else f"{item.tube} {item.end}"
