"""Room files that are nearly right: whole fixtures with a few values, keys or branches changed, as strategies.

In: the fixtures. Out: texts of YAML files. A mutation knows the structure, not the meaning: it drops or repeats a
branch, puts a value from elsewhere in its place, one from a drawer of values that have broken programs before, or
grafts on a branch of the reference file, which holds every key there is.
"""

import copy
import io
from pathlib import Path
from typing import Any

from hypothesis import strategies as st
from ruamel.yaml import YAML

FIXTURES = Path(__file__).parents[2] / "fixtures"
NAMES = sorted(path.stem for path in FIXTURES.glob("*.yaml") if path.stem != "reference")

#: Values that have broken programs before.
NASTY: tuple[Any, ...] = (
    None, True, False, 0, -1, 1, 3, 1e-9, 1e9, -1e308, 1e308, float("inf"), float("nan"), 10**30, "", " ", "0",
    "-1", "0 mm", "1/0\"", "0'-0\"", "99999999999 m", "1e400 mm", "NaN", "nan mm", "-5'", "5' 13\"",
    "12' 7-1/2\"",
    "600 mm", "1 mm", "0.01 mm", "24\"", "5%", "-5%", "1000%", "auto", "across", "A-B", "A-A", "Z-Q",
    "full", "balanced", "=SUM(A1)", "@cmd", "<script>alert(1)</script>", "]]>", "%%c %%d ^J", "\u202egnp", "😀" * 40,
    "x" * 5000, "a\nb", "\t", "../../etc/passwd", "/dev/zero", "~", "null", "!!python/object:os.system", "&a", "*a",
    [], {}, [[]], [None], {"": ""}, ["12'", "9'"], ["0", "0"], [1e9, 1e9], [[0, 0], [1, 1]], {"spacing": "1 mm"},
    {"near": [0, 0]}, {"a": {"b": {"c": 1}}},
)  # fmt: skip


def fixture(name: str) -> dict[str, Any]:
    """A fixture as plain data."""
    data: dict[str, Any] = YAML(typ="safe", pure=True).load((FIXTURES / f"{name}.yaml").read_text("utf-8"))
    return data


def written(data: Any) -> str:
    """Plain data as a YAML text."""
    stream = io.StringIO()
    yaml = YAML(typ="safe", pure=True)
    yaml.allow_unicode = True
    yaml.dump(data, stream)
    return stream.getvalue()


def places(data: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Paths of every branch and leaf below the top."""
    steps = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    return [found for key, value in steps for found in ((*path, key), *places(value, (*path, key)))]


def _at(data: Any, path: tuple[Any, ...]) -> Any:
    for step in path:
        data = data[step]
    return data


def _stretched(value: Any, factor: float) -> Any:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return value
    return value * factor


def _grafted(data: dict[str, Any], path: tuple[Any, ...]) -> None:
    """Put a branch of the reference file where it stands there, as far as there is something to put it on."""
    holder: Any = data
    for step in path[:-1]:
        if not isinstance(holder, dict):
            return
        holder = holder.setdefault(step, {})
    if isinstance(holder, dict):
        holder[path[-1]] = copy.deepcopy(_at(REFERENCE, path))


#: Every key that there is, with an example.
REFERENCE = fixture("reference")
GRAFTS = [path for path in places(REFERENCE) if all(isinstance(step, str) for step in path)]


@st.composite
def mutated_rooms(draw: st.DrawFn) -> str:
    """A fixture with one to four mutations, and perhaps a few keys grafted on."""
    data = fixture(draw(st.sampled_from(NAMES)))
    for path in draw(st.lists(st.sampled_from(GRAFTS), max_size=4)):
        _grafted(data, path)
    for _ in range(draw(st.integers(0, 4))):
        known = places(data)
        if not known:
            break
        *above, last = draw(st.sampled_from(known))
        holder = _at(data, tuple(above))
        match draw(st.sampled_from(("nasty", "drop", "elsewhere", "repeat", "stretch", "rename", "noise"))):
            case "nasty":
                holder[last] = copy.deepcopy(draw(st.sampled_from(NASTY)))
            case "drop":
                del holder[last]
            case "elsewhere":
                holder[last] = copy.deepcopy(_at(data, draw(st.sampled_from(known))))
            case "repeat" if isinstance(holder, list):
                holder.extend(copy.deepcopy(holder[last]) for _ in range(draw(st.integers(1, 30))))
            case "stretch":
                holder[last] = _stretched(holder[last], draw(st.sampled_from((-1, 0, 1e-3, 0.1, 10, 1e3, 1e6))))
            case "rename" if isinstance(holder, dict):
                holder[draw(st.text(max_size=8))] = holder.pop(last)
            case _:
                holder[last] = draw(st.text(max_size=12) | st.floats() | st.integers())
    return written(data)


@st.composite
def random_rooms(draw: st.DrawFn) -> str:
    """A room from scratch: any simple or tangled polygon, columns and services anywhere, sizes from hair to hall."""
    unit = draw(st.sampled_from(("mm", "cm", "m", "in")))
    reach = draw(st.sampled_from((100, 3_000, 9_000, 40_000))) / {"mm": 1, "cm": 10, "m": 1000, "in": 25.4}[unit]
    number = st.floats(-reach / 4, reach, allow_nan=False).map(lambda value: float(f"{value:.4g}"))
    point = st.lists(number, min_size=2, max_size=2)
    data: dict[str, Any] = {
        "units": unit,
        "room": {"points": draw(st.lists(point, min_size=3, max_size=9))},
        "grid": {"system": draw(st.sampled_from(("lay-in-metric", "lay-in-imperial")))},
    }
    if draw(st.booleans()):
        data["room"] = {"rectangle": [abs(side) + 1e-3 for side in draw(point)]}
    column = st.fixed_dictionaries({"at": point, "size": point.map(lambda size: [abs(each) for each in size])})
    data["room"]["columns"] = draw(st.lists(column, max_size=4))
    for k, each in enumerate(data["room"]["columns"]):
        each["name"] = f"C{k}"
    kind = st.sampled_from(("troffer", "downlight", "supply_diffuser", "sprinkler", "smoke_detector"))
    service = st.fixed_dictionaries({"kind": kind, "near": point, "diameter": number.map(abs)})
    data["services"] = draw(st.lists(service, max_size=5))
    return written(data)


@st.composite
def buildings(draw: st.DrawFn) -> dict[str, str]:
    """A folder of rooms and the building file that lists them, by name; the list and what it buys are damaged too."""
    names = draw(st.lists(st.sampled_from(("a.yaml", "b.yaml", "below/c.yaml", "...yaml", "a b.yaml")), unique=True))
    rooms = {name: draw(st.one_of(random_rooms(), mutated_rooms())) for name in names}
    listed = [
        *names,
        *draw(st.lists(st.sampled_from((*names, "none.yaml", "../x.yaml", "building.yaml", "", 3)), max_size=1)),
    ]
    data: dict[str, Any] = {"rooms": listed, "stock": copy.deepcopy(REFERENCE["stock"])}
    match draw(st.sampled_from(("whole", "drop", "nasty", "no stock"))):
        case "drop":
            del data["stock"][draw(st.sampled_from(sorted(data["stock"])))]
        case "nasty":
            *above, last = draw(st.sampled_from(places(data)))
            _at(data, tuple(above))[last] = copy.deepcopy(draw(st.sampled_from(NASTY)))
        case "no stock":
            del data["stock"]
    return {**rooms, "building.yaml": written(data)}
