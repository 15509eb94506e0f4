"""Papers: sizes by the standards, margins, names as people say them."""

from itertools import pairwise

import pytest

from planner.drawing.papers import find_paper, larger_papers, paper_names
from planner.errors import PlannerError


def test_iso_sizes_are_those_of_iso_216():
    """ISO 216: A0 841 x 1189 mm, and each next one half of the one before, rounded down to whole millimetres."""
    upright = [find_paper(f"A{n}", portrait=True) for n in range(5)]
    assert (upright[0].width, upright[0].height) == (841, 1189)
    for larger, smaller in pairwise(upright):
        assert smaller.height == larger.width
        assert smaller.width == larger.height // 2


@pytest.mark.parametrize(
    ("name", "short", "long"),
    # ANSI/ASME Y14.1 in inches; ARCH as plan printers list them
    [
        ("ANSI A", 8.5, 11),
        ("ANSI B", 11, 17),
        ("ANSI C", 17, 22),
        ("ANSI D", 22, 34),
        ("ANSI E", 34, 44),
        ("ARCH A", 9, 12),
        ("ARCH B", 12, 18),
        ("ARCH C", 18, 24),
        ("ARCH D", 24, 36),
        ("ARCH E1", 30, 42),
        ("ARCH E", 36, 48),
    ],
)
def test_us_sizes(name, short, long):
    paper = find_paper(name)
    assert (paper.width / 25.4, paper.height / 25.4) == pytest.approx((long, short))


def test_iso_frames_leave_20_at_the_filing_edge_and_10_elsewhere():
    """ISO 5457:1999: the drawing space of A3 is 390 x 277 (420 - 30, 297 - 20), of A0 1159 x 821."""
    assert (find_paper("A3").frame.width, find_paper("A3").frame.height) == (390, 277)
    assert (find_paper("A0").frame.width, find_paper("A0").frame.height) == (1159, 821)
    assert find_paper("A3").frame.left == 20


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("a3", "A3"),
        (" A3 ", "A3"),
        ("ansi-b", "ANSI B"),
        ("Letter", "ANSI A"),
        ("tabloid", "ANSI B"),
        ("arch_d", "ARCH D"),
    ],
)
def test_names_are_taken_as_people_say_them(said, meant):
    assert find_paper(said).name == meant


def test_portrait_stands_upright():
    lying, upright = find_paper("A2"), find_paper("A2", portrait=True)
    assert (upright.width, upright.height) == (lying.height, lying.width)


def test_an_unknown_paper_is_refused_with_the_nearest_name():
    with pytest.raises(PlannerError, match=r'(?s)"Ledgr" is no paper.*Did you mean "LEDGER"\?.*A3'):
        find_paper("Ledgr")


def test_a_hostile_name_is_cut_short():
    with pytest.raises(PlannerError) as caught:
        find_paper("x" * 10_000)
    assert len(str(caught.value)) < 500


def test_larger_papers_stay_in_their_series():
    assert larger_papers("A3") == ("A2", "A1", "A0")
    assert larger_papers("arch e") == ()


def test_every_name_can_be_found():
    assert all(find_paper(name).width > find_paper(name).height for name in paper_names())
