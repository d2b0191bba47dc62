"""The device's ports against fakes of plyer that behave as plyer was found to behave."""

import threading

import pytest

from fieldapp.tablet.ports import device
from fieldapp.tablet.ports.device import (
    NO_CAMERA_APP,
    NOTHING_TAKEN,
    PlyerBuzzer,
    PlyerCamera,
    SpokenInTurn,
)
from fieldapp.tablet.ports.ports import NoBuzzer, NoCamera, NoSpeech


class JavaError(Exception):
    """Stands for an exception of the Java side."""


def take(camera, file):
    taken, failed = [], []
    camera.take(file, taken.append, failed.append)
    return taken, failed


def test_the_photo_survives_because_the_callback_gives_a_false_value(tmp_path):
    file = tmp_path / "a.jpg"

    def take_picture(filename, on_complete):
        file.write_bytes(b"picture")
        if on_complete(filename):
            file.unlink()

    assert take(PlyerCamera(take_picture), file) == ([file], [])
    assert file.read_bytes() == b"picture"


@pytest.mark.parametrize("error", [NotImplementedError(), JavaError("file address"), OSError()])
def test_a_camera_that_raises_leads_to_the_image_file(tmp_path, error):
    def take_picture(filename, on_complete):
        raise error

    assert take(PlyerCamera(take_picture), tmp_path / "a.jpg") == ([], [NO_CAMERA_APP])


@pytest.mark.parametrize("content", [None, b""])
def test_a_camera_left_without_a_photo_says_so(tmp_path, content):
    file = tmp_path / "a.jpg"

    def take_picture(filename, on_complete):
        if content is not None:
            file.write_bytes(content)
        assert on_complete(filename) is False

    assert take(PlyerCamera(take_picture), file) == ([], [NOTHING_TAKEN])


def test_a_device_without_ports_is_silent_and_names_the_way_out(tmp_path):
    taken, failed = take(NoCamera(), tmp_path / "a.jpg")
    assert taken == []
    assert "choose an image file" in failed[0]
    NoSpeech().say("words")
    NoBuzzer().buzz()


def test_only_the_newest_waiting_sentence_is_read():
    began, go_on, done = threading.Event(), threading.Event(), threading.Event()
    said = []

    def speak(message):
        said.append(message)
        began.set()
        go_on.wait(5.0)
        if message == "third":
            done.set()

    speech = SpokenInTurn(speak)
    speech.say("first")
    assert began.wait(5.0)
    speech.say("second")
    speech.say("third")
    go_on.set()
    assert done.wait(5.0)
    assert said == ["first", "third"]


def test_a_voice_that_fails_once_is_not_asked_again():
    asked, failed = [], threading.Event()

    def speak(message):
        asked.append(message)
        failed.set()
        raise NotImplementedError

    speech = SpokenInTurn(speak)
    speech.say("first")
    assert failed.wait(5.0)
    for _ in range(200):
        if not speech._is_reading:
            break
        threading.Event().wait(0.01)
    speech.say("second")
    assert asked == ["first"]


def test_a_buzzer_that_fails_once_is_not_asked_again():
    asked = []

    def vibrate(time):
        asked.append(time)
        raise NotImplementedError

    buzzer = PlyerBuzzer(vibrate)
    buzzer.buzz()
    buzzer.buzz()
    assert asked == [0.03]


def test_on_a_desk_there_is_no_camera_and_plyer_is_not_asked_for_one(monkeypatch):
    monkeypatch.setattr(device, "which", lambda _program: None)
    monkeypatch.setattr(device, "_plyer", lambda name: pytest.fail(f"{name} was asked for"))
    monkeypatch.setattr(device.sys, "platform", "linux")
    monkeypatch.delenv("ANDROID_ARGUMENT", raising=False)
    ports = device.device_ports()
    assert not ports.camera.is_there
    assert isinstance(ports.speech, NoSpeech)
    assert isinstance(ports.buzzer, NoBuzzer)
