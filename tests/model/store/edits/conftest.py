"""A boiler of six tubes in a fresh store, for every test of the edits.

Not here: what its people do (``one_boiler``).
"""

import pytest

from tests.model.store.edits.one_boiler import Desk


@pytest.fixture
def desk(store):
    return Desk(store)


@pytest.fixture
def opened(desk):
    """The same with an inspection open."""
    desk.open()
    return desk
