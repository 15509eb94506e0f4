"""Strips: border pieces that are as long as a panel. A panel of strips is a bar, and strips are cut as bars are.

In: kinds of pieces in whole tenths, the kerf added, and what sides of the panel each must keep. Out: a plan for the
strips alone, and values of pieces that prove how many panels they need; pieces that are no strips are worth nothing
there. Two strips that cross do not come from one panel, so each direction is cut by itself.
"""

from collections.abc import Iterator, Sequence

from planner.records import dataclass
from planner.stock.barwork.bench import BarBench, quick_certificate
from planner.stock.barwork.ends import EndsNeeded
from planner.stock.barwork.pairing import Fits, Pairs, columns_of, pair_any, pair_two, values_of_any, values_of_two
from planner.stock.covering.cover import Certificate, Column, Task
from planner.stock.covering.solve import solve
from planner.stock.panelwork.guillotine import Size
from planner.stock.panelwork.reveal import Sides

Plan = list[tuple[Column, int]]


@dataclass(frozen=True, slots=True)
class Strip:
    """A kind of strip: its width, and which sides of the row it must stand at."""

    kind: int
    width: int
    need: EndsNeeded


@dataclass(frozen=True, slots=True)
class Strips:
    """How strips alone are cut, and the proof."""

    plan: Plan
    certificate: Certificate


def cut_strips(
    panel: Size,
    sizes: Sequence[Size],
    demand: Sequence[int],
    tees: Sequence[Sides] | None,
    turns: bool,
    budget_s: float,
) -> Strips:
    """Cut the strips among some pieces; `tees` are the sides that show, where they must be the factory's."""
    plan, values, most = Plan(), [0] * len(sizes), 1
    for strips, room in rows_of(panel, sizes, tees, turns):
        part = cut_row(strips, [demand[strip.kind] for strip in strips], room, budget_s)
        kinds = [strip.kind for strip in strips]
        plan += [(with_kinds(column, kinds), times) for column, times in part.plan]
        values = [value * part.certificate.most for value in values]
        for kind, value in zip(kinds, part.certificate.values, strict=True):
            values[kind] = value * most
        most *= part.certificate.most
    return Strips(plan, Certificate(tuple(demand), tuple(values), most))


def rows_of(
    panel: Size, sizes: Sequence[Size], tees: Sequence[Sides] | None, turns: bool
) -> Iterator[tuple[list[Strip], int]]:
    """The strips that stand side by side in one panel, the widest first, and the width of the panel that way."""
    upright = [
        Strip(kind, size.width, _need(None if tees is None else tees[kind], "left", "right", turns))
        for kind, size in enumerate(sizes)
        if size.height == panel.height and (tees is None or {"front", "back"} <= tees[kind])
    ]
    lying = [
        Strip(kind, size.height, _need(None if tees is None else tees[kind], "front", "back", turns))
        for kind, size in enumerate(sizes)
        if size.width == panel.width and (tees is None or {"left", "right"} <= tees[kind])
    ]
    if turns and panel.width == panel.height:
        upright, lying = upright + lying, []
    for strips, room in ((upright, panel.width), (lying, panel.height)):
        if strips:
            yield sorted(strips, key=lambda strip: (-strip.width, strip.kind)), room


def _need(tees: Sides | None, low: str, high: str, turns: bool) -> EndsNeeded:
    if not tees or not tees & {low, high}:
        return "none"
    return "either" if turns else "left" if low in tees else "right"


def cut_row(strips: Sequence[Strip], demand: Sequence[int], room: int, budget_s: float) -> Strips:
    """Cut strips as bars; where all must keep a side, pairing is exact and quick."""
    needs = {strip.need for strip in strips}
    if needs == {"either"}:
        each = _each(strips, demand, "either")
        widths = [strips[at].width for at in each]
        return _paired(demand, each, pair_any(widths, _fits(room)), values_of_any(widths, _fits(room)))
    if needs <= {"left", "right"}:
        left, right = _each(strips, demand, "left"), _each(strips, demand, "right")
        begins, ends = ([strips[at].width for at in side] for side in (left, right))
        pairs, values = pair_two(begins, ends, _fits(room)), values_of_two(begins, ends, _fits(room))
        return _paired(demand, [*left, *right], pairs, values)
    sizes = [strip.width for strip in strips]
    bench = BarBench([room], sizes, [strip.need for strip in strips])
    quick = quick_certificate(sizes, demand, room)
    cover = solve(Task(tuple(demand), (1,), (None,), bench), quick, budget_s)
    return Strips(list(cover.plan), cover.certificate or quick)


def _paired(demand: Sequence[int], each: Sequence[int], pairs: Pairs, proof: tuple[list[int], int]) -> Strips:
    """Turn pairs of single strips, and their values, into a plan and a certificate."""
    values = dict(zip(each, proof[0], strict=True))
    ordered = tuple(values[at] for at in range(len(demand)))
    return Strips(columns_of(each, pairs), Certificate(tuple(demand), ordered, proof[1]))


def _each(strips: Sequence[Strip], demand: Sequence[int], need: EndsNeeded) -> list[int]:
    """The place of every single strip with a need, the widest first."""
    return [at for at, strip in enumerate(strips) if strip.need == need for _ in range(demand[at])]


def _fits(room: int) -> Fits:
    return lambda one, other: one + other <= room


def with_kinds(column: Column, kinds: Sequence[int]) -> Column:
    """A pattern of strips, numbered as all pieces are."""
    return Column(0, tuple(sorted((kinds[at], count) for at, count in column.counts)))
