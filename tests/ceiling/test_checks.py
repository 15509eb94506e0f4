"""Given this room and this grid, the rules say that."""

import dataclasses

import pytest
from ceiling.hand_layouts import IMPERIAL, INCH, METRIC, TWO_BY_TWO, lay_by_hand, rectangle, room_of

from planner.ceiling.checks import RULES, Built, cautions, check
from planner.ceiling.layout import lay_out
from planner.ceiling.model import Service
from planner.geometry import Frame
from planner.room.brief import GridWish
from planner.room.outline import Column

WISH = GridWish("lay-in-metric")


def built(room, origin=(0, 0), *, wish=WISH, proven=True, angle=0.0, services=(), module=(600, 600), system=METRIC):
    layout = dataclasses.replace(lay_by_hand(room, module, origin, angle), proven=proven)
    return Built(room, wish, system, layout, services)


def found(*args, **more):
    return {finding.rule: finding for finding in check(built(*args, **more))}


class TestBorders:
    #: 3000 x 2400 in modules of 600.
    ROOM = rectangle(3000, 2400)

    def test_a_grid_that_fits_has_nothing_to_say(self):
        assert check(built(self.ROOM)) == ()

    def test_half_a_module_is_enough(self):
        assert check(built(self.ROOM, (300, 300))) == ()

    def test_less_than_half_names_walls_and_widths(self):
        """Lines at 200, 800, ...: 200 at D-A, and 3000 - 200 = 4 x 600 + 400 at B-C."""
        finding = found(self.ROOM, (200, 300))["border under half a module"]
        assert finding.message == "Border under half a module: D-A 200 mm."
        assert finding.where == (0, 1200)
        assert "NAVEDTRA 14044" in finding.source

    def test_where_nothing_better_exists_it_is_only_a_note(self):
        finding = found(self.ROOM, (200, 300), proven=True)["border under half a module"]
        assert finding.severity == "note" and "no other place" in finding.remedy

    def test_where_that_is_not_proven_it_is_a_warning(self):
        assert found(self.ROOM, (200, 300), proven=False)["border under half a module"].severity == "warn"

    @pytest.mark.parametrize(
        "wish",
        [
            GridWish("lay-in-metric", borders=(("left", 200.0),)),
            GridWish("lay-in-metric", centre_on=(500, 600)),
            GridWish("lay-in-metric", prefer="fewest_panels"),
        ],
    )
    def test_what_the_room_file_asked_for_is_a_warning(self, wish):
        assert found(self.ROOM, (200, 300), wish=wish)["border under half a module"].severity == "warn"

    def test_under_a_quarter_is_a_sliver(self):
        """150 is a quarter of 600, and a tape cannot tell 144 from it: 143 is under it."""
        assert "sliver at a wall" not in found(self.ROOM, (144, 300))
        finding = found(self.ROOM, (143, 300))["sliver at a wall"]
        assert finding.severity == "warn"
        assert finding.message == "Sliver under a quarter of a module: D-A 143 mm."

    def test_a_wall_that_grid_lines_cross_wherever_they_fall_has_no_sliver(self):
        """12 m at 4 degrees lean by 839, more than half a module: its panels run out to nothing in any case.

        At 1 degree they lean by 209, and what is told is the narrow end: lines at 250 and every 600 leave
        2400 - 209 = 2191 less 250 + 3 x 600 = 2050, 141.
        """
        for lean, told in ((839.0, False), (209.0, True)):
            room = room_of((0, 0), (12000, 0), (12000, 2400 - lean), (0, 2400))
            assert ("sliver at a wall" in found(room, (0, 250))) == told

    def test_the_navy_room_has_borders_to_be_content_with(self):
        """NAVEDTRA 14044 p. 5-16, 13 ft 7 in x 10 ft 4 in: borders 21.5 and 14 in, by the half rule of p. 7-23."""
        room = rectangle(163 * INCH, 124 * INCH, units="ft-in")
        origin = (21.5 * INCH, 14 * INCH)
        assert check(built(room, origin, module=TWO_BY_TWO, system=IMPERIAL)) == ()

    def test_the_module_across_the_wall_counts(self):
        """Modules 600 along, 1200 away: 500 at the front is under half of 1200, 500 at the left is not of 600."""
        room = rectangle(2200, 2200)
        findings = found(room, (500, 500), module=(600, 1200))
        assert findings["border under half a module"].message == ("Border under half a module: A-B 500 mm, C-D 500 mm.")

    def test_slanted_walls_are_left_to_the_layout(self):
        """B-C leans by atan(600 / 2400) = 14 degrees: the panels along it are told only where nothing much is left.

        The laid grid's last column begins at 3500; on B-C y is 400 there: a triangle of 100 x 400 less a row of 300, so
        25 x 100, and 20 x 95 by hand.
        """
        room = room_of((0, 0), (3600, 0), (3000, 2400), (0, 2400))
        messages = [finding.message for finding in check(built(room, (200, 300)))]
        assert messages == [
            "Border under half a module: D-A 200 mm.",
            "Under 50 mm wide, hard to cut and to lay: h1 20 x 95 mm.",
        ]

    def test_on_a_turned_grid_walls_along_it_are_judged(self):
        """A room turned by 30 degrees with its grid: as straight as any."""
        turn = Frame((0, 0), 30)
        corners = [turn.outward(p) for p in ((0, 0), (3000, 0), (3000, 2400), (0, 2400))]
        findings = found(room_of(*corners), turn.outward((200, 300)), angle=30)
        assert findings["border under half a module"].message == "Border under half a module: D-A 200 mm."


class TestNarrow:
    #: 3000 x 2400 and behind it, from 1200 to 1700, a niche of 500 x 800.
    WITH_NICHE = room_of(
        *((0, 0), (3000, 0), (3000, 2400), (1700, 2400), (1700, 3200), (1200, 3200), (1200, 2400), (0, 2400))
    )

    def test_a_niche_narrower_than_a_module_is_named(self):
        findings = found(self.WITH_NICHE)
        finding = findings["narrower than a module"]
        assert finding.severity == "note"
        assert finding.message == (
            "Between D-E and F-G the room is 500 mm wide, less than a module of 600 mm: one cut panel across."
        )
        assert finding.where == pytest.approx((1450, 2800))

    def test_a_niche_of_a_module_is_not(self):
        room = room_of(
            *((0, 0), (3000, 0), (3000, 2400), (1800, 2400), (1800, 3200), (1200, 3200), (1200, 2400), (0, 2400))
        )
        assert "narrower than a module" not in found(room)

    def test_a_narrow_room_is_named_once_and_its_one_cut_is_no_sliver(self):
        """A passage of 100 x 3000: 100 is all there is, no grid can make it wider."""
        room = rectangle(3000, 100)
        layout = lay_out(room, WISH, METRIC)
        assert layout.borders[0].least == pytest.approx(100)
        findings = check(Built(room, WISH, METRIC, layout, ()))
        assert [finding.rule for finding in findings] == ["narrower than a module"]
        assert findings[0].message.startswith("Between A-B and C-D the room is 100 mm wide")

    def test_a_pier_between_two_rooms_is_no_niche(self):
        """The 300 between D-E and F-G are solid: the room lies on the other side of both.

        Lines at 100, 700, ... 1900, 2500, ... 3700: from 2300 to 2500 at D-E, 1900 to 2000 at F-G, 100 at H-A.
        """
        room = room_of(
            *((0, 0), (4000, 0), (4000, 2400), (2300, 2400), (2300, 1200), (2000, 1200), (2000, 2400), (0, 2400))
        )
        findings = found(room, (100, 0))
        assert "narrower than a module" not in findings
        text = "Border under half a module: D-E 200 mm, F-G 100 mm, H-A 100 mm."
        assert findings["border under half a module"].message == text

    def test_a_shallow_recess_is_not_worth_a_word(self):
        """100 deep, under a quarter of 600."""
        room = room_of(
            *((0, 0), (3000, 0), (3000, 2400), (1700, 2400), (1700, 2500), (1200, 2500), (1200, 2400), (0, 2400))
        )
        assert "narrower than a module" not in found(room)


class TestHeights:
    def room(self, underside, ceiling):
        given = [None if height is None else height * INCH for height in (underside, ceiling)]
        return rectangle(163 * INCH, 124 * INCH, units="in", underside=given[0], ceiling_height=given[1])

    def severity(self, underside, ceiling, rule, services=()):
        findings = found(
            self.room(underside, ceiling),
            (21.5 * INCH, 14 * INCH),
            module=TWO_BY_TWO,
            system=IMPERIAL,
            services=services,
        )
        return findings[rule].severity if rule in findings else None

    @pytest.mark.parametrize(
        ("clearance", "severity"), [(2.9, "warn"), (3, "note"), (3.9, "note"), (4, None), (0, "stop"), (-1, "stop")]
    )
    def test_clearance_above_the_grid(self, clearance, severity):
        """Warn below 3 in, note below 4 in; sources from 2 in (NAVEDTRA 14044 p. 5-17) to 6 in."""
        assert self.severity(100 + clearance, 100, "clearance above the grid") == severity

    @pytest.mark.parametrize(("clearance", "severity"), [(2.9, "warn"), (5.9, "note"), (6, None)])
    def test_lay_in_lights_need_more(self, clearance, severity):
        light = Service("L1", "troffer", (0, 0), (610, 1219), False, ((1, 1), (1, 2)), (), 0.0)
        assert self.severity(100 + clearance, 100, "clearance above the grid", (light,)) == severity

    @pytest.mark.parametrize(("height", "severity"), [(84, None), (83.9, "note"), (80, "note"), (76, "note")])
    def test_finished_height(self, height, severity):
        """IRC R305.1: 7 ft in habitable rooms; whether this is one the planner does not know, hence a note."""
        assert self.severity(120, height, "finished height") == severity

    def test_a_bath_may_be_lower(self):
        (finding,) = check(built(self.room(120, 80), (0, 0), module=TWO_BY_TWO, system=IMPERIAL))[-1:]
        assert finding.message.endswith("and this is enough only for a bath or laundry.")
        (finding,) = check(built(self.room(120, 79), (0, 0), module=TWO_BY_TWO, system=IMPERIAL))[-1:]
        assert finding.message.endswith('and this is less than 80" too.')

    def test_heights_that_are_not_given_say_nothing(self):
        for underside, ceiling in ((None, 100), (101, None), (None, None)):
            assert self.severity(underside, ceiling, "clearance above the grid") is None


SOURCES = ("NAVEDTRA", "Code", "ource", "CLEARANCE", "CFR", "NFPA", "ASTM", "NEC")


def test_every_rule_names_its_source():
    """In its docstring, where the reader looks, and in what it says."""
    for rule in RULES:
        assert rule.__doc__ and any(word in rule.__doc__ for word in SOURCES), rule
    everything = check(
        built(
            room_of(*TestNarrow.WITH_NICHE.outline, underside=2000.0, ceiling_height=1990.0), (100, 100), proven=False
        )
    )
    assert {finding.rule for finding in everything} == {
        "border under half a module",
        "sliver at a wall",
        "narrower than a module",
        "clearance above the grid",
        "finished height",
    }
    assert all(finding.source for finding in everything)


def test_nothing_hangs_on_wires_in_a_grid_that_is_screwed_to_joists():
    screwed = dataclasses.replace(METRIC, fixing="direct")
    hung, direct = (cautions(rectangle(3000, 2400), system, None) for system in (METRIC, screwed))
    assert any("need wires of their own" in sentence for sentence in hung)
    assert not any("wires" in sentence for sentence in direct)
    assert any("Fix lights and vents to the joists, not to it." in sentence for sentence in direct)


@pytest.mark.parametrize(
    ("names", "told"),
    [
        (("flue",), "flue: ask whether it gets hot."),
        (("Old Chimney", "C1", "stovepipe"), "Old Chimney, stovepipe: ask"),
        (("chimenea 2",), "chimenea 2: ask"),
        (("influence", "C1"), ""),
        ((), ""),
    ],
)
def test_what_may_be_hot_where_it_goes_through_is_asked_after(names, told):
    columns = tuple(Column(name, ((500, 500), (900, 500), (900, 900), (500, 900)), (700.0, 700.0)) for name in names)
    found = [text for text in cautions(rectangle(3000, 2400, columns=columns), METRIC, None) if "gets hot" in text]
    assert len(found) == bool(told) and all(text.startswith(told) for text in found)
    assert all(text.endswith("by its maker and the code.") for text in found)


@pytest.mark.parametrize("room", [rectangle(3000, 2400), rectangle(1, 1, units="ft-in", ceiling_height=2743.2)])
@pytest.mark.parametrize("system", [METRIC, dataclasses.replace(METRIC, fixing="direct")])
def test_cautions_fit_a_sheet(room, system):
    sentences = cautions(room, system, room.ceiling_height)
    assert all(0 < len(sentence) <= 110 and sentence.endswith(".") for sentence in sentences)
    text = " ".join(sentences).lower()
    for word in (
        "ladder",
        "eye",
        "dust",
        "power off",
        "licensed",
        "walk on",
        "asbestos",
        "fire",
        "seismic",
        "local code",
    ):
        assert word in text
    assert ("9'-0\"" in text) == (room.ceiling_height is not None)
