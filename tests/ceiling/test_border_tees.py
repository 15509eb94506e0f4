"""Border tees cut from longer cross tees than their own: only where that is wished, never too many from one tee."""

import json
from collections import Counter
from dataclasses import replace
from pathlib import Path

import jsonschema
import pytest

from planner.ceiling.model import Member
from planner.drawing.cutting_patterns import lots
from planner.explain import Job, explain
from planner.files import bars_csv
from planner.planning import Plan, plan
from planner.record import plan_schema, record_of
from planner.room.brief import Brief
from planner.room.reader import read_room
from planner.stock.saw import tenths

FIXTURES = Path(__file__).parents[2] / "fixtures"
ROOMS = (
    "kiln-room",
    "attic-office",
    "clinic",
    "corridor",
    "foyer-diagonal",
    "gallery-bowed",
    "shop-l-taped",
    "studio-l",
)


def mixed(stem: str, *, prices: dict[str, float] | None = None, wished: bool = True) -> tuple[Brief, Plan]:
    brief = read_room(FIXTURES / f"{stem}.yaml")
    stock = replace(brief.stock, border_tees_from_longer=wished, budget_s=60.0)
    if prices is not None:
        stock = replace(stock, prices=tuple(prices.items()))
    brief = replace(brief, stock=stock)
    return brief, plan(brief)


def bought(made: Plan) -> dict[str, int]:
    return {cutting.item: cutting.bought for cutting in made.stock.cutting if cutting.item.startswith("cross tee")}


def tees(made: Plan) -> list[Member]:
    return [member for member in made.ceiling.members if member.kind == "cross tee"]


def test_nobody_is_given_mixed_tees_unasked() -> None:
    brief = read_room(FIXTURES / "kiln-room.yaml")
    assert not brief.stock.border_tees_from_longer
    assert plan(brief).ceiling.border_tees is None


def test_six_borders_of_the_kiln_room_come_from_three_long_tees() -> None:
    """Borders of 21-1/2 in on the three lines along the mains, two each: six tees of 2 ft, as two do not come from one.

    From 48 in come two, 43 in and a cut: three of 4 ft. What is left of a 38 in border, 9-7/8 in, is no use. At 2.10
    and 3.60 that is 10.80 in place of 12.60. Whole tees: 13 of 2 ft and 6 of 4 ft; 12 borders of 38 in, one from each.
    """
    _, own = mixed("kiln-room", wished=False)
    _, made = mixed("kiln-room")
    assert bought(own) == {"cross tee 2 ft": 13 + 6, "cross tee 4 ft": 6 + 12}
    assert bought(made) == {"cross tee 2 ft": 13, "cross tee 4 ft": 6 + 12 + 3}
    chosen = made.ceiling.border_tees
    assert chosen is not None
    assert chosen.priced
    assert (chosen.shared.cost_own, chosen.shared.cost) == (6 * 2100 + 12 * 3600, 15 * 3600)
    assert chosen.shared.proven


@pytest.mark.parametrize(("long_tee", "short", "long"), [(4.19, 13, 21), (4.21, 19, 18)])
def test_the_price_decides(long_tee: float, short: int, long: int) -> None:
    """Three long tees for six short ones at 2.10: up to 4.20 that pays."""
    _, made = mixed("kiln-room", prices={"cross tee 2 ft": 2.10, "cross tee 4 ft": long_tee})
    assert bought(made) == {"cross tee 2 ft": short, "cross tee 4 ft": long}


def test_without_both_prices_the_length_decides() -> None:
    """Three of 4 ft are as long as six of 2 ft: then the fewer tees, whatever the one price is."""
    _, made = mixed("kiln-room", prices={"cross tee 4 ft": 99.0})
    assert made.ceiling.border_tees is not None
    assert not made.ceiling.border_tees.priced
    assert bought(made) == {"cross tee 2 ft": 13, "cross tee 4 ft": 21}


@pytest.mark.parametrize("stem", ROOMS)
def test_the_frame_stays_and_no_more_is_spent(stem: str) -> None:
    _, own = mixed(stem, wished=False)
    _, made = mixed(stem)
    chosen, system = made.ceiling.border_tees, made.ceiling.system
    assert chosen is not None
    assert chosen.shared.proven
    lengths = {tee.item: tee.length for tee in system.cross_tees}
    for before, member in zip(own.ceiling.members, made.ceiling.members, strict=True):
        assert (before.id, before.start, before.end) == (member.id, member.start, member.end)
        assert member.length == pytest.approx(before.length, abs=1e-6)
        if member.kind != "cross tee":
            assert member == before
    for member in tees(made):
        for piece in member.pieces:
            assert piece.length <= lengths[piece.stock] + 0.01
            if "cut" not in piece.ends:  # whole ones stay of their own length
                assert piece.length == pytest.approx(lengths[piece.stock], abs=0.02)
    spent, before_spent = (sum(lengths[item] * n for item, n in bought(each).items()) for each in (made, own))
    assert spent <= before_spent or chosen.priced


@pytest.mark.parametrize("stem", ROOMS)
def test_two_at_most_from_one_tee_and_each_piece_once(stem: str) -> None:
    """NAVEDTRA 14044 p. 5-17: no more than two border tees from one cross tee, whichever length it has."""
    _, made = mixed(stem)
    cut: Counter[tuple[str, str, int]] = Counter()
    for cutting in made.stock.cutting:
        if not cutting.item.startswith("cross tee"):
            continue
        assert cutting.proven
        for bar in cutting.bars:
            assert len(bar.pieces) <= 2
            assert sum(piece.length for piece in bar.pieces) <= cutting.stock_length
            for piece in bar.pieces:
                cut[cutting.item, piece.member, tenths(piece.length)] += bar.count
    lengths = {tee.item: tenths(tee.length) for tee in made.ceiling.system.cross_tees}
    assert cut == Counter(
        (piece.stock, member.id, tenths(piece.length))
        for member in tees(made)
        for piece in member.pieces
        for _ in range(piece.count)
        if tenths(piece.length) < lengths[piece.stock]
    )


def test_every_list_says_the_same() -> None:
    """Members, cutting list, sheet, record and explanations of the foyer: how many come from a longer tee."""
    brief, made = mixed("foyer-diagonal")
    chosen = made.ceiling.border_tees
    assert chosen is not None
    moved = chosen.shared.moved
    assert moved > 0
    short, long = made.ceiling.system.cross_tees
    in_members = sum(
        piece.count
        for member in tees(made)
        for piece in member.pieces
        if piece.stock == long.item and piece.length <= short.length
    )
    (lot,) = (lot for lot in lots(made) if lot.cutting.item == long.item)
    rows = [row.split(",") for row in bars_csv(made.stock.cutting).splitlines() if row.startswith(long.item)]
    in_csv = sum(int(row[3]) * (float(row[6]) <= short.length) for row in rows if row[6])
    record = json.loads(json.dumps(record_of(made)))
    jsonschema.validate(record, plan_schema())
    assert moved == in_members == lot.from_longer == in_csv == record["border_tees"]["from_longer"]
    (told,) = explain(Job(brief, made), long.item)
    assert f"Among the pieces {moved} would come from a shorter tee, were each cut from its own length." in [
        step.text for step in told.steps
    ]


def test_a_room_file_asks_for_it(tmp_path: Path) -> None:
    text = (FIXTURES / "kiln-room.yaml").read_text("utf-8")
    path = tmp_path / "room.yaml"
    path.write_text(text.replace("stock:\n", "stock:\n  border_tees_from_longer: true\n"), "utf-8")
    assert read_room(path).stock.border_tees_from_longer
