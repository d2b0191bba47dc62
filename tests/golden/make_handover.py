"""Made ``handover.zip`` once, from ``record_lines.ndjson``: every kind, and a photo.

The file is kept as it is and must be readable for ever; this script is here to show how it came
about, and writes over nothing. Run: python -m tests.golden.make_handover FILE. Not here: the test
that reads it (``tests/sync/test_golden_handover.py``).
"""

import json
import sys
import tempfile
from pathlib import Path

from sync.handover.writing import write_handover
from tests.sync.devices import open_device

GOLDEN = Path(__file__).resolve().parent


def make(path):
    lines = (GOLDEN / "record_lines.ndjson").read_bytes().splitlines()
    boiler = next(json.loads(line)["boiler"] for line in lines if b'"boiler":"",' not in line)
    with tempfile.TemporaryDirectory() as folder, open_device(Path(folder) / "device") as store:
        with store.write() as writer:
            for line in lines:
                writer.add_line(line)
        store.photos.add(b"a photo", "image/jpeg")  # what the photo records name
        return write_handover(store, boiler, path)


if __name__ == "__main__":
    print(make(Path(sys.argv[1])))
