"""``python -m fieldapp.cli`` is the command ``tubewright``.

Not here: what it does (``main``).
"""

import sys

from fieldapp.cli.main import main

sys.exit(main())
