"""One piece of bar has one length: every place that prints it prints the same, in every demo room, in both systems."""

import csv
import io
import math
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from html import unescape
from pathlib import Path

import pytest

from planner.ceiling.model import Piece
from planner.ceiling.order import order_of_work
from planner.drawing.cutting_bars import bar_stacks
from planner.drawing.cutting_patterns import lots
from planner.drawing.framing_words import runs
from planner.drawing.labels import Heights
from planner.drawing.plan_lines import plan_lines
from planner.drawing.roles import Role
from planner.drawing.shapes import Arc, Line, Outline, Text
from planner.drawing.stylebook import load_style
from planner.explain import Job, explain
from planner.files import cutting_csv
from planner.lengths import Rounding, format_length, piece_length
from planner.page.lists import stock_lists
from planner.page.parts import parts_of
from planner.planning import plan
from planner.record import record_of
from planner.room.reader import read_room

FIXTURES = Path(__file__).parents[2] / "fixtures"
HEIGHTS = Heights.of(load_style("iso-13567"))
#: So many members of a room are explained: a hall has thousands.
MOST = 60
ROOMS = sorted(path.stem for path in FIXTURES.glob("*.yaml"))


@pytest.fixture(scope="module", params=[(room, other) for room in ROOMS for other in (False, True)], ids=str)
def job(request: pytest.FixtureRequest) -> Job:
    """A demo room in its own units, and in those of the other system."""
    name, other = request.param
    brief = read_room(FIXTURES / f"{name}.yaml")
    if other:
        brief = replace(brief, room=replace(brief.room, units="mm" if brief.room.imperial else "ft-in"))
    return Job(brief, plan(brief))


def on_the_tape(job: Job, mm: float, *, whole: bool) -> str:
    """A piece of a length, as the tape of the job has it: down to a mark where it is sawn."""
    length, rounding = piece_length(mm, whole=whole)
    return in_units(job, length, rounding)


def in_units(job: Job, length: float, rounding: Rounding) -> str:
    units = job.room.units if job.room.imperial else "mm"
    return plain(format_length(length, units, rounding, bare=True))


def plain(text: str) -> str:
    """A length without its unit, and without feet where there are none; metres as millimetres."""
    text = text.strip().removeprefix("0'-")
    if found := re.fullmatch(r"([\d.]+) (m|cm|mm)", text):
        return str(round(float(found[1]) * {"m": 1000, "cm": 10, "mm": 1}[found[2]]))
    return text


def pieces(job: Job) -> Iterator[tuple[str, Piece, str]]:
    """Every piece of the frame: its member, itself, how it reads."""
    for member in job.plan.ceiling.members:
        for piece in member.pieces:
            yield member.id, piece, on_the_tape(job, piece.length, whole=piece.whole)


def sawn(job: Job) -> Counter[tuple[str, str]]:
    """How many pieces of each stock item are sawn to each length; one with a cut end may be as long as its bar."""
    items = {cutting.item: cutting for cutting in job.plan.stock.cutting}
    found: Counter[tuple[str, str]] = Counter()
    for _, piece, read in pieces(job):
        at_the_saw = math.floor(piece.length * 10 + 1e-3) / 10
        if not piece.whole and not items[piece.stock].is_whole(at_the_saw):
            found[piece.stock, read] += piece.count
    return found


def test_the_record_has_it(job: Job) -> None:
    read = [
        (member["id"], on_the_tape(job, piece["length_mm"], whole=piece["ends"] == ["factory", "factory"]))
        for member in record_of(job.plan)["members"]
        for piece in member["pieces"]
    ]
    assert read == [(member, length) for member, piece, length in pieces(job) for _ in range(piece.count)]


def test_lists_of_cutting_have_it(job: Job) -> None:
    """As many pieces of each length in plan.json and in cutting.csv as the frame is made of."""
    items = {cutting.item: cutting for cutting in job.plan.stock.cutting}
    cut: Counter[tuple[str, str]] = Counter()
    for each in record_of(job.plan)["cutting"]:
        for bar in each["bars"]:
            for piece in bar["pieces"]:
                if not items[each["stock"]].is_whole(piece["length_mm"]):
                    cut[each["stock"], on_the_tape(job, piece["length_mm"], whole=False)] += bar["count"]
    rows: Counter[tuple[str, str]] = Counter()
    for row in csv.DictReader(io.StringIO(cutting_csv(job.plan))):
        if not items[row["stock"]].is_whole(float(row["length_mm"])):
            rows[row["stock"], on_the_tape(job, float(row["length_mm"]), whole=False)] += int(row["bars_alike"])
    assert cut == rows
    assert sawn(job) == cut


def test_the_plan_and_the_framing_sheet_have_it(job: Job) -> None:
    """What a tee says of itself on the plan, and the pieces of each run in the table."""
    titles = [shape.title for shape in plan_lines(job.room, job.plan.ceiling) if isinstance(shape, Line | Arc)]
    told = {found[1]: found[2] for title in titles if (found := re.search(r"(\S+), (.*)", title))}
    tees = [member for member in job.plan.ceiling.members if member.kind in ("main tee", "carrier", "cross tee")]
    assert {member.id for member in tees} <= told.keys()
    for member in job.plan.ceiling.members:
        if member.id in told:
            assert plain(told[member.id]) == on_the_tape(job, member.length, whole=member.whole)
    read: dict[str, list[str]] = {}
    for name, piece, length in pieces(job):
        read.setdefault(name, []).append(f"{piece.count} × {length}" if piece.count > 1 else length)
    stack = runs(job.plan, 4000.0, None, HEIGHTS)
    for row in stack.rows if stack else ():
        texts = [shape.text for shape in row.shapes if isinstance(shape, Text)]
        if len(texts) < 2:  # a sentence below the table
            continue
        parts = [re.sub(r"(^|× )0'-", r"\1", part) for part in texts[1].split(" + ")]
        first = texts[0].split(" ")[0]
        assert sorted(parts) == sorted(read[first])


def test_the_cutting_sheet_has_it(job: Job) -> None:
    """Every piece drawn on a bar bears one of the lengths that the frame has of that item, or the bar's own."""
    found = lots(job.plan)
    for lot, stack in zip(found, bar_stacks(found, job.room.units, job.room.imperial, 380.0, HEIGHTS), strict=True):
        known = {length for item, length in sawn(job) if item == lot.cutting.item}
        known.add(in_units(job, lot.cutting.stock_length, Rounding.NEAREST))
        drawn = [shape for row in stack.rows for shape in row.shapes if isinstance(shape, Outline)]
        told = {plain(shape.title.split("  ")[-1]) for shape in drawn if shape.role == Role.CUT_PIECE}
        assert told <= known


def test_the_page_has_it(job: Job) -> None:
    """What is told of a member that was tapped, and the list of what to saw."""
    facts = {part.name: part.facts for part in parts_of(job.plan) if part.group == "member"}
    read: dict[str, set[str]] = {}
    for name, _, length in pieces(job):
        read.setdefault(name, set()).add(length)
    for member in job.plan.ceiling.members:
        told = {plain(said.split(" of ")[0]) for term, said in facts[member.id] if term.startswith("Piece")}
        assert told == read[member.id]
        assert plain(dict(facts[member.id])["Length"]) == on_the_tape(job, member.length, whole=member.whole)
    page = unescape(re.sub(r"<[^>]*>", "|", str(stock_lists(job.plan))))
    listed = re.findall(r"(?:^|[|+]) ?([^|+()]+) \(([^|()]+)\)", page)
    assert all(plain(length) in read[name] for length, name in listed if name in read)
    assert {name for _, name in listed} & read.keys() or not any(
        piece.member for cutting in job.plan.stock.cutting for bar in cutting.bars for piece in bar.pieces
    )


def test_explanations_and_the_order_of_work_have_it(job: Job) -> None:
    read: dict[str, set[str]] = {}
    for name, _, length in pieces(job):
        read.setdefault(name, set()).add(length)
    for member in job.plan.ceiling.members[:MOST]:
        (answer,) = [each for each in explain(job, member.id) if each.kind == member.kind]
        assert plain(answer.answer.split(" long")[0]) == on_the_tape(job, member.length, whole=member.whole)
        steps = [re.match(r"\d+ x (.*?) of ", step.text.strip()) for step in answer.steps]
        assert {plain(found[1]) for found in steps if found} == read[member.id]
    for step in order_of_work(job.room, job.plan.ceiling):
        for cuts in re.findall(r"Pieces from the left, or from the front: (.*)\.$", step):
            for row in cuts.split("; "):
                names, said = row.split(": ") if ": " in row else ("", row)
                alike = [re.sub(r"^\d+ (?=\d+'|\d+(?:\.\d+)? m)", "", part) for part in said.split(" + ")]
                sawn_off = {plain(part) for part in alike if "whole" not in part}
                assert all(sawn_off <= read[name] for name in re.findall(r"\w+", names) if name in read)
