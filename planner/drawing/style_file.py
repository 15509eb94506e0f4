"""Style files: which may be written in them, how one extends another, and what may be wrong.

In: the documents of a style, its own first, then those that it extends. Out: layers and roles with every value known,
or an InputError that names file and line. A file that extends another need only hold what it changes, down to a single
value of a single layer or role. Layer names may hold {codes}: a word in braces that the file, or one that extends it,
spells out under `codes` (classification tables that differ from office to office).
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from difflib import get_close_matches
from typing import Literal, TypeVar

from pydantic import BaseModel, ConfigDict, Field

from planner.documents import Document, refuse
from planner.drawing.papers import find_paper
from planner.drawing.roles import Role
from planner.errors import Complaint, PlannerError
from planner.records import dataclass

#: Line widths that a DXF layer can hold, millimetres (the DXF reference's list for group code 370).
PENS = tuple(
    hundredths / 100
    for hundredths in (
        *(0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90),
        *(100, 106, 120, 140, 158, 200, 211),
    )
)
USUAL_HEIGHT = 2.5  #: of capitals, paper millimetres, where a style says nothing

_LAYER_NAME = re.compile(r"[A-Za-z][A-Za-z0-9_-]{0,63}")
_RESERVED = ("0", "defpoints")
_CODE = re.compile(r"\{([^{}]*)\}")


class LayerEntry(BaseModel):
    """One layer as a style file writes it; its key is its name."""

    model_config = ConfigDict(extra="forbid", strict=False)

    colour: str | None = Field(
        default=None,
        pattern=r"^#[0-9a-fA-F]{6}$",
        description="red, green and blue of SVG and PDF, two digits each",
        examples=['"#1f5fa8"'],
    )
    aci: int | None = Field(default=None, ge=1, le=255, description="AutoCAD colour index for DXF")
    pen: float | None = Field(default=None, description="line width in millimetres")
    dash: list[float] | None = Field(default=None, description="stroke, gap, stroke, gap ... in paper millimetres")
    plots: bool | None = Field(default=None, description="false keeps the layer off paper, SVG and PDF")


class RoleEntry(BaseModel):
    """One role as a style file writes it; its key is the role."""

    model_config = ConfigDict(extra="forbid", strict=False)

    layer: str | None = Field(default=None, description="one of the layers of this file, or of the one it extends")
    height: float | None = Field(default=None, ge=0.5, le=100.0, description="height of capitals in paper millimetres")


class StyleFile(BaseModel):
    """A style file."""

    model_config = ConfigDict(extra="forbid", strict=False)

    extends: str | None = Field(default=None, description="the style that this one changes: its name or its file")
    title: str | None = Field(default=None, description="one line that says what the style is")
    paper: str | None = Field(default=None, description="the paper used when none is asked for")
    frame: Literal["iso-5457", "us", "plain"] | None = Field(
        default=None, description="around the frame of a sheet: centring marks and zones of a standard, or nothing"
    )
    codes: dict[str, str] = Field(default={}, description="what the words in braces in layer names stand for")
    layers: dict[str, LayerEntry] = Field(default={}, description="layer name to colour, pen and line type")
    roles: dict[str, RoleEntry] = Field(default={}, description="role to layer and letter height")


_Entry = TypeVar("_Entry", LayerEntry, RoleEntry)


@dataclass(frozen=True, slots=True)
class Written:
    """A value, and the file and key that it stands at."""

    document: Document
    path: tuple[str, ...]

    def complaint(self, problem: str, mend: str, *more: str) -> Complaint:
        return self.document.complaint((*self.path, *more), problem, mend)


@dataclass(frozen=True, slots=True)
class Merged:
    """A style and all that it extends, as one."""

    top: Document  #: the style's own file
    title: str
    paper: str
    frame: str
    codes: Mapping[str, str]
    layers: Mapping[str, tuple[LayerEntry, Written]]  #: by the name as written
    roles: Mapping[str, tuple[RoleEntry, Written]]

    def named(self, layer: str) -> str:
        """A layer's name with its codes spelt out."""
        return _CODE.sub(lambda found: self.codes.get(found[1], found[0]), layer)


def merged(files: Sequence[tuple[Document, StyleFile]]) -> Merged:
    """The files of a style, its own first, as one; InputError for all that is wrong with it."""
    layers: dict[str, tuple[LayerEntry, Written]] = {}
    roles: dict[str, tuple[RoleEntry, Written]] = {}
    codes: dict[str, str] = {}
    title = paper = ""
    frame = "plain"
    for document, entry in reversed(files):
        title, paper = entry.title or title, entry.paper or paper
        frame = entry.frame or frame
        codes |= entry.codes
        for name, layer in entry.layers.items():
            below = layers[name][0] if name in layers else LayerEntry()
            layers[name] = (_over(below, layer), Written(document, ("layers", name)))
        for name, role in entry.roles.items():
            under = roles[name][0] if name in roles else RoleEntry()
            roles[name] = (_over(under, role), Written(document, ("roles", name)))
    made = Merged(files[0][0], title, paper, frame, codes, layers, roles)
    refuse((*_head_complaints(made), *_layer_complaints(made), *_role_complaints(made)))
    return made


def _over(below: _Entry, above: _Entry) -> _Entry:
    """An entry with what another says in its place."""
    return below.model_copy(update=above.model_dump(exclude_unset=True))


def _head_complaints(style: Merged) -> Iterator[Complaint]:
    for key, value in (("title", style.title), ("paper", style.paper)):
        if not value:
            yield style.top.complaint(
                (key,), f"the style has no {key}.", f"Write  {key}: ...  or extend another style."
            )
    if style.paper:
        try:
            find_paper(style.paper)
        except PlannerError as error:
            yield style.top.complaint(("paper",), error.problem, error.mend)


def _layer_complaints(style: Merged) -> Iterator[Complaint]:
    seen: dict[str, str] = {}
    for key, (layer, written) in style.layers.items():
        name = style.named(key)
        if unknown := [code for code in _CODE.findall(name) if code not in style.codes]:
            problem = f'nothing says what {{{unknown[0]}}} in "{key}" stands for.'
            yield written.complaint(problem, f"Write  codes: {{{unknown[0] or 'code'}: ...}}.")
        elif not _LAYER_NAME.fullmatch(name) or name.lower() in _RESERVED:
            yield written.complaint(
                f'"{name}" cannot be the name of a layer.',
                'Use A-Z, a-z, 0-9, "-" and "_", a letter first, at most 64 of them; "Defpoints" is taken.',
            )
        if name.lower() in seen:
            problem = f'"{name}" and "{seen[name.lower()]}" are the same layer in CAD, where capitals do not count.'
            yield written.complaint(problem, "Rename one of them.")
        seen.setdefault(name.lower(), name)
        yield from _look_complaints(layer, written, [other for other in style.layers if other != key])


def _look_complaints(layer: LayerEntry, written: Written, others: Sequence[str]) -> Iterator[Complaint]:
    missing = [key for key in ("colour", "aci", "pen") if getattr(layer, key) is None]
    if missing:
        meant = nearest(written.path[-1], others)
        mend = f"{meant} A layer of its own wants colour, aci and pen." if meant else "Give colour, aci and pen."
        yield written.complaint(f"the layer has no {' and no '.join(missing)}.", mend)
    if layer.pen is not None and layer.pen not in PENS:
        near = min(PENS, key=lambda pen: abs(pen - (layer.pen or 0.0)))
        problem = f"{layer.pen:g} is not a line width that a DXF layer can hold."
        known = ", ".join(f"{pen:.2f}" for pen in PENS)
        yield written.complaint(problem, f"The nearest is {near:.2f}; all of them: {known}.", "pen")
    dash = layer.dash or []
    if len(dash) % 2 or not all(0 < length <= 1000 for length in dash):
        yield written.complaint(
            f"{dash} is not a dash pattern.",
            "Write stroke, gap, stroke, gap ... in millimetres, e.g. [3.0, 0.75]; leave it out for a full line.",
            "dash",
        )


def _role_complaints(style: Merged) -> Iterator[Complaint]:
    known = tuple(role.value for role in Role)
    for name, (role, written) in style.roles.items():
        if name not in known:
            mend = nearest(name, known) or f"Roles: {', '.join(known)}."
            yield written.complaint(f'there is no role "{name}".', mend)
        elif role.layer is None:
            yield written.complaint(f'the role "{name}" has no layer.', f"Write  {name}: {{layer: ...}}.")
        elif role.layer not in style.layers:
            mend = nearest(role.layer, tuple(style.layers)) or "Add it under layers."
            yield written.complaint(f'there is no layer "{role.layer}" in this file.', mend, "layer")
    for name in known:
        if name not in style.roles:
            mend = f"Add {name}: {{layer: ...}}."
            yield style.top.complaint(("roles",), f'the role "{name}" is missing.', mend)


def nearest(word: str, known: Sequence[str]) -> str:
    """What may be meant by a word that is not known, as a question; empty when nothing comes near."""
    close = get_close_matches(word, list(known), n=1, cutoff=0.5)
    return f'Did you mean "{close[0]}"?' if close else ""
