"""Tables of words read line by line say what the YAML parser says; what is not in their plain form is left to it."""

from pathlib import Path

import pytest

from planner.documents import read_document
from planner.drawing.word_lines import table_of
from planner.drawing.wordbook import language_names

TABLES = Path(__file__).parents[2] / "styles" / "words"


@pytest.mark.parametrize("language", language_names())
def test_our_own_tables_are_in_the_plain_form(language: str) -> None:
    """Else the planner would start slower by a twentieth of a second; the same words in the same order."""
    path = TABLES / f"{language}.yaml"
    table, parsed = table_of(path.read_text("utf-8")), read_document(path).data
    assert table == parsed
    assert [(name, list(words)) for name, words in table.items()] == [
        (name, list(words)) for name, words in parsed.items()
    ]


def test_every_kind_of_line() -> None:
    text = """language: en

# a comment
parts:
  # another
  title: "{title}, part \\"{n}\\""
  heads: ["no.", "mark"]
  counted: {one: "{count} part", other: "{count} parts"}
sayings:
  - "so it is"
"""
    assert table_of(text) == {
        "language": "en",
        "parts": {
            "title": '{title}, part "{n}"',
            "heads": ["no.", "mark"],
            "counted": {"one": "{count} part", "other": "{count} parts"},
        },
        "sayings": ["so it is"],
    }


@pytest.mark.parametrize(
    "line",
    [
        "  key: without quotes",
        "  key: 'single quotes'",
        '  key: "text"  # and a comment',
        '  key: "an \\x41"',
        "  key: |",
        '    key: "too far in"',
        '  key: {few: "one", many: "other"}',
        '  - "an item among keys"',
        '  first: "a second time"',
        "legend:",
        "\tkey: 1",
        "---",
    ],
)
def test_any_other_line_is_left_to_the_parser(line: str) -> None:
    assert table_of(f'legend:\n  first: "word"\n{line}\n') is None


def test_an_entry_of_no_section_is_left_to_the_parser() -> None:
    assert table_of('  key: "word"\n') is None
