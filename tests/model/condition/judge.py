"""The judge: the state of every tube end a second time, written from the text alone.

Brute force over whole sets, one rule after the other, no shared code with ``model.condition`` and
nothing fast. Where it and the fold differ, one of them has misread the text. Not here: random
record sets (``record_sets``) and the comparison (``against_the_judge``).
"""

import calendar
from dataclasses import dataclass, field

ENDS = ("front", "rear")
WORST_FIRST = ("split", "leaking", "plugged", "thinned", "sound")
LEAKS_WORST_FIRST = ("bore", "ligament", "not-found", "joint")
PLUGS_WORST_FIRST = ("missing", "burned", "weeping", "tight")
BEST_HOW_FIRST = ("seen", "paper", "by-row", "filled")
SETTERS_IN_ORDER = ("plug", "unplug", "replace")
CARRIES = ("split", "leaking", "plugged", "thinned")
FAR_FUTURE = "9999-99-99"

MAY_SUPERSEDE = {
    "anyone": ("person", "boiler", "layout", "settings", "inspection", "event", "cause"),
    "same person": ("observation", "reading", "part", "photo", "test_run", "work"),
}
MAY_WITHDRAW = {
    "anyone": (
        *("person", "boiler", "layout", "settings", "inspection"),
        *("close", "settle", "event", "cause", "same"),
    ),
    "same person": ("observation", "reading", "part", "photo", "test_run", "work"),
}
KNOWN_KINDS = {
    *MAY_SUPERSEDE["anyone"],
    *MAY_SUPERSEDE["same person"],
    *("origin", "close", "settle", "withdraw", "same", "sign_off"),
}


@dataclass
class End:
    """One end as found or as left."""

    state: str | None = None
    carried: bool = False
    disputed: bool = False
    leak_at: str | None = None
    plug: str | None = None
    """Condition of the plug."""
    how: str | None = None
    opinions: frozenset = frozenset()
    findings: frozenset = frozenset()
    """(id of the observation, grade) of today's findings and of earlier ones that still count."""


@dataclass
class Judged:
    """One inspection. Maps hold every end of every hole that any record names."""

    name: str
    date: str | None
    found: dict = field(default_factory=dict)
    left: dict = field(default_factory=dict)
    lives_found: dict = field(default_factory=dict)
    lives_left: dict = field(default_factory=dict)
    tubes_found: dict = field(default_factory=dict)
    tubes_left: dict = field(default_factory=dict)
    carried_in: dict = field(default_factory=dict)
    carried_out: dict = field(default_factory=dict)


@dataclass
class Verdict:
    inspections: list
    carried_after: dict
    lives_after: dict


def judge(records, boiler):
    """What the text says of every tube end of a boiler, from the set of all records."""
    return _Judge(records, boiler).verdict()


def who_marked(records, boiler):
    """{slot: everybody who ever marked it}, dead marks too."""
    bench = _Judge(records, boiler)
    marks = [r for r in bench.every if r.kind == "observation"]
    return {bench.slot(r): {m.by for m in marks if bench.slot(m) == bench.slot(r)} for r in marks}


class _Judge:
    def __init__(self, records, boiler):
        self.known = {r.id: r for r in records if is_understood(r)}
        self.every = list(self.known.values())
        self.classes = {
            what: self.classes_of(what) for what in ("boiler", "inspection", "person", "hole")
        }
        dead = {r.id for r in self.every if any(self.kills(w, r) for w in self.every)}
        our_boiler = self.name("boiler", boiler)
        self.live = [
            r
            for r in self.every
            if r.id not in dead and self.name("boiler", r.boiler) == our_boiler
        ]
        self.holes = self.all_holes()

    # 1. Classes

    def classes_of(self, what):
        """The sets of ids that are the same thing, by joining until nothing changes."""
        pairs = []
        for r in self.every:
            if r.kind != "same" or self.is_withdrawn(r):
                continue
            if what == "hole" and r.body["what"] == "boiler":
                pairs += list(r.body.get("holes", {}).items())
            if what == r.body["what"]:
                pairs.append((r.body["a"], r.body["b"]))
        sets = [{a, b} for a, b in pairs]
        changed = True
        while changed:
            changed = False
            for one in sets:
                for other in sets:
                    if one is not other and one & other:
                        one |= other
                        sets = [s for s in sets if s is not other]
                        changed = True
                        break
                if changed:
                    break
        return sets

    def is_withdrawn(self, same):
        return any(w.kind == "withdraw" and same.id in w.supersedes for w in self.every)

    def name(self, what, some_id):
        for members in self.classes[what]:
            if some_id in members:
                return min(members)
        return some_id

    # 2. Dead

    def kills(self, w, r):
        if r.id not in w.supersedes:
            return False
        same_person = self.name("person", w.by) == self.name("person", r.by)
        if w.kind == "withdraw":
            return r.kind in MAY_WITHDRAW["anyone"] or (
                r.kind in MAY_WITHDRAW["same person"] and same_person
            )
        if w.kind != r.kind:
            return False
        if r.kind == "settings":
            return w.body["section"] == r.body["section"]
        if r.kind in MAY_SUPERSEDE["anyone"]:
            return True
        if r.kind not in MAY_SUPERSEDE["same person"] or not same_person:
            return False
        if r.kind == "observation":
            return self.slot(w) == self.slot(r)
        if r.kind == "work":
            return w.body.get("corrects") is True
        return True

    def slot(self, r):
        return (self.hole(r), r.body["end"], self.name("inspection", r.body["inspection"]))

    def hole(self, r):
        return self.name("hole", r.body["hole"])

    def all_holes(self):
        holes = set()
        for r in self.every:
            if r.body.get("hole") is not None:
                holes.add(self.hole(r))
            if r.kind == "layout":
                holes |= {self.name("hole", h["hole"]) for h in r.body.get("holes", ())}
        return holes

    # The run through the years

    def verdict(self):
        names = {
            self.name("inspection", r.body["inspection"])
            for r in self.live
            if r.body.get("inspection") is not None
        }
        in_order = sorted(names, key=lambda name: (self.date(name) or FAR_FUTURE, name))
        carried = {(hole, end): None for hole in self.holes for end in ENDS}
        findings = {key: frozenset() for key in carried}
        lives = dict.fromkeys(self.holes, 1)
        judged = []
        since = ""
        for name in in_order:
            until = self.date(name) or FAR_FUTURE
            carried, lives, findings = self.after_gap(since, until, carried, lives, findings)
            one = self.inspection(name, carried, lives, findings)
            judged.append(one)
            carried = one.carried_out
            renewed = {h for h in self.holes if one.lives_left[h] != lives[h]}
            findings = {
                (hole, end): frozenset()
                if hole in renewed
                else frozenset(f for f in one.found[hole, end].findings if f[1] == "act")
                for hole, end in findings
            }
            lives = one.lives_left
            since = until
        carried, lives, _ = self.after_gap(since, None, carried, lives, findings)
        return Verdict(judged, carried, lives)

    def date(self, name):
        dates = [
            r.body["date"]
            for r in self.live
            if r.kind == "inspection" and self.name("inspection", r.body["inspection"]) == name
        ]
        return min(dates, default=None)

    # 3 to 5. As found

    def inspection(self, name, carried, lives, findings):
        one = Judged(name, self.date(name), carried_in=carried, lives_found=lives)
        deeds = [
            (r, r.body["does"], self.hole(r), tuple(r.body.get("ends", ())) or ENDS, "")
            for r in self.live
            if r.kind == "work"
            and r.body.get("hole") is not None
            and r.body.get("inspection") is not None
            and self.name("inspection", r.body["inspection"]) == name
        ]
        for key in carried:
            one.found[key] = self.as_found(key, name, carried[key], findings[key])
            one.left[key] = self.after_work(one.found[key], self.at_end(deeds, key))
            one.carried_out[key] = self.to_carry(one.left[key])
        for hole in self.holes:
            one.lives_left[hole] = self.next_life(hole, deeds, lives[hole])
            one.tubes_found[hole] = tube_state([one.found[hole, end].state for end in ENDS])
            one.tubes_left[hole] = tube_state([one.left[hole, end].state for end in ENDS])
        return one

    def as_found(self, key, inspection, carried, earlier_findings):
        slot = (*key, inspection)
        said = [r for r in self.live if r.kind in ("observation", "settle")]
        said = [r for r in said if self.slot(r) == slot]
        looks = [r for r in said if r.kind == "observation"]
        settles = [r for r in said if r.kind == "settle"]
        covered = {old for settle in settles for old in settle.supersedes}
        opinions = [r for r in said if r.body.get("state") is not None and r.id not in covered]
        with_state = [r for r in looks if r.body.get("state") is not None]
        over_carried = carried is not None and carried.state in ("plugged", "leaking", "split")
        if settles or over_carried or any(r.body["how"] != "filled" for r in with_state):
            opinions = [r for r in opinions if r.body.get("how") != "filled"]
            with_state = [r for r in with_state if r.body["how"] != "filled"]
        end = End(opinions=frozenset(r.id for r in opinions))
        states = {r.body["state"] for r in opinions}
        if states:
            end.state = first_of(WORST_FIRST, states)
            end.disputed = len(states) > 1
            worst = [r for r in opinions if r.body["state"] == end.state]
            if end.state == "leaking":
                end.leak_at = first_of(
                    LEAKS_WORST_FIRST, {r.body.get("leak_at") or "not-found" for r in worst}
                )
            if end.state == "plugged":
                end.plug = first_of(PLUGS_WORST_FIRST, {condition(r) for r in worst})
                if end.plug is None and carried is not None:
                    end.plug = carried.plug
            end.how = self.how(slot, with_state, [r for r in opinions if r.kind == "settle"])
        elif carried is not None:
            end.state, end.carried = carried.state, True
            end.leak_at, end.plug = carried.leak_at, carried.plug
        end.findings = frozenset(
            (r.id, f["grade"]) for r in looks for f in r.body.get("findings", ())
        )
        if end.how in (None, "filled"):
            end.findings |= earlier_findings
        return end

    def how(self, slot, with_state, head_settles):
        hows = {r.body["how"] for r in with_state}
        if any(settle.body["from"] == "looked-again" for settle in head_settles):
            hows.add("seen")
        if not hows:
            hows = {
                r.body["how"]
                for r in self.every
                if r.kind == "observation"
                and r.body.get("state") is not None
                and self.slot(r) == slot
                and any(r.id in settle.supersedes for settle in head_settles)
            }
        return first_of(BEST_HOW_FIRST, hows) or "paper"

    # 6. As left

    def at_end(self, deeds, key):
        hole, end = key
        return [
            (r, does, date)
            for r, does, on_hole, ends, date in deeds
            if on_hole == hole and (end in ends or does == "replace")
        ]

    def heads(self, deeds):
        """The setters that no other setter of this end follows; of dated ones the latest."""
        setters = [deed for deed in deeds if deed[1] in SETTERS_IN_ORDER]
        heads = [
            (r, does, date)
            for r, does, date in setters
            if not any(self.follows(other, r) for other, _, _ in setters)
        ]
        latest = max((date for _, _, date in heads), default="")
        return [deed for deed in heads if deed[2] == latest]

    def follows(self, later, earlier):
        """Whether a work names another, itself or through works of the same chain, live or dead.

        The chain is that of (hole, inspection), or of (hole, no inspection). A past event
        follows nothing: what it names, it corrects.
        """
        if later.kind != "work":
            return False
        reached = {later.id}
        while True:
            named = {
                old
                for new in reached
                if new in self.known and self.chain(self.known[new]) == self.chain(later)
                for old in self.known[new].supersedes
            }
            if named <= reached:
                return earlier.id in reached and earlier.id != later.id
            reached |= named

    def chain(self, r):
        if r.kind != "work" or r.body.get("hole") is None:
            return None
        inspection = r.body.get("inspection")
        return (self.hole(r), inspection and self.name("inspection", inspection))

    def after_work(self, end, deeds):
        heads = self.heads(deeds)
        if not heads:
            joint_leak = end.state == "leaking" and end.leak_at == "joint"
            if joint_leak and any(does in ("re-roll", "weld") for _, does, _ in deeds):
                return End()
            return End(
                state=end.state,
                carried=end.carried,
                disputed=end.disputed,
                leak_at=end.leak_at,
                plug=end.plug,
            )
        done = {does for _, does, _ in heads}
        left = End(disputed=len(done) > 1)
        if first_of(SETTERS_IN_ORDER, done) == "plug":
            left.state = "plugged"
            said = {condition(r) for r, does, _ in heads if does == "plug"}
            left.plug = first_of(PLUGS_WORST_FIRST, said)
        return left

    def to_carry(self, left):
        if left.state not in CARRIES:
            return None
        return End(state=left.state, leak_at=left.leak_at, plug=left.plug)

    # 8. Lives

    def next_life(self, hole, deeds, number):
        replaced = any(does == "replace" and on == hole for _, does, on, _, _ in deeds)
        for end in ENDS:
            done = {does for _, does, _ in self.heads(self.at_end(deeds, (hole, end)))}
            if "replace" in done and len(done) > 1:
                replaced = False
        return number + 1 if replaced else number

    # 7. Between inspections

    def after_gap(self, since, until, carried, lives, findings):
        deeds = [
            deed
            for deed in self.dated_deeds()
            if deed[4] >= since and (until is None or deed[4] < until)
        ]
        after = {
            key: self.to_carry(self.after_work(carried[key] or End(), self.at_end(deeds, key)))
            for key in carried
        }
        lives_after = {hole: self.next_life(hole, deeds, lives[hole]) for hole in self.holes}
        kept = {
            (hole, end): findings[hole, end] if lives_after[hole] == lives[hole] else frozenset()
            for hole, end in findings
        }
        return after, lives_after, kept

    def dated_deeds(self):
        deeds = []
        for r in self.live:
            if r.kind == "work" and r.body.get("inspection") is None:
                if r.body.get("hole") is not None:
                    ends = tuple(r.body.get("ends", ())) or ENDS
                    date = last_day(r.body["done_on"])
                    deeds.append((r, r.body["does"], self.hole(r), ends, date))
            elif r.kind == "event":
                does = {"replaced": "replace", "retubed": "replace", "cleaned": "clean"}
                does = does.get(r.body["what"], r.body["what"])
                for hole in self.event_holes(r):
                    deeds.append((r, does, hole, ENDS, last_day(r.body["date"])))
        return deeds

    def event_holes(self, event):
        if event.body.get("hole") is not None:
            return {self.hole(event)}
        if event.body["what"] != "retubed" or event.body.get("count") is not None:
            return set()
        passes = {}
        retired = set()
        for layout in sorted((r for r in self.live if r.kind == "layout"), key=lambda r: r.id):
            passes |= {
                self.name("hole", h["hole"]): h["pass"] for h in layout.body.get("holes", ())
            }
            retired |= {self.name("hole", hole) for hole in layout.body.get("retired", ())}
        which = event.body.get("pass")
        return {hole for hole in passes if which in (None, passes[hole])} - retired


def is_understood(record):
    """Unknown kinds, newer schemas and unknown states say nothing."""
    state = record.body.get("state")
    return (
        record.kind in KNOWN_KINDS
        and record.schema == 1
        and (state is None or state in WORST_FIRST)
    )


def tube_state(states):
    """Plugged if either end is, otherwise the worse end."""
    return "plugged" if "plugged" in states else first_of(WORST_FIRST, set(states))


def first_of(order, values):
    return next((value for value in order if value in values), None)


def condition(record):
    return (record.body.get("plug") or {}).get("condition")


def last_day(date):
    if len(date) == 4:
        return f"{date}-12-31"
    if len(date) == 7:
        return f"{date}-{calendar.monthrange(int(date[:4]), int(date[5:]))[1]:02d}"
    return date
