"""Somebody else's DXF: the strokes on its layers, and the floor they make.

In come a file, a layer and perhaps a unit; out comes a `Floor`, or an InputError that says what to do.
Rule: $INSUNITS names the unit (DXF reference, from memory) unless the room file does.

This is the one module that reads DXF; it loads a heavy library, so import it only when a room asks for a drawing.
"""

import difflib
import logging
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from ezdxf import recover
from ezdxf.document import Drawing
from ezdxf.filemanagement import readfile

from planner.errors import Complaint, InputError
from planner.findings import Finding
from planner.geometry import box_of
from planner.limits import USUAL, Limits, raising
from planner.room.drawn.entities import Layer, clean, layer_key, unfold
from planner.room.drawn.faults import UNITS, Original
from planner.room.drawn.floor import Floor, floor_of
from planner.room.drawn.loops import Loop
from planner.room.drawn.tracing import trace
from planner.sayings import said

# The library tells a log what it repairs; without a listener that would land on the screen. Findings tell it better.
logging.getLogger("ezdxf").addHandler(logging.NullHandler())

#: Layers are listed by name up to here, then only counted.
MOST_LISTED = 20
#: $INSUNITS as the DXF reference numbers them: name and millimetres. Others are no units of rooms.
HEADER_UNITS = {
    1: ("in", 25.4),
    2: ("ft", 304.8),
    4: ("mm", 1.0),
    5: ("cm", 10.0),
    6: ("m", 1000.0),
    10: ("yd", 914.4),
    14: ("dm", 100.0),
    21: ("US survey ft", 1200e3 / 3937),
}


def read_floor(
    path: Path, layer: str | None, units: str | None, *, at_most_gap_mm: float = 1.0, limits: Limits = USUAL
) -> Floor:
    """Read a room's outline and columns from a layer of a DXF; `None` takes the only layer with closed outlines.

    `units` (mm, cm, m, in, ft) overrules what the drawing says of itself. Loose ends up to `at_most_gap_mm` apart are
    joined. Raises InputError for a file that cannot be read, a unit or layer that is missing, an outline that is not
    closed or cannot be a room.
    """
    doc, flaws = _opened(path, limits)
    try:
        floor = _floor(doc, replace(_unit(doc, units, str(path)), limits=limits), layer, at_most_gap_mm)
    except InputError as error:
        if not flaws:
            raise
        damage = Complaint("", _damage(path, flaws), _SAVE_AGAIN, file=str(path))
        raise InputError((damage, *error.complaints)) from error
    if not flaws:
        return floor
    warning = Finding("warn", "damaged drawing", "common practice, no source", _damage(path, flaws), None, _SAVE_AGAIN)
    return replace(floor, findings=(warning, *floor.findings))


def _floor(doc: Drawing, unit: Original, layer: str | None, gap_mm: float) -> Floor:
    """The floor on a layer of an opened drawing."""
    wanted = layer_key(layer) if layer is not None else None
    layers = unfold(doc, unit, wanted)
    if wanted is None:
        wanted = _only_layer(layers, unit, gap_mm)
    if wanted not in layers:
        raise _no_such_layer(doc, layer or "", unit, gap_mm)
    here = layers[wanted]
    unread = ", ".join(f"{count} {what}" for what, count in sorted(here.unread.items()))
    traced = trace(here.strokes, here.rings, at_most_gap_mm=gap_mm)
    return floor_of(traced, replace(unit, layer=here.name, unread=unread), at_most_gap_mm=gap_mm)


def _damage(path: Path, flaws: int) -> str:
    return said(
        "{file} is damaged; flaws repaired in reading it: {flaws}; something may be missing",
        file=path.name,
        flaws=flaws,
    )


def _refusal(file: str, problem: str, mend: str, place: str = "") -> InputError:
    return InputError((Complaint(place, problem, mend, file=file),))


_SAVE_AGAIN = said("Open it in the program it comes from and save it again as DXF (2010 or newer, text form).")


def _opened(path: Path, limits: Limits) -> tuple[Drawing, int]:
    """The drawing and the number of flaws that were repaired in reading it.

    On damaged files the library raises nearly anything, not only its own errors (tried with thousands of them:
    ValueError, StopIteration, KeyError, AssertionError ...), so whatever comes from within it is a damaged file.
    """
    try:
        _look_at(path, limits)
    except OSError as error:
        raise _refusal(str(path), f"cannot be read: {clean(error.strerror or str(error))}", "") from error
    try:
        return readfile(path), 0
    except OSError as error:  # also how the library says that a file is something else altogether
        raise _refusal(str(path), "is not a DXF file", _SAVE_AGAIN) from error
    except Exception:
        return _recovered(path)


def _look_at(path: Path, limits: Limits) -> None:
    """Refuse what is plainly no DXF, before a library tries to read it."""
    file = str(path)
    if path.is_dir():
        raise _refusal(file, "is a folder, and a DXF file was expected", "Name the file inside it.")
    if not path.is_file():
        raise _refusal(file, "there is no such file", "Paths are read from the folder of the room file.")
    size = path.stat().st_size
    if size == 0:
        raise _refusal(file, "is empty", _SAVE_AGAIN)
    if size > limits.drawing:
        mend = f"Save only the layer with the outline to a DXF of its own. {raising('drawing', size)}"
        raise _refusal(file, f"has {size:,} bytes, and {limits.drawing:,} are the most that is read", mend)
    with path.open("rb") as stream:
        start = stream.read(6)
    if start.startswith(b"AC1"):
        raise _refusal(file, "is a DWG file, and DXF was expected", "Save it as DXF in the program it comes from.")


def _recovered(path: Path) -> tuple[Drawing, int]:
    """What can be saved of a damaged drawing."""
    try:
        doc, audit = recover.readfile(path)
    except Exception as error:
        why = clean(str(error)) or type(error).__name__
        raise _refusal(str(path), f"is damaged beyond repair ({why})", _SAVE_AGAIN) from error
    return doc, max(1, len(audit.errors) + len(audit.fixes))


def _unit(doc: Drawing, units: str | None, file: str) -> Original:
    """The unit to read in: the one told, else the one the drawing names."""
    code = doc.header.get("$INSUNITS", 0)
    header = HEADER_UNITS.get(code)
    header_name = header[0] if header else ""
    choice = f"Give units: {', '.join(UNITS)}. A drawing that shows feet and inches is stored in inches: units: in."
    if units is not None:
        if units not in UNITS:
            raise _refusal(file, f'"{clean(units)}" is no unit of a drawing', choice, "units")
        return Original(file, "", units, UNITS[units], header_name, told=True)
    if header is None:
        said = "does not say in which unit it is drawn" if not code else "says a unit that no room is drawn in"
        raise _refusal(file, f"the DXF {said} ($INSUNITS {code})", choice, "units")
    return Original(file, "", header[0], header[1], header_name)


def _only_layer(layers: Mapping[str, Layer], unit: Original, gap_mm: float) -> str:
    """The one layer with closed outlines; InputError when there are several or none."""
    closed = _closed_on(layers, gap_mm)
    if len(closed) == 1:
        return next(iter(closed))
    if not closed:
        raise _refusal(unit.file, "holds no closed outline", _where_instead(layers, closed), "layer")
    several = f"{len(closed)} layers hold closed outlines, so the layer must be named"
    raise _refusal(unit.file, several, _where_instead(layers, closed), "layer")


def _no_such_layer(doc: Drawing, layer: str, unit: Original, gap_mm: float) -> InputError:
    """The refusal of a layer without lines, with the layers that have some."""
    problem = f'no lines are drawn on a layer "{clean(layer)}"'
    try:
        layers = unfold(doc, unit, None)
    except InputError:  # too much is drawn to look everywhere for outlines
        names = _listed(sorted(clean(entry.dxf.name) for entry in doc.layers))
        return _refusal(unit.file, problem, f"The drawing's layers are: {names}.", "layer")
    closed = _closed_on(layers, gap_mm)
    near = difflib.get_close_matches(layer_key(layer), closed or layers, n=1)
    guess = f"Did you mean {layers[near[0]].name}? " if near else ""
    return _refusal(unit.file, problem, guess + _where_instead(layers, closed), "layer")


def _closed_on(layers: Mapping[str, Layer], gap_mm: float) -> dict[str, tuple[Loop, ...]]:
    """The closed loops of every layer that has any."""
    found = {k: trace(layer.strokes, layer.rings, at_most_gap_mm=gap_mm).loops for k, layer in layers.items()}
    return {key: loops for key, loops in found.items() if loops}


def _where_instead(layers: Mapping[str, Layer], closed: Mapping[str, tuple[Loop, ...]]) -> str:
    """Where outlines are, or else where anything is."""
    if closed:
        rows = [f"{layers[key].name} ({_loops(loops)})" for key, loops in closed.items()]
        return f"Closed outlines are on: {_listed(rows)}."
    if layers:
        return f"No layer holds a closed outline; lines are on: {_listed([layer.name for layer in layers.values()])}."
    return "There are no lines in the model at all; a drawing that is attached must be bound into the file first."


def _loops(loops: Sequence[Loop]) -> str:
    """How many, and how large the largest is."""
    box = box_of(loops[0].ring())
    return f"{len(loops)} closed, the largest {box.width / 1000:.3g} by {box.height / 1000:.3g} m"


def _listed(rows: Sequence[str]) -> str:
    more = len(rows) - MOST_LISTED
    return ", ".join(rows[:MOST_LISTED]) + (f" and {more} more" if more > 0 else "")
