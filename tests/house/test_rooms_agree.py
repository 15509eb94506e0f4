"""Rooms of a building cut their runs and border tees so that all of them together take least."""

import json
from dataclasses import replace

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner import crew
from planner.building import BuildingPlan, plan_building
from planner.building_files import building_files
from planner.building_record import building_record, building_schema, building_summary
from planner.ceiling.model import Member, Piece
from planner.drawing.building_sheets import Rooms, as_one
from planner.drawing.wish import SheetWish
from planner.explain import Job, explain
from planner.planning import Plan, plan
from planner.record import plan_schema, record_of
from planner.room.brief import Brief, GridWish, StockWish
from planner.room.building import Building
from planner.room.outline import Room
from planner.stock.saw import tenths

RUNS = ("main tee", "carrier", "cover strip")


def brief(width: float, depth: float, system: str = "lay-in-metric", mains: str = "along") -> Brief:
    outline = ((0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth))
    return Brief(Room("room", "mm", outline, ("A", "B", "C", "D")), GridWish(system, mains=mains))  # type: ignore[arg-type]


def building(*briefs: Brief, **stock: object) -> Building:
    wish = StockWish(budget_s=60.0, **stock)  # type: ignore[arg-type]
    return Building("b", briefs, tuple(f"r{n}" for n in range(len(briefs))), wish)


def runs(made: Plan, *kinds: str) -> list[Member]:
    return [member for member in made.ceiling.members if member.kind in kinds]


def bought(made: BuildingPlan, item: str) -> tuple[int, int]:
    saving = next(s for s in made.pool.savings if s.item == item)
    return saving.alone, saving.pooled


def test_three_rooms_of_one_run_take_four_mains_together() -> None:
    """Runs of 4.5 m, one in each room: two mains of 3.6 m each, whatever its first cut, so six.

    Together 13.5 m, 3.75 mains: at least four. They do, begun with 3525, 2475 and 1425 mm: the rests are 975, 2025 and
    3075; 2475 + 975 and 1425 + 2025 = 3450 come from one main each, 3525 and 3075 from one each.
    """
    made = plan_building(building(*[brief(4500, 1500)] * 3), workers=1)
    assert bought(made, "main tee") == (6, 4)
    firsts = [run.pieces[0].length for each in made.plans for run in runs(each, "main tee")]
    assert sorted(firsts) == [1425, 2475, 3525]
    (cutting,) = (cutting for cutting in made.pool.cutting if cutting.item == "main tee")
    assert cutting.proven
    assert cutting.certificate is not None
    assert cutting.certificate.holds()


def test_rooms_that_save_nothing_together_stay_as_they_are() -> None:
    """Runs of 3.5 m, one main each: nothing to choose, and every room is planned as it is by itself."""
    briefs = [brief(3500, 1500), brief(3500, 2000)]
    made = plan_building(building(*briefs), workers=1)
    wish = StockWish(budget_s=60.0)
    assert made.plans == tuple(plan(replace(each, stock=wish)) for each in briefs)


def test_a_room_planned_anew_says_so_and_claims_no_more_than_it_can() -> None:
    """By itself the room could do with another first cut; what it says holds over its pieces as they are."""
    given_briefs = [brief(4500, 1500)] * 3
    made = plan_building(building(*given_briefs), workers=1)
    anew = [k for k, each in enumerate(made.plans) if any(cuts.for_all for cuts in each.ceiling.first_cuts)]
    assert 0 < len(anew) < 3  # the first room keeps its plain way
    each = made.plans[anew[0]]
    (cutting,) = (cutting for cutting in each.stock.cutting if cutting.item == "main tee")
    assert cutting.over == "pieces"
    assert cutting.proven
    jsonschema.validate(json.loads(json.dumps(record_of(each))), plan_schema())
    (told,) = explain(Job(given_briefs[anew[0]], each), "M1")
    assert any("all rooms of the building" in step.text for step in told.steps)


def test_strips_stay_clear_of_the_carriers_that_were_begun_anew() -> None:
    """Carriers are agreed on first, then the strips that lie over them: 2.4 m lengths, joints 600 mm apart or more."""
    made = plan_building(building(*[brief(4000 + 700 * k, 1800, "direct-metric") for k in range(3)]), workers=1)
    for item in ("carrier", "cover strip"):
        alone, pooled = bought(made, item)
        assert pooled < alone
    for each in made.plans:
        for carrier, strip in zip(runs(each, "carrier"), runs(each, "cover strip"), strict=True):
            assert (carrier.start, carrier.end) == (strip.start, strip.end)
            splices = [list(splices_of(run.pieces)) for run in (carrier, strip)]
            assert all(abs(a - b) >= 600 - 0.1 for a in splices[0] for b in splices[1])


def splices_of(pieces: tuple[Piece, ...]) -> list[float]:
    lengths = [piece.length for piece in pieces for _ in range(piece.count)]
    return [sum(lengths[: k + 1]) for k in range(len(lengths) - 1)]


def test_border_tees_of_two_rooms_take_no_more_length_together() -> None:
    """And the cutting sheet of the building counts those of all rooms."""
    alone = [plan_building(building(brief(2500, 2500 + k), border_tees_from_longer=True), workers=1) for k in (0, 50)]
    made = plan_building(building(brief(2500, 2500), brief(2500, 2550), border_tees_from_longer=True), workers=1)

    def length(*each: BuildingPlan) -> float:
        return sum(c.bought * c.stock_length for b in each for c in b.pool.cutting if c.item.startswith("cross tee"))

    assert length(made) <= length(*alone)
    one = as_one(Rooms("b", made.plans, made.folders), made.plans[0].stock)
    chosen = [each.ceiling.border_tees for each in made.plans]
    assert one.ceiling.border_tees is not None
    assert one.ceiling.border_tees.shared.moved == sum(tees.shared.moved for tees in chosen if tees is not None)


@settings(max_examples=12, deadline=None)
@given(
    st.lists(st.tuples(st.integers(1500, 9000), st.integers(1300, 3000)), min_size=2, max_size=3),
    st.sampled_from(["lay-in-metric", "direct-metric"]),
    st.booleans(),
)
def test_every_piece_is_cut_once_and_runs_take_no_more(sizes: list[tuple[int, int]], system: str, mixed: bool) -> None:
    rooms = building(*(brief(w, d, system, "auto") for w, d in sizes), border_tees_from_longer=mixed)
    made = plan_building(rooms, workers=1)
    for saving in made.pool.savings:
        if saving.item in RUNS:
            assert saving.pooled <= saving.alone
    lengths = {part.item: part.length for each in made.plans for part in each.ceiling.system.parts()}
    for cutting in made.pool.cutting:
        full = tenths(lengths[cutting.item])
        got = sorted(tenths(p.length) for bar in cutting.bars for p in bar.pieces for _ in range(bar.count))
        want = sorted(
            tenths(piece.length)
            for each in made.plans
            for member in each.ceiling.members
            for piece in member.pieces
            if piece.stock == cutting.item and tenths(piece.length) < full
            for _ in range(piece.count)
        )
        assert got == want
        assert sum(bar.count for bar in cutting.bars) == cutting.bought >= cutting.lower_bound
    jsonschema.validate(json.loads(json.dumps(building_record(made))), building_schema())


def test_what_is_taken_more_of_is_said() -> None:
    """Splices cost wires: rooms that save mains may hang from more."""
    made = plan_building(building(*[brief(4500, 1500)] * 3), workers=1)
    wires = [replace(s, pooled=s.alone + 2) if s.item == "hanger anchor" else s for s in made.pool.savings]
    told = building_summary(replace(made, pool=replace(made.pool, savings=tuple(wires))))
    assert "the rooms save: 2 main tee (4 in place of 6)" in told
    assert "; for that they take more: 2 hanger anchor (" in told


@pytest.mark.parametrize("system", ["lay-in-metric", "direct-metric"])
def test_side_by_side_gives_the_same_bytes(monkeypatch: pytest.MonkeyPatch, system: str) -> None:
    """Rooms planned anew in processes of their own are the ones planned anew at home."""
    monkeypatch.setattr(crew, "AT_HOME_S", 0.0)
    monkeypatch.setattr(crew, "FEW", 1)
    rooms = building(*(brief(4500 + 300 * k, 1500, system) for k in range(3)), border_tees_from_longer=True)
    together, alone = plan_building(rooms, workers=2), plan_building(rooms, workers=1)
    assert any(cuts.for_all for each in together.plans for cuts in each.ceiling.first_cuts)
    assert together == alone
    written = [building_files(made, None, SheetWish()) for made in (together, alone)]
    assert written[0] == written[1]
