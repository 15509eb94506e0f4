"""Splices of runs side by side: told where they stand in line, and kept apart where that is wished."""

from collections.abc import Sequence
from dataclasses import replace

import pytest
from ceiling.framing_rooms import grid, rectangle

from planner.ceiling.model import FirstCuts, Member, Piece
from planner.ceiling.rules.built import Built
from planner.ceiling.rules.splices import staggered_joints
from planner.ceiling.system import load_system
from planner.drawing import words
from planner.drawing.wish import SheetWish
from planner.findings import Finding
from planner.planning import plan
from planner.room.brief import Brief, GridWish, StockWish
from planner.room.outline import Room
from planner.runs.choose import begin_runs
from planner.runs.job import Bar, Cut, Job, Run

METRIC = load_system("lay-in-metric")


def spliced_at(*joints: Sequence[float], apart: float = 600.0) -> FirstCuts:
    """Runs side by side, each with one splice, in the one way there is."""
    last = len(joints) - 1
    runs = tuple(
        Run(
            f"M{k + 1}",
            start,
            (Cut(round(at * 10), 0, 20_000, at),),
            tuple(n for n in (k - 1, k + 1) if 0 <= n <= last),
        )
        for k, (start, at) in enumerate(joints)
    )
    return FirstCuts("main tee", begin_runs(Job(Bar(36_000), runs, (), apart), 0.0))


def told(cuts: FirstCuts, *, staggered: bool = False) -> list[Finding]:
    room = rectangle(6000, 6000)
    mains = tuple(
        Member(
            f"M{k}", "main tee", (0.0, 1200.0 * k), (6000.0, 1200.0 * k), (Piece("main tee", 6000.0, ("cut", "cut")),)
        )
        for k in range(1, 9)
    )
    layout = grid((0.0, 0.0), (600.0, 600.0))
    built = Built(room, GridWish(METRIC.name), METRIC, layout, (), mains, (), (), (cuts,), staggered)
    return list(staggered_joints(built))


def test_splices_600_apart_are_nothing_to_speak_of() -> None:
    assert told(spliced_at((0, 1800), (0, 2400), (0, 1800))) == []


def test_splices_in_line_are_told_with_their_runs() -> None:
    """M1 at 1800 and M2, which begins 300 further on, at 300 + 1700 = 2000: 200 apart. M3 at 2700 is clear of both."""
    (finding,) = told(spliced_at((0, 1800), (300, 1700), (0, 2700)))
    assert finding.severity == "note"
    assert finding.source == "common practice, no source"
    assert finding.message == "Splices of M1, M2 stand less than 600 mm from those next to them."
    assert "staggered_splices: true" in finding.remedy
    assert (finding.where, finding.also) == ((1800.0, 1200.0), ((1700.0, 2400.0),))  # each splice, from its run's start


def test_who_wished_for_it_is_not_told_to_wish_for_it() -> None:
    (finding,) = told(spliced_at((0, 1800), (0, 1800)), staggered=True)
    assert "staggered_splices" not in finding.remedy


def test_of_many_runs_the_first_are_named() -> None:
    (finding,) = told(spliced_at(*[(0, 1800)] * 8))
    assert finding.message == "Splices of M1, M2, M3, M4 and 4 more stand less than 600 mm from those next to them."


def test_it_is_said_in_spanish_too() -> None:
    (finding,) = told(spliced_at((0, 1800), (0, 1800)))
    with words.speaking(rectangle(6000, 6000), SheetWish(language="es")):
        assert words.translated(finding.message) == "Los empalmes de M1, M2 están a menos de 600 mm de los contiguos."


@pytest.fixture(scope="module")
def hall() -> Brief:
    """16 carriers of 14.5 m from lengths of 2.4 m: 98 are enough only if some splices stand in line."""
    outline = ((0.0, 0.0), (9752.0, 0.0), (9752.0, 14505.0), (0.0, 14505.0))
    room = Room("hall", "mm", outline, ("A", "B", "C", "D"))
    return Brief(room, GridWish("direct-metric"), stock=StockWish(budget_s=60.0))


def test_a_hall_saves_a_length_by_splices_in_line_and_keeps_them_apart_for_it(hall: Brief) -> None:
    usual = plan(hall)
    apart = plan(replace(hall, stock=replace(hall.stock, staggered_splices=True)))
    assert [finding.rule for finding in usual.findings].count("staggered joints") >= 1
    assert "staggered joints" not in [finding.rule for finding in apart.findings]
    bought = [{cutting.item: cutting.bought for cutting in made.stock.cutting} for made in (usual, apart)]
    assert bought[1]["carrier"] == bought[0]["carrier"] + 1
