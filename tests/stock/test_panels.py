"""Which cut panels come off one panel: worked by hand, by another solver, and by what must always hold."""

import random
from collections import Counter
from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from planner.ceiling.model import Ceiling, Layout, Panel
from planner.ceiling.system import load_system
from planner.geometry import Frame
from planner.stock import panels
from planner.stock.model import PanelCutting
from planner.stock.panels import PanelRules, PanelWanted, cut_panels, cut_pieces
from planner.stock.panelwork.reveal import Sides
from planner.stock.saw import Saw, tenths

W = 595.0
PLAIN, REVEALED = PanelRules(), PanelRules(revealed=True)
PATTERNED, PATTERNED_REVEALED = PanelRules(turns=False), PanelRules(revealed=True, turns=False)

#: Sides on tees of a border piece by its wall, and of a corner piece by its two walls.
BORDER: dict[str, Sides] = {
    "left": frozenset({"right", "front", "back"}),
    "right": frozenset({"left", "front", "back"}),
    "front": frozenset({"left", "right", "back"}),
    "back": frozenset({"left", "right", "front"}),
}
CORNER: dict[str, Sides] = {
    "left front": frozenset({"right", "back"}),
    "right front": frozenset({"left", "back"}),
    "left back": frozenset({"right", "front"}),
    "right back": frozenset({"left", "front"}),
}


def strips(wall: str, *widths: float) -> list[PanelWanted]:
    """Border pieces along one wall, as wide as given and a whole panel long."""
    upright = wall in ("left", "right")
    sizes = [(width, W) if upright else (W, width) for width in widths]
    return [PanelWanted(f"{wall}{k}", size, BORDER[wall]) for k, size in enumerate(sizes)]


def corner(walls: str, width: float, depth: float) -> PanelWanted:
    return PanelWanted(walls, (width, depth), CORNER[walls])


def cut(wanted: Sequence[PanelWanted], rules: PanelRules, kerf: float = 3) -> PanelCutting:
    return cut_pieces(wanted, (W, W), rules, Saw(kerf))


def turned(tees: Sides, quarters: int) -> Sides:
    """Sides after so many quarter turns counter-clockwise."""
    around = ["front", "right", "back", "left"]
    return frozenset(around[(around.index(edge) + quarters) % 4] for edge in tees)


# By hand


@pytest.mark.parametrize(("width", "plain", "revealed"), [(75, 2, 6), (194, 4, 6), (296, 6, 6), (297, 12, 12)])
def test_twelve_border_strips(width: float, plain: int, revealed: int) -> None:
    """3 mm kerf: seven of 75 make 543, three of 194 make 588, two of 296 just 595, two of 297 too much.

    With revealed edges two at most, from opposite sides of the panel.
    """
    wanted = strips("left", *[width] * 12)
    assert (cut(wanted, PLAIN).bought, cut(wanted, REVEALED).bought) == (plain, revealed)


def test_every_cut_over_half_takes_a_panel_of_its_own() -> None:
    """The half-module rule leaves nothing to pair, and the area alone would say 6: 10 * 340 * 595 / 595^2 = 5.7."""
    cutting = cut(strips("left", *[340] * 10), PLAIN)
    assert (cutting.bought, cutting.lower_bound, cutting.one_each, cutting.by_area) == (10, 10, 10, 6)


def test_four_corner_pieces_come_from_one_panel() -> None:
    wanted = [corner(walls, 290, 250) for walls in CORNER]
    for rules in (PLAIN, REVEALED, PATTERNED, PATTERNED_REVEALED):
        assert cut(wanted, rules).bought == 1


def test_a_corner_piece_of_a_patterned_panel_has_one_corner_to_come_from() -> None:
    """Four pieces for the left front corner of four rooms: all need the panel's right back corner."""
    wanted = [PanelWanted(f"c{k}", (290, 250), CORNER["left front"]) for k in range(4)]
    assert cut(wanted, PATTERNED_REVEALED).bought == 4
    assert cut(wanted, REVEALED).bought == 1
    assert cut(wanted, PATTERNED).bought == 1  # where edges are hidden, only turning counts


def test_a_left_strip_of_a_patterned_panel_goes_with_a_right_one() -> None:
    """Turned by half, two left strips come from one panel; unturned a left and a right one do."""
    assert cut(strips("left", 200, 200), REVEALED).bought == 1
    assert cut(strips("left", 200, 200), PATTERNED_REVEALED).bought == 2
    assert cut([*strips("left", 200), *strips("right", 200)], PATTERNED_REVEALED).bought == 1


def test_a_strip_along_the_other_wall_needs_a_turn() -> None:
    """A left strip of 200 and a front strip of 200: side by side only if one is turned."""
    wanted = [*strips("left", 200), *strips("front", 200)]
    assert (cut(wanted, PLAIN).bought, cut(wanted, PATTERNED).bought) == (1, 2)
    assert (cut(wanted, REVEALED).bought, cut(wanted, PATTERNED_REVEALED).bought) == (1, 2)


def test_oblong_panels_cannot_give_a_long_strip_across() -> None:
    """1195 x 595: strips of 250 along the long side, two from one; those of 595 across, four of 290 from one."""
    long = [PanelWanted(f"f{k}", (1195, 250), BORDER["front"]) for k in range(2)]
    short = [PanelWanted(f"l{k}", (290, 595), BORDER["left"]) for k in range(4)]
    for wanted, plain, revealed in ((long, 1, 1), (short, 1, 2), ([*long, *short], 2, 3)):
        assert cut_pieces(wanted, (1195, 595), PLAIN, Saw(3)).bought == plain
        assert cut_pieces(wanted, (1195, 595), REVEALED, Saw(3)).bought == revealed


def test_a_corridor_of_less_than_a_module_takes_pieces_from_the_middle_too() -> None:
    """Cut on both long sides, a piece shows its two ends only: three of 190 and two kerfs are 576."""
    wanted = [PanelWanted(f"p{k}", (190, W), frozenset({"front", "back"})) for k in range(3)]
    assert cut(wanted, REVEALED).bought == 1


def test_a_panel_with_a_corner_cut_out_takes_a_whole_one() -> None:
    wanted = [PanelWanted("notch", (W, W)), *strips("left", 100)]
    cutting = cut(wanted, PLAIN)
    assert (cutting.bought, cutting.lower_bound) == (2, 2)


def test_panels_of_a_ceiling() -> None:
    """Modules of 600: a strip of 300 to the left of the first line, its twin, a drilled whole one that is not cut.

    Openings 300, so 295 to saw: two of 295 and 3 make 593 of 595.
    """
    system = load_system("lay-in-metric")
    ring = ((300.0, 0.0), (600.0, 0.0), (600.0, 600.0), (300.0, 600.0))
    shifted = tuple((x, y + 600) for x, y in ring)
    made = (
        Panel("a1", (0, 0), ring, (), (300, 600), (295, W), 0.0, full_size=False),
        Panel("a2", (0, 1), shifted, (), (300, 600), (295, W), 0.0, full_size=False),
        Panel("b1", (1, 0), (), (), (600, 600), (W, W), 0.0, full_size=True),
    )
    layout = Layout(Frame(), (600, 600), (), None, (), made, True, "for the test")
    ceiling = Ceiling(system, layout, (), made, 5, (), "along")
    plain = cut_panels(ceiling, PLAIN, Saw(3))
    assert plain is not None
    assert [[piece.panel for piece in panel.pieces] for panel in plain.panels] == [["a1", "a2"]]
    unturned = cut_panels(ceiling, PATTERNED_REVEALED, Saw(3))
    assert unturned is not None
    assert unturned.bought == 2  # both stand left of their line, and need the same edge of the panel


def test_a_ceiling_of_whole_panels_has_none_to_cut() -> None:
    layout = Layout(Frame(), (600, 600), (), None, (), (), True, "for the test")
    assert cut_panels(Ceiling(load_system("lay-in-metric"), layout, (), (), 9, (), "along"), PLAIN, Saw(3)) is None


# Another solver


def least_panels(wanted: Sequence[PanelWanted], rules: PanelRules, kerf: float) -> int:
    """CP-SAT places every piece on one of as many panels as pieces, in any way at all, at any of its turns."""
    model, side, saw = cp_model.CpModel(), tenths(W), tenths(kerf)
    used = [model.new_bool_var("") for _ in wanted]
    boxes: list[list[tuple[cp_model.IntervalVar, cp_model.IntervalVar]]] = [[] for _ in wanted]
    for k, piece in enumerate(wanted):
        ways = []
        width, height, tees = *map(tenths, piece.size), piece.tees
        for _ in range(4 if rules.turns else 1):
            for panel in range(k + 1):
                chosen = model.new_bool_var("")
                x, y = (model.new_int_var(0, side - size, "") for size in (width, height))
                spans = (
                    model.new_optional_fixed_size_interval_var(x, width + saw, chosen, ""),
                    model.new_optional_fixed_size_interval_var(y, height + saw, chosen, ""),
                )
                boxes[panel].append(spans)
                model.add_implication(chosen, used[panel])
                at = {"left": (x, 0), "right": (x, side - width), "front": (y, 0), "back": (y, side - height)}
                for edge in tees if rules.revealed else ():
                    model.add(at[edge][0] == at[edge][1]).only_enforce_if(chosen)
                ways.append(chosen)
            width, height, tees = height, width, turned(tees, 1)
        model.add_exactly_one(ways)
    for spans in boxes:
        model.add_no_overlap_2d([x for x, _ in spans], [y for _, y in spans])
    model.minimize(sum(used))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 8
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


@pytest.mark.parametrize("rules", [PLAIN, REVEALED, PATTERNED, PATTERNED_REVEALED])
@pytest.mark.parametrize("seed", range(4))
def test_borders_of_a_room_by_another_solver(rules: PanelRules, seed: int) -> None:
    """Borders of two to four panels on four sides and four corners, as a small room has them."""
    dice = random.Random(seed)
    left, right, front, back = (dice.randint(70, 420) for _ in range(4))
    wanted = [
        *strips("left", left),
        *strips("right", right),
        *strips("front", front),
        *strips("back", back),
        corner("left front", left, front),
        corner("right back", right, back),
        corner("right front", right, front),
    ]
    cutting = cut(wanted, rules)
    assert cutting.proven
    assert cutting.bought == least_panels(wanted, rules, 3)


# What must always hold

widths = st.integers(40, 594).map(float)
pieces = st.one_of(
    st.tuples(st.sampled_from(sorted(BORDER)), widths).map(lambda drawn: strips(drawn[0], drawn[1])[0]),
    st.tuples(st.sampled_from(sorted(CORNER)), widths, widths).map(lambda drawn: corner(*drawn)),
    st.just(PanelWanted("whole", (W, W))),
)


@pytest.mark.parametrize("rules", [PLAIN, REVEALED, PATTERNED, PATTERNED_REVEALED])
@settings(max_examples=20, deadline=None)
@given(wanted=st.lists(pieces, min_size=1, max_size=9), kerf=st.sampled_from([0.0, 3.0]))
def test_pieces_lie_on_their_panels(rules: PanelRules, wanted: list[PanelWanted], kerf: float) -> None:
    """Each is cut once, inside the panel, a kerf from the next, turned only where it may be; edges that show are whole.

    A piece that lies a quarter turned may lie turned by one or by three.
    """
    named = [PanelWanted(f"{k}", piece.size, piece.tees) for k, piece in enumerate(wanted)]
    assert_lies(named, rules, kerf, cut(named, rules, kerf))


@pytest.mark.parametrize("rules", [PLAIN, REVEALED, PATTERNED, PATTERNED_REVEALED])
@settings(max_examples=20, deadline=None)
@given(wanted=st.lists(pieces, min_size=1, max_size=9), kerf=st.sampled_from([0.0, 3.0]))
def test_so_do_pieces_of_too_many_kinds(rules: PanelRules, wanted: list[PanelWanted], kerf: float) -> None:
    """Cut in rows alone, as where there are hundreds of kinds: no fewer panels than the careful way needs at least."""
    named = [PanelWanted(f"{k}", piece.size, piece.tees) for k, piece in enumerate(wanted)]
    careful = cut(named, rules, kerf)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(panels, "MOST_KINDS", 0)
        quick = cut(named, rules, kerf)
    assert_lies(named, rules, kerf, quick)
    assert careful.lower_bound <= quick.bought
    assert quick.lower_bound <= careful.bought


def assert_lies(named: Sequence[PanelWanted], rules: PanelRules, kerf: float, cutting: PanelCutting) -> None:
    assert Counter(p.panel for panel in cutting.panels for p in panel.pieces) == Counter(p.panel for p in named)
    assert cutting.by_area <= cutting.lower_bound <= cutting.bought <= cutting.one_each == len(named)
    for panel in cutting.panels:
        for k, one in enumerate(panel.pieces):
            asked = named[int(one.panel)]
            (x, y), (w, h) = one.at, one.size
            assert (w, h) == (asked.size[::-1] if one.turned else asked.size)
            assert rules.turns or not one.turned
            assert min(x, y) >= 0
            assert max(x + w, y + h) <= W + 1e-6
            if rules.revealed:
                gaps = {"left": x, "right": W - x - w, "front": y, "back": W - y - h}
                whole = {edge for edge, gap in gaps.items() if abs(gap) < 1e-6}
                quarters = (1, 3) if one.turned else (0, 2) if rules.turns else (0,)
                assert any(turned(asked.tees, quarter) <= whole for quarter in quarters)
            for other in panel.pieces[k + 1 :]:
                (u, v), (b, d) = other.at, other.size
                apart = max(u - x - w, x - u - b, v - y - h, y - v - d)
                assert apart >= kerf - 1e-6


def test_values_prove_the_count_of_panels() -> None:
    """The certificate re-checked for strips alone: a panel of strips is a bar, and one knapsack tells what it holds."""
    cutting = cut([*strips("left", *[180] * 7), *strips("left", *[230] * 5)], PLAIN)
    assert cutting.proven
    certificate = cutting.certificate
    assert certificate is not None
    best = [0] * 5981
    for piece in certificate.pieces:
        size = min(piece.size) + 30
        for _ in range(piece.count):
            for filled in range(5980, size - 1, -1):
                best[filled] = max(best[filled], best[filled - size] + piece.value)
    assert best[5980] <= certificate.most
    assert -(-sum(p.count * p.value for p in certificate.pieces) // certificate.most) == cutting.bought


def test_thin_strips_of_many_widths_are_cut_without_listing_every_pattern() -> None:
    """Sixty strips of 60 to 100: by area at least 8.3, and no fewer than nine panels in all."""
    dice = random.Random(2)
    wanted = strips("left", *[dice.randint(60, 100) for _ in range(60)])
    cutting = cut(wanted, PLAIN)
    assert cutting.bought - cutting.lower_bound <= 1
    assert cutting.lower_bound >= cutting.by_area


def test_a_great_floor_gets_an_answer() -> None:
    """Four thousand border pieces and four corners, as a hall has them: left and right 75, front and back 90.

    Seven of 75 and six kerfs are 543; six of 90 and five kerfs 555. Areas with their kerfs:
    2000 * 78 + 2000 * 93 over 598 is 571.9, so no way of cutting needs under 572.
    """
    wanted = [*strips("left", *[75] * 2000), *strips("front", *[90] * 2000)]
    cutting = cut(wanted, PLAIN)
    assert 572 <= cutting.bought <= 2000 / 7 + 2000 / 6 + 2
    assert cutting.proven


@pytest.mark.parametrize("rules", [PLAIN, REVEALED])
def test_thousands_of_kinds_get_an_answer_and_its_gap(rules: PanelRules) -> None:
    """Along a slanted wall no two panels are alike: 3,000 strips and 3,000 corner pieces, each of its own size."""
    dice = random.Random(5)
    wanted = [*strips("left", *[dice.randint(500, 5900) / 10 for _ in range(3000)])]
    wanted += [corner("left front", dice.randint(500, 5900) / 10, dice.randint(500, 5900) / 10) for _ in range(3000)]
    named = [PanelWanted(f"{k}", piece.size, piece.tees) for k, piece in enumerate(wanted)]
    cutting = cut(named, rules)
    assert Counter(p.panel for panel in cutting.panels for p in panel.pieces) == Counter(p.panel for p in named)
    assert cutting.by_area <= cutting.lower_bound <= cutting.bought < 6000
    assert cutting.gap == cutting.bought - cutting.lower_bound
