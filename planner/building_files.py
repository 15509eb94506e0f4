"""What the output folder of a building holds, as bytes: a folder for each room, and the lists for all of them.

In: a building's plan, a style's name or None, what the sheets should be like. Out: names, with the room's folder before
them, and contents.
"""

from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from planner.building import BuildingPlan
from planner.building_record import building_record
from planner.crew import Crew
from planner.drawing.building_sheets import Rooms, building_sheets
from planner.drawing.sheets import draw
from planner.drawing.stylebook import load_style
from planner.drawing.wish import SheetWish
from planner.files import USUAL, FileWish, bars_csv, files_of, json_text, order_csv
from planner.planning import Plan

if TYPE_CHECKING:
    from planner.page.contents import Beside


def building_files(
    made: BuildingPlan, style: str | None, wish: SheetWish, file_wish: FileWish = USUAL, reach: str | Path = ""
) -> dict[str, bytes]:
    """All files of a building; where no style is named each room is drawn as an office in its units would.

    Rooms are drawn side by side; but not with pages, which tell of all rooms each.
    """
    contents: dict[str, bytes] = {}
    with Crew(1 if file_wish.page else None) as crew:
        own = replace(wish, building=made.name)
        rooms = crew.each(partial(_of_room, style, own, file_wish, str(reach)), _besides(made, file_wish))
    for folder, room in zip(made.folders, rooms, strict=True):
        contents |= {f"{folder}/{name}": content for name, content in room.items()}
    counts = tuple(sum(name.endswith(".svg") for name in room) for room in rooms)
    contents |= _drawn(made, style, wish, reach, counts)
    contents["cutting.csv"] = bars_csv(made.pool.cutting).encode()
    contents["takeoff.csv"] = order_csv(made.pool.takeoff, made.pool.bill).encode()
    contents["building.json"] = json_text(building_record(made)).encode()
    return contents


def _besides(made: BuildingPlan, file_wish: FileWish) -> list[tuple[Plan, "Beside | None"]]:
    """Each room, with what its page tells beyond it."""
    if not file_wish.page:
        return [(plan, None) for plan in made.plans]
    from planner.page.contents import Beside
    from planner.page.together import building_of

    building = building_of(made)
    return [(plan, Beside(brief, building)) for plan, brief in zip(made.plans, made.briefs, strict=True)]


def _of_room(
    style: str | None, wish: SheetWish, file_wish: FileWish, reach: str, room: tuple[Plan, "Beside | None"]
) -> dict[str, bytes]:
    """All files of one room."""
    plan, beside = room
    chosen = load_style(style or _usual_style(plan), Path.cwd(), reach)
    return files_of(plan, draw(_titled(plan, wish.building), chosen, wish), chosen, file_wish, wish, beside)


def _titled(plan: Plan, building: str) -> Plan:
    """The room as its title blocks have it: with the building below its name, unless something stands there."""
    project = plan.room.project
    if any(key.strip().lower().replace("_", " ") == "supplementary title" and text for key, text in project):
        return plan
    return replace(plan, room=replace(plan.room, project=(*project, ("supplementary title", building))))


def _drawn(
    made: BuildingPlan, style: str | None, wish: SheetWish, reach: str | Path, counts: tuple[int, ...]
) -> dict[str, bytes]:
    """The sheets of all rooms together, in one PDF file; none where only other sheets are wanted."""
    from planner.render.pdf import write_pdf

    chosen = load_style(style or _usual_style(made.plans[0]), Path.cwd(), reach)
    sheets = building_sheets(Rooms(made.name, made.plans, made.folders, counts), made.pool, chosen, wish)
    return {"building.pdf": write_pdf(sheets, chosen, title=made.name)} if sheets else {}


def _usual_style(plan: Plan) -> str:
    return "us-ncs" if plan.room.imperial else "iso-13567"
