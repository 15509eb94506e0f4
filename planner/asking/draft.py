"""What is kept of a talk that was left, as text.

In: a talk. Out: the text of a draft, and the talk again. Rule: answers stand in it as they were kept, one a line, so
that a person can read them; a text that is no draft is refused, never written over.
"""

import json

from planner.asking.question import Answers
from planner.asking.script import LAST
from planner.asking.talk import Talk, summary
from planner.asking.writing import file_text
from planner.errors import PlannerError

ENDING = ".draft"
_MARK = "ceiling planner: answers so far"
LONGEST_ANSWER = 2000


def draft_text(talk: Talk) -> str:
    """A talk as JSON, one answer a line."""
    given = {key: text for key, text in talk.given.items() if key != LAST}  # whoever comes back is asked once more
    record = {"what": _MARK, "at": talk.at, "answers": given}
    return json.dumps(record, indent=1, ensure_ascii=False) + "\n"


def talk_of(text: str, where: str) -> Talk:
    """The talk that a draft holds; PlannerError when it is none."""
    try:
        record = json.loads(text)
        given = record["answers"]
        sound = record["what"] == _MARK and isinstance(given, dict)
        sound = sound and all(isinstance(part, str) and len(part) <= LONGEST_ANSWER for part in given.values())
        at = record["at"] if isinstance(record["at"], str) else ""
    except (ValueError, KeyError, TypeError, RecursionError):
        sound = False
    if not sound or not _usable(given):
        mend = "Move it away to begin anew, or name another file."
        raise PlannerError("this is no draft of planner start.", where=where, mend=mend)
    return Talk(given, at)


def _usable(given: Answers) -> bool:
    """Whether the answers are such as a talk keeps; somebody may have written into the draft."""
    try:
        summary(given)
        file_text(given)
    except (PlannerError, ValueError, LookupError):
        return False
    return True
