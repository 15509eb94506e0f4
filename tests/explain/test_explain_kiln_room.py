"""The kiln room, number by number: 13' 7" by 10' 4", the worked example of NAVEDTRA 14044 p. 5-16."""

import pytest
from explain.explained import ask, texts, values

INCH = 25.4


def test_both_ways_to_make_borders_equal_are_told() -> None:
    """10' 4" = 5 x 24" + 4": 4/2 = 2", or (4 + 24)/2 = 14"; 14 + 4 x 24 + 14 = 124" = 10' 4"."""
    answer = ask("kiln-room", "A-B")
    equal = [step.value for step in answer.steps if "/ 2 =" in step.text]
    assert equal == pytest.approx([2 * INCH, 14 * INCH])
    assert "The wider ones are taken: 1'-2\" + 4 x 2'-0\" + 1'-2\" = 10'-4\"." in texts(answer)
    (taken,) = (step for step in answer.steps if step.text.startswith("The wider"))
    assert "half-module rule" in taken.rule and taken.source == "NAVEDTRA 14044 pp. 5-16, 7-23"


def test_mains_are_square_to_the_joists_and_the_fewest() -> None:
    """Lines 14", 38", 62", 86", 110" from A-B; every second one: 38" and 86" are two runs, the others three."""
    answer = ask("kiln-room", "mains")
    assert "square to the joists" in answer.steps[0].text
    assert values(answer, "Of the 2 ways") == [2]
    assert "another takes 3 runs, 40'-9\"" in texts(answer)


def test_the_slot_decides_the_first_cut() -> None:
    """The first cross tee is 21-1/2" from the wall; slots at 3, 9, 15, 21, 27": 27 - 21-1/2 = 5-1/2" comes off."""
    answer = ask("kiln-room", "M1")
    (sawn,) = values(answer, "The first cross tee")
    assert abs(sawn - 5.5 * INCH) < 1e-6
    assert "the next slot at 2'-3\"" in texts(answer)


def test_nineteen_short_tees_are_told_as_whole_and_cut() -> None:
    """Two lines of 5 whole tees and 2 cut ones, and what the lights leave of the middle line: 13 whole, 6 cut."""
    answer = ask("kiln-room", "cross tee 2 ft")
    assert "13 are whole lengths of 2'-0\"." in texts(answer)
    assert "6 are cut; they come from 6 lengths:" in texts(answer)
    assert "Lengths needed: 13 whole + 6 to cut = 19." in texts(answer)
    assert "To order: 19 + 1 spare = 20." in texts(answer)


def test_a_light_says_how_far_it_is_from_where_it_was_asked_for() -> None:
    """L1 was asked for at 3' 10"; the nearest whole modules have their middle at 4' 9-1/2": 11-1/2" off."""
    answer = ask("kiln-room", "L1")
    (moved,) = values(answer, "Placed at")
    assert abs(moved - 11.5 * INCH) < 1e-6


def test_what_gave_way_to_a_main_is_named_with_it() -> None:
    """S1, 24" square, was asked for at 86", right on M2; its module's middle is 12" off. The lights lie between mains:
    62" and 24" to either side is 38" to 86".
    """
    gave_way = [
        step.text for run in ("M1", "M2") for step in ask("kiln-room", run).steps if "wished across" in step.text
    ]
    assert gave_way == ["S1 was wished across it and stands beside it, 1'-0\" away."]


def test_a_hanger_names_its_joist() -> None:
    """Joists every 16" from 9": the third is at 9 + 2 x 16 = 41" = 3' 5"; a fourth, at 57", would be over 48"."""
    answer = ask("kiln-room", "HW1")
    (at,) = values(answer, "It hangs from joist 3")
    assert abs(at - 41 * INCH) < 1e-6
    (further,) = values(answer, "The next joist on")
    assert abs(further - 57 * INCH) < 1e-6


def test_wire_is_the_drop_and_the_ties() -> None:
    """8' 9" - 8' 0" = 9" from the joists, and 12" for the ties: 21"."""
    assert abs(values(ask("kiln-room", "HW1"), "Wire:")[0] - 21 * INCH) < 1e-6


def test_packs_are_whole() -> None:
    """37 + 2 spare = 39 panels, 16 in a carton: 3 cartons, 48 panels at 6.40 = 307.20."""
    answer = ask("kiln-room", "panel")
    assert "In packs of 16: 3 packs, 48 pieces." in texts(answer)
    assert values(answer, "Cost") == [307.2]


def test_a_room_of_another_shape_says_which_wish_decided() -> None:
    """The studio's L: along A-B the fifth wish decides, and the next best has a narrower or longer short cut."""
    answer = ask("studio-l", "F-A")
    assert "wish 6, the widest narrow borders" in texts(answer)
    assert texts(answer).count("and so decides") == 1
    assert "The next best of the places that one would try" in texts(answer)
