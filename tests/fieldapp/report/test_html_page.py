"""The page: whole in itself, deaf to hostile text, complete, the same at every run."""

import base64
import hashlib
import os
import re
import subprocess
import sys
from collections import Counter
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest

from fieldapp.errors import FieldAppError
from fieldapp.report.html_page import render_html
from fieldapp.report.sections.order import build_sections
from tests.fieldapp.report.invented_advice import BY_MONEY

GOLDEN = Path(__file__).resolve().parents[2] / "golden" / "report" / "condition.txt"
VOID = {"meta", "link", "img", "br", "input"}


class Page(HTMLParser):
    """Tags with their attributes, and the text that people read, line by line."""

    def __init__(self, text):
        super().__init__(convert_charrefs=True)
        self.tags = []
        self.lines = []
        self._open = []
        self._line = ""
        self.feed(text)
        self.close()

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))
        # What only keeps a key or a date whole begins no new line.
        inside = (tag, dict(attrs).get("class")) == ("span", "steady")
        if not inside:
            self._end_line()
        if tag not in VOID:
            self._open.append("steady" if inside else tag)

    def handle_startendtag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag):
        opened = self._open.pop()
        assert tag == ("span" if opened == "steady" else opened), f"</{tag}> closes nothing"
        if opened != "steady":
            self._end_line()

    def handle_data(self, data):
        if not {"style", "script", "svg", "title"} & {*self._open}:
            self._line += data

    def _end_line(self):
        if self._line.strip():
            self.lines.append(" ".join(self._line.split()))
        self._line = ""

    def of(self, tag):
        return [attributes for name, attributes in self.tags if name == tag]


def rendered(numbers, photo_path):
    """The whole report; the advice is invented, so that it stays when the reckoning changes."""
    return render_html(numbers, build_sections(numbers, BY_MONEY), photo_path).decode()


@pytest.fixture(scope="module")
def html(numbers, photo_path):
    return rendered(numbers, photo_path)


@pytest.fixture(scope="module")
def page(html):
    return Page(html)


@pytest.fixture(scope="module")
def hostile_html(make_numbers, hostile):
    return rendered(*make_numbers(hostile))


def policy_of(page):
    (policy,) = [
        meta["content"]
        for meta in page.of("meta")
        if meta.get("http-equiv") == "Content-Security-Policy"
    ]
    return dict(part.strip().split(" ", 1) for part in policy.split(";"))


def scrubbed(lines, numbers):
    """The text without ids, which change with whatever a record holds besides."""
    text = "\n".join(lines).replace(numbers.digest, "(digest)")
    text = text.replace(numbers.digest[:8], "(digest)")
    return text.replace(numbers.inspection.facts.inspection, "(id)") + "\n"


def test_the_page_reads_as_it_did(page, numbers):
    """Set TUBEWRIGHT_WRITE_GOLDEN=1 to write the text anew, and read what changed."""
    text = scrubbed(page.lines, numbers)
    if os.environ.get("TUBEWRIGHT_WRITE_GOLDEN") == "1":
        GOLDEN.parent.mkdir(parents=True, exist_ok=True)
        GOLDEN.write_text(text, encoding="utf-8")
    assert text.splitlines() == GOLDEN.read_text(encoding="utf-8").splitlines()


def test_the_same_numbers_give_the_same_bytes(html, numbers, photo_path):
    assert rendered(numbers, photo_path) == html


def test_every_bad_tube_and_every_person_stands_in_the_text(page, bad_tubes):
    text = "\n".join(page.lines)
    for words in (*bad_tubes, "Anna Lund", "Boris Wieck", "Clara Odell"):
        assert words in text


def test_every_tube_is_on_a_map_with_its_words(html, numbers):
    for each in numbers.tubes:
        assert f'data-tube="{each.tube.key}"' in html
        assert f"<title>{each.tube.key}" in html


def test_every_section_is_in_the_contents_and_can_be_reached(page, numbers):
    keys = [section.key for section in build_sections(numbers, BY_MONEY)]
    assert [a["href"] for a in page.of("a") if a["href"] != "#verdict"] == [
        f"#{key}" for key in keys if key != "verdict"
    ]
    ids = Counter(attributes["id"] for _, attributes in page.tags if "id" in attributes)
    assert [name for name, count in ids.items() if count > 1] == []
    assert set(keys) <= set(ids)


def test_nothing_is_fetched_from_anywhere(page):
    addresses = [
        attributes[name]
        for _, attributes in page.tags
        for name in ("src", "href", "action", "srcset", "data", "poster")
        if name in attributes
    ]
    assert addresses
    assert [each for each in addresses if not each.startswith(("#", "data:"))] == []
    assert [tag for tag, _ in page.tags if tag in ("iframe", "object", "embed", "form")] == []


def test_the_policy_allows_the_pages_own_style_and_script_and_nothing_else(html, page):
    policy = policy_of(page)
    assert policy["default-src"] == "'none'"
    assert policy["img-src"] == "data:"
    assert "unsafe" not in str(policy)
    for tag in ("style", "script"):
        (content,) = re.findall(f"<{tag}>(.*?)</{tag}>", html, re.DOTALL)
        digest = base64.b64encode(hashlib.sha256(content.encode()).digest()).decode()
        assert policy[f"{tag}-src"] == f"'sha256-{digest}'"
    assert [attributes for _, attributes in page.tags if "style" in attributes] == []


def test_the_palette_stands_in_the_style_for_light_dark_and_grey(html):
    (style,) = re.findall("<style>(.*?)</style>", html, re.DOTALL)
    assert "/*" not in style
    assert len(re.findall(r"--c-ground:#[0-9a-f]{6}", style)) == 4
    used = set(re.findall(r"var\((--[\w-]+)\)", html))
    assert {name for name in used if f"{name}:" not in style} == set()


def test_hostile_notes_and_captions_are_only_text(hostile_html, hostile):
    page = Page(hostile_html)
    assert hostile in "\n".join(page.lines)
    assert hostile_html.count("<script") == 1
    assert [image for image in page.of("img") if not image["src"].startswith("data:")] == []
    handlers = [name for _, attributes in page.tags for name in attributes if name[:2] == "on"]
    assert handlers == []


def test_a_hostile_tag_owner_and_face_are_only_text(numbers, photo_path, hostile):
    faces = tuple(replace(face, name=hostile, key=hostile) for face in numbers.facts.faces[:1])
    facts = replace(numbers.facts, tag=hostile, owner=hostile, faces=faces)
    html = rendered(replace(numbers, facts=facts), photo_path)
    page = Page(html)
    assert html.count("<script") == 1
    assert hostile in page.lines
    assert [image for image in page.of("img") if not image["src"].startswith("data:")] == []


def test_signs_that_turn_or_hide_text_are_shown_as_replaced(numbers, photo_path):
    facts = replace(numbers.facts, owner="Lund\u202eevil\u200b\x00")
    html = rendered(replace(numbers, facts=facts), photo_path)
    assert "Lund\ufffdevil\ufffd\ufffd" in html
    assert not {"\u202e", "\u200b", "\x00"} & set(html)


def test_the_page_can_be_read_without_eyes_or_mouse(html, page):
    assert page.of("html")[0]["lang"] == "en"
    assert len(page.of("h1")) == len(page.of("main")) == 1
    assert [image for image in page.of("img") if not image.get("alt")] == []
    assert all(svg.get("role") == "img" and svg.get("aria-label") for svg in page.of("svg"))
    regions = [div for div in page.of("div") if div.get("class") == "scroll"]
    assert len(regions) == len(page.of("table")) > 15
    assert all(div["tabindex"] == "0" and div["aria-label"] for div in regions)
    assert all(th.get("scope") in ("col", "row") for th in page.of("th"))


def test_a_chart_too_wide_for_the_screen_scrolls_and_says_so_but_not_on_paper(html, page):
    charts = [each for each in page.of("figure") if "chart" in each.get("class", "").split()]
    regions = [
        each
        for each in page.of("div")
        if each.get("class") == "paper" and each.get("role") == "region"
    ]
    assert len(regions) == len(charts) > 3
    assert all(each["tabindex"] == "0" and each["aria-label"] for each in regions)
    text = html.decode() if isinstance(html, bytes) else html
    assert 'querySelectorAll(".scroll, .chart .paper")' in text
    on_screen = text.partition("@media screen {")[2].partition("\n}")[0]
    assert ".chart .paper { overflow-x: auto; }" in on_screen
    assert ".chart .paper svg { min-width: " in on_screen
    hidden = text.partition("@media print {")[2].partition("{ display: none; }")[0]
    assert ".wider," in hidden


def test_units_stand_in_the_headers(page):
    text = "\n".join(page.lines)
    for words in ("span\nmm", "wall\nmm", "pressure\nMPa gauge", "water\n°C"):
        assert words in text


def test_a_photo_that_has_not_arrived_is_awaited(page, numbers):
    assert "photo awaited: its record is here, its file has not arrived" in page.lines
    assert len(page.of("img")) == 1
    lost = Page(rendered(numbers, lambda record: None))
    assert lost.of("img") == []


def test_a_photo_that_is_no_picture_costs_the_photo_alone(numbers, tmp_path):
    broken = tmp_path / "broken.jpg"
    broken.write_bytes(b"\xff\xd8\xff and no more")
    page = Page(rendered(numbers, lambda record: broken))
    assert page.lines.count("the photo's file cannot be shown as a picture") == 2


def test_without_the_office_libraries_it_says_what_to_install(numbers, photo_path, monkeypatch):
    monkeypatch.setitem(sys.modules, "jinja2", None)
    with pytest.raises(FieldAppError, match=r"python3 -m pip install 'tubewright\[office\]'"):
        render_html(numbers, (), photo_path)


def run(chromium, path):
    done = subprocess.run(
        [
            *(*chromium, "--enable-logging=stderr", "--log-level=0", "--virtual-time-budget=2000"),
            *("--dump-dom", path.as_uri()),
        ],
        capture_output=True,
        text=True,
        timeout=120,
        check=True,
    )
    return done.stdout, [line for line in done.stderr.splitlines() if "CONSOLE" in line]


def test_a_browser_shows_it_without_a_complaint_and_runs_its_script(chromium, html, tmp_path):
    path = tmp_path / "condition.html"
    path.write_text(html, encoding="utf-8")
    shown, complaints = run(chromium, path)
    assert complaints == []
    assert shown.count('class="finder"') == 2


def test_hostile_text_does_nothing_in_a_browser(chromium, hostile_html, tmp_path):
    path = tmp_path / "condition.html"
    path.write_text(hostile_html, encoding="utf-8")
    shown, complaints = run(chromium, path)
    assert complaints == []
    assert "evil.example" in shown


def test_a_script_that_is_not_the_pages_own_is_refused(chromium, html, tmp_path):
    path = tmp_path / "condition.html"
    planted = '<script>document.title = "planted"</script><img src="http://evil.example/a.png">'
    path.write_text(html.replace("</main>", planted + "</main>"), encoding="utf-8")
    shown, complaints = run(chromium, path)
    assert "<title>planted" not in shown
    assert len(complaints) == 2


def test_a_tap_on_a_tube_says_its_words_and_rings_it(chromium, html, tmp_path):
    path = tmp_path / "condition.html"
    tap = """<script>
      document.querySelector('[data-tube="P2-R02-C03"]').dispatchEvent(new Event("click"));
    </script></body>"""
    free = html.replace("Content-Security-Policy", "No-Policy").replace("</body>", tap)
    path.write_text(free, encoding="utf-8")
    shown, complaints = run(chromium, path)
    assert complaints == []
    readouts = re.findall(r'<p class="readout"[^>]*>([^<]*)</p>', shown)
    assert readouts == [
        "P2-R02-C03, front end: not inspected; bad: leaking in the bore",
        "P2-R02-C03, rear end: leaking; bad: leaking in the bore",
        "",
    ]
    assert shown.count('class="ring"') == 2


def test_what_keeps_a_key_or_a_number_whole_stays_in_its_line(chromium, html, tmp_path):
    path = tmp_path / "condition.html"
    look = """<script>
      const kept = [...document.querySelectorAll(".steady")];
      document.body.dataset.kept = kept.length;
      document.body.dataset.apart = kept.filter(
        (each) => getComputedStyle(each).display !== "inline").length;
    </script></body>"""
    free = html.replace("Content-Security-Policy", "No-Policy").replace("</body>", look)
    path.write_text(free, encoding="utf-8")
    shown, _ = run(chromium, path)
    (kept,), (apart,) = (re.findall(f'data-{name}="(\\d+)"', shown) for name in ("kept", "apart"))
    assert int(kept) > 50
    assert int(apart) == 0
