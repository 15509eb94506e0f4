"""YAML files with a memory of where each value stands: room files, grid systems and styles are all read here.

In: a path, or the text of a file. Out: a `Document` of plain data (dict, list, str, int, float, bool, None) that can
turn a path such as ("room", "tape", "B-C") into a complaint with file, line, column and the offending text; and, with
`validate`, a pydantic model of it. Everything wrong with a file is said at once, in an `InputError`.
"""

import os
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import field
from difflib import get_close_matches
from pathlib import Path as FilePath
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from planner.errors import Complaint, InputError, PlannerError
from planner.limits import USUAL, Limits, raising
from planner.records import dataclass
from planner.wording import Fault, worded
from planner.yaml_text import Mark, Parsed, Path, parse_yaml

__all__ = [
    "Document",
    "Mark",
    "Path",
    "check",
    "parse_document",
    "pointing_into",
    "read_document",
    "refuse",
    "validate",
]

MOST_COMPLAINTS = 50
_SLIP_OF_A_NAME = 0.7  #: names less alike are other names, as kitchen is of kiln-room
_BEGUN = 3  #: so many letters begin a name that may be meant
LONGEST_LINE = 400  #: of longer lines only the beginning is shown in messages

Model = TypeVar("Model", bound=BaseModel)


@dataclass(frozen=True, slots=True)
class Document:
    """A parsed file."""

    file: str  #: as the user named it
    data: Any
    lines: tuple[str, ...] = ()
    marks: dict[Path, Mark] = field(default_factory=dict)
    key_marks: dict[Path, Mark] = field(default_factory=dict)
    reach: str = ""  #: folder in or below which the files lie that this one may name; its own when empty
    limits: Limits = USUAL

    def reaches(self, named: str) -> bool:
        """Whether a file that this one names may be read: links are followed first, and a pipe or device is none."""
        own = FilePath(self.file).parent
        try:
            found = (own / named).resolve()
            endless = found.exists() and not (found.is_file() or found.is_dir())
            return not endless and found.is_relative_to((FilePath(self.reach) if self.reach else own).resolve())
        except (OSError, ValueError):
            return False

    def complaint(self, path: Path, problem: str, mend: str = "", *, at_key: bool = False) -> Complaint:
        """Complain about the value at `path` (or its key), or about the nearest value above it that has a place."""
        known = path
        while known and known not in self.marks:
            known = known[:-1]
        marks = self.key_marks if at_key and path in self.key_marks else self.marks
        return self._complaint(path, problem, mend, marks.get(known) if known else None)

    def complaints(self, faults: Iterable[Fault]) -> list[Complaint]:
        return [self.complaint(f.path, f.problem, f.mend, at_key=f.at_key) for f in faults]

    def _complaint(self, path: Path, problem: str, mend: str, mark: Mark | None) -> Complaint:
        place = " › ".join(str(step + 1) if isinstance(step, int) else step for step in path)
        if mark is None:
            return Complaint(place, problem, mend, file=self.file)
        text = self.lines[mark.line - 1].replace("\t", " ") if mark.line <= len(self.lines) else ""
        if len(text) > LONGEST_LINE:
            text = text[:LONGEST_LINE] if mark.column + mark.width <= LONGEST_LINE else ""
        return Complaint(
            place, problem, mend, file=self.file, line=mark.line, column=mark.column, width=mark.width, text=text
        )


#: Endings of files that the planner writes or is given beside room files, and what they are.
_OTHER_KINDS = {
    ".csv": "a list for a spreadsheet",
    ".dxf": "a drawing",
    ".html": "a page",
    ".pdf": "a PDF file",
    ".svg": "a picture",
    ".xlsx": "a spreadsheet",
}


def read_document(path: str | os.PathLike[str], reach: str | os.PathLike[str] = "", limits: Limits = USUAL) -> Document:
    """Read a file; InputError when there is none, or when it is not a YAML file with keys at its top.

    `reach` is the folder in or below which the files lie that this one may name; its own when empty. `limits` hold for
    it, and for the files that it names.
    """
    file = os.fspath(path)
    if (ending := FilePath(file).suffix.lower()) in _OTHER_KINDS and os.path.isfile(file):
        mend = "Name the room file that it was made from; it ends in .yaml as a rule."
        if ending == ".dxf":
            mend = f"A room file can name it as its outline:  room: {{dxf: {{file: {FilePath(file).name}}}}}"
        raise InputError((Complaint("", f"this is {_OTHER_KINDS[ending]}, and no room file.", mend, file=file),))
    try:
        with open(file, "rb") as stream:
            content = stream.read(limits.bytes + 1)
    except (OSError, ValueError) as error:
        raise InputError((_unopened(file, error),)) from error
    if len(content) > limits.bytes:
        found = max(_size_of(file), 2 * limits.bytes)
        mend = f"A room file is a few pages at most; name the right file. {raising('bytes', found)}"
        raise InputError((Complaint("", f"the file is larger than {limits.bytes:,} bytes.", mend, file=file),))
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        problem = f"byte {error.start + 1} is not UTF-8 text."
        mend = "Name a room file; if it is one, save it as plain text with the encoding UTF-8."
        raise InputError((Complaint("", problem, mend, file=file),)) from error
    return parse_document(text, file, os.fspath(reach), limits)


def parse_document(text: str, file: str, reach: str = "", limits: Limits = USUAL) -> Document:
    """Read the text of a file that the user knows as `file`; InputError as for `read_document`."""
    parsed = parse_yaml(text.removeprefix("\ufeff"), limits)
    document = Document(file, parsed.data, parsed.lines, parsed.marks, parsed.key_marks, reach, limits)
    refuse(_troubles(document, parsed))
    return document


def validate(document: Document, model: type[Model], context: Any = None) -> Model:
    """Check a document against a pydantic model; InputError with every fault, each at its place.

    `context` is handed to the model's validators.
    """
    checked, faults = check(document, model, context)
    refuse(document.complaints(faults))
    assert checked is not None  # there is a model whenever there is no fault
    return checked


def check(document: Document, model: type[Model], context: Any = None) -> tuple[Model | None, list[Fault]]:
    """Check a document against a pydantic model: the model, or what is wrong."""
    try:
        return model.model_validate(document.data, context=context), []
    except ValidationError as error:
        return None, [worded(details, model, document.data) for details in error.errors(include_url=False)]


def refuse(complaints: Iterable[Complaint]) -> None:
    """Raise an InputError with the complaints in the order of the file, if there are any."""
    if ordered := _sorted(complaints):
        raise InputError(ordered)


@contextmanager
def pointing_into(document: Document | None) -> Iterator[None]:
    """Give a PlannerError raised inside that names a place, such as "grid › system", that place's line in the file."""
    try:
        yield
    except InputError:
        raise
    except PlannerError as error:
        if document is None or not error.where:
            raise
        path = tuple(error.where.split(" › "))
        raise InputError((document.complaint(path, error.problem, error.mend),)) from error


def _sorted(complaints: Iterable[Complaint]) -> tuple[Complaint, ...]:
    """Put complaints in the order of the file, without repeats, and no more than anybody would read."""
    unique = {str(complaint): complaint for complaint in complaints}.values()
    ordered = tuple(sorted(unique, key=lambda complaint: (complaint.line, complaint.column)))
    if len(ordered) <= MOST_COMPLAINTS:
        return ordered
    left = len(ordered) - MOST_COMPLAINTS
    more = Complaint("", f"and {left} more like these.", "Mend these first.", file=ordered[0].file)
    return (*ordered[:MOST_COMPLAINTS], more)


def _unopened(file: str, error: OSError | ValueError) -> Complaint:
    """Say why a file cannot be opened, and what may be meant."""
    path = FilePath(file)
    if isinstance(error, ValueError):
        return Complaint("", "this is not the name of a file.", "Name a room file.", file=file)
    if isinstance(error, IsADirectoryError):
        return Complaint("", "this is a folder, not a file.", _instead(path, "*"), file=file)
    if isinstance(error, FileNotFoundError):
        return Complaint("", "there is no such file.", _instead(path.parent, path.name), file=file)
    return Complaint("", f"the file cannot be read: {error.strerror}.", "Check its name and permissions.", file=file)


def _size_of(file: str) -> int:
    """Bytes of a file, as far as it says so itself; what has no end says 0."""
    try:
        return os.stat(file).st_size
    except OSError:
        return 0


def _instead(folder: FilePath, name: str) -> str:
    """Name a YAML file in the folder, the one that `name` may be a slip of; of a folder the first."""
    try:
        names = sorted(p.name for p in folder.iterdir() if p.suffix in (".yaml", ".yml"))
    except OSError:
        return "Check the name and the folder."
    stems = {each.rpartition(".")[0].casefold(): each for each in reversed(names)}
    asked = FilePath(name).stem.casefold()
    begun = [stem for stem in stems if len(asked) >= _BEGUN and stem.startswith(asked)]
    like = begun[-1:] or get_close_matches(asked, stems, 1, cutoff=_SLIP_OF_A_NAME)
    near = [stems[stem] for stem in like] or (names[:1] if name == "*" else [])
    return f"Did you mean {folder / near[0]}?" if near else "Check the name and the folder."


def _troubles(document: Document, parsed: Parsed) -> list[Complaint]:
    """Everything that keeps a text from being a document with keys at its top."""
    if parsed.troubles:
        return [document._complaint(t.path, t.problem, t.mend, t.mark) for t in parsed.troubles]
    if parsed.data is None:
        return [document.complaint((), "the file is empty.", "See fixtures/reference.yaml for what may stand in it.")]
    if not isinstance(parsed.data, dict):
        mend = "Begin with a line such as  job: Kiln room"
        return [document._complaint((), "the file holds no keys.", mend, parsed.marks.get(()))]
    return []
