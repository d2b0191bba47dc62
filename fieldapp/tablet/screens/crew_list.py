"""The crew's list as it is chalked: face by face as seen, row by row from the top.

Not here: what is on it (``fieldapp.view.crew_list``).
"""

from itertools import groupby

from fieldapp.tablet.framing import frame
from fieldapp.tablet.screen import TabletScreen
from fieldapp.tablet.widgets.panel import ScrollList
from fieldapp.tablet.widgets.words import Words
from fieldapp.view import outcome as kinds
from fieldapp.view.crew_list import CrewFace, CrewList, build_crew_list
from fieldapp.view.outcome import Outcome
from fieldapp.view.session import InspectionSession

NOTHING = "Nothing to do at any face."


class CrewListScreen(TabletScreen):
    """Shown with an open inspection."""

    def build(self) -> None:
        self.list = ScrollList(self.kit)
        self.list.put(Words(self.kit, "Working it out ...", "quiet"))
        frame(self, "Crew list, in chalk order", self.list, [])
        self._ask()

    def took(self, outcome: Outcome) -> None:
        if kinds.MARKS in outcome.changed:
            self._ask()

    def _ask(self) -> None:
        now = self.services.surroundings.clock()

        def build(session: InspectionSession) -> CrewList:
            inspection = session.present.open
            boiler, name = inspection.boiler.boiler, inspection.facts.inspection
            return build_crew_list(session.store, boiler, name, now)

        self.services.ask_session(build, self._show)

    def _show(self, crew: CrewList) -> None:
        kit = self.kit
        self.list.empty()
        if not crew.count:
            self.list.put(Words(kit, NOTHING, "heading"))
        if crew.decision:
            self.list.put(Words(kit, crew.decision))
        for face in crew.faces:
            self._put_face(face)
        self.list.put(Words(kit, "Pressure", "heading"), Words(kit, crew.caution))

    def _put_face(self, face: CrewFace) -> None:
        kit = self.kit
        self.list.put(Words(kit, face.name, "title"), Words(kit, face.seen, "quiet"))
        if not face.rows:
            self.list.put(Words(kit, "nothing to do"))
        for pass_, rows in groupby(face.rows, key=lambda row: row.pass_):
            self.list.put(Words(kit, f"pass {pass_}", "heading"))
            for row in rows:
                self.list.put(Words(kit, row.words, "heading", is_bold=False))
