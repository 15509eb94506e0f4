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
from planner.ceiling.setout import STRING
from planner.geometry import distance
from planner.lengths import Rounding, spoken_length
from planner.room.outline import Room
from planner.room.service_kinds import KINDS
from planner.sayings import Said, joined, linked, said

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
        return spoken_length(mm, self.room.units, rounding)

    def of(self, kind: str) -> list[Member]:
        return [member for member in self.ceiling.members if member.kind == kind]

    @property
    def level(self) -> str:
        height = self.ceiling.setout.level if self.ceiling.setout else None
        return (
            said("at the height of the ceiling")
            if height is None
            else said("{height} above the floor", height=self.said(height))
        )

    @property
    def first_corner(self) -> str:
        return said("corner {corner}", corner=self.room.corner_names[0])


def _hung_steps(work: _Work) -> Iterator[str]:
    ceiling = work.ceiling
    joint = said("overlap") if ceiling.system.corners == "lapped" else said("mitre")
    yield (
        said(
            "Strike a level line round the room {level}. Fix the wall angle with its underside on the line, "
            "a screw or nail into every stud, at most {fixings} apart; {joint} the corners.",
            level=work.level,
            fixings=_fixings(work),
            joint=joint,
        )
    )
    yield _strings_said(work)
    yield _wires_said(work)
    yield from _runs_said(work, "main tee")
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
        way = said("square to") if room.joists.direction == "across" else said("parallel to")
        yield (
            said(
                "Find the joists and mark them on the walls: the first {first} from {first_corner}, then every "
                "{spacing}, {way} wall {wall}.",
                first=work.said(room.joists.first),
                first_corner=work.first_corner,
                spacing=work.said(room.joists.spacing),
                way=way,
                wall=room.walls[0].name,
            )
        )
    yield (
        said(
            "Stretch a string under the joists, both ways. Where they are out by more than {out_of_level}, "
            "shim down to the lowest.",
            out_of_level=work.said(OUT_OF_LEVEL_MM),
        )
    )
    if strips := work.of("furring strip"):
        joints = said("joints under joists and staggered from row to row, two nails at each joist")
        yield said(
            "Nail {count} rows of furring across the joists, {ids}: {joints}.",
            count=len(strips),
            ids=_ids(strips),
            joints=joints,
        )
    tracks = {member.id for member in work.of("track")}
    on_track = sum(screw.member in tracks for screw in ceiling.hangers)
    yield (
        said(
            "Strike a level line round the room {level}. Screw the track to the walls with its face on the "
            "line: {on_track} screws into studs, at most {track_screws} apart.",
            level=work.level,
            on_track=on_track,
            track_screws=work.said(direct.track_screws),
        )
    )
    yield _strings_said(work)
    yield (
        said(
            "Strike a chalk line for each carrier {chalk_offset} beside its middle, so that it stays in "
            "sight when the carrier is up.",
            chalk_offset=work.said(direct.chalk_offset),
        )
    )
    yield from _runs_said(work, "carrier")
    screws = sum(screw.kind == "screw" for screw in ceiling.hangers) - on_track
    to = said("furring strip") if work.of("furring strip") else said("joist")
    yield said(
        "Put a screw through the carriers at every {to} they cross, and two where two pieces meet: {screws} in all.",
        to=to,
        screws=screws,
    )
    yield _services_said(work)
    yield _low_panels_said(work)
    yield from _rows_said(work)
    yield (
        said(
            "Snap the cover strips {ids} over the carriers when the panels on both sides are in; keep their "
            "joints away from the carriers' joints, as drawn.",
            ids=_ids(work.of("cover strip")),
        )
    )


def _fixings(work: _Work) -> str:
    """NAVEDTRA 14044 p. 5-17: fixings of the wall angle at 24 in."""
    return work.said(609.6 if work.room.imperial else 600.0)


def _strings_said(work: _Work) -> str:
    """The two strings, and the longest diagonal that proves them square."""
    setout = work.ceiling.setout
    if setout is None or not setout.lines:
        return ""
    names = [what.values["what"] for _, _, what in setout.lines if isinstance(what, Said) and what.template == STRING]
    text = said(
        "Mark the walls as on the set-out sheet and stretch strings for {lines}.",
        lines=linked(names, "{some} and the {last}"),
    )
    if setout.diagonals:
        longest = setout.diagonals[0]
        text += said(
            " They are square when the tape from {between} reads {length}.",
            between=longest.between,
            length=work.said(longest.length),
        )
    return text


def _wires_said(work: _Work) -> str:
    hangers = work.ceiling.hangers
    if not hangers:
        return ""
    lengths = [hanger.length for hanger in hangers if hanger.length is not None]
    cut = said(", cut {length} long", length=work.said(max(lengths), Rounding.UP)) if lengths else ""
    return said(
        "Fix {count} wires to the structure where the framing plan shows them{cut}. Pull each straight "
        "and bend it square at the string; three full turns at each tie.",
        count=len(hangers),
        cut=cut,
    )


def _runs_said(work: _Work, kind: str) -> Iterator[str]:
    """The main runs in order, grouped where neighbours or others are cut alike."""
    runs = work.of(kind)
    if not runs:
        return
    groups: dict[str, list[Member]] = {}  # alike is what reads alike
    for run in runs:
        groups.setdefault(str(_pieces_said(work, run.pieces)), []).append(run)
    text = (
        said(
            "Hang the main tees in order, {ids}, each from its first mark on, the cut ends at the walls.",
            ids=_ids(runs),
        )
        if kind == "main tee"
        else said(
            "Screw up the carriers in order, {ids}, each from its first mark on, the cut ends at the walls.",
            ids=_ids(runs),
        )
    )
    if len(groups) <= MOST_NAMES:
        cuts = (joined((_ids(alike), _pieces_said(work, alike[0].pieces)), ": ") for alike in groups.values())
        text += said(" Pieces in order: {cuts}.", cuts=joined(cuts, "; "))
    yield text


def _pieces_said(work: _Work, pieces: Sequence[Piece]) -> str:
    parts = []
    for piece in pieces:
        whole = piece.ends == ("factory", "factory")
        size = said("whole") if whole else work.said(piece.length, Rounding.DOWN)
        parts.append(size if piece.count == 1 else joined((str(piece.count), size)))
    return joined(parts, " + ")


def _cross_tees_said(work: _Work) -> str:
    tees = [piece for member in work.of("cross tee") for piece in member.pieces]
    if not tees:
        return ""
    whole = sum(piece.count for piece in tees if piece.ends == ("factory", "factory"))
    cut = sum(piece.count for piece in tees) - whole
    return said(
        "Hook in the {whole} whole cross tees, the long ones before the short ones between them; then "
        "cut the {cut} at the walls, each to its own measure, and lay their cut ends on the wall angle.",
        whole=whole,
        cut=cut,
    )


def _squareness_said(work: _Work) -> str:
    width, depth = work.ceiling.layout.module
    across = work.said(distance((0.0, 0.0), (width, depth)))
    return said(
        "Prove the first bay: both diagonals of a module read {across}. Sight along the mains and level "
        "them by the wires.",
        across=across,
    )


def _services_said(work: _Work) -> str:
    laid = [service.name for service in work.ceiling.services if KINDS[service.kind].form == "lay-in"]
    if not laid:
        return ""
    return said(
        "Set {names} in their modules, on wires of their own, before the panels; a licensed person wires them.",
        names=_names(laid),
    )


def _full_panels_said(work: _Work) -> str:
    if not work.ceiling.full_panels:
        return ""
    return said(
        "Lay the {full_panels} full panels with clean gloves, from several cartons, any arrows one way: "
        "tilt each up through its opening, level it, let it down. Begin nearest {first_corner}, row by "
        "row.",
        full_panels=work.ceiling.full_panels,
        first_corner=work.first_corner,
    )


def _cut_panels_said(work: _Work) -> str:
    corner = _corner_panel(work)
    if corner is None:
        return ""
    return said(
        "Then the border panels, cut face up with a sharp knife. Begin with {corner} at {first_corner}, "
        "cut to {size}: tilt it up through the next opening, wall side first, and lay it on the ledge.",
        corner=corner.id,
        first_corner=work.first_corner,
        size=_size_said(work, corner),
    )


def _low_panels_said(work: _Work) -> str:
    corner = _corner_panel(work)
    begin = said("Begin at {first_corner}", first_corner=work.first_corner)
    if corner is not None:
        begin += said(" with panel {corner}, cut to {size}", corner=corner.id, size=_size_said(work, corner))
    return said(
        "{begin}. There is no room to tilt a panel: lift it level beside its place, slide it onto the "
        "track and the lip of the carrier, hook in the next cross tee, and go on along the row. The last "
        "panel of a row goes in bent or in two slides, before its cross tee.",
        begin=begin,
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
        yield said(
            "Row {number} of panels that are cut or drilled, from the left: {panels}.",
            number=number,
            panels=", ".join(counted),
        )


def _ids(members: Iterable[Member]) -> str:
    return _names([member.id for member in members])


def _names(names: Sequence[str]) -> str:
    """A row of names: "M1, M2, M3"; "M1 to M40" when there are many."""
    return (
        ", ".join(names)
        if len(names) <= MOST_NAMES
        else said("{first} to {last} ({number})", first=names[0], last=names[-1], number=len(names))
    )
