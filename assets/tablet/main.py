"""What an Android package starts: the packager wants a ``main.py`` at the root of its source."""

import sys

from fieldapp.tablet.__main__ import main

if __name__ == "__main__":
    sys.exit(main([]))
