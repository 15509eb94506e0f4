"""The shape of a system file of a grid that is fixed straight to the joists; every number beside its source.

In: the data of a file, with its `units` as context. Out: `DirectFile`, lengths in millimetres.
"""

from collections.abc import Iterator

from pydantic import Field

from planner.ceiling.system_file import BarPart, GridFile, Part, Path, SourcedLength, WallAnglePart, Words, bar_sources


class CarrierPart(BarPart):
    """The carrier: it is screwed to every joist, and cross tees hook into it anywhere."""

    splice_clear: SourcedLength = Field(examples=["{value: 75, source: from memory}"])


class TrackPart(WallAnglePart):
    """The trim along the walls, screwed into studs."""

    screw_spacing: SourcedLength = Field(examples=["{value: 600, source: from memory}"])


class FurringPart(BarPart):
    """Wood strips that go across the joists where carriers cannot be screwed to them."""

    width: SourcedLength = Field(examples=["{value: 63, source: from memory}"])
    thickness: SourcedLength = Field(examples=["{value: 19, source: from memory}"])


class ScrewPart(Part):
    """What fixes the carriers and the track."""

    item: Words = Field(examples=["screw"])
    farthest: SourcedLength = Field(examples=["{value: 600, source: from memory}"])


class DirectFile(GridFile):
    """A whole system file of a direct grid."""

    depth: SourcedLength = Field(examples=["{value: 38, source: from memory}"])
    carrier: CarrierPart = Field(examples=["(item, length, splice_clear)"])
    cover_strip: BarPart = Field(examples=["(item, length)"])
    track: TrackPart = Field(examples=["(item, length, ledge, screw_spacing)"])
    furring: FurringPart = Field(examples=["(item, length, width, thickness)"])
    screws: ScrewPart = Field(examples=["(item, farthest)"])
    chalk_offset: SourcedLength = Field(examples=["{value: 19, source: from memory}"])

    def items(self) -> Iterator[tuple[Path, str]]:
        """Every item of the order with its place in the file."""
        yield ("carrier", "item"), self.carrier.item
        for k, tee in enumerate(self.cross_tees):
            yield ("cross_tees", k, "item"), tee.item
        for name in ("cover_strip", "track", "furring", "screws"):
            yield (name, "item"), getattr(self, name).item

    def sources(self) -> tuple[tuple[str, str], ...]:
        """What each number is, and where it was read, in the order of the file."""
        parts = (self.carrier, *self.cross_tees, self.cover_strip, self.track, self.furring)
        return (
            *self.own_sources(),
            ("depth below the joists", self.depth.source),
            *(line for part in parts for line in bar_sources(part)),
            (f"{self.screws.item}, farthest along a carrier", self.screws.farthest.source),
            ("chalk line beside a carrier", self.chalk_offset.source),
        )
