"""The ports of the device we run on, through plyer where it helps.

Not here: which screens use them. What was found out about plyer 2.1 and is worked around here:
camera and vibration exist on Android and iOS only and raise NotImplementedError elsewhere, after
printing a traceback, so they are not even asked for there; the Android camera hands over a file
address that current Android refuses with an exception of the Java side, which is no Python class
that could be named; and it deletes the picture when its callback returns a true value.
"""

import sys
import threading
from collections.abc import Callable
from os import environ
from pathlib import Path
from shutil import which
from typing import Any

from fieldapp.tablet.ports.ports import Buzzer, Camera, NoBuzzer, NoCamera, NoSpeech, Ports, Speech

_BUZZ_SECONDS = 0.03
_SPEAKING_PROGRAMS = ("espeak", "flite")
"""Those that plyer knows on Linux."""
NO_CAMERA_APP = "The camera could not be opened: choose an image file."
NOTHING_TAKEN = "No picture came from the camera: take it again, or choose an image file."


def device_ports() -> Ports:
    """What this device offers."""
    if _is_handheld():
        return Ports(camera=_camera(), speech=_speech(), buzzer=_buzzer())
    return Ports(speech=_speech())


class PlyerCamera:
    """A picture by the device's own camera app. ``take_picture`` is plyer's."""

    is_there = True

    def __init__(self, take_picture: Callable[..., object]) -> None:
        self._take_picture = take_picture

    def take(
        self,
        file: Path,
        taken: Callable[[Path], object],
        failed: Callable[[str], object],
    ) -> None:
        def done(_name: object = None) -> bool:
            try:
                is_taken = file.is_file() and file.stat().st_size > 0
            except OSError:
                is_taken = False
            if is_taken:
                taken(file)
            else:
                failed(NOTHING_TAKEN)
            return False  # a true value makes plyer delete the picture

        try:
            self._take_picture(filename=str(file), on_complete=done)
        # Java's exceptions come as classes that only exist on the device: whatever it is, there is
        # no picture, and an image file can still be chosen.
        except Exception:
            failed(NO_CAMERA_APP)


class SpokenInTurn:
    """Reads aloud on a thread of its own; only the newest sentence that waits is read.

    ``speak`` is plyer's; it waits until the sentence is read. The first time it fails there is no
    voice, and it is not asked again.
    """

    def __init__(self, speak: Callable[..., object]) -> None:
        self._speak = speak
        self._waiting: str | None = None
        self._is_reading = False
        self._has_voice = True
        self._lock = threading.Lock()

    def say(self, words: str) -> None:
        with self._lock:
            if not self._has_voice or not words:
                return
            self._waiting = words
            if self._is_reading:
                return
            self._is_reading = True
        threading.Thread(target=self._read, name="speech", daemon=True).start()

    def _read(self) -> None:
        while True:
            with self._lock:
                words, self._waiting = self._waiting, None
                if words is None or not self._has_voice:
                    self._is_reading = False
                    return
            try:
                self._speak(message=words)
            # A voice is a convenience: whatever its program or Java's side raises, it is silent.
            except Exception:
                with self._lock:
                    self._has_voice = False


class PlyerBuzzer:
    """A short buzz. ``vibrate`` is plyer's."""

    def __init__(self, vibrate: Callable[..., object]) -> None:
        self._vibrate: Callable[..., object] | None = vibrate

    def buzz(self) -> None:
        if self._vibrate is None:
            return
        try:
            self._vibrate(time=_BUZZ_SECONDS)
        # As with the camera; a device without a motor is asked only once.
        except Exception:
            self._vibrate = None


def _is_handheld() -> bool:
    return "ANDROID_ARGUMENT" in environ or sys.platform in ("android", "ios")


def _camera() -> Camera:
    found = _plyer("camera")
    return NoCamera() if found is None else PlyerCamera(found.take_picture)


def _buzzer() -> Buzzer:
    found = _plyer("vibrator")
    return NoBuzzer() if found is None else PlyerBuzzer(found.vibrate)


def _speech() -> Speech:
    if sys.platform == "linux" and not _is_handheld():
        # plyer runs one of these and takes what it is told for a word, but for an option when it
        # begins with a hyphen: the sentences here never do.
        if not any(which(program) for program in _SPEAKING_PROGRAMS):
            return NoSpeech()
    found = _plyer("tts")
    return NoSpeech() if found is None else SpokenInTurn(found.speak)


def _plyer(name: str) -> Any | None:
    try:
        import plyer
    except ImportError:
        return None
    return getattr(plyer, name, None)
