"""The screens beyond the map, each brought to a state worth looking at: for pictures and tests.

A scene takes an app bench whose map is shown, and leaves its screen on the window.
"""


def _end(app):
    """A tube with much to tell: the first with an own word, else the first."""
    face = app.services.shown.face_map(app.services.shown.face)
    conditions = app.services.shown.conditions
    return max(
        face.ends,
        key=lambda end: (
            len(conditions[end.hole].left.bad) + len(conditions[end.hole].found.findings)
            if hasattr(conditions[end.hole], "found")
            else len(conditions[end.hole].left.bad)
        ),
    )


def _go(app, name, **what):
    app.services.go(name, **what)
    app.settle()


def card(app):
    end = _end(app)
    _go(app, "card", hole=end.hole, end=end.end)


def card_scrolled(app):
    card(app)
    app.top.lists.scroll_y = 0.0
    app.settle()


def card_state(app):
    card(app)
    app.press("State")


def reading(app):
    end = _end(app)
    _go(app, "reading", hole=end.hole, end=end.end)
    for key in "1.9":
        app.press(key)


def reading_details(app):
    reading(app)
    if "More" in app.shown_keys():
        app.press("More")


def reading_asked(app):
    end = _end(app)
    _go(app, "reading", hole=end.hole, end=end.end)
    for key in "9.85":
        app.press(key)
    app.press("Keep")


def finding(app):
    end = _end(app)
    _go(app, "finding", hole=end.hole, end=end.end)
    app.press("oxygen pitting")
    app.press("watch")


def finding_end(app):
    finding(app)
    app.top.list.scroll_y = 0.0
    app.settle()


def note(app):
    end = _end(app)
    _go(app, "note", hole=end.hole, end=end.end)
    app.top.text.text = "The bead is covered with soot from 3 to 6 o'clock."
    app.settle()


def photo(app):
    end = _end(app)
    _go(app, "photo", hole=end.hole, end=end.end)


def one_photo(app):
    from fieldapp.view.session_pages import card_of

    cards = []
    holes = [tube.hole for tube in app.services.shown.tubes]

    def find(session):
        return next((c for hole in holes if (c := card_of(session, hole)).photos), None)

    app.services.ask_session(find, cards.append)
    app.settle()
    if cards[0] is not None:
        _go(app, "one photo", photo=cards[0].photos[0])


def choose_file(app, folder):
    _go(
        app,
        "choose file",
        title="Choose a photo",
        endings=(".jpg", ".png"),
        start=folder,
        picked=lambda _file: None,
    )


def leave(app):
    _go(app, "leave")


def leave_unfolded(app):
    leave(app)
    matters = app.top.leaving.matters
    if matters:
        app.press(matters[0].words)


def crew(app):
    _go(app, "crew")


def limits(app):
    _go(app, "limits")


def limits_end(app):
    limits(app)
    app.top.list.scroll_y = 0.0
    app.settle()


def caller(app):
    _go(app, "caller")
    app.top.line.text = "3 2-4 plugged driven"
    app.settle()


def settings(app):
    _go(app, "settings")


def calibrate(app):
    _go(app, "calibrate")


def move(app):
    _go(app, "move")
    app.top._shift(mirrored=True)
    app.settle()


def row_plan(app):
    from dataclasses import replace

    from fieldapp.view.row_plan_form import RowLine

    _go(app, "row plan")
    form = app.top.form
    rows = tuple(
        RowLine(pass_=str(pass_), count=str(count), pitch_mm="70")
        for pass_, count in ((3, 9), (3, 10), (3, 11), (2, 10), (2, 9), (2, 8))
    )
    app.top._put_rows(
        replace(form, tag="LB-9", shell_mm="1500", od_mm="50.8", wall_mm="2.9", rows=rows)
    )
    app.top._draw()
    app.settle()


SCENES = {
    "card": card,
    "card-scrolled": card_scrolled,
    "card-state": card_state,
    "reading": reading,
    "reading-details": reading_details,
    "reading-asked": reading_asked,
    "finding": finding,
    "finding-end": finding_end,
    "note": note,
    "photo": photo,
    "one-photo": one_photo,
    "leave": leave,
    "leave-unfolded": leave_unfolded,
    "crew": crew,
    "limits": limits,
    "limits-end": limits_end,
    "caller": caller,
    "settings": settings,
    "calibrate": calibrate,
    "move": move,
    "row-plan": row_plan,
}
