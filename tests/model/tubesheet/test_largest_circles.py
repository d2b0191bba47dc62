"""The largest open circles: known lattices, and two independent judges."""

import itertools
import math
import random
import time

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.spatial import Voronoi

from model.errors import ModelError
from model.tubesheet.largest_circles import OpenCircle, bounded_circles, open_circles
from model.tubesheet.layout import Circle
from model.tubesheet.patterns import Pattern, tubes_on_pattern

PITCH_MM = 69.85
Place = tuple[float, float]


def lattice(kind: str, shell_mm: float, turn: str = "upright") -> dict[str, Place]:
    pattern = Pattern(kind=kind, turn=turn, pitch_mm=PITCH_MM)
    tubes = tubes_on_pattern(pattern, pass_=2, od_mm=50.8, shell_diameter_mm=shell_mm)
    return {tube.key: (tube.x_mm, tube.y_mm) for tube in tubes}


def nearest(tubes: dict[str, Place], place: Place, count: int) -> list[str]:
    return sorted(tubes, key=lambda key: math.dist(tubes[key], place))[:count]


def without(tubes: dict[str, Place], keys: list[str], shell_mm: float | None) -> list[OpenCircle]:
    survivors = [place for key, place in tubes.items() if key not in keys]
    removed = {key: tubes[key] for key in keys}
    return open_circles(survivors, removed, shell_mm and shell_mm / 2)


@pytest.mark.parametrize("shell_mm", [1500.0, None])
@pytest.mark.parametrize("turn", ["upright", "rotated"])
class TestTriangular:
    def test_one_plug_opens_two_pitches(self, shell_mm: float | None, turn: str) -> None:
        tubes = lattice("triangular", 1500.0, turn)
        keys = nearest(tubes, (0.0, 0.0), 1)
        (circle,) = without(tubes, keys, shell_mm)
        assert circle.span_mm == pytest.approx(2 * PITCH_MM)
        assert (circle.x_mm, circle.y_mm) == pytest.approx(tubes[keys[0]], abs=1e-6)
        assert circle.removed == tuple(keys)

    def test_three_neighbouring_plugs_are_one_wider_place(
        self, shell_mm: float | None, turn: str
    ) -> None:
        tubes = lattice("triangular", 1500.0, turn)
        away = PITCH_MM / math.sqrt(3)
        middle = (PITCH_MM / 2, away / 2) if turn == "upright" else (away, 0.0)
        keys = nearest(tubes, middle, 3)
        (circle,) = without(tubes, keys, shell_mm)
        assert circle.span_mm == pytest.approx(4 / math.sqrt(3) * PITCH_MM)
        assert circle.removed == tuple(sorted(keys))

    def test_three_scattered_plugs_are_three_places(
        self, shell_mm: float | None, turn: str
    ) -> None:
        tubes = lattice("triangular", 1500.0, turn)
        keys = [nearest(tubes, (x, y), 1)[0] for x, y in ((0, 0), (300, 60), (-250, -150))]
        circles = without(tubes, keys, shell_mm)
        assert {circle.removed for circle in circles} == {(key,) for key in keys}
        assert [circle.span_mm for circle in circles] == pytest.approx([2 * PITCH_MM] * 3)


def test_two_neighbouring_plugs_of_a_triangular_lattice_open_no_more_than_one() -> None:
    tubes = lattice("triangular", 1500.0)
    circles = without(tubes, nearest(tubes, (PITCH_MM / 2, 0.0), 2), 1500.0)
    assert [circle.span_mm for circle in circles] == pytest.approx([2 * PITCH_MM] * 2)


def test_two_neighbouring_plugs_of_a_square_lattice_open_the_diagonal_of_two_squares() -> None:
    tubes = lattice("square", 1500.0)
    keys = nearest(tubes, (PITCH_MM / 2, 0.0), 2)
    (circle,) = without(tubes, keys, 1500.0)
    assert circle.span_mm == pytest.approx(math.sqrt(5) * PITCH_MM)
    assert circle.removed == tuple(sorted(keys))


def test_rounded_coordinates_give_the_same_places() -> None:
    tubes = {key: (round(x, 1), round(y, 1)) for key, (x, y) in lattice("triangular", 1500).items()}
    keys = nearest(tubes, (PITCH_MM / 2, 0.0), 2)
    circles = without(tubes, keys, 1500.0)
    assert sorted(circle.removed for circle in circles) == [(key,) for key in sorted(keys)]
    assert [circle.span_mm for circle in circles] == pytest.approx([2 * PITCH_MM] * 2, abs=0.3)


def test_a_plug_beside_the_steam_space_is_measured_to_the_shell() -> None:
    """One tube row at mid height: its middle plug opens the circle up to the top of the shell."""
    survivors = [(x, 0.0) for x in (-300.0, -200.0, -100.0, 100.0, 200.0, 300.0)]
    circles = open_circles(survivors, {"plug": (0.0, 0.0)}, 400.0)
    # Touches (+-100, 0) and the shell: 100^2 + y^2 = (400 - y)^2, so y = 187.5 and r = 212.5.
    assert circles[0].span_mm == pytest.approx(425.0)
    assert abs(circles[0].y_mm) == pytest.approx(187.5)
    assert circles[0].removed == ("plug",)


def test_a_plug_between_furnace_and_shell_is_held_by_the_rims() -> None:
    furnace = Circle(x_mm=0.0, y_mm=-100.0, diameter_mm=400.0)
    circles = open_circles([], {"plug": (0.0, 250.0)}, 500.0, [furnace])
    # Straight across from the furnace's top at 100 to the shell's at 500.
    assert circles[0].span_mm == pytest.approx(400.0)
    assert (circles[0].x_mm, circles[0].y_mm) == pytest.approx((0.0, 300.0))


def test_one_survivor_is_held_from_straight_across() -> None:
    (circle,) = open_circles([(0.0, -100.0)], {"plug": (0.0, 100.0)}, 400.0)
    assert circle.span_mm == pytest.approx(500.0)
    assert (circle.x_mm, circle.y_mm) == pytest.approx((0.0, 150.0))


def test_with_nothing_left_the_whole_shell_is_open() -> None:
    (circle,) = open_circles([], {"a": (0.0, 100.0), "b": (50.0, 0.0)}, 400.0)
    assert (circle.span_mm, circle.removed) == (800.0, ("a", "b"))


def test_a_plug_at_the_edge_without_a_shell_is_measured_to_its_neighbours() -> None:
    tubes = lattice("triangular", 900.0)
    top = max(tubes, key=lambda key: tubes[key][1])
    circles = without(tubes, [top], None)
    assert circles[0].removed == (top,)
    assert circles[0].span_mm >= 2 * PITCH_MM - 1e-6


@pytest.mark.parametrize("count", [1, 2, 3, 7])
def test_what_stands_for_none_hides_no_circle_of_another_kind(count: int) -> None:
    """At the top of the tubes every plug lies in a wide circle up to the shell, and in another."""
    tubes = lattice("triangular", 1500.0)
    tubes = {key: place for key, place in tubes.items() if place[1] < 0.0}
    keys = nearest(tubes, (0.0, 0.0), count)
    survivors = [place for key, place in tubes.items() if key not in keys]
    removed = {key: tubes[key] for key in keys}

    def is_wide(circle: OpenCircle) -> bool:
        return circle.span_mm > 500.0

    everything = open_circles(survivors, removed, 750.0)
    apart = open_circles(survivors, removed, 750.0, stands_for_none=is_wide)
    assert any(map(is_wide, everything))
    assert [c for c in apart if is_wide(c)] == [c for c in everything if is_wide(c)]
    assert {key for c in apart if not is_wide(c) for key in c.removed} == set(keys)
    spans = [circle.span_mm for circle in apart]
    assert spans == sorted(spans, reverse=True)
    for circle in apart:
        assert min(math.dist(p, (circle.x_mm, circle.y_mm)) for p in survivors) == pytest.approx(
            circle.span_mm / 2
        )


def test_a_plug_of_which_every_circle_stands_for_none_has_the_one_around_its_own_centre() -> None:
    survivors = [(x, 0.0) for x in (-300.0, -200.0, -100.0, 100.0, 200.0, 300.0)]
    circles = open_circles(
        survivors, {"plug": (0.0, 0.0)}, 400.0, stands_for_none=lambda c: c.span_mm > 400.0
    )
    assert [circle.span_mm for circle in circles] == pytest.approx([425.0, 200.0])
    assert (circles[1].x_mm, circles[1].y_mm) == (0.0, 0.0)


def test_without_plugs_or_without_anything_around_there_is_no_circle() -> None:
    assert open_circles([(0.0, 0.0), (70.0, 0.0)], {}, 400.0) == []
    assert open_circles([], {"a": (0.0, 0.0)}, None) == []


@pytest.mark.parametrize(
    ("place", "words"), [((500.0, 0.0), "outside the shell"), ((0.0, -90.0), "inside a furnace")]
)
def test_a_tube_where_none_can_be_is_refused(place: Place, words: str) -> None:
    furnace = Circle(x_mm=0.0, y_mm=-100.0, diameter_mm=200.0)
    with pytest.raises(ModelError, match=words):
        open_circles([place], {"plug": (0.0, 200.0)}, 400.0, [furnace])


# --- judges -------------------------------------------------------------------------------------


def widest_holding(circles: list[OpenCircle], place: Place) -> float:
    """The widest circle that clearly holds a place (0 when none does)."""
    holding = [
        circle.span_mm
        for circle in circles
        if circle.span_mm / 2 - math.dist((circle.x_mm, circle.y_mm), place) > 0.25
    ]
    return max(holding, default=0.0)


grid_places = st.sets(st.tuples(st.integers(-7, 7), st.integers(-7, 7)), min_size=12, max_size=90)


@settings(max_examples=80, deadline=None)
@given(places=grid_places, jitter=st.integers(0, 10**6), share=st.floats(0.05, 0.5))
def test_without_rims_the_corners_are_those_of_scipys_voronoi(
    places: set[tuple[int, int]], jitter: int, share: float
) -> None:
    chance = random.Random(jitter)
    points = [
        (70.0 * x + chance.uniform(-9, 9), 70.0 * y + chance.uniform(-9, 9))
        for x, y in sorted(places)
    ]
    removed = {f"t{n}": points[n] for n in range(len(points)) if chance.random() < share}
    survivors = [point for point in points if point not in removed.values()]
    if not removed or len(survivors) < 5 or len({x for x, _ in survivors}) < 3:
        return
    ours = bounded_circles(survivors, removed, None)
    box, sites = np.array(points), np.array(survivors)
    corners = Voronoi(sites).vertices
    outside = np.maximum(box.min(0) - corners, corners - box.max(0)).max(1)
    radii = np.linalg.norm(corners[:, None] - sites[None], axis=2).min(1)
    bounded = [each for each in ours if (each.x_mm, each.y_mm) not in removed.values()]
    for key, place in removed.items():
        held = radii - np.linalg.norm(corners - place, axis=1)
        least = 2 * radii[(held > 0.25 + 1e-6) & (outside <= 0.0)].max(initial=0.0)
        most = 2 * radii[(held > 0.25 - 1e-6) & (outside <= 0.4)].max(initial=0.0)
        # Circles that agree to 0.001 mm are taken as one, so the width may be off by a little more.
        assert least - 3e-3 <= widest_holding(bounded, place) <= most + 3e-3
        assert any(key in circle.removed for circle in ours)


Site = tuple[float, float, float]
"""Centre and signed radius: 0 a tube, above 0 a furnace, below 0 the shell."""


def touching(sites: tuple[Site, Site, Site]) -> list[tuple[float, float, float]]:
    """Circles that touch three sites, by linear algebra: |p - c_i| = w + s_i."""
    (x0, y0, s0), *others = sites
    left = np.array([[x - x0, y - y0] for x, y, _ in others])
    if abs(np.linalg.det(left)) < 1e-6:
        return []
    square = np.array([((x - x0) ** 2 + (y - y0) ** 2 - s * s + s0 * s0) / 2 for x, y, s in others])
    constant = np.linalg.solve(left, square)
    slope = np.linalg.solve(left, np.array([s0 - s for _, _, s in others]))
    roots = np.roots(
        [slope @ slope - 1, 2 * (constant @ slope - s0), constant @ constant - s0 * s0]
    )
    found = []
    for root in roots:
        width = float(root.real)
        if abs(root.imag) < 1e-9 and width > 0:
            px, py = constant + slope * width
            found.append((float(x0 + px), float(y0 + py), width))
    return found


def gap(site: Site, x: float, y: float) -> float:
    cx, cy, signed = site
    distance = math.hypot(x - cx, y - cy)
    return -signed - distance if signed < 0 else distance - signed


@settings(max_examples=60, deadline=None)
@given(places=grid_places, jitter=st.integers(0, 10**6), share=st.floats(0.1, 0.7))
def test_with_rims_the_corners_are_those_of_all_triples(
    places: set[tuple[int, int]], jitter: int, share: float
) -> None:
    """Judge: every circle that touches any three of all sites and holds none of them."""
    chance = random.Random(jitter)
    furnace: Site = (chance.uniform(-60, 60), -120.0, 110.0)
    shell: Site = (0.0, 0.0, -430.0)
    points = [
        (70.0 * x + chance.uniform(-9, 9), 70.0 * y + chance.uniform(-9, 9))
        for x, y in sorted(places)
    ]
    points = [p for p in points if gap(shell, *p) > 26 and gap(furnace, *p) > 26][:24]
    removed = {f"t{n}": p for n, p in enumerate(points) if chance.random() < share}
    survivors = [point for point in points if point not in removed.values()]
    if not removed:
        return
    circle = Circle(x_mm=furnace[0], y_mm=furnace[1], diameter_mm=2 * furnace[2])
    ours = bounded_circles(survivors, removed, -shell[2], [circle])
    sites: list[Site] = [(*survivor, 0.0) for survivor in survivors] + [furnace, shell]
    corners = [
        found
        for triple in itertools.combinations(sites, 3)
        for found in touching(triple)
        if all(gap(site, found[0], found[1]) >= found[2] - 1e-6 for site in sites)
    ]
    for key, place in removed.items():
        expected = max(
            (2 * width for x, y, width in corners if width - math.dist((x, y), place) > 0.25),
            default=0.0,
        )
        # Circles straight across from the shell touch two things only: never narrower than these.
        assert widest_holding(ours, place) >= expected - 1e-5
        assert any(key in each.removed for each in ours)
    for each in ours:
        gaps = sorted(gap(site, each.x_mm, each.y_mm) for site in sites)
        assert gaps[0] == pytest.approx(each.span_mm / 2, abs=2e-3)
        assert len(each.removed) == len(set(each.removed)) > 0
        is_stand_in = (each.x_mm, each.y_mm) in removed.values()
        assert is_stand_in or gaps[1] == pytest.approx(gaps[0], abs=2e-3)


@settings(max_examples=40, deadline=None)
@given(jitter=st.integers(0, 10**6), kind=st.sampled_from(["triangular", "square"]))
def test_every_circle_is_open_and_none_is_narrower_than_the_plugs_own_surroundings(
    jitter: int, kind: str
) -> None:
    chance = random.Random(jitter)
    tubes = lattice(kind, 900.0)
    keys = chance.sample(sorted(tubes), 12)
    survivors = [place for key, place in tubes.items() if key not in keys]

    def clearance(x: float, y: float) -> float:
        nearest_tube = min(math.dist((x, y), place) for place in survivors)
        return min(nearest_tube, 450.0 - math.hypot(x, y))

    circles = without(tubes, keys, 900.0)
    for each in circles:
        assert each.span_mm == pytest.approx(2 * clearance(each.x_mm, each.y_mm), abs=2e-3)
        for key, place in tubes.items():
            depth = each.span_mm / 2 - math.dist((each.x_mm, each.y_mm), place)
            assert (depth > 0.2) == (key in each.removed)
    for key in keys:
        widest = max(each.span_mm for each in circles if key in each.removed)
        assert widest >= 2 * clearance(*tubes[key]) - 2e-3


def test_more_plugs_never_make_the_widest_place_smaller() -> None:
    tubes = lattice("square", 1200.0)
    order = random.Random(7).sample(sorted(tubes), 25)
    spans = [without(tubes, order[:count], 1200.0)[0].span_mm for count in range(1, 26)]
    assert all(later >= earlier - 1e-6 for earlier, later in itertools.pairwise(spans))
    assert spans[-1] > spans[0] + 1.0


def test_the_order_of_the_tubes_does_not_matter() -> None:
    tubes = lattice("triangular", 1200.0)
    keys = random.Random(3).sample(sorted(tubes), 30)
    shuffled = dict(random.Random(4).sample(sorted(tubes.items()), len(tubes)))
    once, again = without(tubes, keys, 1200.0), without(shuffled, keys[::-1], 1200.0)
    assert [each.removed for each in once] == [each.removed for each in again]
    assert [each.span_mm for each in once] == pytest.approx([each.span_mm for each in again])


@pytest.mark.parametrize(
    ("shell_mm", "count", "together", "limit_s"),
    [(1900.0, 60, False, 0.5), (5400.0, 300, False, 5.0), (5400.0, 300, True, 5.0)],
)
def test_large_sheets_are_done_in_time(
    shell_mm: float, count: int, together: bool, limit_s: float
) -> None:
    tubes = lattice("triangular", shell_mm)
    keys = (
        nearest(tubes, (500.0, 300.0), count)
        if together
        else random.Random(1).sample(sorted(tubes), count)
    )
    start = time.process_time()
    circles = without(tubes, keys, shell_mm)
    assert time.process_time() - start < limit_s
    assert {key for each in circles for key in each.removed} == set(keys)
