"""What one sets on one tablet: gloves, theme, voice, how large a millimetre is.

Not here: keeping it (``fieldapp.view.tablet_settings``), the calibration (``calibrate``).
"""

from fieldapp.tablet.framing import frame
from fieldapp.tablet.ports.ports import NoSpeech
from fieldapp.tablet.screen import TabletScreen
from fieldapp.tablet.widgets.big_key import BigKey
from fieldapp.tablet.widgets.choices import Choices
from fieldapp.tablet.widgets.panel import ScrollList
from fieldapp.tablet.widgets.words import Words
from fieldapp.view.themes import TABLET_THEMES
from fieldapp.view.viewport import LEAST_PITCH_GLOVE_MM, LEAST_PITCH_MM

SAMPLE = "Pass 2, row 3, tube 11 from the left: plugged."


class SettingsScreen(TabletScreen):
    """Changes hold at once, on every screen."""

    def build(self) -> None:
        kit, services = self.kit, self.services
        settings = services.settings
        self.list = ScrollList(kit)
        self.gloves = Choices(
            kit,
            "Gloves",
            [(False, "no gloves"), (True, "gloves")],
            settings.gloves,
            lambda on: self._change(gloves=on),
        )
        self.theme = Choices(
            kit,
            "Light",
            [(name, name) for name in TABLET_THEMES],
            settings.theme,
            lambda name: self._change(theme=name),
        )
        self.speaks = Choices(
            kit,
            "Read aloud what was recorded",
            [(False, "silent"), (True, "read aloud")],
            settings.speaks,
            lambda on: self._change(speaks=on),
        )
        self.calibrate = BigKey(
            kit,
            "Calibrate with a bank card",
            lambda: services.go("calibrate"),
            under=self._millimetre(),
            aligned="left",
            size_hint_y=None,
        )
        self.list.put(
            self.gloves,
            Words(
                kit,
                f"A tube is marked by a touch when its pitch on the screen is at least "
                f"{LEAST_PITCH_MM:g} mm, with gloves {LEAST_PITCH_GLOVE_MM:g} mm; below that a "
                "touch brings it nearer.",
                "quiet",
            ),
            self.theme,
            self.speaks,
        )
        if isinstance(services.ports.speech, NoSpeech):
            self.list.put(Words(kit, "This device has no voice that can be used.", "quiet"))
        self.list.put(Words(kit, "Size of a millimetre", "heading"), self.calibrate)
        frame(self, "Settings", self.list, [])

    def leave(self) -> None:
        self.kept["scroll"] = self.list.scroll_y

    def _millimetre(self) -> str:
        own = self.services.settings.px_per_mm
        px_per_mm = own or self.services.system_px_per_mm
        whose = "as the system says" if own is None else "as you calibrated it"
        return f"{px_per_mm:.2f} pixels, {whose}"

    def _change(self, **changed: object) -> None:
        self.services.change_settings(**changed)
        if changed.get("speaks"):
            self.services.read_aloud(SAMPLE)
