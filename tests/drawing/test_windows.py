"""Rows and columns of windows over an area."""

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from planner.drawing.windows import tile_name, tiled
from planner.geometry import Box

LENGTHS = st.floats(min_value=1.0, max_value=3000.0)


def test_a_panel_over_a4_windows() -> None:
    """595 by windows of 181, 10 shared: (595 - 10) / 171 = 3.4, so four; by 257: (595 - 10) / 247 = 2.4, three."""
    tiling = tiled(Box(0.0, 0.0, 595.0, 595.0), (181.0, 257.0), 10.0)
    assert (tiling.columns, tiling.rows) == (4, 3)
    assert [tile.name for tile in tiling.tiles][:5] == ["A1", "A2", "A3", "A4", "B1"]


def test_what_is_shown_beyond_the_area_leans_where_it_should() -> None:
    """One window of 100 over 60: 40 too much, at its right when leaning 0, at its left when leaning 1."""
    lefts = [
        tiled(Box(0.0, 0.0, 60.0, 60.0), (100.0, 100.0), 10.0, (lean, 0.5)).tiles[0].box.left for lean in (0, 0.5, 1)
    ]
    assert lefts == [0, -20, -40]


def test_rows_are_lettered_without_letters_that_are_read_as_digits() -> None:
    assert [tile_name(row, 0)[0] for row in range(9)] == list("ABCDEFGHJ")  # no I


def test_windows_that_share_all_they_show_are_refused() -> None:
    with pytest.raises(ValueError, match="share"):
        tiled(Box(0.0, 0.0, 100.0, 100.0), (10.0, 50.0), 10.0)


@given(LENGTHS, LENGTHS, st.floats(120.0, 900.0), st.floats(120.0, 900.0), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_windows_cover_the_area_and_neighbours_share_the_overlap(
    width: float, height: float, wide: float, tall: float, across: float, up: float
) -> None:
    area = Box(-7.0, 3.0, -7.0 + width, 3.0 + height)
    tiling = tiled(area, (wide, tall), 10.0, (across, up))
    shown = shapely.union_all([shapely.box(t.box.left, t.box.bottom, t.box.right, t.box.top) for t in tiling.tiles])
    assert shapely.box(area.left, area.bottom, area.right, area.top).difference(shown.buffer(0.02)).is_empty
    for tile in tiling.tiles:
        right, below = tiling.at(tile.row, tile.column + 1), tiling.at(tile.row + 1, tile.column)
        assert right is None or tile.box.right - right.box.left == pytest.approx(10.0)
        assert below is None or below.box.top - tile.box.bottom == pytest.approx(10.0)
    assert tiling.at(tiling.rows, 0) is None and tiling.at(0, -1) is None
