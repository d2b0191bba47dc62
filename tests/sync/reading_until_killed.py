"""A program that reads a hand-over file when it is told to, for a test to kill.

Not here: the killing (``test_handover_kill``).
"""

import sys
from pathlib import Path

from sync.handover.reading import read_handover
from tests.sync.devices import open_device


def main():
    folder, file = Path(sys.argv[1]), Path(sys.argv[2])
    with open_device(folder, 2) as office:
        print("ready", flush=True)
        sys.stdin.readline()
        read_handover(office, file)
        print("done", flush=True)


if __name__ == "__main__":
    main()
