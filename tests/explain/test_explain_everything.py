"""Whatever can be asked of any demo room has an answer, and what an answer adds up is what the plan says."""

import ast
import json
import math
from pathlib import Path

import numpy as np
import pytest
import shapely
from explain.explained import FIXTURES, ROOMS, ask, job, values
from hypothesis import given
from hypothesis import strategies as st

import planner
from planner.ceiling.grid.borders import narrowing, without_slivers
from planner.errors import PlannerError
from planner.explain import explain, topics
from planner.explain.rules import RULES
from planner.explain.telling import explanation_record, explanation_text, topics_record, topics_text
from planner.explain.wishes import wishes_told
from planner.explain.words import shortened

SAW_MARK = {True: 25.4 / 16, False: 1.0}


@pytest.mark.parametrize("room", ROOMS)
def test_everything_that_can_be_asked_is_answered(room: str) -> None:
    """Every name in the list of contents: an answer, text that can be printed, and JSON."""
    made = job(room)
    assert topics_text(made.room.name, topics(made))
    json.dumps(topics_record(made.room.name, topics(made)))
    for topic in topics(made):
        for name in topic.names:
            answers = explain(made, name)
            assert name in [answer.subject for answer in answers]
            assert explanation_text(answers)
            record = json.loads(json.dumps(explanation_record(made.room.name, name, answers), allow_nan=False))
            assert record["explanations"][0]["answer"]


@pytest.mark.parametrize("room", ROOMS)
def test_everything_in_the_plan_can_be_asked(room: str) -> None:
    made = job(room)
    named = {name for topic in topics(made) for name in topic.names}
    ceiling, plan = made.plan.ceiling, made.plan
    assert named >= {wall.name for wall in made.room.walls}
    assert named >= {panel.id for panel in ceiling.panels} | {member.id for member in ceiling.members}
    assert named >= {hanger.id for hanger in ceiling.hangers} | {service.name for service in ceiling.services}
    assert named >= {line.item for line in plan.stock.takeoff} | {finding.rule for finding in plan.findings}


@pytest.mark.parametrize("room", ROOMS)
def test_borders_are_those_of_the_plan(room: str) -> None:
    made = job(room)
    for border in made.layout.borders:
        answer = ask(room, border.wall)
        assert values(answer, f"{border.wall}:") == [border.least]
    overview = ask(room, "borders")
    panels = made.layout.full_panels + len(made.layout.cut_panels)
    assert overview.steps[-1].value == panels


@pytest.mark.parametrize("room", ROOMS)
def test_the_lines_stand_where_the_wishes_lead(room: str) -> None:
    """The place that is explained is the one that the wishes leave, where nothing is fixed."""
    made = job(room)
    for number, (axis, place, fixed) in enumerate(zip(made.search.axes, made.places, made.search.fixed, strict=True)):
        if fixed is not None:
            assert place == fixed % axis.module
        elif made.wish.prefer == "widest_borders":
            kept, _ = narrowing(axis, without_slivers(axis, np.arange(axis.module, dtype=np.int64)))
            assert place in kept[-1].tolist()
            assert sum("and so decides" in step.text for step in wishes_told(made, number)) == 1


@pytest.mark.parametrize("room", ROOMS)
def test_each_item_adds_up_to_its_order(room: str) -> None:
    """Net, spare and what is left with the owner, less what is on hand."""
    made = job(room)
    for line in made.plan.stock.takeoff:
        answer = ask(room, line.item)
        assert values(answer, "To order") == [line.order]
        spare, owner, hand = (sum(values(answer, what)) for what in ("Spare", "To be left", "On hand"))
        assert max(line.net + spare + owner - hand, 0) == line.order
        assert values(answer, "Cost") == ([] if line.cost is None or not line.order else [line.cost])


@pytest.mark.parametrize("room", ROOMS)
def test_lengths_add_up_from_pieces(room: str) -> None:
    """Whole lengths and those that are cut make what is bought; their patterns are no more and no fewer."""
    made = job(room)
    for cutting in made.plan.stock.cutting:
        answer = ask(room, cutting.item)
        whole = sum(value for step in answer.steps if "are whole lengths" in step.text for value in [step.value or 0])
        cut = sum(value for step in answer.steps if "are cut; they come" in step.text for value in [step.value or 0])
        assert whole + cut == cutting.bought == values(answer, "Lengths needed")[0]
        patterns = [step.value or 0 for step in answer.steps if step.text.startswith("  ")]
        assert sum(patterns) == cut


@pytest.mark.parametrize("room", ROOMS)
def test_pieces_counted_are_the_pieces_of_the_members(room: str) -> None:
    made = job(room)
    for cutting in made.plan.stock.cutting:
        pieces = sum(p.count for m in made.plan.ceiling.members for p in m.pieces if p.stock == cutting.item)
        assert values(ask(room, cutting.item), "Pieces of") == [pieces]


@pytest.mark.parametrize("room", ROOMS)
def test_panels_add_up(room: str) -> None:
    """Whole modules less what services fill, and the panels that the cut ones come from."""
    made = job(room)
    answer = ask(room, "panel")
    (net,) = (line.net for line in made.plan.stock.takeoff if line.item == "panel")
    modules = next(step.value for step in answer.steps if step.text.endswith("whole modules.")) or 0
    taken = sum(values(answer, "Less"))
    (whole,) = values(answer, "Whole panels")
    bought = made.plan.stock.panels.bought if made.plan.stock.panels else 0
    assert modules - taken == whole
    assert whole + bought == net == values(answer, "Panels needed")[0]


@pytest.mark.parametrize("room", ROOMS)
def test_fixings_add_up_wall_by_wall(room: str) -> None:
    made = job(room)
    if "wall angle fixing" in [line.item for line in made.plan.stock.takeoff]:
        answer = ask(room, "wall angle fixing")
        assert sum(values(answer, "W")) == values(answer, "Fixings needed")[0]


@pytest.mark.parametrize("room", ROOMS)
def test_members_add_up_from_their_pieces(room: str) -> None:
    made = job(room)
    for member in made.plan.ceiling.members:
        answer = ask(room, member.id)
        rows = [
            step.value or 0.0
            for step in answer.steps
            if " x " in step.text and f" of {member.pieces[0].stock.split()[0]}" in step.text and step.text[0].isdigit()
        ]
        assert math.isclose(sum(rows), member.length, abs_tol=1e-6)


@pytest.mark.parametrize("room", ROOMS)
def test_cut_pieces_come_from_named_bars(room: str) -> None:
    """What the bars hold for a member is what the member has that is not whole."""
    made = job(room)
    for member in made.plan.ceiling.members:
        from_bars = sum(
            bar.count * piece.length
            for cutting in made.plan.stock.cutting
            for bar in cutting.bars
            for piece in bar.pieces
            if piece.member == member.id
        )
        answer = ask(room, member.id)
        told = sum(step.value or 0.0 for step in answer.steps if "off-cut" in step.text)
        assert math.isclose(told, from_bars, abs_tol=1e-6)


@pytest.mark.parametrize("room", ROOMS)
def test_panels_are_their_opening_less_the_undersize(room: str) -> None:
    """Sawn to the mark below: less than one mark is lost. Half the undersize comes off every side, slanted ones too."""
    made = job(room)
    mark, under, frame = SAW_MARK[made.room.imperial], made.system.panel_undersize, made.layout.frame
    for panel in made.plan.ceiling.panels:
        sawn = [step.value for step in ask(room, panel.id).steps if step.rule.startswith("opening less")]
        assert sawn == list(panel.cut_to)
        opening = shapely.Polygon([frame.inward(point) for point in panel.outline])
        left, low, right, high = opening.buffer(-under / 2, join_style="mitre", mitre_limit=10).bounds
        for extent, cut_to in zip((right - left, high - low), panel.cut_to, strict=True):
            assert -0.01 <= extent - cut_to < mark
        if panel.shape == "plain":
            assert panel.opening == pytest.approx((right - left + under, high - low + under), abs=0.1)


@pytest.mark.parametrize("room", ROOMS)
def test_hangers_bear_what_the_loads_say(room: str) -> None:
    made = job(room)
    loads = made.plan.ceiling.loads
    borne = {
        hanger.id: step.value
        for hanger in made.plan.ceiling.hangers
        for step in ask(room, hanger.id).steps
        if step.unit == "N" and step.value is not None
    }
    if loads is None:
        assert not borne
    elif borne:
        assert math.isclose(max(borne.values()), loads.reaction, abs_tol=1e-9)
        assert borne[loads.heaviest] == max(borne.values())


@pytest.mark.parametrize("room", ROOMS)
def test_loads_add_up(room: str) -> None:
    loads = job(room).plan.ceiling.loads
    if loads is not None and loads.carried:
        answer = ask(room, "loads")
        panels, services, together = (
            values(answer, what)[0] for what in ("Panels and grid", "Services add", "Together")
        )
        assert math.isclose(panels + services, together)
        assert together == loads.carried


@pytest.mark.parametrize("room", ROOMS)
def test_wires_are_as_long_as_cut(room: str) -> None:
    made = job(room)
    for hanger in made.plan.ceiling.hangers:
        assert values(ask(room, hanger.id), "Wire:") == ([] if hanger.length is None else [hanger.length])


@pytest.mark.parametrize("room", ROOMS)
def test_costs_add_up(room: str) -> None:
    bill = job(room).plan.stock.bill
    answer = ask(room, "cost")
    items = [line.cost for line in job(room).plan.stock.takeoff if line.cost is not None and line.order]
    if bill.material is not None:
        assert math.isclose(sum(items), bill.material, abs_tol=0.005)
        assert values(answer, "Together the material") == [bill.material]
    assert values(answer, "In all") == ([] if bill.total is None else [bill.total])


@pytest.mark.parametrize("room", ROOMS)
def test_services_tell_how_far_they_moved(room: str) -> None:
    for service in job(room).plan.ceiling.services:
        for step in ask(room, service.name).steps:
            if step.text.startswith("Placed at"):
                assert step.value == service.moved


def test_every_rule_that_a_finding_may_name_is_explained() -> None:
    """The names are read from the code itself: the second argument of every finding that is spelt out there."""
    named: set[str] = set()
    for path in Path(planner.__file__).parent.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if (
                isinstance(node, ast.Call)
                and getattr(node.func, "id", "") in ("Finding", "_finding")
                and len(node.args) > 1
            ):
                named |= {
                    part.value
                    for part in ast.walk(node.args[1])
                    if isinstance(part, ast.Constant) and isinstance(part.value, str)
                }
    assert named
    assert named <= set(RULES)
    assert {finding.rule for room in ROOMS for finding in job(room).plan.findings} <= set(RULES)


def test_a_rule_that_has_nothing_to_say_is_explained_too() -> None:
    answer = ask("kiln-room", "sliver at a wall")
    assert "under a quarter of a module" in answer.answer
    assert "nothing to say about this plan" in answer.answer


def test_names_are_forgiving() -> None:
    """B-A is the wall A-B; case and spaces do not matter; other words lead to the overviews."""
    assert ask("kiln-room", "B-A").subject == "A-B"
    assert ask("kiln-room", "m1").subject == "M1"
    assert ask("kiln-room", "  cross  tee 2 ft ").subject == "cross tee 2 ft"
    assert ask("kiln-room", "grid").subject == "borders"


def test_an_unknown_name_is_refused_with_the_nearest() -> None:
    with pytest.raises(PlannerError) as refused:
        ask("kiln-room", "cross tee 3 ft")
    assert "cross tee 2 ft" in refused.value.mend


@given(st.text(max_size=30))
def test_any_text_is_answered_or_refused(name: str) -> None:
    try:
        assert explain(job("kiln-room"), name)
    except PlannerError as refused:
        assert refused.mend


def test_ids_that_count_up_are_told_as_one() -> None:
    assert (
        shortened(("a1", "a2", "a3", "b1", "b2", "HW9", "HW10", "HW11", "A-B")) == "a1 to a3, b1, b2, HW9 to HW11, A-B"
    )


def test_the_reference_room_is_among_them() -> None:
    assert (FIXTURES / "reference.yaml").is_file()
