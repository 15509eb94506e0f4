"""Styles: which layer, pen, colour and letter height each role gets. The only place that knows where they lie.

In: the name of a style in `styles/`, or a path to a file of the user's own. Out: a `Style`, complete: every role has a
layer, every layer a pen. Colours, pens and line types belong to layers, so that every entity can be BYLAYER.
"""

from dataclasses import dataclass

from planner.drawing.roles import Role


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer of the drawing standard."""

    name: str  #: A-Z, a-z, 0-9, "-" and "_" only, at most 64 characters
    colour: str  #: "#rrggbb", for SVG and PDF
    aci: int  #: AutoCAD colour index 1..255, for DXF
    pen: float  #: line width, paper millimetres, one of the ISO series
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

    def role(self, role: Role) -> RoleStyle:
        return dict(self.roles)[role]

    def layer(self, role: Role) -> Layer:
        wanted = self.role(role).layer
        return next(layer for layer in self.layers if layer.name == wanted)
