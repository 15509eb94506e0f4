"""Answers become the data of a room file.

In: answers so far. Out: plain data, as a room file holds it; what was not answered yet, or left out, is not in it.
"""

from typing import Any

from planner.asking.question import Answers
from planner.asking.tapes import NONE, angles_found, corners_of, lines_taped, outside_of
from planner.room.service_kinds import KINDS, ServiceKind

BETWEEN = " x "  #: stands between the two lengths of a pair as it is kept


def file_data(given: Answers) -> dict[str, Any]:
    """The room file that the answers make so far; the keys in the order in which they are written."""
    parts = {
        "job": given.get("job"),
        "units": given.get("units"),
        "room": _room(given),
        "structure": _structure(given),
        "ceiling_height": _told(given, "height"),
        "grid": _kept({"system": _told(given, "system"), "module": _pair(given, "module")}),
        "services": [service for number in numbers(given, "service") if (service := _service(given, number))],
        "stock": _kept({"spare": _told(given, "spare"), "saw_kerf": _told(given, "kerf")}),
    }
    return _kept(parts)


def numbers(given: Answers, what: str) -> list[int]:
    """The numbers of the columns or services that were given, up to the first `none`."""
    found = list[int]()
    while given.get(f"{what} {len(found) + 1}", NONE) != NONE:
        found.append(len(found) + 1)
    return found


def _room(given: Answers) -> dict[str, Any]:
    columns = [column for number in numbers(given, "column") if (column := _column(given, number))]
    if given.get("shape") == "rectangle" and "length" in given and "width" in given:
        return _kept({"rectangle": [given["length"], given["width"]], "columns": columns})
    if given.get("shape") != "taped" or "corners" not in given:
        return {}
    return _kept(
        {
            "corners": list(corners_of(given)),
            "walk": "clockwise" if given.get("walk") == "right" else None,
            "outside_corners": list(outside_of(given)),
            "angles": angles_found(given),
            "tape": {line: texts[0] if len(texts) == 1 else list(texts) for line, texts in lines_taped(given).items()},
            "columns": columns,
        }
    )


def _column(given: Answers, number: int) -> dict[str, Any]:
    key = f"column {number}"
    size = given.get(f"{key} size")
    if size is None or f"{key} at" not in given:
        return {}
    if given[key] == "round":
        return {"at": _pair(given, f"{key} at"), "diameter": size}
    return {"at": _pair(given, f"{key} at"), "size": size.split(BETWEEN)}


def _structure(given: Answers) -> dict[str, Any]:
    joists = {
        "spacing": _told(given, "joist spacing"),
        "first": _told(given, "joist first"),
        "direction": _told(given, "joist direction"),
    }
    regular = given.get("joists") == "yes" and joists["spacing"] is not None
    return _kept({"joists": _kept(joists) if regular else None, "underside": _told(given, "underside")})


def _service(given: Answers, number: int) -> dict[str, Any]:
    key = f"service {number}"
    kind, where = given[key], given.get(f"{key} where")
    if where is None:
        return {}
    size = _told(given, f"{key} size") if KINDS[kind].form == "lay-in" or needs_hole(KINDS[kind]) else None
    sized = {} if size is None else {"size": size.split(BETWEEN)} if BETWEEN in size else {"diameter": size}
    first, second = where.removeprefix("spread ").split(BETWEEN)
    spread = where.startswith("spread ")
    place = {"array": {"columns": int(first), "rows": int(second)}} if spread else {"near": [first, second]}
    weight = _told(given, f"{key} weight") if KINDS[kind].heavy else None
    return _kept({"kind": kind, **sized, **place, "weight": weight})


def needs_hole(kind: ServiceKind) -> bool:
    """Whether one has to be told how large a hole this kind needs."""
    return kind.form == "cut-out" and kind.cut_out_mm is None


def _told(given: Answers, key: str) -> str | None:
    text = given.get(key)
    return None if text == NONE else text


def _pair(given: Answers, key: str) -> list[str] | None:
    text = _told(given, key)
    return None if text is None else text.split(BETWEEN)


def _kept(keys: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in keys.items() if value not in (None, [], {})}
