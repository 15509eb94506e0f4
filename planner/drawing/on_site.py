"""Sentences as a site sheet has them: the deed in plain words, not what one types into a room file nor how a source was
read, which `planner explain` and plan.json tell.

In: remedies and names of sources, made by the planning. Out: words in the sheet's language.
"""

import re

from planner.drawing import words
from planner.sayings import Said

#: Remedies whose deed is done on site, by their template: what is said in place of what to write.
_DEEDS = {
    "Find the joists, measure them and add  structure: {{joists: ...}}; then each wire is put on one.": "joists",
    "Find one joist, measure from corner {corner} square to the joists, and add  first: ...  to joists.": "first joist",
    "Add  {keys}.": "weights",
}
#: What one types: braces, a key of two words, or one of one word with its colon.
_TYPED = re.compile(
    r"[{}]|\b[a-z]+_[a-z_]+\b"
    r"|\b(?:align|borders|diameter|grid|mains|near|prefer|size|structure|underside|weight):"
)
_ENDS = re.compile(r"(?<=[.!?])\s+(?=[A-ZÁÉÍÓÚÑ¿])")


def remedy_on_site(remedy: str) -> str:
    """What to do; where that is to change the room file, that whoever made the plan can."""
    if isinstance(remedy, Said) and remedy.template in _DEEDS:
        return words.say(f"on site.{_DEEDS[remedy.template]}", **_fields(remedy))
    said = words.translated(remedy).strip()
    plainly = words.say("on site.room file")
    told = (plainly if _TYPED.search(sentence) else sentence for sentence in _ENDS.split(said))
    return " ".join(dict.fromkeys(told))


def source_on_site(source: str) -> str:
    """A source by its name alone; empty where it has none but memory."""
    return without_provenance(words.named(source)).strip(" ;:,")


def without_provenance(said: str) -> str:
    """A sentence without how its source was read."""
    for phrase in words.row("on site.provenance"):
        said = said.replace(phrase, "")
    return said


def _fields(remedy: Said) -> dict[str, object]:
    return {"corner": remedy.values["corner"]} if "corner" in remedy.values else {}
