"""First cuts chosen for a whole ceiling: still frames that can be built, from fewer main tees."""

from collections import Counter
from pathlib import Path

import pytest
from ceiling.framing_rooms import grid, layouts, rectangle, rooms
from ceiling.test_framing_properties import coordinate, off_slot, singles
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.ceiling.framing import frame, framed
from planner.ceiling.mains import MainLines, choose_mains
from planner.ceiling.model import Member
from planner.ceiling.system import load_system
from planner.planning import plan
from planner.room.brief import GridWish, StockWish
from planner.room.reader import read_room
from planner.runs.anew import in_line
from planner.stock.buy import cut_members

SYSTEMS = {name: load_system(name) for name in ("lay-in-metric", "lay-in-imperial", "direct-metric")}
WISH = StockWish(budget_s=2.0)
FIXTURES = Path(__file__).parents[2] / "fixtures"


def runs_of(members: tuple[Member, ...], *kinds: str) -> list[Member]:
    return [member for member in members if member.kind in kinds]


@settings(max_examples=40, deadline=None)
@given(st.data(), rooms(), st.sampled_from(["lay-in-metric", "lay-in-imperial"]))
def test_cross_tees_meet_slots_and_pieces_add_up(data: st.DataObject, room, name: str) -> None:  # type: ignore[no-untyped-def]
    system, layout = SYSTEMS[name], data.draw(layouts(name))
    mains = choose_mains(room, layout, system, GridWish(name))
    plain, chosen = frame(room, layout, system, mains), framed(room, layout, system, mains, wish=WISH)
    pitch = layout.module[0 if mains.direction == "along" else 1]
    for before, member in zip(plain, chosen.members, strict=True):
        assert (before.id, before.start, before.end) == (member.id, member.start, member.end)
        assert member.length == pytest.approx(before.length, abs=1e-6)
        if member.kind != "main tee":
            assert member == before
            continue
        start, end = (coordinate(layout, mains, point) for point in (member.start, member.end))
        spot = start
        for piece in singles(member):
            crossings = [k * pitch for k in range(int(spot // pitch), int((spot + piece.length) // pitch) + 2)]
            inside = [at for at in crossings if max(spot, start + 0.05) < at < min(spot + piece.length, end - 0.05)]
            assert all(off_slot(at, spot, piece, system) <= 0.05 for at in inside)
            spot += piece.length
        ends = [piece.length for piece in (member.pieces[0], member.pieces[-1])] if len(singles(member)) > 1 else []
        assert all(length >= system.main.slot_pitch - 0.02 for length in ends)


@settings(max_examples=40, deadline=None)
@given(
    st.integers(1300, 30_000),
    st.integers(0, 599),
    st.integers(1, 9),
    st.sampled_from(["lay-in-metric", "direct-metric"]),
)
def test_a_bar_gives_one_piece_that_begins_a_run_and_one_that_ends_one(
    width: int, border: int, rows: int, name: str
) -> None:
    system = SYSTEMS[name]
    room, layout = rectangle(width, 1200 * rows + 600), grid((float(border), 300.0), (600.0, 600.0))
    mains = MainLines("along", 2 if system.fixing == "hung" else 1, 0)
    made = framed(room, layout, system, mains, wish=WISH)
    cutting = cut_members(made.members, system, WISH, made.first_cuts)[system.main.item]
    plain = cut_members(frame(room, layout, system, mains), system, WISH)[system.main.item]
    assert cutting.over == "first cuts"
    assert cutting.lower_bound <= cutting.bought <= plain.bought
    pieces = {member.id: singles(member) for member in runs_of(made.members, "main tee", "carrier")}
    wanted: Counter[tuple[str, float]] = Counter()
    for name_of, row in pieces.items():
        wanted.update((name_of, round(piece.length, 1)) for piece in row if piece.length < system.main.length - 0.05)
    got: Counter[tuple[str, float]] = Counter()
    for bar in cutting.bars:
        for piece in bar.pieces:
            got[piece.member, piece.length] += bar.count
        assert len(bar.pieces) <= 2 or all(len(pieces[piece.member]) == 1 for piece in bar.pieces[2:])
    assert got.total() == wanted.total()
    assert Counter(member for member, _ in got.elements()) == Counter(member for member, _ in wanted.elements())


def test_where_the_plain_way_takes_no_more_the_frame_is_the_plain_one() -> None:
    """The Navy room, 13 ft 7 in: 138.5 + 24.5 in twice, from three mains of 144 in, as 326 in need."""
    brief = read_room(FIXTURES / "kiln-room.yaml")
    made = plan(brief).ceiling
    mains = runs_of(made.members, "main tee")
    assert [[round(piece.length / 25.4, 1) for piece in main.pieces] for main in mains] == [
        [138.5, 24.5],
        [24.5, 138.5],
    ]
    (cuts,) = made.first_cuts
    assert (cuts.begun.bought, cuts.begun.lower_bound) == (3, 3)


@pytest.mark.parametrize(
    ("room", "plain", "bought"),
    [("studio-l", 11, 9), ("seismic-lab", 24, 23), ("clinic", 13, 12), ("workshop-t", 12, 11)],
)
def test_rooms_that_take_fewer_mains_than_the_plain_way(room: str, plain: int, bought: int) -> None:
    """The plain way: each run as if it were alone, only staggered."""
    brief = read_room(FIXTURES / f"{room}.yaml")
    made = plan(brief)
    (cutting,) = [cutting for cutting in made.stock.cutting if cutting.item == "main tee"]
    assert (cutting.bought, cutting.lower_bound, cutting.over) == (bought, bought, "first cuts")
    begun = made.ceiling.first_cuts[0].begun
    assert in_line(begun.job, begun.chosen) == 0
    ceiling = made.ceiling
    layout = ceiling.layout
    mains = choose_mains(made.room, layout, ceiling.system, brief.grid)
    taken = [service.cells for service in ceiling.services if len(service.cells) > 1]
    before = cut_members(frame(made.room, layout, ceiling.system, mains, taken), ceiling.system, brief.stock)
    assert before["main tee"].bought == plain


def test_strips_keep_clear_of_the_carriers_joints_where_they_take_fewer() -> None:
    made = plan(read_room(FIXTURES / "workshop-low.yaml"))
    assert [(cuts.item, cuts.begun.bought) for cuts in made.ceiling.first_cuts] == [
        ("carrier", 14),
        ("cover strip", 14),
    ]
    for cuts in made.ceiling.first_cuts:
        assert in_line(cuts.begun.job, cuts.begun.chosen) == 0
