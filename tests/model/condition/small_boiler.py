"""A boiler of a few tubes, recorded line by line and counted: what the tests of counts stand on.

Tubes are called by pass and column ("2.1" is the first of pass 2), all in one row 70 mm apart.
Not here: what the counts should be.
"""

from model.condition.counts import as_found, as_left, count_boiler, count_passes
from model.condition.coverage import count_coverage, tubes_in_scope
from model.condition.fold import fold_boiler
from model.condition.tubes import WallConcerns, tube_conditions
from model.wall.governing import inspection_walls
from tests.model.condition.journal import ADA, AUTUMN, SPRING, Journal, entity

PITCH_MM = 70.0


def hole_of(key):
    """The hole id of a key: digits as letters, because ids have only some digits."""
    return entity("hole" + "".join("x" if sign == "." else chr(97 + int(sign)) for sign in key))


class SmallBoiler:
    """Records what people say, by tube key, and folds and counts all of it when asked."""

    def __init__(self, passes, *, stays=(), scope="full", of_passes=(), sizes=None):
        """``passes`` {number: tubes}; ``sizes`` of tubes by key."""
        self.journal = Journal()
        self.stays = stays
        self.keys = [f"{p}.{n}" for p, count in passes.items() for n in range(1, count + 1)]
        body = {
            "holes": [self._hole(key, **(sizes or {}).get(key, {})) for key in self.keys],
            "retired": [],
        }
        self.journal.add("layout", body)
        self.journal.inspection(SPRING, "2024-04-10")
        body = {"inspection": AUTUMN, "date": "2024-10-10", "scope": scope}
        self.journal.add("inspection", {**body, "passes": list(of_passes)})

    def _hole(self, key, **sizes):
        pass_, column = map(int, key.split("."))
        return {
            "hole": hole_of(key),
            "tube": key,
            "pass": pass_,
            "row": 1,
            "column": column,
            "x_mm": PITCH_MM * column,
            "y_mm": PITCH_MM * pass_,
            "kind": "stay" if key in self.stays else "plain",
            **sizes,
        }

    # ------------------------------------------------------------------ what people say

    def see(self, key, state, end="both", *, at=AUTUMN, by=ADA, how="seen", names=(), **more):
        """One observation, or two; the last is given back."""
        for each in ("front", "rear") if end == "both" else (end,):
            said = self.journal.looks(
                state, at=at, hole=hole_of(key), end=each, how=how, by=by, names=names, **more
            )
        return said

    def see_rest(self, state="sound", **more):
        """Both ends of every tube of which nothing was said in this inspection."""
        at = more.get("at", AUTUMN)
        said = {r.body.get("hole") for r in self.journal.records if r.body.get("inspection") == at}
        for key in self.keys:
            if hole_of(key) not in said:
                self.see(key, state, **more)

    def settle(self, key, state, *names, end="front", at=AUTUMN, **more):
        return self.journal.settles(state, *names, at=at, hole=hole_of(key), end=end, **more)

    def work(self, key, does, *, at=AUTUMN, **more):
        return self.journal.works(does, at=at, hole=hole_of(key), **more)

    def measure(self, key, wall_mm=None, *, at=AUTUMN, purpose="planned", names=(), **more):
        body = {"inspection": at, "hole": hole_of(key), "side": "fire", "purpose": purpose}
        body = {"in_rolled_zone": False, "confirmed": False, "wall_mm": wall_mm, **body, **more}
        return self.journal.add("reading", body, names=names)

    # ------------------------------------------------------------------ what follows

    def folded(self):
        return fold_boiler(self.journal.records, self.journal.boiler)

    def inspection(self, at=AUTUMN, folded=None):
        folded = folded or self.folded()
        return next(i for i in folded.inspections if at in i.facts.members)

    def walls(self, at=AUTUMN, *, wall_mm=None, retirement_mm=None):
        folded = self.folded()
        return inspection_walls(
            folded,
            self.inspection(at, folded),
            default_wall_mm=wall_mm,
            retirement_mm=retirement_mm,
        )

    def tubes(self, at=AUTUMN, *, wall_mm=None, retirement_mm=None, thin=()):
        """Every tube by key, walls below ``retirement_mm`` taken in."""
        folded = self.folded()
        inspection = self.inspection(at, folded)
        walls = self.walls(at, wall_mm=wall_mm, retirement_mm=retirement_mm)
        concerns = WallConcerns(
            below_found=walls.below_as_found(),
            below_left=walls.below_as_left(inspection.renewed),
            measured_thin=frozenset(map(hole_of, thin)),
        )
        return {each.tube.key: each for each in tube_conditions(folded, inspection, concerns)}

    def totals(self, at=AUTUMN, *, found=False, size=None, **walls):
        tubes = list(self.tubes(at, **walls).values())
        return count_boiler(tubes, as_found if found else as_left, size)

    def passes(self, at=AUTUMN, *, size=None, **walls):
        tubes = list(self.tubes(at, **walls).values())
        return {each.pass_: each.totals for each in count_passes(tubes, as_left, size)}

    def coverage(self, at=AUTUMN):
        tubes = self.tubes(at).values()
        return count_coverage(tubes_in_scope(tubes, self.inspection(at).facts))
