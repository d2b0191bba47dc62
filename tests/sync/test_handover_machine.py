"""Several tablets and an office, any edits, any files in any order: all end up with one record.

Files are lost, doubled, late, or rely on earlier ones; tablets are cloned; photos come late. Not
here: what single files hold.
"""

import random
import shutil
import tempfile
from pathlib import Path

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import Bundle, RuleBasedStateMachine, initialize, rule

from model.condition.fold import fold_boiler
from model.store.check import check
from model.store.loading import joined_members
from model.store.queries import load_records, load_shop_records
from sync.handover.reading import read_handover
from sync.handover.verifying import read_head
from sync.handover.writing import write_handover
from sync.vector import reached_in
from tests.model.condition.journal import BOILER
from tests.model.condition.record_sets import KINDS, OTHER_BOILER, PEOPLE, add_record
from tests.sync.devices import JPEG, foreign_line, open_device, person, photo

DEVICES = ("tablet 1", "tablet 2", "office")
EDITED = sorted(set(KINDS) - {"odd", "other"})
BOILERS = (BOILER, OTHER_BOILER)
device = st.sampled_from(DEVICES)


class Devices(RuleBasedStateMachine):
    files = Bundle("files")

    @initialize()
    def begin(self):
        self.folder = Path(tempfile.mkdtemp())
        self.stores = {
            name: open_device(self.folder / name, seed) for seed, name in enumerate(DEVICES)
        }
        self.made = set()
        self.relies_on = {}
        self.written = 0
        self.read = {name: set() for name in DEVICES}

    @rule(name=device, data=st.data())
    def edit(self, name, data):
        """A record of a random kind that may name any record this device holds."""
        store = self.stores[name]

        def choose(options):
            return data.draw(st.sampled_from(options))

        held = load_records(store, BOILERS)
        like = add_record(held, choose, choose(EDITED), choose(PEOPLE))
        envelope = {"boiler": like.boiler, "by": like.by, "supersedes": like.supersedes}
        with store.write() as writer:
            self.made.add(writer.append(like.kind, like.body, **envelope).id)

    @rule(name=device, who=st.sampled_from(PEOPLE), other=st.sampled_from(PEOPLE))
    def people(self, name, who, other):
        """A person is written down; now and then two are said to be one."""
        with self.stores[name].write() as writer:
            person(writer, f"{who} as {name} knows them", who)
            if who < other:
                writer.append("same", {"what": "person", "a": who, "b": other}, by=who)

    @rule(name=device, number=st.integers(0, 3), here=st.booleans())
    def take_photo(self, name, number, here):
        store = self.stores[name]
        with store.write() as writer:
            photo(store, writer, JPEG + bytes([number]), keep=here, boiler=BOILER, by=PEOPLE[0])

    @rule(name=device, number=st.integers(0, 3))
    def photo_arrives(self, name, number):
        self.stores[name].photos.add(JPEG + bytes([number]))

    @rule(name=device, seq=st.integers(1, 4))
    def cloned(self, name, seq):
        """Records of a tablet that was cloned: every copy numbers its own."""
        line = foreign_line(seq, note=name, boiler=BOILER, by=PEOPLE[1])
        with self.stores[name].write() as writer:
            writer.add_line(line)

    @rule(target=files, name=device, boiler=st.sampled_from(BOILERS))
    def write_all(self, name, boiler):
        return self._write(name, boiler, None)

    @rule(target=files, name=device, boiler=st.sampled_from(BOILERS), earlier=files)
    def write_since(self, name, boiler, earlier):
        return self._write(name, boiler, earlier)

    def _write(self, name, boiler, earlier):
        store = self.stores[name]
        members = joined_members(store, boiler)
        if not load_records(store, members):
            return None
        if earlier is not None and not set(read_head(earlier).boilers) & members:
            earlier = None
        self.written += 1
        path = self.folder / f"{self.written}.zip"
        write_handover(store, boiler, path, since=earlier)
        self.relies_on[path] = {earlier, *self.relies_on[earlier]} if earlier else set()
        return path

    @rule(name=device, file=files)
    def read_file(self, name, file):
        if file is None:
            return
        store = self.stores[name]
        before = count(store)
        result = read_handover(store, file)
        assert count(store) == before + result.records_added
        self.read[name].add(file)
        if self.relies_on[file] <= self.read[name]:
            self._has_what_was_promised(store, file)
        assert read_handover(store, file).records_added == 0
        assert count(store) == before + result.records_added

    def _has_what_was_promised(self, store, file):
        """Who has read a file and all before it holds what its vector says."""
        for boiler, streams in read_head(file).vector.items():
            for origin, promised in streams.items():
                here = reached_in(store, boiler, origin, promised.seq)
                assert here.count >= promised.count

    def teardown(self):
        if not hasattr(self, "stores"):
            return
        try:
            self._all_meet()
        finally:
            for store in self.stores.values():
                store.close()
            shutil.rmtree(self.folder)

    def _all_meet(self):
        """Everybody hands over to everybody, in some order; twice, as joined boilers widen."""
        for turn in range(2):
            order = [(a, b, boiler) for a in DEVICES for b in DEVICES for boiler in BOILERS]
            random.Random(turn).shuffle(order)
            for giver, taker, boiler in order * 2:
                file = self._write(giver, boiler, None)
                if file is not None:
                    read_handover(self.stores[taker], file)
        stores = list(self.stores.values())
        for store in stores:
            # Some photos here are recorded and lost, which a check would rightly call damage.
            assert check(store, with_photos=False).problems == []
        records = [load_records(store, BOILERS) for store in stores]
        ids = [{record.id for record in each} for each in records]
        assert ids[0] == ids[1] == ids[2]
        assert self.made <= ids[0]
        for boiler in BOILERS:
            folded = [
                fold_boiler(load_shop_records(store) + mine, boiler)
                for store, mine in zip(stores, records, strict=True)
            ]
            assert shown(folded[0]) == shown(folded[1]) == shown(folded[2])
            files = [self._write(name, boiler, None) for name in DEVICES]
            if files[0] is not None:
                assert len({path.read_bytes() for path in files}) == 1


def count(store):
    return store.rows("SELECT count(*) FROM record")[0][0]


def shown(folded):
    """What is known of a boiler, as one text; people whom nobody cites stayed at home."""
    return repr((folded.tubes, folded.inspections, folded.carried_after, folded.gap_work))


TestDevices = Devices.TestCase
TestDevices.settings = settings(max_examples=20, stateful_step_count=18, deadline=None)
