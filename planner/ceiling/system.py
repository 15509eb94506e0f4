"""Kinds of grid as data: one YAML file each in `systems/`, or a file of the user's own.

In: a name or a path. Out: a `System`. Every number in a system file stands beside its source; a user may copy a
built-in file, change it and name it by its path. The shape of a file is in `planner.ceiling.system_file`, that of a
grid fixed straight to the joists in `planner.ceiling.direct_file`.
"""

from difflib import get_close_matches
from functools import cache
from os import PathLike
from pathlib import Path

from planner.ceiling.direct_file import DirectFile
from planner.ceiling.system_file import SystemFile, WallAnglePart
from planner.documents import Document, read_document, refuse, validate
from planner.errors import Complaint, PlannerError
from planner.geometry import TOLERANCE_MM
from planner.records import dataclass


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
class HangingLimits:
    """How a hung grid is held up where its file does not say: ASTM C636 as quoted second hand, else from memory."""

    spacing: float = 1200.0  #: most between hangers along a main tee
    first: float = 1200.0  #: most from a wall to the first hanger
    duty: str = "intermediate"  #: ASTM C635 class of the main tee: light, intermediate, heavy


@dataclass(frozen=True, slots=True)
class Direct:
    """What a grid fixed straight to the joists has beside carriers (`System.main`) and track (`System.wall_angle`)."""

    depth: float  #: that it takes below the joists or furring
    cover_strip: Tee  #: snapped over the carriers
    furring: Tee  #: wood strips, for joists that run the wrong way
    furring_width: float
    furring_thickness: float
    screw: str  #: name in the take-off
    farthest_screw: float  #: most between two screws of a carrier
    track_screws: float  #: spacing along the track
    chalk_offset: float  #: from the middle of a carrier to a chalk line that stays in sight


@dataclass(frozen=True, slots=True)
class System:
    """One kind of grid; millimetres."""

    name: str
    title: str
    imperial: bool
    fixing: str  #: "hung" or "direct"
    modules: tuple[tuple[float, float], ...]  #: panel modules it takes, either way round
    panel_undersize: float  #: module less panel
    tee_face: float
    ledge: float  #: of the wall angle
    main: MainTee  #: on direct grids the carrier
    cross_tees: tuple[Tee, ...]  #: shortest first
    wall_angle: Tee  #: on direct grids the track
    sources: tuple[tuple[str, str], ...]  #: (what, where it was read or "from memory")
    notes: tuple[str, ...] = ()  #: where published sources disagree, and what this file does
    hanging: HangingLimits = HangingLimits()
    direct: Direct | None = None  #: set when `fixing` is "direct"
    corners: str = "mitred"  #: of the wall angle: "mitred" or "lapped"

    def parts(self) -> tuple[Tee, ...]:
        """Everything of this grid that is sold by the length."""
        more = (self.direct.cover_strip, self.direct.furring) if self.direct else ()
        return (self.main, *self.cross_tees, self.wall_angle, *more)

    def screws(self) -> tuple[str, ...]:
        """What is counted piece by piece where it is fixed."""
        return (self.direct.screw,) if self.direct else ()

    def cross_tee_of(self, length: float) -> Tee | None:
        """The cross tee that is exactly this long, hooked in at both ends."""
        return next((tee for tee in self.cross_tees if abs(tee.length - length) <= TOLERANCE_MM), None)

    def main_step(self, along: float, across: float) -> int | None:
        """Every how many grid lines a main tee stands; None when the cross tees cannot span a module this way round.

        `along` and `across` are the module's sides along the mains and square to them. Long side square to the mains,
        or square: mains at the usual spacing, with long cross tees between them and, on the lines between, short ones
        ("standard pattern"). Long side along the mains: a main on every line, with short cross tees ("reverse
        pattern"). NAVEDTRA 14044 p. 5-16 spaces the cross tees of a 2x4 ceiling 4 ft apart, most sources 2 ft;
        hardware dealers' guides name both patterns.
        """
        step = round(self.main.spacing / across)
        whole = step >= 1 and abs(step * across - self.main.spacing) <= TOLERANCE_MM
        usual = whole and along <= across + TOLERANCE_MM and self.cross_tee_of(self.main.spacing) is not None
        if usual and (step == 1 or self.cross_tee_of(along) is not None):
            return step
        return 1 if self.cross_tee_of(across) is not None else None


def system_names() -> tuple[str, ...]:
    """The built-in systems, by name."""
    return tuple(sorted(path.stem for path in _folder().glob("*.yaml")))


def load_system(name_or_path: str, base: str | PathLike[str] = ".") -> System:
    """A built-in system by its name, or a file of the user's own by its path, seen from the folder `base`.

    PlannerError for a name that is not known; InputError, with every complaint, for a file that cannot be used.
    """
    if name_or_path in system_names():
        return _built_in(name_or_path)
    if Path(name_or_path).suffix.lower() in (".yaml", ".yml") or "/" in name_or_path or "\\" in name_or_path:
        path = Path(base) / name_or_path
        if not path.is_file():
            mend = f"Name it from the room file's folder, or take one of {', '.join(system_names())}."
            raise PlannerError(f"there is no file {path}.", where="grid › system", mend=mend)
        return _read(path, path.stem)
    names = system_names()
    near = get_close_matches(name_or_path, names, 1, cutoff=0.5)
    hint = f"Did you mean {near[0]}? " if near else ""
    raise PlannerError(
        f'there is no grid system "{name_or_path}".',
        where="grid › system",
        mend=f"{hint}There are: {', '.join(names)}; or name a file of your own (.yaml).",
    )


@cache
def _built_in(name: str) -> System:
    """Read once, however many rooms of a building have it."""
    return _read(_folder() / f"{name}.yaml", name)


def _folder() -> Path:
    return Path(__file__).with_name("systems")


def _read(path: Path, name: str) -> System:
    document = read_document(path)
    units = document.data.get("units") if isinstance(document.data, dict) else None
    if isinstance(document.data, dict) and document.data.get("fixing") == "direct":
        direct = validate(document, DirectFile, {"units": units})
        system = _direct_system(direct, name)
        refuse([*_misfits(document, direct, system), *_joint_misfits(document, system)])
        return system
    file = validate(document, SystemFile, {"units": units})
    system = _system(file, name)
    refuse([*_slot_misfits(document, system), *_misfits(document, file, system)])
    return system


def _system(file: SystemFile, name: str) -> System:
    """The plain values of a file, without their sources."""
    main, angle = file.main_tee, file.wall_angle
    return System(
        name=name,
        title=file.title,
        imperial=file.units in ("ft-in", "in"),
        fixing=file.fixing,
        modules=tuple(module.size for module in file.modules),
        panel_undersize=file.panel_undersize.value,
        tee_face=file.tee_face.value,
        ledge=angle.ledge.value,
        main=MainTee(
            main.item,
            main.length.value,
            main.weight,
            main.spacing.value,
            main.slot_pitch.value,
            main.first_slot.value,
        ),
        cross_tees=_cross_tees(file),
        wall_angle=Tee(angle.item, angle.length.value, angle.weight),
        sources=file.sources(),
        notes=file.notes,
        hanging=_hanging(file),
        corners=_corners(angle),
    )


def _direct_system(file: DirectFile, name: str) -> System:
    """The plain values of the file of a direct grid, without their sources.

    Cross tees hook in anywhere, so the carrier's "slots" only say where a joint may be: `splice_clear` from a cross
    tee, or any whole number of times twice that further on.
    """
    carrier, track, clear = file.carrier, file.track, file.carrier.splice_clear.value
    return System(
        name=name,
        title=file.title,
        imperial=file.units in ("ft-in", "in"),
        fixing=file.fixing,
        modules=tuple(module.size for module in file.modules),
        panel_undersize=file.panel_undersize.value,
        tee_face=file.tee_face.value,
        ledge=track.ledge.value,
        main=MainTee(carrier.item, carrier.length.value, carrier.weight, file.modules[0].size[0], 2 * clear, clear),
        cross_tees=_cross_tees(file),
        wall_angle=Tee(track.item, track.length.value, track.weight),
        sources=file.sources(),
        notes=file.notes,
        direct=_direct(file),
        corners=_corners(track),
    )


def _cross_tees(file: SystemFile | DirectFile) -> tuple[Tee, ...]:
    """Shortest first."""
    return tuple(sorted((Tee(t.item, t.length.value, t.weight) for t in file.cross_tees), key=lambda tee: tee.length))


def _direct(file: DirectFile) -> Direct:
    strip, furring = file.cover_strip, file.furring
    return Direct(
        depth=file.depth.value,
        cover_strip=Tee(strip.item, strip.length.value, strip.weight),
        furring=Tee(furring.item, furring.length.value, furring.weight),
        furring_width=furring.width.value,
        furring_thickness=furring.thickness.value,
        screw=file.screws.item,
        farthest_screw=file.screws.farthest.value,
        track_screws=file.track.screw_spacing.value,
        chalk_offset=file.chalk_offset.value,
    )


def _corners(angle: WallAnglePart) -> str:
    return angle.corners.value if angle.corners else "mitred"


def _hanging(file: SystemFile) -> HangingLimits:
    part, imperial = file.hanging, file.units in ("ft-in", "in")
    if part is not None:
        return HangingLimits(part.spacing.value, part.first.value, part.duty.value)
    return HangingLimits(4 * 304.8, 4 * 304.8) if imperial else HangingLimits()


def _misfits(document: Document, file: SystemFile | DirectFile, system: System) -> list[Complaint]:
    """Parts that do not go together."""
    return [
        *_module_misfits(document, system),
        *_size_misfits(document, system),
        *_name_misfits(document, file),
    ]


def _slot_misfits(document: Document, system: System) -> list[Complaint]:
    """Slots must meet the grid lines, go on over a splice, and never lie at one."""
    main, at = system.main, ("main_tee", "slot_pitch", "value")
    found = []
    for module in system.modules:
        if odd := [side for side in module if not _divides(main.slot_pitch, side)]:
            problem = f"slots {main.slot_pitch:g} mm apart do not divide a module of {odd[0]:g} mm."
            found.append(document.complaint(at, problem, "Cross tees would miss the slots; give the true pitch."))
    if not _divides(main.slot_pitch, main.length):
        problem = f"slots {main.slot_pitch:g} mm apart do not divide the stock length of {main.length:g} mm."
        found.append(document.complaint(at, problem, "The pitch must go on over a splice; give the true lengths."))
    if main.first_slot >= main.slot_pitch - TOLERANCE_MM:
        problem = f"the first slot, {main.first_slot:g} mm from the end, is not within one pitch."
        mend = f"Write a length of less than {main.slot_pitch:g} mm; usual is half the pitch."
        found.append(document.complaint(("main_tee", "first_slot", "value"), problem, mend))
    return found


def _joint_misfits(document: Document, system: System) -> list[Complaint]:
    """Joints of carriers and cover strips must keep clear of the cross tees, whole length after whole length."""
    assert system.direct is not None
    step, sides = system.main.slot_pitch, {side for module in system.modules for side in module}
    found = []
    if odd := [side for side in sorted(sides) if not _divides(step, side)]:
        problem = f"twice {step / 2:g} mm does not divide a module of {odd[0]:g} mm."
        at = ("carrier", "splice_clear", "value")
        found.append(document.complaint(at, problem, "Write a length that goes evenly into half a module."))
    for key, part in (("carrier", system.main), ("cover_strip", system.direct.cover_strip)):
        if not _divides(step, part.length):
            problem = f"joints of {part.length:g} mm lengths would come to lie at cross tees."
            mend = f"Give the true length, and a splice_clear that goes evenly into half of it (now {step / 2:g} mm)."
            found.append(document.complaint((key, "length", "value"), problem, mend))
    return found


def _module_misfits(document: Document, system: System) -> list[Complaint]:
    """Cross tees must span from main to main, and each module at least one way round."""
    lengths = ", ".join(f"{tee.length:g}" for tee in system.cross_tees)
    found = []
    if system.cross_tee_of(system.main.spacing) is None:
        problem = f"no cross tee spans the {system.main.spacing:g} mm between main tees; there are {lengths} mm."
        mend = "Add a cross tee of that length, or change the spacing."
        at = ("main_tee", "spacing", "value") if system.direct is None else ("cross_tees",)
        found.append(document.complaint(at, problem, mend))
    for k, (a, b) in enumerate(system.modules):
        if system.main_step(a, b) is None and system.main_step(b, a) is None:
            problem = f"no cross tees frame a module of {a:g} x {b:g} mm; there are {lengths} mm."
            mend = "Add a cross tee as long as one side of the module, or take the module out."
            found.append(document.complaint(("modules", k, "size"), problem, mend))
    return found


def _size_misfits(document: Document, system: System) -> list[Complaint]:
    """Faces, ledges and gaps must leave something of the smallest module to lay in."""
    least = min(side for module in system.modules for side in module)
    sizes = {
        ("panel_undersize", "value"): system.panel_undersize,
        ("tee_face", "value"): system.tee_face,
        ("track" if system.direct else "wall_angle", "ledge", "value"): system.ledge,
    }
    return [
        document.complaint(path, f"{size:g} mm is too much for a module of {least:g} mm.", "Write a smaller length.")
        for path, size in sizes.items()
        if size >= least / 2
    ]


def _name_misfits(document: Document, file: SystemFile | DirectFile) -> list[Complaint]:
    """Each item of the order needs a name of its own."""
    seen: set[str] = {"panel"}
    found = []
    for path, item in file.items():
        if item in seen:
            problem = f'the item "{item}" is named twice.'
            found.append(document.complaint(path, problem, "Give each part a name of its own; a panel is a panel."))
        seen.add(item)
    return found


def _divides(part: float, whole: float) -> bool:
    return abs(whole / part - round(whole / part)) * part <= TOLERANCE_MM
