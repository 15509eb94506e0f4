"""Tables of words read line by line, which takes a twentieth of the time that a YAML parser takes over them.

In: the text of a table. Out: what `planner.documents` makes of it; or None where a line is not in the plain form that
our own tables keep to, and then it is left to that one. The form: `word: word`; `section:`, and two spaces in below it
`key: VALUE`, or `- VALUE` throughout. A VALUE is JSON, all of which is YAML too (YAML 1.2.2, section 1.2), or
`{one: JSON, other: JSON}`; a key is plain words or JSON. Comments have lines of their own.
"""

import json
import re
from typing import Any

_TEXT = r'"(?:[^"\\]|\\.)*"'
_HEAD = re.compile(r"([a-z][a-z -]*):(?: (\w+))?")
_ENTRY = re.compile(rf"  (?:- |([a-z][a-z0-9 _-]*|{_TEXT}): )({_TEXT}|\[{_TEXT}(?:, {_TEXT})*\]|\{{.*\}})")
_COUNTED = re.compile(rf"\{{one: ({_TEXT}), other: ({_TEXT})\}}")


def table_of(text: str) -> dict[str, Any] | None:
    """The words of a table, section by section; None where it is not in the plain form."""
    table: dict[str, Any] = {}
    name = ""
    for line in text.splitlines():
        if not line or line.lstrip(" ").startswith("#"):
            continue
        if head := _HEAD.fullmatch(line):
            name = head[1]
            if name in table:
                return None
            table[name] = head[2]
        elif not (entry := _ENTRY.fullmatch(line)) or not _entered(table, name, entry):
            return None
    return table


def _entered(table: dict[str, Any], name: str, entry: re.Match[str]) -> bool:
    """Put an entry into its section; False where it does not go with what is there."""
    try:
        key, value = _plain(entry[1]), _value(entry[2])
    except ValueError:
        return False
    if name not in table:
        return False
    if table[name] is None:
        table[name] = [] if key is None else {}
    section = table[name]
    if isinstance(section, list) and key is None:
        section.append(value)
        return True
    if not isinstance(section, dict) or key is None or key in section:
        return False
    section[key] = value
    return True


def _plain(key: str | None) -> str | None:
    return str(json.loads(key)) if key and key.startswith('"') else key


def _value(text: str) -> Any:
    """ValueError where it is neither JSON nor in two forms."""
    counted = _COUNTED.fullmatch(text) if text.startswith("{") else None
    return {"one": json.loads(counted[1]), "other": json.loads(counted[2])} if counted else json.loads(text)
