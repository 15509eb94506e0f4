"""Time of a whole layout against plain shapely clipping of the boundary modules alone; run it, it asserts nothing.

Rooms of 20 to 250,000 modules with one bowed wall and columns, as they come on plans of big floors. Ratios say more
than times: both sides run on the same machine.
"""

import math
import sys
import time
from collections.abc import Callable

import numpy as np
import shapely

from planner.ceiling.grid.cells import edges_of, mark, rings_of
from planner.ceiling.grid.clipping import polygon_of
from planner.ceiling.layout import lay_out
from planner.ceiling.model import Layout
from planner.ceiling.system import MainTee, System, Tee
from planner.room.brief import GridWish
from planner.room.outline import Column, Room

M = 600.0
SYSTEM = System(
    "metric", "", False, "hung", ((M, M),), 5.0, 24.0, 22.0, MainTee("main", 3600.0), (), Tee("a", 3000.0), ()
)


def floor(modules: int, columns: int, chords: int) -> Room:
    """Make a floor of about so many modules: square, its back wall bowed, columns of 400 mm spread evenly."""
    side = M * math.sqrt(modules) + 137.0
    bow = [(side / 2 * (1 + math.cos(a)), side + side / 20 * math.sin(a)) for a in np.linspace(0, math.pi, chords + 1)]
    outline = ((0.0, 0.0), (side, 0.0), *((float(x), float(y)) for x, y in bow))
    across = max(math.isqrt(columns), 1)
    feet = [((k % across + 0.6) * side / across, (k // across + 0.4) * side / across) for k in range(columns)]
    columns_at = tuple(
        Column(f"C{k}", ((x, y), (x + 400, y), (x + 400, y + 400), (x, y + 400)), (x + 200, y + 200))
        for k, (x, y) in enumerate(feet)
        if y + 400 < side
    )
    return Room("floor", "mm", outline, tuple(f"P{k}" for k in range(len(outline))), columns_at)


def plain(room: Room, layout: Layout) -> None:
    """Clip the modules that walls pass through against the whole room, one call."""
    edges = edges_of(rings_of(room), layout.frame)
    sizes = np.cumsum([len(ring) for ring in rings_of(room)])[:-1]
    ceiling = polygon_of([ring[:, :2] for ring in np.split(edges, sizes)])
    cells = mark(edges, layout.module).touched * M
    shapely.intersection(ceiling, shapely.box(cells[:, 0], cells[:, 1], cells[:, 0] + M, cells[:, 1] + M))


def best_of(run: Callable[[], object], times: int = 3) -> float:
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        run()
        taken.append(time.perf_counter() - start)
    return min(taken)


def main() -> None:
    print(f"{'modules':>8} {'corners':>8} {'cut':>6} {'layout ms':>10} {'clipping ms':>12} {'ratio':>6}")
    for modules, columns, chords in ((20, 0, 3), (2_000, 16, 160), (25_000, 196, 400), (250_000, 1_980, 2_100)):
        room = floor(modules, columns, chords)
        layout = lay_out(room, GridWish("metric"), SYSTEM)
        ours = best_of(lambda room=room: lay_out(room, GridWish("metric"), SYSTEM))  # type: ignore[misc]
        theirs = best_of(lambda room=room, layout=layout: plain(room, layout))  # type: ignore[misc]
        cells = layout.full_panels + len(layout.cut_panels)
        corners = sum(map(len, rings_of(room)))
        row = f"{cells:>8} {corners:>8} {len(layout.cut_panels):>6} {ours * 1e3:>10.1f} {theirs * 1e3:>12.1f}"
        sys.stdout.write(f"{row} {ours / theirs:>6.2f}\n")


if __name__ == "__main__":
    main()
