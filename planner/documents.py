"""YAML files with a memory of where each value stands: room files, grid systems and styles are all read here.

In: the text of a file. Out: a `Document` of plain data (dict, list, str, int, float, bool, None) that can turn a
path such as ("room", "tape", "B-C") into a complaint with file, line, column and the offending text.
"""

from dataclasses import dataclass, field
from typing import Any

from planner.errors import Complaint

Path = tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class Mark:
    """Where a value stands; line and column are counted from 1."""

    line: int
    column: int
    width: int


@dataclass(frozen=True, slots=True)
class Document:
    """A parsed file."""

    file: str  #: as the user named it
    data: Any
    lines: tuple[str, ...] = ()
    marks: dict[Path, Mark] = field(default_factory=dict)

    def complaint(self, path: Path, problem: str, mend: str = "") -> Complaint:
        """A complaint about the value at `path`, or about the nearest value above it that has a place."""
        known = path
        while known and known not in self.marks:
            known = known[:-1]
        place = " › ".join(str(k + 1) if isinstance(k, int) else k for k in path)
        mark = self.marks.get(known)
        if mark is None:
            return Complaint(place, problem, mend, file=self.file)
        text = self.lines[mark.line - 1] if mark.line <= len(self.lines) else ""
        return Complaint(
            place, problem, mend, file=self.file, line=mark.line, column=mark.column, width=mark.width, text=text
        )
