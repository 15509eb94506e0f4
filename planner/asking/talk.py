"""The talk: a pure state machine from line to line.

In: a `Talk` and a line as typed. Out: the next `Talk`, and a `Reply` to show. Rules: what was answered is never thrown
away, not even where another answer makes it needless for now; after an answer comes the first question that has none,
or none that still holds; `back` goes one question back, `undo` takes back the last step.
"""

from collections.abc import Mapping
from dataclasses import field, replace
from typing import Literal

from planner.asking.question import Answers, Doubt, GoTo, Question, Understood
from planner.asking.reading import tidy
from planner.asking.script import script
from planner.asking.tapes import LINE, NONE
from planner.errors import PlannerError
from planner.records import dataclass

MOST_STEPS_BACK = 500
ASIDE = "aside: "  #: before the keys of readings between corners that were then named anew; each is offered again

Tone = Literal["understood", "refused", "doubted", "told"]


@dataclass(frozen=True, slots=True)
class Talk:
    """What was answered so far and where the talk is."""

    given: Answers = field(default_factory=dict)
    at: str = ""  #: the question gone back to; empty = the first one that is open
    doubted: str = ""  #: an answer that waits for a yes
    before: tuple[tuple[Answers, str], ...] = ()  #: earlier states, the latest last, for undo


@dataclass(frozen=True, slots=True)
class Reply:
    """What to show for a line."""

    lines: tuple[str, ...] = ()
    tone: Tone = "told"
    picture: bool = False  #: the picture of the room is worth showing
    leave: bool = False  #: the person wants to go on later


@dataclass(frozen=True, slots=True)
class Asked:
    """The question that is open now."""

    question: Question
    number: int  #: counted from 1 along the way
    usual: str  #: what an empty line gives; empty = it must be answered
    remark: str = ""  #: to be shown before it


COMMANDS: Mapping[str, str] = {
    "?": "explains the question",
    "back": "goes to the question before",
    "undo": "takes back your last step",
    "said": "lists what you answered, with numbers",
    "go N": "goes to question N of that list, to answer it again",
    "draw": "shows the room so far",
    "rest": "takes the usual answer for everything that is left",
    "later": "leaves; the same command goes on here",
}


def way(given: Answers) -> list[Question]:
    """The questions up to and with the first that is open; all of them when none is."""
    questions = []
    for question in script(given):
        questions.append(question)
        if trouble(question, given) is not None:
            break
    return questions


def trouble(question: Question, given: Answers) -> str | None:
    """Why a question is open: it has no answer ("") or one that no longer holds; None when it is settled."""
    if question.key not in given:
        return ""
    try:
        outcome = question.read(given[question.key])
    except PlannerError as error:
        return f"{error.problem} {error.mend}".strip()
    return "Answer once more." if isinstance(outcome, GoTo) else None


def asked(talk: Talk) -> Asked | None:
    """The open question; None when everything is answered."""
    questions = way(talk.given)
    for number, question in enumerate(questions, 1):
        if question.key == talk.at:
            return _asked_again(question, number, talk.given)
    last = questions[-1]
    if trouble(last, talk.given) is None:
        return None
    return _asked_again(last, len(questions), talk.given)


def _asked_again(question: Question, number: int, given: Answers) -> Asked:
    why = trouble(question, given)
    if why is None:
        return Asked(question, number, _shown(given[question.key]), question.remark)
    if not why:
        return Asked(question, number, given.get(ASIDE + question.key, question.usual), question.remark)
    return Asked(question, number, question.usual, f"{question.remark}\nYou said {given[question.key]}: {why}".strip())


def said(talk: Talk, line: str) -> tuple[Talk, Reply]:
    """Take a line: an answer, or a word that steers the talk."""
    now = asked(talk)
    if now is None:
        return talk, Reply()
    text = tidy(line)
    word = text.lower()
    if talk.doubted and word in ("yes", "y"):
        return _answered(talk, now, talk.doubted, sure=True)
    steered = _steered(replace(talk, doubted=""), now, word)
    if steered is not None:
        return steered
    text = text or now.usual
    if not text:
        return talk, Reply(("This one needs an answer; ? explains it.",), "refused")
    return _answered(replace(talk, doubted=""), now, text)


def _steered(talk: Talk, now: Asked, word: str) -> tuple[Talk, Reply] | None:
    """What a steering word does; None when the line is an answer."""
    match word:
        case "?" | "help":
            words = tuple(f"  {name:7}{does}" for name, does in COMMANDS.items())
            return talk, Reply((*now.question.why.split("\n"), "", *words))
        case "back":
            return _back(talk, now)
        case "undo":
            return _undone(talk)
        case "later" | "quit" | "exit" | "leave":
            return talk, Reply(leave=True)
        case "said":
            return talk, Reply(summary(talk.given))
        case "draw":
            return talk, Reply(picture=True)
        case "rest":
            return _rest(talk)
    return _gone(talk, word.removeprefix("go ")) if word.startswith("go ") else None


def _back(talk: Talk, now: Asked) -> tuple[Talk, Reply]:
    if now.number == 1:
        return talk, Reply(("This is the first question.",), "refused")
    return _moved(talk, way(talk.given)[now.number - 2].key), Reply()


def _moved(talk: Talk, key: str) -> Talk:
    return replace(talk, at=key, doubted="", before=_remembered(talk))


def _remembered(talk: Talk) -> tuple[tuple[Answers, str], ...]:
    return (*talk.before[-MOST_STEPS_BACK:], (talk.given, talk.at))


def _undone(talk: Talk) -> tuple[Talk, Reply]:
    if not talk.before:
        return talk, Reply(("There is nothing to take back.",), "refused")
    (given, at), earlier = talk.before[-1], talk.before[:-1]
    gone = [text for key, text in talk.given.items() if given.get(key) != text]
    lines = (f"Taken back: {', '.join(gone)}",) if gone else ("Taken back.",)
    return Talk(given, at, "", earlier), Reply(lines)


def _gone(talk: Talk, where: str) -> tuple[Talk, Reply]:
    """Go to a question by its number, or by its key or line."""
    questions = way(talk.given)
    ends = sorted(where.upper().replace(" ", "").split("-"))
    for number, question in enumerate(questions, 1):
        line = question.key.removeprefix("line ")
        if where in (str(number), question.key.lower()) or (line != question.key and sorted(line.split("-")) == ends):
            return _moved(talk, question.key), Reply()
    mend = f"Say a number from 1 to {len(questions)}; said lists them."
    return talk, Reply((f'There is no question "{where}" so far.', mend), "refused")


def _answered(talk: Talk, now: Asked, text: str, *, sure: bool = False) -> tuple[Talk, Reply]:
    try:
        outcome = now.question.read(text)
    except PlannerError as error:
        return talk, Reply(tuple(part for part in (error.problem, error.mend) if part), "refused")
    if isinstance(outcome, GoTo):
        return _moved(talk, outcome.key), Reply()
    if isinstance(outcome, Doubt):
        if not sure and outcome.answer.keep != talk.given.get(now.question.key):
            return replace(talk, doubted=text), Reply((outcome.problem, outcome.mend), "doubted")
        outcome = outcome.answer
    return _kept(talk, now.question, outcome), Reply((outcome.echo,), "understood", now.question.picture)


def _kept(talk: Talk, question: Question, understood: Understood) -> Talk:
    given = {**talk.given, question.key: understood.keep}
    if question.key == "corners" and talk.given.get("corners", understood.keep) != understood.keep:
        given = {ASIDE + key if key.startswith(LINE) else key: text for key, text in given.items()}
    return Talk(given, "", "", _remembered(talk))


def _rest(talk: Talk) -> tuple[Talk, Reply]:
    """Take the usual answers until one is needed that only the person knows, or all but the last is answered."""
    before, taken, lines = _remembered(talk), replace(talk, at=""), list[str]()
    while (now := asked(taken)) is not None and now.question.usual and not now.question.last:
        taken, reply = _answered(taken, now, now.question.usual)
        if reply.tone != "understood":
            return replace(taken, before=before), reply
        lines.append(f"{_name(now.question)}: {' '.join(reply.lines)}")
    return replace(taken, before=before), Reply(tuple(lines), "understood", picture=True)


def summary(given: Answers) -> tuple[str, ...]:
    """What was answered, numbered as the questions are."""
    questions = way(given)
    return tuple(
        f"{number:3}  {_name(question):24}{_shown(given[question.key])}"
        for number, question in enumerate(questions, 1)
        if question.key in given and not question.last
    )


def _name(question: Question) -> str:
    return question.short or question.ask


def _shown(text: str) -> str:
    """An answer as one would type it: a kept none carries what it was said about."""
    return NONE if text.startswith(f"{NONE}: ") else text
