"""Kinds of grid as data: one YAML file each in `systems/`, or a file of the user's own.

In: a name or a path. Out: a `System`. Every number in a system file stands beside its source.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Tee:
    """A tee as it is sold."""

    item: str  #: name in the take-off
    length: float
    kg_per_m: float | None = None


@dataclass(frozen=True, slots=True)
class MainTee(Tee):
    """A main tee: cross tees hook into its slots."""

    spacing: float = 0.0  #: between mains, the usual
    slot_pitch: float = 0.0
    first_slot: float = 0.0  #: from the factory end


@dataclass(frozen=True, slots=True)
class System:
    """One kind of grid; millimetres."""

    name: str
    title: str
    imperial: bool
    fixing: str  #: "hung"
    modules: tuple[tuple[float, float], ...]  #: panel modules it takes, either way round
    panel_undersize: float  #: module less panel
    tee_face: float
    ledge: float  #: of the wall angle
    main: MainTee
    cross_tees: tuple[Tee, ...]  #: shortest first
    wall_angle: Tee
    sources: tuple[tuple[str, str], ...]  #: (what, where it was read or "from memory")
