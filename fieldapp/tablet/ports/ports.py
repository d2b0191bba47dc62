"""What screens ask of the device: take a picture, say a sentence, give a short buzz.

None of them is ever needed: a device that cannot do it costs nothing but that. Not here: how a
device does it (``device``), what the tests use instead (they bring their own).
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Protocol


class Camera(Protocol):
    """Takes one picture."""

    @property
    def is_there(self) -> bool: ...

    def take(
        self,
        file: Path,
        taken: Callable[[Path], object],
        failed: Callable[[str], object],
    ) -> None:
        """Let a person take a picture into a file. One of the two is called, on any thread:
        ``failed`` with a sentence that says what to do instead."""
        ...


class Speech(Protocol):
    """Reads aloud."""

    def say(self, words: str) -> None:
        """Begin to read; what is still being read gives way. Never fails, never waits."""
        ...


class Buzzer(Protocol):
    """A buzz that is felt through a glove."""

    def buzz(self) -> None:
        """Short. Never fails, never waits."""
        ...


class NoCamera:
    """A device without one."""

    is_there = False

    def take(
        self,
        file: Path,
        taken: Callable[[Path], object],
        failed: Callable[[str], object],
    ) -> None:
        failed("This device has no camera that can be used here: choose an image file.")


class NoSpeech:
    """A device that does not speak."""

    def say(self, words: str) -> None:
        pass


class NoBuzzer:
    """A device that does not buzz."""

    def buzz(self) -> None:
        pass


@dataclass(frozen=True, slots=True, kw_only=True)
class Ports:
    """All of them; nothing is there unless given."""

    camera: Camera = field(default_factory=NoCamera)
    speech: Speech = field(default_factory=NoSpeech)
    buzzer: Buzzer = field(default_factory=NoBuzzer)
