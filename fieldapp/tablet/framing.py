"""Where title and keys of a screen stand: keys at the side in landscape, below in portrait.

A small tablet held across is 88 mm high: a bar and a row of keys would leave half of it. A single
key stands beside the title. Not here: what the keys do.
"""

from collections.abc import Sequence

from kivy.uix.boxlayout import BoxLayout
from kivy.uix.gridlayout import GridLayout
from kivy.uix.widget import Widget

from fieldapp.tablet.screen import TabletScreen
from fieldapp.tablet.widgets.big_key import BigKey
from fieldapp.tablet.widgets.choices import KeyGrid
from fieldapp.tablet.widgets.panel import Panel
from fieldapp.tablet.widgets.words import Words

SIDE_KEY_MM = 24.0
SAID_MM = 9.4
"""Least height of the place of the title, because what was done is said there too."""


def frame(screen: TabletScreen, title: str, content: Widget, keys: Sequence[BigKey]) -> Words:
    """Fill a screen; gives the title, so that it can say something else later."""
    kit = screen.kit
    screen.padding = screen.spacing = kit.sizes.gap
    if not screen.is_wide:
        said = Words(kit, title, "title", pos_hint={"center_y": 0.5})
        bar = screen.build_bar("")
        for child in list(bar.children):
            if isinstance(child, Words):
                bar.remove_widget(child)
        bar.add_widget(said)
        screen.title_area = (said, bar)
        for key in keys if len(keys) == 1 else ():
            key.size_hint = (None, None)
            bar.add_widget(key)
        screen.entitle(title)
        screen.add_widget(bar)
        screen.add_widget(content)
        if len(keys) > 1:
            screen.add_widget(_foot(screen, keys))
        return said
    screen.entitle(title)
    said = Words(kit, title, "title", pos_hint={"center_y": 0.5})
    head = BoxLayout(size_hint_y=None)
    least = kit.sizes.mm(SAID_MM)
    said.bind(height=lambda _said, tall: setattr(head, "height", max(least, tall)))
    head.height = max(least, said.height)
    head.add_widget(said)
    screen.title_area = (said, head)
    middle = BoxLayout(orientation="vertical", spacing=kit.sizes.gap)
    middle.add_widget(head)
    middle.add_widget(content)
    across = BoxLayout(orientation="horizontal", spacing=2 * kit.sizes.gap)
    across.add_widget(middle)
    across.add_widget(_side(screen, keys))
    screen.add_widget(across)
    return said


def list_beside_drawing(
    screen: TabletScreen, entries: Widget, drawing: Widget, under: Widget, *, share: float
) -> BoxLayout:
    """A list and what it makes, drawn with words under it: side by side, or the drawing on top.

    ``share`` is the drawing's height in portrait, the list's being 1.
    """
    gap = screen.kit.sizes.gap
    drawn = BoxLayout(orientation="vertical", spacing=gap)
    drawn.add_widget(drawing)
    drawn.add_widget(under)
    body = BoxLayout(spacing=2 * gap)
    if screen.is_wide:
        body.add_widget(entries)
        body.add_widget(drawn)
    else:
        body.orientation = "vertical"
        drawn.size_hint_y = share
        body.add_widget(drawn)
        body.add_widget(entries)
    return body


def _foot(screen: TabletScreen, keys: Sequence[BigKey]) -> Panel:
    foot = Panel(screen.kit, size_hint_y=None)
    foot.bind(minimum_height=foot.setter("height"))
    foot.add_widget(KeyGrid(screen.kit, *keys, least_mm=20.0))
    return foot


def _side(screen: TabletScreen, keys: Sequence[BigKey]) -> Widget:
    """From the top down, in as many columns as it takes; the way back comes first."""
    sizes = screen.kit.sizes
    every = [BigKey(screen.kit, "Back", screen.services.back), *keys]
    down = max(1, int((screen.services.room[1] - sizes.gap) // (sizes.key + sizes.gap)))
    columns = -(-len(every) // down)
    rows = -(-len(every) // columns)
    wide = sizes.mm(SIDE_KEY_MM)
    grid = GridLayout(
        rows=rows,
        cols=columns,
        orientation="tb-lr",
        spacing=sizes.gap,
        size_hint=(None, None),
        width=columns * wide + (columns - 1) * sizes.gap,
        height=rows * sizes.key + (rows - 1) * sizes.gap,
        pos_hint={"top": 1.0},
    )
    for key in every:
        key.size_hint = (1.0, 1.0)
        grid.add_widget(key)
    return grid
