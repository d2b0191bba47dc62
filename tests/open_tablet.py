"""The touch app with an inspection open on its map, and what the journal alone says of it."""

from contextlib import contextmanager

from model.condition.tubes import WallConcerns, tube_conditions
from model.store.loading import load_boiler
from model.store.opening import open_store
from tests.fieldapp.view.bench import CARRIED, Bench
from tests.tablet_bench import AppBench, surroundings

SETTINGS = {"wall": {"retirement": "stated", "stated_mm": 1.8, "basis": "the owner's engineer"}}


class Tablet(AppBench):
    """An app bench that knows its inspection."""

    def open_map(self, face="front"):
        """As after the check tube."""
        self.services.open_session(*self.opens, lambda _shown: None)
        self.settle()
        self.services.shown.face = face
        self.services.start_over(
            ("boilers", {}), ("boiler", {"boiler": self.opens[0]}), ("map", {})
        )
        self.settle()
        return self

    def hole(self, key):
        return next(tube.hole for tube in self.services.shown.tubes if tube.key == key)

    def go(self, name, **what):
        self.services.go(name, **what)
        self.settle()
        return self.top

    def at(self, name, key, end="front"):
        """A screen about one tube end."""
        return self.go(name, hole=self.hole(key), end=end)

    def press_deep(self, words):
        """A key of a list, wherever it is scrolled to."""
        found = [key for key in self._keys() if key.words == words]
        assert found, f"no key says {words!r}: {sorted(self.shown_keys())}"
        found[0].trigger_action(0)
        self.settle()

    def texts(self):
        """Every text on the screen, or of the question above it."""
        above = self.shell.question or self.top
        return [
            text
            for each in above.walk()
            for name in ("text", "words", "under")
            if isinstance(text := getattr(each, name, None), str) and text
        ]

    def says(self, part):
        return any(part in text for text in self.texts())


@contextmanager
def opened(window, folder, signs, *, size=None, carried=CARRIED, readings=(), settings=SETTINGS):
    """A tablet on a database of its own; ``size`` of the screen in pixels."""
    bench = Bench(folder, carried=carried, readings=readings, settings=settings)
    opens = (bench.boiler, bench.inspection, bench.person("Ada"))
    bench.store.close()
    tablet = Tablet(window, bench.path, size=size, signs=signs)
    tablet.opens, tablet.data = opens, bench.path
    try:
        yield tablet
    finally:
        tablet.close()


class Journal:
    """What a program that only reads the database finds."""

    def __init__(self, tablet):
        with open_store(tablet.data, surroundings(seed=99), read_only=True) as store:
            self.boiler = load_boiler(store, tablet.opens[0])
            self.photos = [path.read_bytes() for path in store.photos.files()]
        self.inspection = self.boiler.inspections[-1]
        self.tubes = {
            each.tube.key: each
            for each in tube_conditions(self.boiler, self.inspection, WallConcerns())
        }
        self.readings = [record.body for record in self.inspection.readings]

    def end(self, key, end="front"):
        return self.tubes[key].ends_found[end]
