"""The table of ratios: how far the planner is from the least that its work could cost. Run it; it asserts nothing.

Run: python tests/bench/bench_table.py [part ...], parts being process, computing, size, start-up, building, cutting.

Each ratio is measured side by side in one run on one machine, in seconds of the processor where a process is measured:
those hold on a machine that has other things to do as well. The floor of a process is a script that only imports the
same libraries and writes as many entities of each kind, in the same formats; the floor of computing is plain shapely
clipping of the modules that walls pass through.
"""

import json
import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent
FIXTURES = HERE.parents[1] / "fixtures"
PLANNER = Path(sys.executable).with_name("planner")
SMALLEST = FIXTURES / "kiln-room.yaml"
TURNS = 7


def main() -> None:
    parts: dict[str, Callable[[Path], None]] = {
        "process": whole_process,
        "computing": computing,
        "size": sizes,
        "start-up": start_up,
        "building": building,
        "cutting": cutting,
    }
    with tempfile.TemporaryDirectory(prefix="compiled-") as kept:
        # As after an installation: compiled modules are kept, whatever the shell that this runs in says about them.
        os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
        os.environ["PYTHONPYCACHEPREFIX"] = kept
        for name in sys.argv[1:] or parts:
            with tempfile.TemporaryDirectory() as folder:
                parts[name](Path(folder))


def row(what: str, ours: str, floor: str = "", ratio: float | None = None, note: str = "") -> None:
    print(f"{what:58} {ours:>14} {floor:>14} {'' if ratio is None else f'{ratio:7.2f}'} {note}", flush=True)


def side_by_side(*commands: list[str], turns: int = TURNS) -> list[float]:
    """Median seconds of the processor for each command as a whole process, in turns: all meet the same weather."""
    taken: list[list[float]] = [[] for _ in commands]
    for turn in range(turns + 1):
        for command, times in zip(commands, taken, strict=True):
            before = processor_of(resource.RUSAGE_CHILDREN)
            subprocess.run(command, check=False, capture_output=True)
            if turn:  # the first warms the disk's cache
                times.append(processor_of(resource.RUSAGE_CHILDREN) - before)
    return [statistics.median(times) for times in taken]


def processor_of(whom: int) -> float:
    """Seconds of the processor, in user and system, that this process or its ended children have taken so far."""
    usage = resource.getrusage(whom)
    return usage.ru_utime + usage.ru_stime


# --- a whole process --------------------------------------------------------------------------------------------------


def whole_process(folder: Path) -> None:
    """`planner plan` of the smallest fixture over its floor."""
    plan = [str(PLANNER), "plan", str(SMALLEST), "--out", str(folder / "plan")]
    subprocess.run(plan, check=True, capture_output=True)
    counts = folder / "counts.json"
    counts.write_text(json.dumps(entities_of(folder / "plan")))
    floor = [sys.executable, str(HERE / "floor.py"), str(counts), str(folder / "floor")]
    subprocess.run(floor, check=True)
    ours, least = side_by_side(plan, floor)
    row("planner plan, smallest fixture, whole process", ms(ours), ms(least), ours / least, "goal 1.3")


def entities_of(folder: Path) -> dict[str, object]:
    """How many entities of each kind the files of a plan hold."""
    import ezdxf
    import pypdfium2

    document = ezdxf.readfile(folder / "ceiling.dxf")  # type: ignore[attr-defined]
    spaces = [document.modelspace(), *(document.layouts.get(name) for name in document.layout_names()[1:])]
    kinds = Counter(entity.dxftype() for space in spaces for entity in space)
    sheets = []
    for path in sorted(folder.glob("*.svg")):
        text = path.read_text("utf-8")
        sheets.append({"paths": text.count("<path"), "texts": text.count("<text"), "titles": text.count("<title")})
    pages = {path.name: pages_of(pypdfium2.PdfDocument(path)) for path in sorted(folder.glob("*.pdf"))}
    lists = {path.name: path.stat().st_size for path in sorted(folder.iterdir()) if path.suffix in (".csv", ".json")}
    return {"dxf": kinds, "layouts": len(spaces) - 1, "svg": sheets, "pdf": pages, "lists": lists}


def pages_of(pdf: Any) -> list[dict[str, int]]:
    """How many paths and texts each page of a PDF holds."""
    kinds = [Counter(thing.type for thing in page.get_objects(max_depth=1)) for page in pdf]
    pdf.close()
    return [{"texts": kind[1], "paths": kind[2]} for kind in kinds]  # FPDF_PAGEOBJ_TEXT, FPDF_PAGEOBJ_PATH


# --- computing --------------------------------------------------------------------------------------------------------


def computing(_: Path) -> None:
    """The layout alone, and room to stock with all its searching, over shapely clipping of the boundary modules."""
    from bench_layout import SYSTEM, floor, plain

    from planner.ceiling.layout import lay_out
    from planner.planning import plan
    from planner.room.brief import Brief, GridWish

    for modules, columns, chords in ((25, 0, 16), (2_200, 20, 120), (26_000, 195, 600), (261_000, 1978, 4000)):
        brief = Brief(floor(modules, columns, chords), GridWish("lay-in-metric"))
        made = plan(brief)
        ours = best(partial(plan, brief))
        least = best(partial(plain, made.room, made.ceiling.layout))
        layout = best(partial(lay_out, brief.room, brief.grid, SYSTEM))
        row(f"layout, {modules:,} modules, over plain clipping", ms(layout), ms(least), layout / least, "goal 2")
        row(f"room to stock, {modules:,} modules, over plain clipping", ms(ours), ms(least), ours / least, "goal 2")


def best(run: Callable[[], object], turns: int = 3) -> float:
    taken = []
    for _ in range(turns):
        start = time.process_time()
        run()
        taken.append(time.process_time() - start)
    return min(taken)


# --- size -------------------------------------------------------------------------------------------------------------


def sizes(folder: Path) -> None:
    """Square halls with a column every 15 m: time and peak memory of a whole process, everything written."""
    subprocess.run(
        [str(PLANNER), "plan", str(SMALLEST), "--out", str(folder / "warm")], check=True, capture_output=True
    )
    times = {}
    for modules in (20, 2_000, 2_500, 25_000, 250_000):
        side = round(600 * modules**0.5) + 137
        places = range(7_500, side - 1_000, 15_000)
        columns = ", ".join(f"{{name: C{k}, at: [{x}, {y}], size: [400, 400]}}" for k, (x, y) in
                            enumerate((x, y) for x in places for y in places))  # fmt: skip
        room = folder / f"hall-{modules}.yaml"
        room.write_text(f"job: Hall\nunits: mm\nroom:\n  rectangle: [{side}, {side}]\n  columns: [{columns}]\n"
                        "grid: {system: lay-in-metric, module: [600, 600]}\n")  # fmt: skip
        seconds, times[modules], peak = cost_of([str(PLANNER), "plan", str(room), "--out", str(folder / room.stem)])
        written = sum(path.stat().st_size for path in (folder / room.stem).iterdir())
        row(
            f"a hall of {modules:,} modules, all files",
            f"{seconds:.2f} s",
            f"{times[modules]:.2f} s",
            note=f"wall, processor; {peak:.0f} MB, {written / 1e6:.1f} MB",
        )
    row("250,000 modules over 2,500, by the processor", "", "", times[250_000] / times[2_500], "goal 10")


def cost_of(command: list[str]) -> tuple[float, float, float]:
    """Run a command: seconds by the clock and of the processor, and the most memory that it held, megabytes."""
    start = time.perf_counter()
    child = os.posix_spawn(
        command[0], command, os.environ, file_actions=[(os.POSIX_SPAWN_OPEN, 1, os.devnull, os.O_WRONLY, 0)]
    )
    _, status, usage = os.wait4(child, 0)
    assert os.waitstatus_to_exitcode(status) in (0, 1), command
    return time.perf_counter() - start, usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024


# --- start-up, buildings, cutting -------------------------------------------------------------------------------------


def start_up(_: Path) -> None:
    bare, click, help_, check = side_by_side(
        [sys.executable, "-c", ""],
        [sys.executable, "-c", "import click"],
        [str(PLANNER), "--help"],
        [str(PLANNER), "check", str(SMALLEST)],
    )
    row("planner --help over a bare `import click`", ms(help_), ms(click), help_ / click)
    row("planner check, smallest fixture, over bare python", ms(check), ms(bare), check / bare)


def building(_: Path) -> None:
    """200 rooms, no two alike, on all cores and one after another.

    The pool of stock for all rooms is made once and on one core in both.
    """
    import gc
    from dataclasses import replace

    from planner.building import plan_building
    from planner.documents import parse_document
    from planner.room.brief import StockWish
    from planner.room.building import Building
    from planner.room.reader import brief_from

    text = "units: mm\nroom:\n  rectangle: [{}, {}]\ngrid: {{system: lay-in-metric}}\n"
    names = tuple(f"room-{k}" for k in range(200))
    files = [parse_document(text.format(4000 + 37 * k, 3000 + 23 * k), f"{name}.yaml") for k, name in enumerate(names)]
    made = Building("Two hundred rooms", tuple(map(brief_from, files)), names, StockWish())
    cores, taken, everybody = os.cpu_count() or 1, [], (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)
    plan_building(replace(made, briefs=made.briefs[:20], folders=names[:20]), workers=cores)  # its modules get compiled
    gc.set_threshold(1_000_000)  # as at the desk
    for workers in (1, cores):
        start, before = time.perf_counter(), [processor_of(whom) for whom in everybody]
        plan_building(made, workers=workers)
        home, crew = (processor_of(whom) - was for whom, was in zip(everybody, before, strict=True))
        taken.append((time.perf_counter() - start, home, crew))
    (one, *_), (all_, home, crew) = taken
    row(f"200 rooms on {cores} cores over one after another", f"{all_:.2f} s", f"{one:.2f} s", all_ / one)
    # On a machine that does nothing else: what is done at home, and a core's share of what the crew does.
    alone, shared = taken[0][1], home + crew / cores
    row("the same by seconds of the processor", f"{home:.2f} + {crew:.2f} s", f"{alone:.2f} s", shared / alone)


def cutting(_: Path) -> None:
    import bench_cutting

    sys.argv = sys.argv[:1]
    bench_cutting.main()


def ms(seconds: float) -> str:
    return f"{seconds * 1000:.0f} ms"


if __name__ == "__main__":
    main()
