"""What the reader makes of a room file at its edges: which way it measures, and what it says of all that is wrong."""

import math

import pytest

from planner.documents import parse_document
from planner.errors import InputError, PlannerError
from planner.room.brief import Brief
from planner.room.reader import brief_from
from planner.room.survey import Clipboard, ClosedReading, Reading
from planner.room.tape import close_survey


def read(text: str) -> Brief:
    return brief_from(parse_document(text, "room.yaml"))


def refused(text: str) -> str:
    with pytest.raises(InputError) as caught:
        read(text)
    return str(caught.value)


MM = "units: mm\nroom:\n  rectangle: [6000, 4000]\n"


class TestFirstJoist:
    """A room 6000 along the base wall and 4000 away from it: joists across are counted along it, the others away."""

    def room(self, direction: str, first: int) -> str:
        return MM + f"structure: {{joists: {{spacing: 400, first: {first}, direction: {direction}}}}}\n"

    @pytest.mark.parametrize(("direction", "first"), [("across", 5000), ("across", 6000), ("along", 4000)])
    def test_within_the_room_as_it_is_measured(self, direction: str, first: int) -> None:
        joists = read(self.room(direction, first)).room.joists
        assert joists is not None and joists.first == first

    @pytest.mark.parametrize(("direction", "first", "reach"), [("across", 6001, 6000), ("along", 5000, 4000)])
    def test_beyond_it(self, direction: str, first: int, reach: int) -> None:
        told = refused(self.room(direction, first))
        assert f"the first joist would lie beyond the room, which reaches {reach} mm there." in told


class TestBaseWall:
    """The same room, 6000 by 4000 with a corner cut out at C, drawn in the file with its base wall any way round."""

    SHAPE = ((0, 0), (6000, 0), (6000, 3000), (5000, 3000), (5000, 4000), (0, 4000))

    @pytest.mark.parametrize("quarter", range(4))
    def test_lies_along_the_room_whichever_way_it_was_drawn(self, quarter: int) -> None:
        c, s = ((1, 0), (0, 1), (-1, 0), (0, -1))[quarter]
        turned = [[700 + c * x - s * y, 900 + s * x + c * y] for x, y in self.SHAPE]
        room = read(f"units: mm\nroom: {{points: {turned}}}\n").room
        assert room.outline == self.SHAPE  # to the last digit: a square room stays square


class TestAllIsSaidAtOnce:
    SERVICE = "services:\n  - {kind: downlight, diameter: 150, at: [9000, 1000]}\n"
    OUTSIDE = "D1 is outside the room"

    def test_an_unknown_key_of_the_room_hides_no_service_that_is_outside(self) -> None:
        told = refused(MM + "  carpet: red\n" + self.SERVICE)
        assert "carpet" in told
        assert self.told_of_the_service(told)

    def test_a_bad_column_hides_none_and_the_good_ones_keep_their_number(self) -> None:
        columns = "  columns: [{at: [1, 1]}, {at: [9000, 1000], size: [300, 300]}]\n"
        told = refused(MM + columns + self.SERVICE)
        assert "columns › 1: " in told
        assert "columns › 2 › at: " in told and "stands outside the room" in told
        assert self.told_of_the_service(told)

    def test_a_bad_service_hides_no_other(self) -> None:
        told = refused(MM + "services:\n  - {kind: lava lamp, at: [1, 1]}\n" + self.SERVICE.split("\n")[1] + "\n")
        assert "services › 1" in told and "services › 2 › at" in told

    def told_of_the_service(self, told: str) -> bool:
        return "services › 1 › at" in told and "The room reaches 6000 mm along the base wall and 4000 mm away" in told

    def test_where_the_room_is_given_by_points_so_are_its_services(self) -> None:
        points = "[[100, 100], [6100, 100], [6100, 4100], [100, 4100]]"
        told = refused(f"units: mm\nroom: {{points: {points}}}\n{self.SERVICE}")
        assert "Its centre is given in the coordinates of the points." in told


class TestWallsByName:
    def room(self, corners: int) -> str:
        ring = [[round(9000 * math.cos(k * math.tau / corners)), round(9000 * math.sin(k * math.tau / corners))]
                for k in range(corners)]  # fmt: skip
        return f"units: mm\nroom: {{points: {ring}, base_wall: X-Y}}\n"

    def test_a_dozen_walls_are_all_named(self) -> None:
        assert refused(self.room(12)).endswith("J-K, K-L, L-A.")

    def test_of_more_the_first_dozen_is(self) -> None:
        assert refused(self.room(13)).endswith("J-K, K-L, L-M and so on.")


class TestBuying:
    @pytest.mark.parametrize(("spare", "share"), [("0", 0.0), ("1", 1.0), ("100%", 1.0), ("7.5 %", 0.075)])
    def test_spare_from_nothing_to_as_much_again(self, spare: str, share: float) -> None:
        assert read(MM + f"stock: {{spare: {spare}}}\n").stock.spare == pytest.approx(share)

    @pytest.mark.parametrize("spare", ["1.01", "101%", "-0.01", "true"])
    def test_and_no_further(self, spare: str) -> None:
        assert "is not a share between 0 and 1" in refused(MM + f"stock: {{spare: {spare}}}\n")

    def test_extras_have_a_price_and_a_pack_only_where_they_are_given(self) -> None:
        extras = "[{item: paint, price: 4}, {item: pads, pack: 6}, {item: gloves}]"
        wish = read(MM + f"stock: {{extras: {extras}, prices: {{panel: 2}}, packs: {{panel: 12}}}}\n").stock
        assert dict(wish.prices) == {"panel": 2, "paint": 4}
        assert dict(wish.packs) == {"panel": 12, "pads": 6}


class TestCornersOfTheTape:
    WALLS = (("A", "B", 4000), ("B", "C", 3000), ("C", "D", 4000), ("D", "A", 3000))

    def refusal(self, **more: object) -> PlannerError:
        readings = tuple(Reading((a, b), float(mm)) for a, b, mm in self.WALLS)
        with pytest.raises(PlannerError) as caught:
            close_survey(Clipboard(tuple("ABCD"), readings, **more))  # type: ignore[arg-type]
        return caught.value

    @pytest.mark.parametrize("angle", [140.0, 40.0])
    def test_an_angle_that_does_not_close_asks_for_angles_either_way(self, angle: float) -> None:
        """50 degrees too many or too few are no matter of outside corners, which make 180."""
        told = self.refusal(angles={"B": angle})
        assert "add up to 360 degrees" in str(told)
        assert told.mend == "Give the inside angle of each corner that is not near square under angles."

    def test_the_first_corner_that_is_not_as_told_is_named(self) -> None:
        """An L that juts in at D, every line of sight from there taped, and E named in its place: D comes first."""
        at = {"A": (0, 0), "B": (6000, 0), "C": (6000, 3400), "D": (3500, 3400), "E": (3500, 5500), "F": (0, 5500)}
        lines = ("A-B", "B-C", "C-D", "D-E", "E-F", "F-A", "A-C", "A-D", "A-E", "B-D", "D-F", "B-F")
        tape = tuple(Reading((a, b), math.dist(at[a], at[b])) for a, b in (line.split("-") for line in lines))
        with pytest.raises(PlannerError) as caught:
            close_survey(Clipboard(tuple("ABCDEF"), tape, outside_corners=("E",)))
        assert "corner D is not said to jut into the room" in str(caught.value)
        assert caught.value.mend.startswith("See whether D belongs in outside_corners")


def test_the_least_error_that_would_show() -> None:
    """4.13 s / √r: a reading good to 2 mm, of whose error half shows (r = 1/4): 4.13 · 2 · 2 = 16.52 mm."""
    one = ClosedReading(("A", "B"), 4000.0, 4001.0, 2.0, 0.25, 0.5)
    assert one.least_error_seen == pytest.approx(16.52)
    assert ClosedReading(("A", "B"), 4000.0, 4001.0, 2.0, 0.0, None).least_error_seen == math.inf
