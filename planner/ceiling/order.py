"""The order of work: what to do one after the other, with the room's own numbers, for the person on the ladder.

In: a room and its ceiling. Out: one text for each step; its place in the row is its number.

Order of a hung ceiling: wall angle, wires, mains, cross tees, panels (NAVEDTRA 14044 p. 5-17), full panels first,
border panels last (from memory of p. 5-18). On grids fixed to the joists: level, furring, track, carriers, then panels
and cross tees row by row, and the cover strips after the panels (US patent 6,205,733: the cap goes on after the panel;
the rest from memory).
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from planner.ceiling.direct import OUT_OF_LEVEL_MM
from planner.ceiling.model import Ceiling, Member, Panel, Piece
from planner.geometry import distance
from planner.lengths import Rounding, format_length
from planner.room.outline import Room
from planner.room.service_kinds import KINDS

#: More rows, or more names in a row, than this are not spelt out.
MOST_ROWS = 16
MOST_NAMES = 8


def order_of_work(room: Room, ceiling: Ceiling) -> tuple[str, ...]:
    """Every step, in order; lengths in the room's units, cuts rounded down, marks to the nearest."""
    work = _Work(room, ceiling)
    steps = _direct_steps(work) if ceiling.system.direct else _hung_steps(work)
    return tuple(step for step in steps if step)


class _Work:
    """A room and its ceiling, with what the steps ask of them."""

    def __init__(self, room: Room, ceiling: Ceiling) -> None:
        self.room = room
        self.ceiling = ceiling

    def said(self, mm: float, rounding: Rounding = Rounding.NEAREST) -> str:
        return format_length(mm, self.room.units, rounding)

    def of(self, kind: str) -> list[Member]:
        return [member for member in self.ceiling.members if member.kind == kind]

    @property
    def level(self) -> str:
        height = self.ceiling.setout.level if self.ceiling.setout else None
        return "at the height of the ceiling" if height is None else f"{self.said(height)} above the floor"

    @property
    def first_corner(self) -> str:
        return f"corner {self.room.corner_names[0]}"


def _hung_steps(work: _Work) -> Iterator[str]:
    ceiling = work.ceiling
    joint = "overlap" if ceiling.system.corners == "lapped" else "mitre"
    yield (
        f"Strike a level line round the room {work.level}. Fix the wall angle with its underside on the line, a screw "
        f"or nail into every stud, at most {_fixings(work)} apart; {joint} the corners."
    )
    yield _strings_said(work)
    yield _wires_said(work)
    yield from _runs_said(work, "main tee", "Hang")
    yield _cross_tees_said(work)
    yield _squareness_said(work)
    yield _services_said(work)
    yield _full_panels_said(work)
    yield _cut_panels_said(work)
    yield from _rows_said(work)


def _direct_steps(work: _Work) -> Iterator[str]:
    room, ceiling = work.room, work.ceiling
    direct = ceiling.system.direct
    assert direct is not None
    if room.joists is not None:
        way = "square to" if room.joists.direction == "across" else "parallel to"
        yield (
            f"Find the joists and mark them on the walls: the first {work.said(room.joists.first)} from "
            f"{work.first_corner}, then every {work.said(room.joists.spacing)}, {way} wall {room.walls[0].name}."
        )
    yield (
        f"Stretch a string under the joists, both ways. Where they are out by more than {work.said(OUT_OF_LEVEL_MM)}, "
        "shim down to the lowest."
    )
    if strips := work.of("furring strip"):
        joints = "joints under joists and staggered from row to row, two nails at each joist"
        yield f"Nail {len(strips)} rows of furring across the joists, {_ids(strips)}: {joints}."
    tracks = {member.id for member in work.of("track")}
    on_track = sum(screw.member in tracks for screw in ceiling.hangers)
    yield (
        f"Strike a level line round the room {work.level}. Screw the track to the walls with its face on the line: "
        f"{on_track} screws into studs, at most {work.said(direct.track_screws)} apart."
    )
    yield _strings_said(work)
    yield (
        f"Strike a chalk line for each carrier {work.said(direct.chalk_offset)} beside its middle, so that it stays in "
        "sight when the carrier is up."
    )
    yield from _runs_said(work, "carrier", "Screw up")
    screws = sum(screw.kind == "screw" for screw in ceiling.hangers) - on_track
    to = "furring strip" if work.of("furring strip") else "joist"
    yield f"Put a screw through the carriers at every {to} they cross, and two where two pieces meet: {screws} in all."
    yield _services_said(work)
    yield _low_panels_said(work)
    yield from _rows_said(work)
    yield (
        f"Snap the cover strips {_ids(work.of('cover strip'))} over the carriers when the panels on both sides are in; "
        "keep their joints away from the carriers' joints, as drawn."
    )


def _fixings(work: _Work) -> str:
    """NAVEDTRA 14044 p. 5-17: fixings of the wall angle at 24 in."""
    return work.said(609.6 if work.room.imperial else 600.0)


def _strings_said(work: _Work) -> str:
    """The two strings, and the longest diagonal that proves them square."""
    setout = work.ceiling.setout
    if setout is None or not setout.lines:
        return ""
    names = [what.removeprefix("string: ") for _, _, what in setout.lines if what.startswith("string: ")]
    text = f"Mark the walls as on the set-out sheet and stretch strings for {' and the '.join(names)}."
    if setout.diagonals:
        longest = setout.diagonals[0]
        text += f" They are square when the tape from {longest.between} reads {work.said(longest.length)}."
    return text


def _wires_said(work: _Work) -> str:
    hangers = work.ceiling.hangers
    if not hangers:
        return ""
    lengths = [hanger.length for hanger in hangers if hanger.length is not None]
    cut = f", cut {work.said(max(lengths), Rounding.UP)} long" if lengths else ""
    return (
        f"Fix {len(hangers)} wires to the structure where the framing plan shows them{cut}. Pull each straight and "
        "bend it square at the string; three full turns at each tie."
    )


def _runs_said(work: _Work, kind: str, verb: str) -> Iterator[str]:
    """The main runs in order, grouped where neighbours or others are cut alike."""
    runs = work.of(kind)
    if not runs:
        return
    groups: dict[tuple[tuple[float, int], ...], list[Member]] = {}
    for run in runs:
        groups.setdefault(tuple((round(p.length, 1), p.count) for p in run.pieces), []).append(run)
    word = "main tees" if kind == "main tee" else "carriers"
    text = f"{verb} the {word} in order, {_ids(runs)}, each from its first mark on, the cut ends at the walls."
    if len(groups) <= MOST_NAMES:
        cuts = (f"{_ids(alike)}: {_pieces_said(work, alike[0].pieces)}" for alike in groups.values())
        text += f" Pieces in order: {'; '.join(cuts)}."
    yield text


def _pieces_said(work: _Work, pieces: Sequence[Piece]) -> str:
    parts = []
    for piece in pieces:
        whole = piece.ends == ("factory", "factory")
        size = "whole" if whole else work.said(piece.length, Rounding.DOWN)
        parts.append(size if piece.count == 1 else f"{piece.count} {size}")
    return " + ".join(parts)


def _cross_tees_said(work: _Work) -> str:
    tees = [piece for member in work.of("cross tee") for piece in member.pieces]
    if not tees:
        return ""
    whole = sum(piece.count for piece in tees if piece.ends == ("factory", "factory"))
    cut = sum(piece.count for piece in tees) - whole
    return (
        f"Hook in the {whole} whole cross tees, the long ones before the short ones between them; then cut the {cut} "
        "at the walls, each to its own measure, and lay their cut ends on the wall angle."
    )


def _squareness_said(work: _Work) -> str:
    width, depth = work.ceiling.layout.module
    across = work.said(distance((0.0, 0.0), (width, depth)))
    return (
        f"Prove the first bay: both diagonals of a module read {across}. Sight along the mains and level them by the "
        "wires."
    )


def _services_said(work: _Work) -> str:
    laid = [service.name for service in work.ceiling.services if KINDS[service.kind].form == "lay-in"]
    if not laid:
        return ""
    return (
        f"Set {_names(laid)} in their modules, on wires of their own, before the panels; a licensed person wires them."
    )


def _full_panels_said(work: _Work) -> str:
    if not work.ceiling.full_panels:
        return ""
    return (
        f"Lay the {work.ceiling.full_panels} full panels with clean gloves, from several cartons, any arrows one way: "
        f"tilt each up through its opening, level it, let it down. Begin nearest {work.first_corner}, row by row."
    )


def _cut_panels_said(work: _Work) -> str:
    corner = _corner_panel(work)
    if corner is None:
        return ""
    return (
        f"Then the border panels, cut face up with a sharp knife. Begin with {corner.id} at {work.first_corner}, cut "
        f"to {_size_said(work, corner)}: tilt it up through the next opening, wall side first, and lay it on the ledge."
    )


def _low_panels_said(work: _Work) -> str:
    corner = _corner_panel(work)
    begin = f"Begin at {work.first_corner}"
    if corner is not None:
        begin += f" with panel {corner.id}, cut to {_size_said(work, corner)}"
    return (
        f"{begin}. There is no room to tilt a panel: lift it level beside its place, slide it onto the track and the "
        "lip of the carrier, hook in the next cross tee, and go on along the row. The last panel of a row goes in bent "
        "or in two slides, before its cross tee."
    )


def _corner_panel(work: _Work) -> Panel | None:
    """The cut panel nearest the reference corner; None when nothing is cut."""
    corner = work.room.outline[0]
    cut = [panel for panel in work.ceiling.panels if not panel.full_size]
    near = [(min(distance(point, corner) for point in panel.outline), panel.id, panel) for panel in cut]
    return min(near, key=lambda one: one[:2])[2] if near else None


def _size_said(work: _Work, panel: Panel) -> str:
    return " x ".join(work.said(side, Rounding.DOWN) for side in panel.cut_to)


def _rows_said(work: _Work) -> Iterator[str]:
    """The cut and drilled panels of each row, where a list of them can still be read."""
    rows: dict[int, list[Panel]] = {}
    for panel in work.ceiling.panels:
        rows.setdefault(panel.cell[1], []).append(panel)
    if not rows or len(rows) > MOST_ROWS or max(map(len, rows.values())) > 2 * MOST_NAMES:
        return
    for number, row in enumerate(sorted(rows), 1):
        ids = [panel.id for panel in sorted(rows[row], key=lambda panel: panel.cell[0])]
        counted = (f"{n} x {name}" if n > 1 else name for name, n in ((k, len(list(g))) for k, g in groupby(ids)))
        yield f"Row {number} of panels that are cut or drilled, from the left: {', '.join(counted)}."


def _ids(members: Iterable[Member]) -> str:
    return _names([member.id for member in members])


def _names(names: Sequence[str]) -> str:
    """A row of names: "M1, M2, M3"; "M1 to M40" when there are many."""
    return ", ".join(names) if len(names) <= MOST_NAMES else f"{names[0]} to {names[-1]} ({len(names)})"
