"""Which cut panels share a class: what reads alike, and lies within a mark of the tape of each other."""

from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, affinity

from planner.ceiling.grid.classes import marks_of
from planner.ceiling.grid.cut import Cut
from planner.ceiling.marks import class_letters

SIDE = 595.0
MARK = 1.0


def notched(wide, high, at=(0.0, 0.0), corner="right"):
    """A panel of 595 with a corner cut away, lying anywhere in the room."""
    ring = [(0, 0), (SIDE, 0), (SIDE, SIDE - high), (SIDE - wide, SIDE - high), (SIDE - wide, SIDE), (0, SIDE)]
    if corner == "left":
        ring = [(SIDE - x, y) for x, y in reversed(ring)]
    return Cut(affinity.translate(Polygon(ring), *at), "notched", 0.0)


def marked(*cuts):
    return marks_of(((cut, "595 x 595") for cut in cuts), MARK)


def test_notches_that_a_tape_cannot_tell_apart_are_one_class_wherever_they_lie():
    assert marked(notched(120, 80), notched(120.4, 80.3, (6000, 1200))) == ["a1", "a2"]


def test_a_notch_two_marks_deeper_is_another_class():
    assert marked(notched(120, 80), notched(122, 80), notched(120, 80)) == ["a1", "b1", "a2"]


def test_the_mirror_image_is_another_class():
    assert marked(notched(120, 80), notched(120, 80, corner="left")) == ["a1", "b1"]


def test_two_notches_of_one_area_are_two_classes():
    """120 x 80 and 96 x 100 both take away 9600 mm2."""
    assert marked(notched(120, 80), notched(96, 100)) == ["a1", "b1"]


def test_the_smaller_one_must_lie_within_the_larger():
    """Wider but less deep: neither would do for both."""
    assert marked(notched(120, 80), notched(120.8, 79.2)) == ["a1", "b1"]


def test_plain_panels_need_only_read_alike():
    plain = Cut(Polygon([(0, 0), (SIDE, 0), (SIDE, 300), (0, 300)]), "plain", 0.0)
    assert marks_of([(plain, "595 x 300"), (plain, "595 x 300"), (plain, "595 x 299")], MARK) == ["a1", "a2", "b1"]


def _takes(first, least, piece):
    small, large = sorted((piece, least), key=lambda shape: shape.area)
    near = piece.boundary.hausdorff_distance(first.boundary) <= MARK
    return near and large.buffer(0.2, join_style="mitre").covers(small)


def _one_by_one(cuts):
    """The rule itself, each piece held against every class there is."""
    classes, marks = [], []
    for cut in cuts:
        piece = affinity.translate(cut.outline, -cut.box.left, -cut.box.bottom)
        taking = [k for k, (first, least, _) in enumerate(classes) if _takes(first, least, piece)]
        number = taking[0] if taking else len(classes)
        first, least, members = classes[number] if taking else (piece, piece, 0)
        classes[number : number + 1] = [(first, min(least, piece, key=lambda shape: shape.area), members + 1)]
        marks.append(f"{class_letters(number)}{members + 1}")
    return marks


NOTCHES = st.builds(notched, st.floats(30, 34), st.floats(60, 64), st.tuples(st.just(0.0), st.floats(0, 9000)))
DEEP = st.builds(notched, st.floats(300, 303), st.floats(250, 253), corner=st.sampled_from(("left", "right")))


@settings(max_examples=60)
@given(st.lists(NOTCHES | DEEP, max_size=20))
def test_looking_only_at_what_is_near_finds_what_looking_at_all_would(cuts):
    assert marked(*cuts) == _one_by_one(cuts)
