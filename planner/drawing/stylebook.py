"""Styles: which layer, pen, colour and letter height each role gets. The only place that knows where they lie.

In: the name of a style in `styles/`, or a path to a file of the user's own. Out: a `Style`, complete: every role has a
layer, every layer a pen. Colours, pens and line types belong to layers, so that every entity can be BYLAYER.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from importlib.resources import as_file, files
from importlib.resources.abc import Traversable
from pathlib import Path

from pydantic import BaseModel, ConfigDict, Field

from planner.documents import Document, read_document, refuse, validate
from planner.drawing.roles import Role
from planner.errors import Complaint, InputError

#: Line widths that a DXF layer can hold, millimetres (the DXF reference's list for group code 370).
PENS = tuple(
    hundredths / 100
    for hundredths in (
        *(0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90),
        *(100, 106, 120, 140, 158, 200, 211),
    )
)

_LAYER_NAME = re.compile(r"[A-Za-z][A-Za-z0-9_-]{0,63}")
_RESERVED = ("0", "defpoints")


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer of the drawing standard."""

    name: str  #: A-Z, a-z, 0-9, "-" and "_" only, a letter first, at most 64 characters
    colour: str  #: "#rrggbb", for SVG and PDF
    aci: int  #: AutoCAD colour index 1..255, for DXF
    pen: float  #: line width, paper millimetres, one of `PENS`
    dash: tuple[float, ...] = ()  #: stroke, gap, stroke, gap ... in paper millimetres; empty = continuous
    plots: bool = True


@dataclass(frozen=True, slots=True)
class RoleStyle:
    """How one role is drawn."""

    layer: str
    height: float = 2.5  #: capitals, paper millimetres; used by texts and dimensions


@dataclass(frozen=True, slots=True)
class Style:
    """A drawing standard."""

    name: str
    title: str
    paper: str  #: default paper, a name known to `planner.drawing.papers`
    layers: tuple[Layer, ...]
    roles: tuple[tuple[Role, RoleStyle], ...]
    _role_styles: Mapping[Role, RoleStyle] = field(init=False, repr=False, compare=False)
    _role_layers: Mapping[Role, Layer] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        by_name = {layer.name: layer for layer in self.layers}
        object.__setattr__(self, "_role_styles", dict(self.roles))
        object.__setattr__(self, "_role_layers", {role: by_name[entry.layer] for role, entry in self.roles})

    def role(self, role: Role) -> RoleStyle:
        return self._role_styles[role]

    def layer(self, role: Role) -> Layer:
        return self._role_layers[role]


class _LayerEntry(BaseModel):
    """One layer as a style file writes it; its key is its name."""

    model_config = ConfigDict(extra="forbid", strict=False)

    colour: str = Field(pattern=r"^#[0-9a-fA-F]{6}$", description='colour for SVG and PDF, "#rrggbb"')
    aci: int = Field(ge=1, le=255, description="AutoCAD colour index for DXF")
    pen: float = Field(description="line width in millimetres")
    dash: list[float] = Field(default=[], description="stroke, gap, stroke, gap ... in paper millimetres")
    plots: bool = Field(default=True, description="false keeps the layer off paper, SVG and PDF")


class _RoleEntry(BaseModel):
    """One role as a style file writes it; its key is the role."""

    model_config = ConfigDict(extra="forbid", strict=False)

    layer: str = Field(description="one of the layers of this file")
    height: float = Field(default=2.5, ge=0.5, le=100.0, description="height of capitals in paper millimetres")


class _StyleFile(BaseModel):
    """A style file."""

    model_config = ConfigDict(extra="forbid", strict=False)

    title: str = Field(description="one line that says what the style is")
    paper: str = Field(description="the paper used when none is asked for")
    layers: dict[str, _LayerEntry] = Field(description="layer name to colour, pen and line type")
    roles: dict[str, _RoleEntry] = Field(description="role to layer and letter height")


def style_names() -> tuple[str, ...]:
    """Name the styles that come with the planner, in alphabetical order."""
    found = (entry.name for entry in _shelf().iterdir() if entry.name.endswith(".yaml"))
    return tuple(sorted(name.removesuffix(".yaml") for name in found))


def load_style(name_or_path: str | Path, base: str | Path = ".") -> Style:
    """Load a style that comes with the planner, or a file of one's own (a path is seen from `base`); InputError."""
    wanted = str(name_or_path)
    if wanted in style_names():
        with as_file(_shelf() / f"{wanted}.yaml") as path:
            return _styled(wanted, read_document(path))
    if not _looks_like_path(wanted):
        raise InputError((_no_such_style(wanted),))
    path = Path(base) / wanted
    return _styled(path.stem, read_document(path))


def _shelf() -> Traversable:
    """Where the styles lie: inside a wheel, or beside the package in a checkout."""
    packed = files("planner") / "styles"
    return packed if packed.is_dir() else Path(__file__).parents[2] / "styles"


def _looks_like_path(wanted: str) -> bool:
    return wanted.endswith((".yaml", ".yml")) or "/" in wanted or "\\" in wanted


def _no_such_style(wanted: str) -> Complaint:
    mend = _nearest(wanted, style_names()) or f"Styles: {', '.join(style_names())}; or the path of a .yaml file."
    return Complaint("", f'there is no style "{wanted}".', mend, file="--style")


def _styled(name: str, document: Document) -> Style:
    entry = validate(document, _StyleFile)
    refuse((*_layer_complaints(entry, document), *_role_complaints(entry, document)))
    layers = tuple(
        Layer(key, layer.colour.lower(), layer.aci, layer.pen, tuple(layer.dash), layer.plots)
        for key, layer in entry.layers.items()
    )
    roles = tuple((role, RoleStyle(entry.roles[role].layer, entry.roles[role].height)) for role in Role)
    return Style(name, entry.title, entry.paper, layers, roles)


def _layer_complaints(entry: _StyleFile, document: Document) -> Iterator[Complaint]:
    seen: dict[str, str] = {}
    for name, layer in entry.layers.items():
        path = ("layers", name)
        if not _LAYER_NAME.fullmatch(name) or name.lower() in _RESERVED:
            yield document.complaint(
                path,
                f'"{name}" cannot be the name of a layer.',
                'Use A-Z, a-z, 0-9, "-" and "_", a letter first, at most 64 of them; "Defpoints" is taken.',
            )
        if name.lower() in seen:
            problem = f'"{name}" and "{seen[name.lower()]}" are the same layer in CAD, where capitals do not count.'
            yield document.complaint(path, problem, "Rename one of them.")
        seen.setdefault(name.lower(), name)
        if layer.pen not in PENS:
            near = min(PENS, key=lambda pen: abs(pen - layer.pen))
            known = ", ".join(f"{pen:.2f}" for pen in PENS)
            problem = f"{layer.pen:g} is not a line width that a DXF layer can hold."
            yield document.complaint((*path, "pen"), problem, f"The nearest is {near:.2f}; all of them: {known}.")
        if len(layer.dash) % 2 or not all(0 < length <= 1000 for length in layer.dash):
            yield document.complaint(
                (*path, "dash"),
                f"{layer.dash} is not a dash pattern.",
                "Write stroke, gap, stroke, gap ... in millimetres, e.g. [3.0, 0.75]; leave it out for a full line.",
            )


def _role_complaints(entry: _StyleFile, document: Document) -> Iterator[Complaint]:
    known = tuple(role.value for role in Role)
    for name, role in entry.roles.items():
        if name not in known:
            mend = _nearest(name, known) or f"Roles: {', '.join(known)}."
            yield document.complaint(("roles", name), f'there is no role "{name}".', mend)
        if role.layer not in entry.layers:
            mend = _nearest(role.layer, entry.layers) or "Add it under layers."
            yield document.complaint(("roles", name, "layer"), f'there is no layer "{role.layer}" in this file.', mend)
    for name in known:
        if name not in entry.roles:
            yield document.complaint(("roles",), f'the role "{name}" is missing.', f"Add {name}: {{layer: ...}}.")


def _nearest(word: str, known: Mapping[str, object] | tuple[str, ...]) -> str:
    close = get_close_matches(word, list(known), n=1, cutoff=0.5)
    return f'Did you mean "{close[0]}"?' if close else ""
