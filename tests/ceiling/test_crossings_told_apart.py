"""The crossing of the grid: called proven where nothing was left out, and nowhere else; and the widest cuts."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.ceiling.grid import origins
from planner.ceiling.grid import widest as widest_module
from planner.ceiling.grid.axis import Axis, axis_of
from planner.ceiling.grid.origins import choose
from planner.ceiling.grid.widest import Faces, narrowest, widest

M = 600.0


def axes_of(length: float, depth: float) -> tuple[Axis, Axis]:
    """Both axes of a rectangle, millimetres."""
    corners = np.array([(0.0, 0.0), (length, 0.0), (length, depth), (0.0, depth)])
    edges = np.concatenate([corners, np.roll(corners, -1, axis=0)], axis=1)
    nothing = np.array([])
    return axis_of(edges, 4, M, nothing), axis_of(edges[:, [1, 0, 3, 2]], 4, M, nothing)


def alike(x: int, y: int) -> int:
    """As many panels at every crossing."""
    del x, y
    return 100


# What is called proven


@pytest.mark.parametrize("fewest_first", [False, True])
def test_a_plain_room_is_proven(fewest_first: bool) -> None:
    """3.0 m and 4.2 m are 5 and 7 whole modules of 600: the lines stand on the walls."""
    choice = choose(axes_of(3000, 4200), (None, None), alike, fewest_first)
    assert (choice.places, choice.proven) == ((0, 0), True)


@pytest.mark.parametrize("fewest_first", [False, True])
@pytest.mark.parametrize("doubtful", [0, 1])
def test_an_axis_of_which_not_every_place_was_weighed_makes_nothing_proven(
    doubtful: int, fewest_first: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    axes, best = axes_of(3000, 4200), origins.best_places
    monkeypatch.setattr(origins, "best_places", lambda on, some: (best(on, some)[0], on is not axes[doubtful]))
    choice = choose(axes, (None, None), alike, fewest_first)
    assert (choice.places, choice.proven) == ((0, 0), False)


@pytest.mark.parametrize(("most", "proven"), [(12, True), (11, False)])
def test_crossings_that_are_not_counted_are_not_proven(
    most: int, proven: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Three places one way and four the other are twelve crossings; the one with fewest panels is the last of them."""
    axes = axes_of(3000, 4200)
    places = iter([(np.array([0, 10, 20]), True), (np.array([0, 10, 20, 30]), True)])
    monkeypatch.setattr(origins, "best_places", lambda on, some: next(places))
    for name in ("_LEAST_COUNTED", "_MOST_COUNTED"):
        monkeypatch.setattr(origins, name, most)
    choice = choose(axes, (None, None), lambda x, y: 100 - x - y, False)
    assert choice.proven is proven
    assert (choice.places == (20, 30)) is proven


@pytest.mark.parametrize(("most", "proven"), [(180, True), (179, False)])
def test_just_as_many_cuts_as_can_be_weighed_are_weighed(
    most: int, proven: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Two leaning walls crossed by turns at 90 places are 180 cuts: for 179 one place is too many."""
    monkeypatch.setattr(widest_module, "MOST_CUTS", most)
    column, nothing = np.array, np.array([0, 0])
    both = Faces(column([0, 1]), column([1, 1]), column([45, 90]), column([45, 45]), column([90, 90]), nothing, nothing)
    assert widest(both, 90, np.arange(90))[1] is proven


# Which place is taken


@settings(max_examples=150, deadline=None)
@given(st.data())
def test_the_widest_cuts_by_plain_comparison_in_a_small_module(data: st.DataObject) -> None:
    """Of places on a circle of 12, those whose cuts, from the narrowest up, are the greatest in that order.

    Some walls have less than a module before them, some lean; the places asked for are only some of all.
    """
    module, count = 12, data.draw(st.integers(1, 5))
    column = st.lists(st.integers(0, 40), min_size=count, max_size=count)
    face, into = (np.array(data.draw(column)) for _ in range(2))
    cap = np.array(data.draw(st.lists(st.sampled_from([3, 5, 8, 12, 12]), min_size=count, max_size=count)))
    lean = np.array(data.draw(st.lists(st.sampled_from([0, 0, 1, 4]), min_size=count, max_size=count)))
    sides = np.where(into % 2 == 1, 1, -1)
    faces = Faces(np.arange(count), sides, face, lean, cap, face - sides * lean, np.zeros(count, dtype=np.int64))
    places = np.array(sorted(data.draw(st.sets(st.integers(0, module - 1), min_size=1))))
    known = [sorted(row) for row in narrowest(faces, module, places).tolist()]
    found, proven = widest(faces, module, places)
    assert proven
    assert found.tolist() == [place for place, cuts in zip(places.tolist(), known, strict=True) if cuts == max(known)]
