"""Words: every one that is drawn comes from the table of the sheet's language, and the tables hold the same."""

import ast
import pickle
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from drawing.strange_words import LANGUAGE, SAME, given, latin, write_strange_table
from drawing.whole_sheets import check

from planner.documents import parse_document, read_document
from planner.drawing.papers import paper_names
from planner.drawing.shapes import Circle, Dimension, Sheet, Symbol, Text
from planner.drawing.sheets import draw
from planner.drawing.stylebook import load_style
from planner.drawing.wish import SheetWish
from planner.drawing.wordbook import fields_of, language_names, load_wordbook, wordbook
from planner.errors import InputError, PlannerError
from planner.planning import Plan, plan
from planner.room.reader import brief_from, read_room
from planner.sayings import joined, linked, said

REPOSITORY = Path(__file__).parents[2]
FIXTURES = sorted((REPOSITORY / "fixtures").glob("*.yaml"))
SOURCES = sorted((REPOSITORY / "planner").rglob("*.py"))
EN = wordbook("en")
OTHERS = [name for name in language_names() if name != "en"]
ISO = load_style("iso-13567")


def own_keys(language: str) -> set[str]:
    """The keys that a table itself holds, without what it takes from the English one."""
    data = read_document(REPOSITORY / "styles" / "words" / f"{language}.yaml").data
    sections = {key: words for key, words in data.items() if key not in ("language", "name", "sayings")}
    return {f"{section}.{key}" for section, words in sections.items() for key in words}


# The tables hold the same


@pytest.mark.parametrize("language", OTHERS)
def test_every_table_holds_the_same_keys_and_sentences_as_the_english_one(language: str):
    assert own_keys(language) == set(EN.entries)
    data = read_document(REPOSITORY / "styles" / "words" / f"{language}.yaml").data
    assert set(data["sayings"]) == set(EN.sayings)


@pytest.mark.parametrize("language", OTHERS)
def test_no_sentence_loses_or_gains_a_field_in_another_language(language: str):
    other = wordbook(language)
    for key, entry in EN.entries.items():
        assert fields_of(other.entries[key]) - {"count"} == fields_of(entry) - {"count"}, key
        assert isinstance(entry, tuple) == isinstance(other.entries[key], tuple), key
    for template in EN.sayings:
        assert fields_of(other.sayings[template]) == fields_of(template), template


# Code and tables agree


def calls(*names: str) -> Iterator[tuple[str, ast.Call]]:
    """Every call of one of these functions in the code, with its place."""
    for path in SOURCES:
        text = path.read_text(encoding="utf-8")
        if "import words" not in text and "planner.sayings" not in text:
            continue
        for node in ast.walk(ast.parse(text)):
            if isinstance(node, ast.Call) and ast.unparse(node.func) in names:
                yield f"{path.name}:{node.lineno}", node


def keys_asked(call: ast.Call) -> set[str]:
    """The keys that a call may ask for: those written out, and all that a key with a computed part may be."""
    found = set()
    parts = {id(part) for node in ast.walk(call.args[0]) if isinstance(node, ast.JoinedStr) for part in ast.walk(node)}
    for node in ast.walk(call.args[0]):
        if isinstance(node, ast.JoinedStr):
            pattern = "".join(re.escape(p.value) if isinstance(p, ast.Constant) else ".*" for p in node.values)
            found |= {key for key in EN.entries if re.fullmatch(pattern, key)} or {pattern}
        elif isinstance(node, ast.Constant) and id(node) not in parts and isinstance(node.value, str):
            found |= {node.value} if "." in node.value else set()
    return found


def test_every_key_that_the_code_asks_for_is_in_the_table_and_gets_its_fields():
    for place, call in calls("words.say", "words.row"):
        for key in keys_asked(call):
            assert key in EN.entries, f"{place} asks for {key}"
            given = {keyword.arg for keyword in call.keywords}
            if isinstance(EN.entries[key], tuple) or None in given or "{" in ast.unparse(call.args[0]):
                continue  # heads have no fields; others cannot be told from the text of the code
            assert given - {"count"} == fields_of(EN.entries[key]) - {"count"}, f"{place} {key}"


def test_the_table_holds_nothing_that_nobody_asks_for():
    asked = {key for _, call in calls("words.say", "words.row") for key in keys_asked(call)}
    assert set(EN.entries) - asked == set()


def templates() -> dict[str, str]:
    """Every sentence that the planning makes, by its template."""
    found = {}
    for place, call in calls("said", "linked", "listed"):
        said_of_several = [keyword.value for keyword in call.keywords if keyword.arg == "several"]
        for arg in (*(call.args if ast.unparse(call.func) == "said" else call.args[1:]), *said_of_several):
            if isinstance(arg, ast.Constant) and isinstance(arg.value, str) and arg.value:
                found[arg.value] = place
    return found


def test_every_sentence_of_the_planning_is_in_the_tables():
    unknown = {template: place for template, place in templates().items() if template not in EN.sayings}
    assert unknown == {}


def test_every_sentence_in_the_tables_is_in_the_code_or_in_a_grid_that_comes_along():
    code = "\n".join(path.read_text(encoding="utf-8") for path in SOURCES)
    systems = "\n".join(p.read_text(encoding="utf-8") for p in (REPOSITORY / "planner/ceiling/systems").glob("*.yaml"))
    strings = {
        node.value
        for path in SOURCES
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }
    known = {text.lower() for text in strings}
    orphans = [each for each in EN.sayings if each.lower() not in known and each not in systems and each not in code]
    assert [each for each in orphans if not any(each.endswith(text) for text in strings if len(text) > 20)] == []


# A language that does not exist shows what does not come from a table


@pytest.fixture(scope="module")
def strange_table(tmp_path_factory) -> Path:
    """A table of one's own, in a language of strange letters."""
    return write_strange_table(tmp_path_factory.mktemp("words"))


def all_words(sheet: Sheet) -> Iterator[str]:
    """Everything on a sheet that can be read: letters, dimensions, data of symbols, what is shown on hover."""
    yield sheet.title
    shapes = [*sheet.shapes, *(shape for window in sheet.windows for shape in window.drawing.shapes)]
    for shape in shapes:
        match shape:
            case Text(text=text):
                yield text
            case Dimension(text=text):
                yield text
            case Symbol(attributes=attributes, title=title):
                yield from (value for _, value in attributes)
                yield title
            case Circle(title=title):
                yield title
            case _:
                yield getattr(shape, "title", "")


@pytest.mark.parametrize("room", FIXTURES, ids=lambda path: path.stem)
def test_no_word_is_drawn_that_does_not_come_from_the_table(room: Path, strange_table: Path):
    made = plan(read_room(str(room)))
    own = latin(given(room))  # names that the user gave stay as they are
    own |= {f"w{word}" for word in own}  # and so do those of the wall angle round what the user named
    same = {word for name in paper_names() for word in latin(name)} | SAME
    sheets = draw(made, ISO, SheetWish(language=str(strange_table)))
    left = {word: text for sheet in sheets for text in all_words(sheet) for word in latin(text) - own - same}
    assert left == {}
    assert {sheet.language for sheet in sheets} == {LANGUAGE}


@pytest.mark.parametrize("room", FIXTURES, ids=lambda path: path.stem)
def test_longer_words_and_lengths_in_both_systems_find_room_too(room: Path):
    """Spanish takes about a quarter more letters than English, and every length a second one in brackets."""
    made = plan(read_room(str(room)))
    sheets = draw(made, ISO, SheetWish(language="es", dual=True))
    for sheet in sheets:
        check(sheet, ISO)
    assert {sheet.language for sheet in sheets} == {"es"}


def kiln(language: str = "") -> Plan:
    """The kiln room, its project in a language."""
    text = (REPOSITORY / "fixtures" / "kiln-room.yaml").read_text(encoding="utf-8")
    assert "project: {" in text
    text = text.replace("project: {", f"project: {{language: {language}, " if language else "project: {")
    return plan(brief_from(parse_document(text, "kiln-room.yaml")))


def headings(made: Plan, wish: SheetWish) -> set[str]:
    return {text for sheet in draw(made, ISO, wish) for text in all_words(sheet)}


def test_the_room_file_says_the_language_and_a_wish_goes_before_it():
    assert "Leyenda" in headings(kiln(language="es"), SheetWish())
    assert "Legend" in headings(kiln(language="es"), SheetWish(language="en"))
    assert "Legend" in headings(kiln(), SheetWish())


def test_an_unknown_language_is_refused_with_those_that_there_are():
    with pytest.raises(PlannerError, match=r'no words in "fr"(.|\n)*en \(English\), es \(español\)'):
        draw(kiln(), ISO, SheetWish(language="fr"))


# A table of one's own


def own_table(folder: Path, text: str) -> str:
    path = folder / "own.yaml"
    path.write_text(text, encoding="utf-8")
    return str(path)


def test_a_table_of_ones_own_changes_single_words(tmp_path):
    table = own_table(tmp_path, 'legend:\n  heading: "Key to signs"\n')
    words = load_wordbook(table)
    assert words.say("legend.heading") == "Key to signs"
    assert words.say("legend.wall") == "Wall"  # what it does not say is said in English
    assert words.language == "en"
    assert "Key to signs" in headings(kiln(), SheetWish(language=table))


def test_or_those_of_another_language(tmp_path):
    own_table(tmp_path, "language: es\nmembers: {main tee: Tee}\n")
    words = load_wordbook("own.yaml", tmp_path)
    assert words.say("members.main tee") == "Tee"
    assert words.say("members.cross tee") == "Perfil secundario"
    assert words.language == "es"


def test_a_language_of_which_nothing_is_known_falls_back_to_english(tmp_path):
    words = load_wordbook(own_table(tmp_path, "language: nl\nname: Nederlands\nlegend: {wall: Wand}\n"))
    assert (words.language, words.say("legend.wall"), words.say("legend.heading")) == ("nl", "Wand", "Legend")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("legend: {haeding: x}", r'own\.yaml:1.*there is no "haeding"(.|\n)*Did you mean "heading"'),
        ("legend: {counted: '{what} {who}'}", r"there is no \{who\} here(.|\n)*\{count\}, \{what\}"),
        ("legend: {counted: '{what.__class__}'}", r"there is no \{what.__class__\} here"),
        ("legend: {counted: '{what!r}'}", "brace"),
        ("legend: {counted: '{what'}", "a brace too many or too few"),
        ("legend: {wall: 7}", "this is no text"),
        ("panels: {heads: [a, b]}", "2 words stand where 4 are expected"),
        ("panels: {heads: one}", "one text stands where a row"),
        ("legend: {wall: [a, b]}", "a row of words stands where none"),
        ("legend: {wall: {one: a, many: b}}", "two forms"),
        ("legend: Leyenda", '"legend" holds no words'),
        ("language: [es]", "language is a word"),
        ("sayings: {'No such sentence.': x}", 'there is no "No such sentence."'),
    ],
)
def test_what_does_not_fit_is_refused_where_it_stands(tmp_path, text: str, said: str):
    with pytest.raises(InputError, match=said):
        load_wordbook(own_table(tmp_path, text))


def test_singular_and_plural_are_told_by_the_count():
    spanish = wordbook("es")
    assert spanish.say("cutting.best", count=1, least=1).startswith("Se compra 1:")
    assert spanish.say("cutting.best", count=4, least=4).startswith("Se compran 4:")


# Sentences of the planning


def test_a_sentence_is_english_wherever_a_text_is_and_can_be_said_again():
    border = said("{near} {low} and {high}", near="600", low=said("left"), high=said("right"))
    assert border == "600 left and right"
    assert wordbook("es").saying(border.template, {"near": "600", "low": "a", "high": "b"}) == "600 a y b"
    assert pickle.loads(pickle.dumps(border)).template == border.template
    assert (border + said("; {rest} more", rest=3)) == "600 left and right; 3 more"
    assert joined((border, border), "; ").count("left") == 2
    assert (linked([]), linked(["A"]), linked(["A", "B", "C"])) == ("", "A", "A and B and C")


def test_names_with_braces_are_no_fields():
    assert said("{name}: {text}", name="{x}", text="{0} %s") == "{x}: {0} %s"
