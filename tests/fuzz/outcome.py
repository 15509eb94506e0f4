"""What becomes of a text that claims to be a room file: everything is planned, drawn and written, in memory."""

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Literal

from planner.building import plan_building
from planner.building_files import building_files
from planner.documents import parse_document
from planner.drawing.sheets import draw
from planner.drawing.stylebook import load_style
from planner.drawing.wish import SheetWish
from planner.errors import PlannerError
from planner.files import files_of
from planner.planning import plan
from planner.room.building import read_building
from planner.room.reader import brief_from

FIXTURES = Path(__file__).parents[2] / "fixtures"


@dataclass(frozen=True, slots=True)
class Outcome:
    """A plan, or words that a person can act on."""

    kind: Literal["plan", "refused"]
    words: str = ""


def outcome(text: str) -> Outcome:
    """Plan, draw and write; anything but a PlannerError comes through as it is raised."""
    try:
        document = parse_document(text, str(FIXTURES / "fuzzed.yaml"))
        made = plan(brief_from(document))
        style = load_style("us-ncs" if made.room.imperial else "iso-13567")
        contents = files_of(made, draw(made, style, SheetWish()), style)
    except PlannerError as error:
        return _refused(error)
    record = json.loads(contents["plan.json"])
    assert record["format"] and all(contents.values())
    return Outcome("plan")


def building_outcome(texts: Mapping[str, str]) -> Outcome:
    """What becomes of a folder of texts, one of which, building.yaml, claims to list the others."""
    with TemporaryDirectory() as folder:
        for name, text in texts.items():
            path = Path(folder) / name
            path.parent.mkdir(exist_ok=True)
            path.write_text(text, encoding="utf-8", errors="surrogatepass")
        try:
            made = plan_building(read_building(Path(folder) / "building.yaml"), workers=1)
            contents = building_files(made, None, SheetWish(sheets=("ceiling-plan",)))
        except PlannerError as error:
            return _refused(error)
    assert json.loads(contents["building.json"])["rooms"]
    folders = {name.split("/")[0] for name in contents if "/" in name}
    assert len(folders) == len(made.plans) and not any(name.startswith(".") for name in folders)
    return Outcome("plan")


def _refused(error: PlannerError) -> Outcome:
    words = str(error)
    assert words.strip() and "Traceback" not in words
    assert not re.search(r"[\x00-\x08\x0b-\x1f\x7f-\x9f]", words), "a control character reaches the terminal"
    return Outcome("refused", words)
