"""Given a grid and a service, this is the module it fills, the panel it is cut into, or what is said about it."""

import pytest
from ceiling.hand_layouts import (
    IMPERIAL,
    INCH,
    METRIC,
    TWO_BY_FOUR,
    TWO_BY_TWO,
    lay_by_hand,
    rectangle,
    room_of,
    square_column,
)

from planner.ceiling.mains import MainLines
from planner.ceiling.services import centred_points, place_services
from planner.room.brief import ServiceWish

#: 8 x 6 whole modules of 600 mm, lines at 0, 600, 1200 ...; mains along at 0, 1200, 2400, 3600.
ROOM = rectangle(4800, 3600)
GRID = lay_by_hand(ROOM, (600, 600), (0, 0))
MAINS = MainLines("along", step=2, phase=0)


def place(*wishes, room=ROOM, layout=GRID, system=METRIC, mains=MAINS):
    return place_services(room, layout, system, mains, wishes)


def troffer(name="L1", size=(600, 1200), **where):
    return ServiceWish(name, "troffer", size=size, **where)


def downlight(name="D1", diameter=150, **where):
    return ServiceWish(name, "downlight", diameter=diameter, **where)


def only(placed):
    """The one service and the one finding."""
    (service,), (finding,) = placed.services, placed.findings
    return service, finding


class TestLayIn:
    def test_a_light_takes_the_modules_it_is_wished_on(self):
        """600 x 1200 round (900, 600): column 1, rows 0 and 1; 48 modules less 2 stay whole."""
        placed = place(troffer(near=(905, 590)))
        (light,) = placed.services
        assert light.cells == ((1, 0), (1, 1))
        assert light.at == (900, 600)
        assert light.moved == pytest.approx(125**0.5)
        assert light.panels == ()
        assert placed.replaced == (((1, 0), (1, 1)),)
        assert placed.full_panels == 46
        assert placed.findings == ()

    def test_a_light_near_a_main_goes_to_the_nearest_pair_that_no_main_cuts(self):
        """Centred on (900, 1300) it would lie over the main at 1200; rows 2, 3 (centre 1800) are nearer than 0, 1."""
        light, finding = only(place(troffer(near=(900, 1300))))
        assert light.cells == ((1, 2), (1, 3))
        assert light.moved == 500
        assert finding.severity == "note" and finding.rule == "service moved"

    def test_of_two_pairs_as_near_the_lower_is_taken(self):
        """At 1200, rows 0 and 1 (centre 600) and rows 2 and 3 (centre 1800) are both 600 away."""
        assert place(troffer(near=(900, 1200))).services[0].cells == ((1, 0), (1, 1))

    def test_mains_across_cut_the_other_way(self):
        """With mains at 0, 1200, 2400 along the first axis 1200 x 600 round (1200, 300) moves to columns 0, 1."""
        placed = place(troffer(size=(1200, 600), near=(1190, 300)), mains=MainLines("across", 2, 0))
        assert placed.services[0].cells == ((0, 0), (1, 0))

    def test_inches_and_a_panel_as_long_as_the_light(self):
        """On 24 x 48 modules a 24 x 48 light is one module: with lines at 0 and 48 in the second row holds 60 in."""
        room = rectangle(10 * 24 * INCH, 3 * 48 * INCH, units="ft-in")
        layout = lay_by_hand(room, TWO_BY_FOUR, (0, 0))
        wish = troffer(size=(24 * INCH, 48 * INCH), near=(30 * INCH, 60 * INCH))
        placed = place(wish, room=room, layout=layout, system=IMPERIAL, mains=MainLines("along", 1, 0))
        assert placed.services[0].cells == ((1, 1),)

    @pytest.mark.parametrize("size", [(600, 600), (595, 595), (602, 600)])
    def test_a_size_may_be_nominal_as_made_or_a_little_off(self, size):
        assert place(troffer(size=size, near=(900, 900))).services[0].cells == ((1, 1),)

    def test_600_mm_is_not_24_inches(self):
        """On a 609.6 mm module a 600 mm light would fall through: 9.6 mm is more than half a per cent and the play."""
        room = rectangle(8 * 609.6, 6 * 609.6)
        placed = place(
            troffer(size=(600, 600), near=(900, 900)),
            room=room,
            layout=lay_by_hand(room, TWO_BY_TWO, (0, 0)),
            system=IMPERIAL,
        )
        assert placed.services == ()
        assert placed.findings[0].severity == "stop" and placed.findings[0].rule == "size off the module"
        assert "left out" in placed.findings[0].message

    def test_a_light_the_wrong_way_round_is_told_to_turn(self):
        """1200 x 600 on modules of 600 x 1200 is two wide and half deep."""
        layout = lay_by_hand(ROOM, (600, 1200), (0, 0))
        (finding,) = place(troffer(size=(1200, 600), near=(900, 900)), layout=layout).findings
        assert finding.remedy == "Turned it fits: write size: [600 mm, 1200 mm]."

    def test_two_that_want_one_module_take_it_and_the_next(self):
        first, second = place(troffer(near=(900, 600)), troffer("L2", near=(900, 600))).services
        assert first.cells == ((1, 0), (1, 1))
        assert second.cells == ((0, 0), (0, 1))  # 600 to either side: the one further left

    def test_fixed_ones_choose_before_those_that_may_move(self):
        free, fixed = place(troffer(near=(900, 600)), troffer("L2", at=(900, 600))).services
        assert fixed.cells == ((1, 0), (1, 1))
        assert free.cells == ((0, 0), (0, 1))

    def test_no_module_left_stops_and_leaves_out(self):
        """A room of one whole module."""
        room = rectangle(1000, 1000)
        layout = lay_by_hand(room, (600, 600), (200, 200))
        placed = place(*(troffer(name, (600, 600), near=(500, 500)) for name in ("L1", "L2")), room=room, layout=layout)
        light, finding = only(placed)
        assert light.name == "L1"
        assert finding.severity == "stop" and finding.message.startswith("L2 ") and "left out" in finding.message

    def test_a_long_service_may_not_unhook_more_than_a_cross_tee_can_bridge(self):
        """1800 x 600 stops two 1200 tees halfway; the tee along its side would be 1800, the longest is 1200."""
        placed = place(troffer(size=(1800, 600), near=(2400, 300)))
        assert placed.services == () and placed.findings[0].severity == "stop"
        assert place(troffer(size=(1800, 1200), near=(2400, 600))).findings == ()  # from main to main nothing is halved

    def test_two_services_do_not_unhook_three_modules_together(self):
        """The first stops the cross tee at 1200 below line 600, the second would stop the one at 1800 above it."""
        first, second = place(
            troffer(size=(1200, 600), near=(1200, 300)), troffer("L2", (1200, 600), near=(1800, 900))
        ).services
        assert first.cells == ((1, 0), (2, 0))
        assert second.cells == ((1, 1), (2, 1))  # beside the first both use the same gap at 1200


class TestFixedLayIn:
    def test_where_modules_are_it_stays(self):
        """3 mm off is within the play of a panel in its opening, 5 mm."""
        placed = place(troffer(at=(903, 600)))
        assert placed.services[0].cells == ((1, 0), (1, 1))
        assert placed.services[0].moved == pytest.approx(3)
        assert placed.findings == ()

    def test_off_the_modules_it_is_told_where_to(self):
        """Centre 850 lies 50 mm left of the middle of column 1."""
        light, finding = only(place(troffer(at=(850, 600))))
        assert light.at == (850, 600) and light.cells == ()
        assert finding.severity == "stop"
        assert finding.where == (850, 600)
        assert finding.remedy == "Move it 50 mm towards B-C, to 900 mm along A-B and 600 mm from it."

    def test_over_a_main_it_is_told_where_to(self):
        _, finding = only(place(troffer(at=(900, 1200))))
        assert "main tee" in finding.message
        assert finding.remedy == "Move it 600 mm towards A-B, to 900 mm along A-B and 600 mm from it."

    def test_no_two_are_sent_to_the_same_place(self):
        findings = place(troffer(at=(880, 600)), troffer("L2", at=(890, 600))).findings
        assert [finding.remedy for finding in findings] == [
            "Move it 20 mm towards B-C, to 900 mm along A-B and 600 mm from it.",
            "Move it 590 mm towards D-A, to 300 mm along A-B and 600 mm from it.",
        ]

    def test_on_a_cut_panel_it_is_told_where_to(self):
        """Lines at 300, 900, ...: the border is 300 wide."""
        layout = lay_by_hand(ROOM, (600, 600), (300, 300))
        _, finding = only(place(troffer(size=(600, 600), at=(0, 600)), layout=layout))
        assert "cut by a wall" in finding.message
        assert finding.remedy == "Move it 600 mm towards B-C, to 600 mm along A-B and 600 mm from it."


class TestHoles:
    def test_a_downlight_goes_to_the_centre_of_its_panel(self):
        placed = place(downlight(near=(950, 850)))
        (light,), (panel,) = placed.services, placed.panels
        assert light.at == (900, 900)
        assert light.cells == ((1, 1),)
        assert light.panels == (panel.id,) == ("a1",)
        assert panel.full_size and panel.opening == (600, 600) and panel.cut_to == (595, 595)
        (hole,) = panel.cutouts
        assert (hole.service, hole.shape, hole.centre, hole.size) == ("D1", "round", (900, 900), (150, 150))
        assert placed.full_panels == 47

    def test_six_inches_at_three_inches_from_a_tee_must_move(self):
        """Its edge is on the tee's centre line, 15/32 in inside the flange. Clear of it with 25 mm of rim and 2 mm for
        marking the centre is 24 + 15/32 + 3 in + 27 mm = 724.7 mm from the wall, 38.9 mm further than 27 in.
        """
        room = rectangle(8 * 609.6, 6 * 609.6)
        wish = downlight(diameter=6 * INCH, at=(27 * INCH, 36 * INCH))
        light, finding = only(place(wish, room=room, layout=lay_by_hand(room, TWO_BY_TWO, (0, 0)), system=IMPERIAL))
        assert light.panels == () and light.at == (27 * INCH, 36 * INCH)
        assert finding.severity == "stop" and finding.rule == "service meets a tee"
        assert finding.message == "D1 (downlight): its hole runs 12 mm into a tee."
        assert finding.remedy == "Move it 39 mm towards B-C, to 725 mm along A-B and 914 mm from it."

    def test_a_thin_rim_is_a_warning_and_the_hole_is_cut(self):
        """150 across at 700: edge 625, flange 612, 13 mm between; 25 and 2 for marking puts the centre at 714."""
        light, finding = only(place(downlight(at=(700, 900))))
        assert light.panels == ("a1",)
        assert finding.severity == "warn" and finding.rule == "sliver beside a hole"
        assert "only 13 mm of panel is left" in finding.message
        assert finding.remedy == "Move it 14 mm towards B-C, to 714 mm along A-B and 900 mm from it."

    def test_a_rim_of_25_mm_holds(self):
        """612 + 25 + 75 = 712."""
        assert place(downlight(at=(712, 900))).findings == ()
        assert len(place(downlight(at=(711.9, 900))).findings) == 1

    def test_the_wall_angle_counts_where_the_grid_line_is_a_wall(self):
        """The ledge is 24 wide: 24 + 25 + 75 = 124 from the wall, though a tee would be content with 112."""
        assert place(downlight(at=(124, 900))).findings == ()
        _, finding = only(place(downlight(at=(112, 900))))
        assert "wall angle" in finding.message

    def test_outside_the_room_it_stops(self):
        light, finding = only(place(downlight(at=(-500, 300))))
        assert light.cells == () and light.panels == ()
        assert finding.severity == "stop" and finding.rule == "service outside the room"
        assert finding.remedy == "The nearest place is 300 mm along A-B and 300 mm from it."

    def test_holes_that_meet_stop_and_the_later_moves(self):
        """100 mm apart two of 150 overlap; 150 + 25 + 2 apart they do not: 77 mm further."""
        placed = place(downlight(at=(850, 900)), downlight("D2", at=(950, 900)))
        (finding,) = placed.findings
        assert finding.message == "D2 (downlight): its hole meets D1."
        assert finding.remedy == "Move it 77 mm towards B-C, to 1027 mm along A-B and 900 mm from it."
        assert [hole.service for hole in placed.panels[0].cutouts] == ["D1"]

    def test_two_small_holes_share_a_panel(self):
        placed = place(ServiceWish("H1", "sprinkler", at=(800, 900)), ServiceWish("H2", "sprinkler", at=(1000, 900)))
        assert placed.findings == ()
        (panel,) = placed.panels
        assert [hole.service for hole in panel.cutouts] == ["H1", "H2"]
        assert all(service.panels == (panel.id,) for service in placed.services)

    def test_two_holes_too_close_are_a_warning_and_both_are_cut(self):
        """Two of 50 at 60 from each other leave 10; 25 and 2 for marking take the later 17 further."""
        placed = place(ServiceWish("H1", "sprinkler", at=(870, 900)), ServiceWish("H2", "sprinkler", at=(930, 900)))
        (finding,) = placed.findings
        assert finding.severity == "warn"
        assert "only 10 mm of panel is left between its hole and H1" in finding.message
        assert finding.remedy == "Move it 17 mm towards B-C, to 947 mm along A-B and 900 mm from it."
        assert len(placed.panels[0].cutouts) == 2

    def test_a_hole_in_a_light_stops(self):
        placed = place(troffer(at=(900, 600)), downlight(at=(900, 300)))
        (finding,) = placed.findings
        assert finding.message == "D1 (downlight): it sits in a module that L1 fills."
        assert finding.remedy == "Move it 600 mm towards D-A, to 300 mm along A-B and 300 mm from it."

    def test_a_light_keeps_off_a_panel_with_a_fixed_sprinkler(self):
        light, _ = place(troffer(near=(900, 600)), ServiceWish("H1", "sprinkler", at=(900, 900))).services
        assert light.cells == ((0, 0), (0, 1))

    def test_two_downlights_wished_in_one_panel_take_two(self):
        first, second = place(downlight(near=(900, 900)), downlight("D2", near=(910, 900))).services
        assert (first.at, second.at) == ((900, 900), (1500, 900))

    def test_in_a_cut_panel_the_centre_of_what_shows(self):
        """Border 400: its panel shows from the wall angle at 24 to the flange at 388, the middle is 206; the wall below
        stands on a grid line, so from 24 to 588 the middle is 306.
        """
        layout = lay_by_hand(ROOM, (600, 600), (400, 0))
        placed = place(downlight(near=(100, 300)), layout=layout)
        assert placed.services[0].at == pytest.approx((206, 306))
        assert len(placed.services[0].panels) == 1 and placed.findings == ()

    def test_a_border_too_narrow_for_it_sends_it_to_a_whole_panel(self):
        """Border 200: 200 - 24 - 12 - 2 x 25 = 114 is the largest hole."""
        layout = lay_by_hand(ROOM, (600, 600), (200, 0))
        placed = place(downlight(near=(100, 300)), layout=layout)
        assert placed.services[0].at == (500, 300)
        assert [finding.rule for finding in placed.findings] == ["service moved"]
        assert place(downlight(diameter=108, near=(100, 300)), layout=layout).findings == ()

    def test_a_small_diffuser_is_cut_into_a_panel(self):
        placed = place(ServiceWish("S1", "supply_diffuser", size=(300, 300), near=(1000, 1000)))
        (hole,) = placed.panels[0].cutouts
        assert (hole.shape, hole.centre, hole.size) == ("rectangle", (900, 900), (300, 300))
        assert placed.replaced == ()

    def test_a_loudspeaker_as_large_as_a_panel_replaces_it(self):
        assert place(ServiceWish("SP1", "speaker", size=(600, 600), near=(900, 900))).replaced == (((1, 1),),)

    def test_a_hole_too_large_for_any_panel_is_left_out_with_the_largest_size(self):
        """600 - 24 - 2 x 25 = 526."""
        placed = place(downlight(diameter=550, near=(900, 900)))
        assert placed.services == ()
        assert placed.findings[0].severity == "stop"
        assert placed.findings[0].remedy == "Choose one whose hole is at most 526 mm."

    def test_a_column_in_the_panel_is_kept_clear_of(self):
        """The chase fills the middle of column 1, row 1; the cell counts as cut, and what is left has no room."""
        room = rectangle(4800, 3600, columns=[square_column("chase", 750, 750, 300)])
        layout = lay_by_hand(room, (600, 600), (0, 0))
        placed = place(downlight(at=(900, 900)), downlight("D2", near=(650, 650)), room=room, layout=layout)
        assert placed.findings[0].rule == "service outside the room"
        assert placed.services[1].at in ((300, 300), (900, 300), (300, 900))


class TestSurface:
    def test_a_detector_is_centred_and_nothing_is_cut(self):
        placed = place(ServiceWish("SD1", "smoke_detector", near=(1000, 1000)))
        (detector,) = placed.services
        assert detector.at == (900, 900) and detector.round and detector.panels == ()
        assert placed.panels == () and placed.full_panels == 48

    def test_fixed_over_a_tee_it_is_only_a_note(self):
        _, finding = only(place(ServiceWish("SD1", "smoke_detector", at=(600, 900))))
        assert finding.severity == "note"

    def test_beside_a_sprinkler_in_the_same_panel_it_may_stay(self):
        placed = place(
            ServiceWish("H1", "sprinkler", at=(800, 900)), ServiceWish("SD1", "smoke_detector", at=(960, 900))
        )
        assert placed.findings == ()

    def test_on_a_light_it_stops(self):
        placed = place(troffer(at=(900, 600)), ServiceWish("SD1", "smoke_detector", at=(900, 300)))
        assert placed.findings[0].severity == "stop"


class TestShapesOfRooms:
    #: 4800 x 3600 with the corner beyond (2400, 1800) cut away.
    L_ROOM = room_of((0, 0), (4800, 0), (4800, 1800), (2400, 1800), (2400, 3600), (0, 3600))

    def test_in_the_notch_of_an_l_there_is_no_ceiling(self):
        layout = lay_by_hand(self.L_ROOM, (600, 600), (0, 0))
        fixed, finding = only(place(downlight(at=(3000, 2100)), room=self.L_ROOM, layout=layout))
        assert finding.rule == "service outside the room" and fixed.panels == ()
        # the centres at 2700 and 3300 are as near
        assert finding.remedy == "The nearest place is 2700 mm along A-B and 1500 mm from it."

    def test_a_light_wished_in_the_notch_comes_into_the_room(self):
        """From (2700, 1900): column 3, rows 2-3 (centre 2100, 1800) is 608 off; columns 4, rows 0-1 1300 off."""
        layout = lay_by_hand(self.L_ROOM, (600, 600), (0, 0))
        placed = place(troffer(near=(2700, 1900)), room=self.L_ROOM, layout=layout)
        assert placed.services[0].cells == ((3, 2), (3, 3))

    def test_on_a_turned_grid_services_turn_along(self):
        """Grid at 30 degrees: the centre comes back as a module centre in the grid's own frame."""
        layout = lay_by_hand(ROOM, (600, 600), (1000, 500), angle=30)
        placed = place(troffer(near=(2400, 1800)), downlight(near=(2400, 800)), room=ROOM, layout=layout)
        light, spot = placed.services
        u, v = layout.frame.inward(light.at)
        assert u / 600 % 1 == pytest.approx(0.5) and v / 1200 % 1 == pytest.approx(0.5)
        assert light.size == (600, 1200)
        u, v = layout.frame.inward(spot.at)
        assert u / 600 % 1 == pytest.approx(0.5) and v / 600 % 1 == pytest.approx(0.5)

    def test_a_fixed_hole_on_a_turned_grid_is_measured_from_turned_tees(self):
        """In the grid's frame it stands at (700, 900) as above: 13 mm of rim."""
        layout = lay_by_hand(ROOM, (600, 600), (1000, 500), angle=30)
        _, finding = only(place(downlight(at=layout.frame.outward((700, 900))), layout=layout))
        assert "only 13 mm of panel" in finding.message


def test_fixed_holes_ask_for_panel_centres():
    wishes = (
        downlight(at=(1, 2)),
        downlight("D2", near=(3, 4)),
        troffer(at=(5, 6)),
        ServiceWish("SD1", "smoke_detector", at=(7, 8)),
    )
    assert centred_points(wishes) == ((1, 2),)


def test_a_hole_without_a_size_is_not_cut():
    placed = place(ServiceWish("D1", "downlight", near=(900, 900)))
    assert placed.panels == () and placed.services[0].at == (900, 900)
    assert [finding.rule for finding in placed.findings] == ["size of a hole"]
