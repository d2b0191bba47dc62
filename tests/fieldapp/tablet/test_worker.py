"""The database thread: jobs in order, refusals as sentences, bugs raised where they are seen."""

import threading
import time

import pytest

from fieldapp.tablet.worker import Worker
from model.errors import StoreRefused
from model.store.opening import open_store
from tests.tablet_bench import surroundings


class Screen:
    """Stands for the screen's thread: keeps what is delivered until it is asked to do it."""

    def __init__(self):
        self.delivered = []
        self.refused = []

    def do_until(self, idle):
        until = time.monotonic() + 10.0
        while not idle():
            assert time.monotonic() < until
            while self.delivered:
                self.delivered.pop(0)()
            time.sleep(0.001)


@pytest.fixture
def screen():
    return Screen()


@pytest.fixture
def worker(screen, tmp_path):
    made = Worker(
        lambda: open_store(tmp_path / "w.db", surroundings()),
        screen.delivered.append,
        screen.refused.append,
    )
    made.start(screen.refused.append)
    yield made
    made.close()


def test_jobs_are_done_in_order_on_one_thread_that_is_not_the_screens(worker, screen):
    done = []
    for number in range(50):
        worker.run(lambda place, n=number: (n, threading.get_ident()), done.append)
    assert done == []
    screen.do_until(lambda: worker.is_idle)
    assert [number for number, _ in done] == list(range(50))
    assert len({thread for _, thread in done}) == 1
    assert done[0][1] != threading.get_ident()


def test_what_is_refused_comes_as_a_sentence_to_whom_the_job_names(worker, screen):
    def refuse(_place):
        raise StoreRefused("Not so.")

    told = []
    worker.run(refuse)
    worker.run(refuse, None, told.append)
    screen.do_until(lambda: worker.is_idle)
    assert (screen.refused, told) == (["Not so."], ["Not so."])


def test_a_bug_is_raised_on_the_screens_thread(worker, screen):
    def stumble(_place):
        raise ZeroDivisionError("a bug")

    worker.run(stumble)
    with pytest.raises(ZeroDivisionError, match="a bug"):
        screen.do_until(lambda: worker.is_idle)


def test_closing_finishes_what_was_ordered(screen, tmp_path):
    worker = Worker(
        lambda: open_store(tmp_path / "c.db", surroundings()),
        screen.delivered.append,
        screen.refused.append,
    )
    worker.start(screen.refused.append)
    done = []
    for number in range(20):
        worker.run(lambda _place, n=number: done.append(n))
    worker.close()
    assert done == list(range(20))


def test_a_database_that_cannot_be_opened_is_told_once(screen, tmp_path):
    worker = Worker(
        lambda: open_store(tmp_path / "nowhere" / "x.db", surroundings()),
        screen.delivered.append,
        screen.refused.append,
    )
    told = []
    worker.start(told.append)
    screen.do_until(lambda: told)
    worker.close()
    assert len(told) == 1
    assert "nowhere" in told[0]
