"""The exact search on one axis: closed forms, and every place of small circles counted one by one."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.ceiling.grid import widest as widest_module
from planner.ceiling.grid.axis import Axis, axis_of
from planner.ceiling.grid.borders import best_places, closes, narrowing, without_slivers
from planner.ceiling.grid.circle import SUM_PER_MM, short_wall
from planner.ceiling.grid.gaps import Ints, Parts, leans, narrower, wall_parts, wider
from planner.ceiling.grid.widest import Faces, narrowest, widest

INCH = 25.4


def edges(*corners: tuple[float, float]) -> np.ndarray:
    points = np.array(corners, dtype=np.float64)
    return np.concatenate([points, np.roll(points, -1, axis=0)], axis=1)


def rectangle(length: float, depth: float = 3000.0) -> np.ndarray:
    return edges((0, 0), (length, 0), (length, depth), (0, depth))


def axis(walls: np.ndarray, module: float, *centred: float) -> Axis:
    return axis_of(walls, len(walls), module, np.array(centred))


def best(on: Axis) -> float:
    """The one best place, in millimetres."""
    places, proven = best_places(on, without_slivers(on, np.arange(on.module)))
    assert proven
    return int(places[0]) / on.per_mm


@given(
    sixteenths=st.integers(min_value=16 * 24, max_value=16 * 2400),
    module=st.sampled_from([12, 24, 48]),
)
def test_a_rectangle_gets_the_half_module_rule_in_inches(sixteenths: int, module: int) -> None:
    """NAVEDTRA 14044 p. 7-23: b = (r + m) / 2, 2 b + full m = L, and ceil(L / m) modules in all; exact to 1/16 in."""
    length = sixteenths / 16
    if length < module:
        return
    left = best(axis(rectangle(length * INCH), module * INCH)) / INCH
    whole, over = divmod(length, module)
    border = (over + module) / 2 if over else 0.0
    assert left == pytest.approx(border, abs=1e-9)
    cells = math.ceil(length / module)
    full = cells if not over else cells - 2
    assert full == (whole if not over else whole - 1)
    assert closes(length, module, left, full, left, within=1e-9)


@given(tenths=st.integers(min_value=6000, max_value=1_000_000))
def test_a_rectangle_gets_the_half_module_rule_in_millimetres(tenths: int) -> None:
    """The same rule with 600 mm; what is over by less than 0.05 mm would be none, but lengths are whole tenths."""
    length, over = tenths / 10, tenths % 6000 / 10
    assert best(axis(rectangle(length), 600.0)) == pytest.approx((over + 600) / 2 if over else 0.0, abs=1e-9)


@pytest.mark.parametrize(
    ("source", "length", "module", "border", "full", "published_border"),
    [
        ("CV-27, how-to article of 2011: 17 ft with 9 in and 7 whole of 24 in makes 186, not 204", 204, 24, 18, 7, 9),
        ("CV-28, parquet article: 176 in with 9 in and 13 whole of 12 in makes 174", 176, 12, 10, 13, 9),
    ],
)
def test_misprinted_borders_do_not_close(
    source: str, length: float, module: float, border: float, full: int, published_border: float
) -> None:
    assert not closes(length, module, published_border, full, published_border), source
    assert closes(length, module, border, full, border), source


def test_naive_borders_close_too() -> None:
    """CV-10 and CV-28 naive: 4 + 9 x 12 + 4 = 116 and 4 + 14 x 12 + 4 = 176; CV-31: 1/8 + 5 x 24 + 1/8 = 120 1/4."""
    assert closes(116, 12, 4, 9, 4)
    assert closes(176, 12, 4, 14, 4)
    assert closes(120.25, 24, 0.125, 5, 0.125)
    assert not closes(120, 24, -12, 6, -12)


def test_a_service_is_off_by_its_distance_from_the_middle_of_its_panel() -> None:
    """A service at 130 is in the middle of its panel when lines fall at 130 - 300 = -170, that is at 430."""
    on = axis(rectangle(5000), 600.0, 130.0)
    off = on.off_centre(np.arange(on.module)) / on.per_mm
    assert off[round(430 * on.per_mm)] == 0
    assert off[round(450 * on.per_mm)] == off[round(410 * on.per_mm)] == 20
    assert off.max() == 300


def small_parts(seed: int, module: int) -> Parts:
    rng = np.random.default_rng(seed)
    count = int(rng.integers(1, 6))
    start = rng.integers(-50, 200, count)
    end = start + rng.choice([0, 0, 3, 17, 60, module, 130], count) * rng.choice([-1, 1], count)
    foot = rng.integers(0, 50, count)
    head = foot + np.abs(end - start) + rng.integers(1, 90, count)
    gap = np.full(count, float(module))
    none = np.full(count, -1)
    rows = [start, end, gap, gap, foot, head]
    return Parts(np.arange(count), none, rng.choice([-1, 1], count), *(row.astype(np.float64) for row in rows))


@pytest.mark.parametrize("seed", range(40))
def test_wall_cut_short_is_what_counting_point_by_point_gives(seed: int) -> None:
    """Every place of a circle of 80, with walls cut into 4000 points; a sum is off by two points a crossing at most."""
    module, limit, points = 80, 20, 4000
    parts = small_parts(seed, module)
    found = short_wall(parts, module, limit, 1.0) / SUM_PER_MM
    share = (np.arange(points) + 0.5) / points
    at = parts.start[:, None] + share * (parts.end - parts.start)[:, None]
    for place in range(module):
        reach = np.mod(parts.into[:, None] * (place - at), module)
        short = (reach > 0) & (reach < limit)
        counted = (short.mean(axis=1) * parts.length).sum()
        crossings = 2 * (np.abs(parts.end - parts.start) / module + 1)
        assert found[place] == pytest.approx(counted, abs=float((crossings * parts.length).sum()) / points + 1e-6)


def small_faces(seed: int, module: int) -> Faces:
    rng = np.random.default_rng(seed)
    count = int(rng.integers(1, 7))
    cap = np.where(rng.random(count) < 0.4, rng.integers(3, module, count), module)
    lean, into, face = rng.choice([0, 0, 0, 5, 30], count), rng.choice([-1, 1], count), rng.integers(-100, 300, count)
    back = lean + rng.choice([0, 0, 2], count)  # of the wall that goes on from it
    hidden = rng.choice([0, 1, 7], count)
    return Faces(np.arange(count), into, face, lean, cap, face - into * back, np.minimum(hidden, back))


def by_hand(faces: Faces, module: int, place: int) -> list[int]:
    """Narrowest cut of each face by walking along it unit by unit, sorted; what a ledge hides is not cut."""
    cuts = []
    for into, face, lean, cap, out, hidden in zip(
        faces.into, faces.face, faces.lean, faces.cap, faces.out, faces.hidden, strict=True
    ):
        line = int(into * (place - out)) % module  # from the outermost point of the wall
        if 0 < line <= hidden:
            before = [int(into * (face - out)) - back - line for back in range(lean + 1)]
            cuts.append(min([module - past for past in before if past > 0] + [int(cap)]))
            continue
        reach = [int(into * (place - (face - into * back))) % module for back in range(lean + 1)]
        # a line on the end of a leaning wall that is furthest from the room leaves it uncut, elsewhere it crosses
        crossed = lean > 0 and 0 in reach[:-1]
        cuts.append(0 if crossed else min(*(r or module for r in reach), int(cap)))
    return sorted(cuts)


@pytest.mark.parametrize("seed", range(60))
def test_the_widest_cuts_are_those_of_a_plain_comparison(seed: int) -> None:
    module = 90
    faces = small_faces(seed, module)
    places = np.arange(module)
    known = {int(place): by_hand(faces, module, int(place)) for place in places}
    for place, row in zip(places, narrowest(faces, module, places), strict=True):
        assert sorted(row.tolist()) == known[int(place)]
    found, proven = widest(faces, module, places)
    assert proven
    assert found.tolist() == [place for place, cuts in known.items() if cuts == max(known.values())]


def test_too_many_cuts_to_weigh_are_not_called_proven(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two leaning walls that are crossed by turns: the narrowest cut is 0 everywhere, so all places go on."""
    monkeypatch.setattr(widest_module, "MOST_CUTS", 20)
    column = np.array
    nothing = column([0, 0])
    both = Faces(column([0, 1]), column([1, 1]), column([45, 90]), column([45, 45]), column([90, 90]), nothing, nothing)
    _, proven = widest(both, 90, np.arange(90))
    assert not proven


def lengths(parts: Parts, edge: int) -> float:
    return float(parts.length[parts.edge == edge].sum())


def whole(*corners: tuple[int, int]) -> Ints:
    return edges(*corners).astype(np.int64)


def test_gaps_are_split_where_they_pass_a_module() -> None:
    """A triangle with its right angle at the origin: at height y the gap is 1000 - y, under 600 from y = 400 on."""
    parts = wall_parts(whole((0, 0), (1000, 0), (0, 1000)), 600)
    assert lengths(wider(parts, 600), 2) == pytest.approx(400)
    assert lengths(narrower(parts, 600), 2) == pytest.approx(600)
    assert lengths(narrower(parts, 150), 2) == pytest.approx(150)
    assert lengths(parts, 1) == pytest.approx(1000 * math.sqrt(2))  # at 45 degrees it counts for both axes
    assert lengths(parts, 0) == 0


def test_a_wall_counts_for_the_axis_it_is_steeper_to() -> None:
    """From (4000, 0) to (4600, 1000) is steep; from there to (0, 1600) is flat and only bounds the gap."""
    parts = wall_parts(whole((0, 0), (4000, 0), (4600, 1000), (0, 1600)), 600)
    assert set(parts.edge.tolist()) == {1, 3}
    assert lengths(parts, 3) == pytest.approx(1600)
    # the flat wall closes on the left wall over 600 of height; within 600 of it the gap is under 600 x 600 / 4600
    assert lengths(narrower(parts, 600), 3) == pytest.approx(600 * 600 / 4600)


def test_chords_of_a_bowed_wall_lean_together() -> None:
    """Right of a room three chords of a bow that bend by some 8 degrees each: 0 to 70, to 90, to 70 over 1200 in all.

    The corner before them bends by far more, and so does the one after. Of the walls along the axis nothing is asked.
    """
    bow = [(3000, 0), (3070, 400), (3090, 700), (3070, 1000), (3000, 1400)]
    found = leans(whole((0, 0), *bow, (200, 1400))).tolist()
    assert found[1:5] == [90, 90, 90, 90]
    assert found[6] == 200  # the left wall, from (200, 1400) back to the corner


def test_walls_at_a_sharp_corner_lean_each_for_itself() -> None:
    """From (3000, 0) out to (3300, 700) and back to (3000, 1400): 2 x 23.2 degrees between them."""
    assert leans(whole((0, 0), (3000, 0), (3300, 700), (3000, 1400), (0, 1400))).tolist()[1:3] == [300, 300]


def test_a_wall_goes_on_past_the_first_corner() -> None:
    """The left wall begins with the first edge listed and goes on in the last: 40 and 25 to the same side."""
    corners = [(0, 700), (25, 0), (3000, 0), (3000, 1500), (-40, 1500)]
    assert leans(whole(*corners)).tolist()[::4] == [65, 65]


def test_slanted_wall_is_cut_short_by_half_a_module_more_than_must_be_at_most() -> None:
    """The right wall leans by 1000 of 2000: wherever the lines lie some of it has slivers.

    Wish 3 keeps the places where its wall cut short, slivers twice, is at most 300 mm over the least.
    """
    walls = edges((0, 0), (5000, 0), (6000, 2000), (0, 2000))
    on = axis_of(walls, len(walls), 600.0, np.array([]))
    kept, _ = narrowing(on, without_slivers(on, np.arange(on.module)))
    halves, few = kept[0], kept[1]
    total = (on.slanted_slivers + on.slanted_halves) / SUM_PER_MM
    assert total[few].max() <= total[halves].min() + 300.01
    dropped = np.setdiff1d(halves, few)
    assert len(dropped) > 0
    assert total[dropped].min() > total[halves].min() + 300.0
    assert on.halves.max() == pytest.approx(2000 * SUM_PER_MM)  # of the left wall alone


def test_a_bowed_wall_that_can_be_free_of_slivers_is_kept_so() -> None:
    """The right wall leans by 400, more than half a module, and less than three quarters: a line 144 to 200 before it.

    The cut runs from 5000 - line up to 400 more; free of slivers are lines 144 and more before 5000 and 600 or less
    before 5400, that is at 4800 to 4856, so 0 to 56 within a module; the left wall then asks for 294 or more: the whole
    module at 0 is left of these. With a right wall from 5400 to 5800 it would be lines at 5200 to 5256.
    """
    for right, kept in ((5000.0, [0.0, 0.0]), (5400.0, [400.0, 456.0])):
        walls = edges((0, 0), (right, 0), (right + 400, 1000), (0, 1000))
        on = axis_of(walls, len(walls), 600.0, np.array([]))
        few = narrowing(on, without_slivers(on, np.arange(on.module)))[0][1] / on.per_mm
        assert [few.min(), few.max()] == pytest.approx(kept, abs=0.01)


def test_a_column_counts_from_a_quarter_of_a_module_on() -> None:
    """Beside pipes of 150 no place is better than another; beside columns of 151 some have no sliver."""
    for side, left in ((150.0, True), (151.0, False)):
        column = edges((2850, 1000), (2850, 1000 + side), (2850 + side, 1000 + side), (2850 + side, 1000))
        on = axis_of(np.concatenate([rectangle(5000.0), column]), 4, 600.0, np.array([]))
        kept, _ = narrowing(on, without_slivers(on, np.arange(on.module)))
        assert (len(kept[3]) == len(kept[2])) is left


def test_a_column_on_a_wall_leaves_that_stretch_no_room() -> None:
    column = edges((0, 400), (300, 400), (300, 700), (0, 700))[::-1]
    parts = wall_parts(np.concatenate([rectangle(3000, 1000), column]).astype(np.int64), 600)
    assert parts.into[parts.edge == 3].max() == 1
    open_wall = wider(parts, 1)
    assert lengths(open_wall, 3) == pytest.approx(700)
    assert lengths(open_wall, 1) == pytest.approx(1000)


@settings(max_examples=50)
@given(st.integers(min_value=0, max_value=10_000))
def test_stretches_make_up_each_wall(seed: int) -> None:
    """Whatever the gaps, the stretches of a wall add up to its length: star-shaped rooms, corners in whole units."""
    rng = np.random.default_rng(seed)
    count = int(rng.integers(3, 12))
    angles = (np.arange(count) + rng.uniform(0.1, 0.9, count)) * 2 * np.pi / count
    radii = rng.uniform(300, 3000, count)
    star = np.rint(np.stack([radii * np.cos(angles), radii * np.sin(angles)], axis=1)).astype(np.int64)
    walls = np.concatenate([star, np.roll(star, -1, axis=0)], axis=1)
    parts = wall_parts(walls, 600)
    for k, (x0, y0, x1, y1) in enumerate(walls.tolist()):
        counts = abs(y1 - y0) >= abs(x1 - x0) and y1 != y0
        assert lengths(parts, k) == pytest.approx(math.dist((x0, y0), (x1, y1)) if counts else 0.0)
