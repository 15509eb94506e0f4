"""Pieces that are no rectangles: what is called proven, which edges are kept, and what can be cut apart."""

from collections.abc import Sequence

import pytest
import shapely
from shapely import Polygon, affinity

from planner.runs.effort import Effort
from planner.stock.covering import master
from planner.stock.covering.cover import Column
from planner.stock.covering.master import Whole
from planner.stock.panels import PanelRules, PanelWanted, cut_pieces
from planner.stock.panelwork.forms import Form
from planner.stock.panelwork.nested import by_area, nest
from planner.stock.panelwork.parting import parted
from planner.stock.panelwork.sets import Sets
from planner.stock.saw import Saw

SIDE = 595.0
PANEL = (SIDE, SIDE)


def triangle(leg: float, corner: str = "left front") -> Polygon:
    """A right angle in a corner of the panel."""
    shape = Polygon([(0.0, 0.0), (leg, 0.0), (0.0, leg)])
    return shape if corner == "left front" else affinity.rotate(shape, 180, origin=(SIDE / 2, SIDE / 2))


def sets_of(*shapes: Polygon, panel: tuple[float, float] = PANEL, kerf: float = 3.0) -> tuple[list[Form], Sets]:
    forms = [Form.of(shape, plain=len(shape.exterior.coords) == 5) for shape in shapes]
    return forms, Sets(forms, panel, kerf, turns=True, kept=False)


# What is called proven


@pytest.mark.parametrize(("exact", "bound"), [(False, 1), (True, 3)])
def test_where_no_choice_was_found_only_the_area_is_proven(
    exact: bool, bound: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Three triangles of 400 are two thirds of a panel; three panels are known. When the work ran out, one is proven.

    Only where it is sure that no choice is better three are.
    """
    forms, sets = sets_of(triangle(400))
    assert by_area(forms, [3], PANEL) == 1  # 3 x 80,000 of 354,025 mm2
    monkeypatch.setattr(master, "whole", lambda *_: Whole(None, exact=exact))
    found = nest(forms, [3], PANEL, sets, 3, Effort.of(1))
    assert (found.plan, found.bound) == ((), bound)


def test_without_effort_only_the_area_is_proven() -> None:
    forms, sets = sets_of(triangle(400))
    assert nest(forms, [3], PANEL, sets, 3, Effort(0)).bound == 1
    assert nest(forms, [3], PANEL, sets, 3, Effort.of(5)).bound == 2  # two lie in a panel, no three


def test_what_the_work_ran_out_over_is_not_proven(monkeypatch: pytest.MonkeyPatch) -> None:
    """All three on one panel are chosen with the last of the work: nobody knows whether they fit, so one is proven."""

    def chosen(wanted: object, columns: object, target: int, step: int, effort: Effort) -> Whole:
        effort.spend(effort.left)
        return Whole([(Column(0, ((0, 3),)), 1)], exact=False)

    forms, sets = sets_of(triangle(400))
    monkeypatch.setattr(master, "whole", chosen)
    found = nest(forms, [3], PANEL, sets, 3, Effort.of(1))
    assert (found.plan, found.bound) == ((), 1)


# Where pieces lie


def test_all_keep_their_edges_where_that_takes_no_panel_more() -> None:
    """Four triangles of 373: three fit on one panel and one on another, but two and two keep the factory's edges."""
    wanted = [PanelWanted(f"g{k}", (373, 373), frozenset({"left", "front"}), triangle(373)) for k in range(1, 5)]
    cutting = cut_pieces(wanted, PANEL, PanelRules(), Saw(3.0))
    assert cutting.bought == 2
    at = [(piece.at, piece.half) for panel in cutting.panels for piece in panel.pieces]
    assert set(at) == {((0.0, 0.0), False), ((222.0, 222.0), True)}


def test_three_pieces_lie_across_a_long_panel() -> None:
    """590 x 390 on 1200 x 600: as they lie two fit, turned three, 3 x 390 = 1170. Four are more than its area."""
    _, sets = sets_of(shapely.box(0, 0, 590, 390), panel=(1200.0, 600.0), kerf=0.0)
    assert len(sets.answer(((0, 2),), Effort.of(5)).spots) == 2
    three = sets.answer(((0, 3),), Effort.of(5)).spots
    assert [spot.quarters % 2 for spot in three] == [1, 1, 1]
    assert not sets.answer(((0, 4),), Effort.of(5)).spots


@pytest.mark.parametrize("legs", [(400.0, 401.0), (401.0, 400.0)])
def test_patterned_pieces_of_opposite_corners_share_a_panel(legs: tuple[float, float]) -> None:
    """Neither is turned: one has its right angle at the left and the front, the other at the right and the back."""
    front, back = triangle(legs[0]), triangle(legs[1], "right back")
    wanted = [
        PanelWanted("front", (legs[0],) * 2, frozenset({"left", "front"}), front),
        PanelWanted("back", (legs[1],) * 2, frozenset({"right", "back"}), back),
    ]
    cutting = cut_pieces(wanted, PANEL, PanelRules(turns=False), Saw(3.0))
    (panel,) = cutting.panels
    at = {piece.panel: piece.at for piece in panel.pieces}
    assert at == {"front": (0.0, 0.0), "back": pytest.approx((SIDE - legs[1],) * 2)}


# What can be cut apart

ARMS = ((0, 0, 60, 40), (60, 0, 100, 60), (40, 60, 100, 100), (0, 40, 40, 100))


def boxes(*corners: Sequence[float]) -> list[Polygon]:
    return [shapely.box(*corner).buffer(-1, join_style="mitre") for corner in corners]


def test_a_piece_in_a_notch_does_not_help_those_that_lie_like_the_arms_of_a_mill() -> None:
    """The first arm has a notch of 20 x 20, a piece lies in it: taken out together, four arms are left as before."""
    notched = boxes((20, 0, 60, 40), (0, 20, 40, 40))
    others = [boxes(arm) for arm in ARMS[1:]]
    inner = boxes((0, 0, 20, 20))
    assert parted([notched, inner])
    assert parted([notched, inner, others[0]])
    assert not parted([notched, inner, *others])
