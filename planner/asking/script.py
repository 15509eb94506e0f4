"""The whole talk in order: the job, the shape, the ceiling, and the last question, whether to write it down.

In: answers so far. Out: questions, each made when it is reached: a question may look at every answer before it.
"""

from collections.abc import Iterator

from planner.asking import answers
from planner.asking.ceiling_questions import ceiling_questions
from planner.asking.question import Answers, Outcome, Question, Understood
from planner.asking.shape_questions import shape_questions
from planner.asking.writing import file_text
from planner.documents import parse_document
from planner.errors import InputError, PlannerError
from planner.room.reader import brief_from

LAST = "write"  #: the key of the question that ends the talk
UNITS = {
    "ft-in": "feet|foot|ft|feet and inches|ft in|feet-inches|imperial|us",
    "in": "inches|inch",
    "mm": "millimetres|millimeters|metric",
    "cm": "centimetres|centimeters",
    "m": "metres|meters|metre|meter",
}


def script(given: Answers) -> Iterator[Question]:
    """Every question in order; each must be answered before the next is asked for."""
    yield Question(
        "job",
        "What is the job called?",
        "The name in the title block of every sheet, such as Kiln room. The room file is named after it.",
        answers.words(),
        short="Job",
    )
    yield Question(
        "units",
        "What does your tape show: ft-in, in, mm, cm or m?",
        "How results are shown, and how a bare number is read. You can still write any length with another unit.\n"
        "ft-in: feet and inches; in: inches alone; mm, cm, m: metric.",
        answers.choice(UNITS),
        short="Tape",
        usual="ft-in",
    )
    yield from shape_questions(given)
    yield from ceiling_questions(given)
    yield Question(
        LAST,
        "That is all. Write the room file? yes, or go N to change an answer",
        "said lists what you answered, with numbers; go 5 goes to the fifth to answer it again. yes writes the room "
        "file, with a comment beside every key, and checks it. You can change the file by hand later.",
        _write(given),
        usual="yes",
        last=True,
    )


def _write(given: Answers) -> answers.Read:
    """A yes, once the file can be read as it would be written."""

    def read(line: str) -> Outcome:
        answers.choice({"yes": "y|write|ok"})(line)
        try:
            brief_from(parse_document(file_text(given), "room.yaml"))
        except InputError as error:
            first = error.complaints[0]
            raise PlannerError(f"{first.place}: {first.problem}", mend=first.mend) from error
        return Understood("yes", "The room file can be read as it is.")

    return read
