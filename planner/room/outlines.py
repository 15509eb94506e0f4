"""The four ways to give an outline, each made into the same thing.

In: the outline keys of a room file. Out: `Given`, corners in order with their names, or the faults that forbid it.
Rectangles and points are taken as they stand; a taped room is closed by least squares (`planner.room.tape`); somebody
else's drawing is traced (`planner.room.drawn.dxf`).
"""

from collections.abc import Iterator
from pathlib import Path as FilePath
from pathlib import PurePath

from planner.errors import InputError, PlannerError
from planner.findings import Finding
from planner.geometry import TOLERANCE_MM, Frame, Point, Ring, distance
from planner.limits import USUAL, Limits
from planner.records import dataclass
from planner.room.drawn.loops import Loop
from planner.room.naming import corner_names
from planner.room.outline import Units
from planner.room.rings import ring_faults
from planner.room.schema import DrawingKeys, OutlineKeys
from planner.room.survey import Clipboard, Reading, Survey
from planner.wording import Fault
from planner.yaml_text import Path


@dataclass(frozen=True, slots=True)
class Given:
    """An outline as it was given, in either sense of walking."""

    corners: Ring
    names: tuple[str, ...]
    path: Path  #: of the key that gave it
    bulges: tuple[float, ...] = ()  #: of the walls of a drawing; empty = all straight
    in_file_coordinates: bool = False  #: columns and services are given in the same coordinates as the corners
    along_base_wall: bool = False  #: given along the base wall already, whichever wall that is
    columns: tuple[Loop, ...] = ()  #: those of a drawing
    drawing_unit: str = ""  #: unit of the drawing the corners came from, whose coordinates they keep
    survey: Survey | None = None
    findings: tuple[Finding, ...] = ()  #: places in the coordinates of the corners
    turned: bool = False  #: given clockwise: the corners stand here in the opposite order


def given_outline(
    keys: OutlineKeys, units: Units, file: str, limits: Limits = USUAL
) -> tuple[Given | None, list[Fault]]:
    """Read the outline of a room; nothing when there are faults. `file` is the room file, `units` its units."""
    if keys.rectangle is not None:
        length, width = keys.rectangle
        corners: Ring = ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))
        return Given(corners, corner_names(4), ("room", "rectangle"), along_base_wall=True), []
    if keys.points is not None:
        return _pointed(keys.points)
    try:
        return (_taped(keys, units) if keys.corners is not None else _drawn(keys.dxf, file, limits)), []
    except InputError as error:
        return None, list(_faults_of_drawing(error))
    except PlannerError as error:
        return None, [Fault(("room", *error.where.split(" › ")), error.problem, error.mend)]


def _pointed(points: list[Point]) -> tuple[Given | None, list[Fault]]:
    """Take corners as coordinates; a last corner that repeats the first is dropped, as some close an outline so."""
    closed = len(points) > 1 and distance(points[0], points[-1]) <= TOLERANCE_MM
    corners = tuple(points[:-1] if closed else points)
    names, path = corner_names(len(corners)), ("room", "points")
    if faults := ring_faults(corners, names, path):
        return None, faults
    return Given(corners, names, path, in_file_coordinates=True), []


def _taped(keys: OutlineKeys, units: Units) -> Given:
    """Close the survey of a taped room; PlannerError when it cannot be closed."""
    from planner.room.tape import close_survey  # most rooms are not taped

    survey = close_survey(
        Clipboard(
            corners=tuple(keys.corners or ()),
            readings=tuple(_readings(keys)),
            outside_corners=tuple(keys.outside_corners),
            angles=keys.angles,
            accuracy=keys.tape_accuracy,
            walk=keys.walk,
            units=units,
        )
    )
    corners = tuple(survey.corners.values())
    names, turned = tuple(survey.corners), keys.walk == "clockwise"
    return Given(corners, names, ("room", "tape"), survey=survey, findings=survey.findings, turned=turned)


def _readings(keys: OutlineKeys) -> Iterator[Reading]:
    for line, lengths in keys.tape.items():
        start, end = line.split("-")
        yield from (Reading((start, end), length) for length in lengths)


def _drawn(keys: DrawingKeys | None, file: str, limits: Limits) -> Given:
    """Trace the outline in somebody else's drawing; InputError when that cannot be done."""
    from planner.room.drawn.dxf import read_floor  # heavy, and most rooms do not come from a drawing

    assert keys is not None  # the schema wants one of the four ways
    path = FilePath(PurePath(file).parent / keys.file)
    floor = read_floor(path, keys.layer, keys.units, limits=limits)
    return Given(
        corners=floor.outer.vertices,
        names=corner_names(len(floor.outer.vertices)),
        path=("room", "dxf"),
        bulges=floor.outer.bulges,
        columns=floor.inner,
        drawing_unit=floor.unit,
        findings=floor.findings,
    )


def _faults_of_drawing(error: InputError) -> Iterator[Fault]:
    """What is wrong with a drawing, told at the key that names it."""
    for complaint in error.complaints:
        place: Path = ("room", "dxf", complaint.place) if complaint.place else ("room", "dxf")
        yield Fault(place, f"{complaint.file}: {complaint.problem}", complaint.mend)


def placed(point: Point, frame: Frame) -> Point:
    """Bring a point into a frame, without the noise that turning leaves behind."""
    x, y = frame.inward(point)
    if frame.angle_deg % 90.0 == 0.0:
        return (x + 0.0, y + 0.0)
    return (round(x, 6) + 0.0, round(y, 6) + 0.0)
