"""Everything that the planner can refuse, as one tree; this module imports nothing.

PlannerError            where it is, what is wrong, how to mend it
├── LengthError         a text that is not a length
├── InputError          a file of the user's that cannot be used; carries every complaint at once
├── CuttingError        pieces that cannot be cut from the stock
└── OutputError         files that cannot be written

Anything else that is raised is a fault of the planner itself and keeps its traceback. What a message quotes is raw;
`printable` is for terminals.
"""


class PlannerError(Exception):
    """Something the user can mend.

    `where` is a file, a place in it or an option; `problem` says what was read and what was expected;
    `mend` says what to do. Any of `where` and `mend` may be empty.
    """

    def __init__(self, problem: str, *, where: str = "", mend: str = "") -> None:
        self.where = where
        self.problem = problem
        self.mend = mend
        super().__init__(str(self))

    def __str__(self) -> str:
        head = f"{self.where}: {self.problem}" if self.where else self.problem
        return f"{head}\n    {self.mend}" if self.mend else head


class LengthError(PlannerError):
    """A text was expected to be a length and is not."""


def printable(text: str) -> str:
    """Text without anything that could drive a terminal: control characters, and those that turn the reading order."""
    return text if text.isprintable() else "".join(c if c.isprintable() else " " for c in text)


class Complaint:
    """One thing wrong in one place of a file; `str()` gives it with the line and a row of carets below."""

    def __init__(
        self,
        place: str,
        problem: str,
        mend: str,
        *,
        file: str,
        line: int = 0,
        column: int = 0,
        width: int = 1,
        text: str = "",
    ) -> None:
        self.place = place  # e.g. "room › tape › B-C"
        self.problem = problem
        self.mend = mend
        self.file = file
        self.line = line  # counted from 1; 0 = no line can be named
        self.column = column  # counted from 1
        self.width = width  # characters to underline
        self.text = text  # the line as it stands in the file

    def __str__(self) -> str:
        where = f"{self.file}:{self.line}:{self.column}" if self.line else self.file
        head = f"{where}  {self.place}: {self.problem}" if self.place else f"{where}: {self.problem}"
        rows = [head]
        if self.line and self.text:
            gutter = f"    {self.line} | "
            width = max(1, min(self.width, len(self.text) - self.column + 1))
            rows += [gutter + self.text, " " * (len(gutter) + self.column - 1) + "^" * width]
        if self.mend:
            rows.append(f"    {self.mend}")
        return "\n".join(rows)


class InputError(PlannerError):
    """A file that cannot be used, with all the complaints about it."""

    def __init__(self, complaints: "tuple[Complaint, ...]") -> None:
        self.complaints = complaints
        super().__init__("\n\n".join(map(str, complaints)))


class CuttingError(PlannerError, ValueError):
    """Pieces and stock that do not go together; a ValueError too, for programs that only want pieces cut."""


class OutputError(PlannerError):
    """A folder or file that cannot be written; what was there before is still whole."""
