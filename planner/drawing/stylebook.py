"""Styles: which layer, pen, colour and letter height each role gets. The only place that knows where they lie.

In: the name of a style in `styles/`, or a path to a file of the user's own. Out: a `Style`, complete: every role has a
layer, every layer a pen. Colours, pens and line types belong to layers, so that every entity can be BYLAYER.
"""

from collections.abc import Mapping
from dataclasses import field
from functools import cache
from importlib.resources import as_file, files
from importlib.resources.abc import Traversable
from pathlib import Path

from planner.documents import Document, read_document, refuse, validate
from planner.drawing.roles import Role
from planner.drawing.style_file import PENS, USUAL_HEIGHT, LayerEntry, StyleFile, merged, nearest
from planner.errors import Complaint, InputError
from planner.records import dataclass

__all__ = ["PENS", "Layer", "RoleStyle", "Style", "load_style", "style_names"]


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
    height: float = USUAL_HEIGHT  #: capitals, paper millimetres; used by texts and dimensions


@dataclass(frozen=True, slots=True)
class Style:
    """A drawing standard."""

    name: str
    title: str
    paper: str  #: default paper, a name known to `planner.drawing.papers`
    layers: tuple[Layer, ...]
    roles: tuple[tuple[Role, RoleStyle], ...]
    frame: str = "plain"  #: what is around the frame of a sheet, see `planner.drawing.sheet_frame`
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


def style_names() -> tuple[str, ...]:
    """Name the styles that come with the planner, in alphabetical order."""
    found = (entry.name for entry in _shelf().iterdir() if entry.name.endswith(".yaml"))
    return tuple(sorted(name.removesuffix(".yaml") for name in found))


def load_style(name_or_path: str | Path, base: str | Path = ".", reach: str | Path = "") -> Style:
    """Load a style that comes with the planner, or a file of one's own (a path is seen from `base`); InputError.

    What the style extends is seen from its own file, and lies in or below the folder of that, or of `reach`.
    """
    wanted = str(name_or_path)
    return _built_in(wanted) if wanted in style_names() else _loaded(wanted, base, reach)


@cache
def _built_in(name: str) -> Style:
    """Read once, however many rooms of a building are drawn in it: it names no file of anybody's own."""
    return _loaded(name, ".", "")


def _loaded(wanted: str, base: str | Path, reach: str | Path) -> Style:
    opened = _opened(wanted, Path(base), reach)
    if opened is None:
        raise InputError((Complaint("", *_no_such_style(wanted), file="--style"),))
    name = wanted if wanted in style_names() else Path(wanted).stem
    return _styled(name, _with_extended(*opened))


def _shelf() -> Traversable:
    """Where the styles lie: inside a wheel, or beside the package in a checkout."""
    packed = files("planner") / "styles"
    return packed if packed.is_dir() else Path(__file__).parents[2] / "styles"


def _opened(wanted: str, base: Path, reach: str | Path) -> tuple[str, Document] | None:
    """A style's file, and what tells it from others; None when it is neither a name nor the name of a file."""
    if wanted in style_names():
        with as_file(_shelf() / f"{wanted}.yaml") as path:
            return wanted, read_document(path)
    if not wanted.endswith((".yaml", ".yml")) and "/" not in wanted and "\\" not in wanted:
        return None
    path = base / wanted
    return str(path.resolve()), read_document(path, reach)


def _no_such_style(wanted: str) -> tuple[str, str]:
    known = style_names()
    mend = nearest(wanted, known) or f"Styles: {', '.join(known)}; or the path of a .yaml file."
    return f'there is no style "{wanted}".', mend


def _with_extended(key: str, document: Document) -> list[tuple[Document, StyleFile]]:
    """A style's file and those that it extends, one after the other."""
    found, seen = [(document, validate(document, StyleFile))], [key]
    while (wanted := found[-1][1].extends) is not None:
        document = found[-1][0]
        if wanted not in style_names() and not document.reaches(wanted):
            problem = f"{wanted} is not in or below the style's folder."
            mend = "Put it there, or say with --reach FOLDER below which folder files may lie."
            refuse([document.complaint(("extends",), problem, mend)])
        opened = _opened(wanted, Path(document.file).parent, document.reach)
        if opened is None:
            refuse([document.complaint(("extends",), *_no_such_style(wanted))])
            break
        key, above = opened
        if key in seen:
            chain = " extends ".join(Path(each).name for each in (*seen[seen.index(key) :], key))
            refuse([document.complaint(("extends",), f"this goes in a circle: {chain}.", "Extend another style.")])
        seen.append(key)
        found.append((above, validate(above, StyleFile)))
    return found


def _styled(name: str, found: list[tuple[Document, StyleFile]]) -> Style:
    style = merged(found)
    layers = tuple(_layer(style.named(key), entry) for key, (entry, _) in style.layers.items())
    entries = [(role, style.roles[role][0]) for role in Role]
    roles = tuple(
        (role, RoleStyle(style.named(entry.layer or ""), entry.height or USUAL_HEIGHT)) for role, entry in entries
    )
    return Style(name, style.title, style.paper, layers, roles, style.frame)


def _layer(name: str, entry: LayerEntry) -> Layer:
    """A checked entry as a layer."""
    assert entry.colour is not None and entry.aci is not None and entry.pen is not None
    plots = True if entry.plots is None else entry.plots
    return Layer(name, entry.colour.lower(), entry.aci, entry.pen, tuple(entry.dash or ()), plots)
