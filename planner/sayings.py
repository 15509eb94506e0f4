"""Sentences that remember how they were made, so that a sheet can say them in another language.

In: a template in English with named fields, and what goes into them. Out: a `Said`, which is the English sentence and
can be used wherever a text can. Who plans knows nothing of languages; who draws looks the template up in a table. A
field called `count` chooses between singular and plural in languages that have both. `several` is the template where
the sentence is said of several things at once, which then stand in the field that names the one.
"""

from collections.abc import Callable, Iterable, Mapping
from typing import Any


class Said(str):
    """The English sentence, with its template and the values of its fields (texts, numbers or other `Said`)."""

    __slots__ = ("several", "template", "values")
    template: str
    values: Mapping[str, Any]
    several: str

    def __add__(self, other: str) -> "Said":
        return joined((self, other), "")

    def __reduce__(self) -> tuple[Callable[..., "Said"], tuple[str, Mapping[str, Any], str]]:
        return _made, (self.template, self.values, self.several)


def said(template: str, /, *, several: str = "", **values: object) -> Said:
    """A sentence; `values` are put into the fields of their names. KeyError for a field that got none."""
    return _made(template, values, several)


def term(text: str) -> Said:
    """A name as it stands, for which another language may have a word of its own; it has no fields."""
    return _made(text.replace("{", "{{").replace("}", "}}"), {})


def joined(parts: Iterable[str], between: str = " ") -> Said:
    """Texts in a row, each of which can still be said in another language; `between` must hold no words."""
    values = {f"part{k}": part for k, part in enumerate(parts)}
    return _made(between.join(f"{{{name}}}" for name in values), values)


def linked(parts: Iterable[str], link: str = "{some} and {last}") -> str:
    """Texts in a row with a word between each two: `link` is a template of {some} and {last}. Empty for none."""
    some, *others = [*parts] or [""]
    for last in others:
        some = said(link, some=some, last=last)
    return some


def _made(template: str, values: Mapping[str, Any], several: str = "") -> Said:
    sentence = Said(template.format(**values))
    sentence.template, sentence.values, sentence.several = template, values, several
    return sentence
