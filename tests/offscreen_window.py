"""A real window with real pixels that nobody sees, for tests, benchmarks and pictures.

Needs libGL and libEGL and no display: SDL has a driver that draws into memory. Not here: widgets.
"""

import os
from pathlib import Path

SYSTEM_LIBRARIES = "libgl1 and libegl1"


def prepare(home: Path, *, density: float = 1.0, dpi: float = 160.0) -> None:
    """To be called before anything of Kivy is imported: it reads its settings while importing."""
    os.environ.pop("DISPLAY", None)
    os.environ.pop("WAYLAND_DISPLAY", None)
    os.environ.update(
        SDL_VIDEODRIVER="offscreen",
        KIVY_HOME=str(home),
        KIVY_NO_ARGS="1",
        KIVY_NO_CONFIG="1",
        KIVY_NO_CONSOLELOG="1",
        KIVY_NO_FILELOG="1",
        KIVY_LOG_MODE="PYTHON",
        KIVY_DPI=str(dpi),
        KIVY_METRICS_DENSITY=str(density),
    )


def open_window(width, height):
    """The window, its event loop running; frames come by ``EventLoop.idle()``."""
    from kivy.config import Config

    Config.set("graphics", "multisamples", "0")  # 5 times as slow without a graphics processor
    Config.set("graphics", "width", str(width))
    Config.set("graphics", "height", str(height))
    Config.remove_section("input")  # no mouse, no touch screen but the tests' own
    Config.add_section("input")

    from kivy.base import EventLoop
    from kivy.clock import Clock
    from kivy.core.window import Window

    if Window is None:
        raise RuntimeError(f"no window could be opened: are {SYSTEM_LIBRARIES} installed?")
    Clock._max_fps = 0
    EventLoop.ensure_window()
    Window.clearcolor = (0, 0, 0, 1)
    return Window


def draw_frames(count=3):
    """Frames drawn to the end; without a display nothing else waits for the drawing."""
    from kivy.base import EventLoop
    from kivy.graphics.opengl import glFinish

    for _ in range(count):
        EventLoop.window.canvas.ask_update()
        EventLoop.idle()
        glFinish()


def read_pixels():
    """What is on the window, as a Pillow image, first line at the top."""
    from kivy.base import EventLoop
    from kivy.graphics.opengl import GL_RGBA, GL_UNSIGNED_BYTE, glReadPixels
    from PIL import Image

    width, height = EventLoop.window.size
    pixels = glReadPixels(0, 0, width, height, GL_RGBA, GL_UNSIGNED_BYTE)
    image = Image.frombytes("RGBA", (width, height), pixels)
    return image.transpose(Image.Transpose.FLIP_TOP_BOTTOM).convert("RGB")
