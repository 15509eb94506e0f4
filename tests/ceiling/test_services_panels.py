"""Which panels are drilled, and what they and the others are marked."""

import pytest
from ceiling.hand_layouts import METRIC, lay_by_hand, rectangle
from hypothesis import given
from hypothesis import strategies as st

from planner.ceiling.mains import MainLines
from planner.ceiling.marks import class_letters
from planner.ceiling.services import place_services
from planner.room.brief import ServiceWish

#: Lines at 300 from the left and bottom walls and on the others: cut panels a (300 x 300), b (600 x 300, 4 of them)
#: and c (300 x 600, 3 of them), and 4 x 3 whole ones.
ROOM = rectangle(2700, 2100)
LAYOUT = lay_by_hand(ROOM, (600, 600), (300, 300))
MAINS = MainLines("along", 2, 0)


def place(*spots, diameter=100):
    wishes = tuple(ServiceWish(f"D{k}", "downlight", diameter=diameter, at=at) for k, at in enumerate(spots, 1))
    placed = place_services(ROOM, LAYOUT, METRIC, MAINS, wishes)
    assert placed.findings == ()
    return placed


def marks(placed):
    return {panel.cell: panel.id for panel in placed.panels}


def test_without_holes_the_layout_keeps_its_marks():
    assert place().panels == LAYOUT.cut_panels
    assert sorted(panel.id for panel in LAYOUT.cut_panels) == ["a1", "b1", "b2", "b3", "b4", "c1", "c2", "c3"]


def test_a_drilled_whole_panel_goes_on_with_the_letters():
    placed = place((600, 600))
    assert marks(placed) == {p.cell: p.id for p in LAYOUT.cut_panels} | {(0, 0): "d1"}
    assert placed.full_panels == 11


def test_panels_drilled_alike_share_a_class_and_others_do_not():
    """Centres of (0, 0) and (2, 1), and 50 off the centre of (1, 1)."""
    placed = place((600, 600), (1800, 1200), (1250, 1200))
    assert marks(placed) | {(0, 0): "d1", (2, 1): "d2", (1, 1): "e1"} == marks(placed)
    assert [service.panels for service in placed.services] == [("d1",), ("d2",), ("e1",)]


def test_holes_of_another_size_are_another_class():
    wishes = (
        ServiceWish("D1", "downlight", diameter=100, at=(600, 600)),
        ServiceWish("D2", "downlight", diameter=110, at=(1200, 600)),
    )
    placed = place_services(ROOM, LAYOUT, METRIC, MAINS, wishes)
    assert [service.panels for service in placed.services] == [("d1",), ("e1",)]


def test_a_drilled_border_panel_leaves_its_class_and_the_rest_close_up():
    """The second of four b panels is drilled: b1, (d1), b2, b3."""
    placed = place((1200, 150))
    assert [marks(placed)[i, -1] for i in range(4)] == ["b1", "d1", "b2", "b3"]
    assert placed.full_panels == 12
    panel = next(panel for panel in placed.panels if panel.id == "d1")
    assert panel.opening == (600, 300) and not panel.full_size
    assert [hole.service for hole in panel.cutouts] == ["D1"]


def test_when_a_whole_class_is_drilled_the_letters_close_up():
    """The only a panel, the corner, is drilled: b becomes a, c becomes b, the corner c."""
    placed = place((150, 150), diameter=60)
    assert marks(placed)[-1, -1] == "c1"
    assert [marks(placed)[i, -1] for i in range(4)] == ["a1", "a2", "a3", "a4"]


@given(st.sets(st.tuples(st.integers(-1, 3), st.integers(-1, 2)), max_size=8))
def test_every_panel_has_one_mark_of_its_own(cells):
    """Each drilled cell once; marks unique; numbers within a class run from 1; letters without a gap."""
    spots = [((i + 0.5) * 600 + 300 if i >= 0 else 150, (j + 0.5) * 600 + 300 if j >= 0 else 150) for i, j in cells]
    placed = place(*spots, diameter=60)
    ids = [panel.id for panel in placed.panels]
    assert len(set(ids)) == len(ids) == 8 + sum(i >= 0 and j >= 0 for i, j in cells)
    classes = {}
    for mark in ids:
        letters = mark.rstrip("0123456789")
        classes.setdefault(letters, []).append(int(mark[len(letters) :]))
    assert [class_letters(k) for k in range(len(classes))] == sorted(classes)
    assert all(sorted(numbers) == list(range(1, len(numbers) + 1)) for numbers in classes.values())
    assert {panel.cell for panel in placed.panels if panel.cutouts} == cells


def test_class_letters_leave_out_i_l_and_o():
    """23 letters, then pairs: the 24th class is aa, the 24th after that ba."""
    assert [class_letters(k) for k in (0, 7, 8, 9, 10, 12, 13, 22, 23, 24, 46)] == [
        *("a", "h", "j", "k", "m", "p", "q", "z"),
        *("aa", "ab", "ba"),
    ]
    assert not any(set("ilo") & set(class_letters(k)) for k in range(2000))
    assert len({class_letters(k) for k in range(2000)}) == 2000
    with pytest.raises(ValueError, match="from 0"):
        class_letters(-1)
