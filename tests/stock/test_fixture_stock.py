"""What the rooms in fixtures/ buy: proven to be the least, so that no answer hangs on how fast the machine is."""

from pathlib import Path

import pytest

from planner.planning import plan
from planner.room.reader import read_room

ROOMS = sorted((Path(__file__).parents[2] / "fixtures").glob("*.yaml"))


@pytest.mark.parametrize("path", ROOMS, ids=lambda path: path.stem)
def test_the_least_is_bought_and_proven(path: Path) -> None:
    stock = plan(read_room(path)).stock
    assert stock.cutting
    for cutting in stock.cutting:
        assert cutting.proven, cutting.item
        if not any(bar.pieces for bar in cutting.bars):
            continue  # whole ones, of which nothing is cut, need no proof
        assert cutting.certificate is not None
        assert cutting.certificate.holds()
        assert cutting.certificate.bound == cutting.lower_bound
    assert stock.panels is None or stock.panels.proven
