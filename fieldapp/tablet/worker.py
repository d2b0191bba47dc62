"""The one thread that owns the database: does jobs in order and hands what came to the screen.

What is refused comes back as one sentence; a bug is raised on the screen's thread, where it ends
the program with its traceback. Not here: what the jobs do.
"""

import threading
from collections.abc import Callable
from dataclasses import dataclass
from queue import SimpleQueue
from typing import Any, TypeVar

from fieldapp.errors import FieldAppError
from fieldapp.view.session import InspectionSession
from model.errors import ModelError
from model.store.store import Store
from sync.errors import SyncError

T = TypeVar("T")
Deliver = Callable[[Callable[[], None]], None]
"""Runs something on the screen's thread, soon."""


@dataclass(slots=True)
class Workplace:
    """What jobs work on. Never touched outside the worker's thread."""

    store: Store
    session: InspectionSession | None = None
    """The inspection that is open on the tablet."""

    def need_session(self) -> InspectionSession:
        if self.session is None:
            raise RuntimeError("no inspection is open on the tablet")
        return self.session


Job = Callable[[Workplace], T]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Order:
    job: Callable[[Workplace], Any]
    then: Callable[[Any], None] | None
    refused: Callable[[str], None] | None


class Worker:
    """Runs jobs one after the other, away from the screen. Used from the screen's thread."""

    def __init__(
        self,
        open_store: Callable[[], Store],
        deliver: Deliver,
        refused: Callable[[str], None],
    ) -> None:
        """``refused`` is told what was refused where a job does not say whom to tell."""
        self._open_store = open_store
        self._deliver = deliver
        self._refused = refused
        self._orders: SimpleQueue[_Order | None] = SimpleQueue()
        self._waiting = 0
        self._thread = threading.Thread(target=self._work, name="database", daemon=True)

    def start(self, cannot_open: Callable[[str], None]) -> None:
        """Open the database; ``cannot_open`` is told the sentence where that is refused."""
        self._cannot_open = cannot_open
        self._thread.start()

    def run(
        self,
        job: Job[T],
        then: Callable[[T], None] | None = None,
        refused: Callable[[str], None] | None = None,
    ) -> None:
        """Do a job when those before it are done; ``then`` gets its result."""
        self._waiting += 1
        self._orders.put(_Order(job=job, then=then, refused=refused))

    @property
    def is_idle(self) -> bool:
        """Whether everything is done and delivered."""
        return self._waiting == 0

    def close(self) -> None:
        """Finish what was ordered, close the database, end the thread."""
        if self._thread.is_alive():
            self._orders.put(None)
            self._thread.join()

    def _work(self) -> None:
        try:
            store = self._open_store()
        except (ModelError, FieldAppError, SyncError) as refusal:
            sentence = str(refusal)
            self._deliver(lambda: self._cannot_open(sentence))
            return
        except BaseException as error:  # a bug: raised where it ends the program
            self._deliver(_raising(error))
            return
        place = Workplace(store)
        try:
            while (order := self._orders.get()) is not None:
                self._deliver(self._do(order, place))
        finally:
            place.session = None
            store.close()

    def _do(self, order: _Order, place: Workplace) -> Callable[[], None]:
        """Does it; gives what is left to do on the screen's thread."""
        try:
            result = order.job(place)
        except (ModelError, FieldAppError, SyncError) as refusal:
            refused, sentence = order.refused or self._refused, str(refusal)
            return lambda: self._finish(lambda: refused(sentence))
        except BaseException as error:
            return _raising(error)
        then = order.then
        return lambda: self._finish(None if then is None else lambda: then(result))

    def _finish(self, rest: Callable[[], None] | None) -> None:
        self._waiting -= 1
        if rest is not None:
            rest()


def _raising(error: BaseException) -> Callable[[], None]:
    def raise_it() -> None:
        raise error

    return raise_it
