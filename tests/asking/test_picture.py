"""The picture of the room in the terminal: true to scale, named at every corner, never wider than asked."""

from hypothesis import given
from hypothesis import strategies as st

from planner.asking.picture import View, picture
from planner.asking.showing import key_of, view_of
from planner.asking.talk import Talk, said


def box(width: float, height: float) -> View:
    ring = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    return View(ring, dict(zip("ABCD", ring, strict=True)))


def test_a_room_twice_as_long_as_wide() -> None:
    """6 m by 3 m, 21 cells from corner to corner: 20 steps of 300 mm; a row is two of them, so 5 steps high."""
    assert picture(box(6000, 3000), width=29, height=16) == [
        "   D                     C",
        "    +-------------------+",
        "    |                   |",
        "    |                   |",
        "    |                   |",
        "    |                   |",
        "    +-------------------+",
        "   A                     B",
    ]


def test_dots_make_the_same_room_finer() -> None:
    rows = picture(box(6000, 3000), width=29, height=16, fine=True)
    assert len(rows) == len(picture(box(6000, 3000), width=29, height=16))
    assert all(any(name in row for row in rows) for name in "ABCD")
    assert any("\u2800" < sign <= "\u28ff" for row in rows for sign in row)


def test_plain_characters_are_all_that_a_plain_terminal_gets() -> None:
    assert all(row.isascii() for row in picture(box(5000, 7000)))


@given(st.floats(100, 1e6), st.floats(100, 1e6), st.integers(20, 120), st.integers(8, 40), st.booleans())
def test_no_picture_is_wider_or_higher_than_asked(w: float, h: float, width: int, height: int, fine: bool) -> None:
    rows = picture(box(w, h), width, height, fine=fine)
    assert len(rows) <= height
    assert max(map(len, rows)) <= width
    assert all(any(name in row for row in rows) for name in "ABCD")


def told(*lines: str) -> Talk:
    talk = Talk()
    for line in lines:
        talk, _ = said(talk, line)
    return talk


def test_there_is_a_picture_as_soon_as_there_is_a_shape() -> None:
    lines = ("Kiln room", "ft-in", "rectangle", "18' 7\"", "11' 4\"")
    assert view_of(told(*lines[:4]).given) is None
    assert view_of(told(*lines).given) is not None
    walls = ("Shop", "mm", "taped", "4", "left", "none", "4000", "3000", "4000", "3000")
    assert view_of(told(*walls[:-1]).given) is None
    assert view_of(told(*walls).given) is not None


def test_a_column_and_a_light_are_in_the_picture() -> None:
    lines = ("Room", "mm", "", "6000", "3000", "rectangular", "600 x 600", "3000, 1200", *["none"] * 3, "no", "", "")
    talk = told(*lines, "downlight", "150", "1500, 1500")
    view = view_of(talk.given)
    assert view is not None
    assert len(view.columns) == 1
    rows = picture(view, 29)
    row = next(row for row in rows if row.strip().startswith("|") and "D" in row)
    assert row.index("D") == 4 + 5  # 1500 mm of 300 mm a cell, after the margin
    assert key_of(talk.given) == "D downlight"
