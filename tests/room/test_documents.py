"""Files that cannot be used: each is refused with its place and a mend, and never with a traceback."""

from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import Field

from planner.documents import MOST_COMPLAINTS, parse_document, read_document, validate
from planner.errors import InputError
from planner.fields import Distance, Extent, Keys, Length, Size, Words
from planner.yaml_text import plain_scalar


def refusal(text: str) -> str:
    with pytest.raises(InputError) as refused:
        parse_document(text, "room.yaml")
    return str(refused.value)


def test_values_know_where_they_stand() -> None:
    document = parse_document("job: Kiln\nroom:\n  tape: {A-B: 18' 7\", B-C: 11' 4''}\n", "kiln-room.yaml")
    complaint = document.complaint(("room", "tape", "B-C"), "wrong.", "Mend it.")
    assert str(complaint) == (
        "kiln-room.yaml:3:28  room › tape › B-C: wrong.\n"
        "    3 |   tape: {A-B: 18' 7\", B-C: 11' 4''}\n"
        "                                   ^^^^^^^\n"
        "    Mend it."
    )


def test_keys_blocks_and_missing_values_are_shown_at_their_key() -> None:
    document = parse_document("job:\nroom:\n  columns:\n    - {at: 3}\n  dxf: x # y\n", "f")

    def place(*path: str | int, at_key: bool = False) -> tuple[int, int, int]:
        complaint = document.complaint(path, "", at_key=at_key)
        return complaint.line, complaint.column, complaint.width

    assert place("job") == (1, 1, 3)  # nothing stands there: the key is shown
    assert place("room") == (2, 1, 4)  # a block of lines: the key is shown
    assert place("room", "columns", 0) == (4, 7, 7)  # {at: 3}
    assert place("room", "dxf") == (5, 8, 1)
    assert place("room", "dxf", at_key=True) == (5, 3, 3)
    assert place("room", "columns", 0, "size") == (4, 7, 7)  # what is not there is shown at what should hold it


def test_a_tab_does_not_shift_the_carets() -> None:
    document = parse_document("a: [1,\t\t25]", "f")
    assert "\n    1 | a: [1,  25]\n                ^^" in str(document.complaint(("a", 1), "?"))


def test_words_stay_words() -> None:
    """YAML 1.2 core schema: no surprise booleans, no dates, no sexagesimal numbers; and none to other bases."""
    words = ("on", "yes", "no", "2026-03-14", "1:30", "1_000", "18'", "0b1", "0x1000", "0o17")
    read = {word: plain_scalar(word) for word in words}
    assert read == {word: word for word in read}
    assert [plain_scalar(w) for w in ("true", "~", "", "12", "-3", "010", "1.5", "1e3")] == [
        True,
        None,
        None,
        12,
        -3,
        10,
        1.5,
        1000.0,
    ]
    assert plain_scalar("9" * 5000) == "9" * 5000  # too long to be a number anybody meant


@pytest.mark.parametrize(
    ("text", "fragments"),
    [
        ("", ["room.yaml: the file is empty."]),
        ("# only a remark\n", ["the file is empty."]),
        ("---\n...\n", ["the file is empty."]),
        ("- 1\n- 2\n", ["room.yaml:1:1", "the file holds no keys.", "job: Kiln room"]),
        ("Kiln room", ["the file holds no keys."]),
        ("a: [1, 2\nb: 3\n", [":1:4: this bracket is not closed"]),
        ("a: {x: 1\nb: 3\n", [":1:4: this brace is not closed"]),
        ("a: 'x\nb: 2\n", [":1:4: this quote is not closed", "need no quotes"]),
        ('a: ["18\' 7"", 2]\n', [":1:12: this quote is not closed"]),
        ("a: b: c\n", [":1:5: a second colon"]),
        ("a:\n\t- 3\n", [":2:1: a tab stands here.", "Indent with spaces."]),
        ("a: @x\n", [":1:4: a text cannot begin with this sign."]),
        ("a: -\n", [":1:4: a list cannot begin here."]),
        ("a: ]\n", [":1:4: a value is missing, or this sign is one too many."]),
        ("room:\n  x: 1\n grid: 3\n", [":3:2: this does not fit with the lines above."]),
        ('a: "\\q"\n', [":1:6: a backslash means something", "single quotes"]),
        ('a: "\\UFFFFFFFF"\n', ["this is not a YAML text."]),
        ('a: "\\ud800"\n', [":1:4  a: this text holds a control character."]),
        ("%YAML 9.9\n---\na: 1\n", [":1:1: this is not YAML"]),
        ("a: 1\n---\nb: 2\n", [":2:1: a second document begins here."]),
        ("a: 1\na: 2\nb: {c: 1, c: 2}\n", [':2:1  a: the key "a" stands here a second time.', ":3:11  b › c"]),
        ("1: 2\n", [":1:1: 1 is not a word, as a key should be.", '"1"']),
        ("true: 2\n", ["true is not a word"]),
        (": 2\n", ["nothing is not a word", "Write a word before the colon."]),
        ("? [a]\n: 2\n", ["a key must be a word."]),
        ("a: !!str 3\n", [":1:4  a: tags such as tag:yaml.org,2002:str are not read here."]),
        ("a: !python/object:os.system x\n", ["tags such as"]),
        ("<<: {a: 1}\n", ["merge keys (<<) are not read here."]),
        ("a: *b\n", [":1:4  a: nothing is named &b above."]),
        ("a: &a [*a]\n", [":1:8  a › 1: *a stands inside itself."]),
        ("a: " + "[" * 2000, ["nested more than 40 deep"]),
        ("- " * 2000, ["nested more than 40 deep"]),
        ("a: \x07\n", ["line 1 holds a control character"]),
        ("a: [" + "1," * 60_000 + "1]", ["unfolds to more than 50,000 values"]),
    ],
)
def test_texts_that_are_refused(text: str, fragments: list[str]) -> None:
    said = refusal(text)
    for fragment in fragments:
        assert fragment in said
    assert len(said) < 2000


def bomb(levels: int) -> str:
    """Each level holds the one before nine times: nine levels stand for 9^9 = 387 million values."""
    names = "abcdefghijklmnopqrstuvwxyz"
    rows = ["a: &a [1,1,1,1,1,1,1,1,1]"]
    rows += [f"{b}: &{b} [{','.join(['*' + a] * 9)}]" for a, b in pairwise(names[:levels])]
    return "\n".join(rows)


def test_an_alias_bomb_is_defused_before_it_unfolds() -> None:
    """9 + 81 + 729 + 6561 values and their lists are under 50,000; with the next level they are over it."""
    assert "unfolds to more than 50,000 values" in refusal(bomb(9))
    assert set(parse_document(bomb(4), "f").data) == set("abcd")


def test_a_chain_of_aliases_cannot_nest_without_end() -> None:
    rows = ["a0: &a0 [1]"] + [f"a{k}: &a{k} [*a{k - 1}]" for k in range(1, 60)]
    assert "nested more than 40 deep" in refusal("\n".join(rows))


def test_a_plain_alias_is_read_and_complained_of_where_it_is_used() -> None:
    document = parse_document("a: &x [1, 2]\nb: *x\n", "f")
    assert document.data == {"a": [1, 2], "b": [1, 2]}
    assert document.complaint(("b", 0), "?").line == 2


@given(st.one_of(st.text(max_size=60), st.text("ab:-[]{}&*!|>'\"#%@`,? \n\t\\0x~<", max_size=60)))
def test_no_text_raises_anything_but_an_input_error(text: str) -> None:
    try:
        assert isinstance(parse_document(text, "f").data, dict)
    except InputError as error:
        assert str(error)


def test_files_that_cannot_be_opened(tmp_path: Path) -> None:
    (tmp_path / "kiln-room.yaml").write_text("job: Kiln room\n")
    cases = {
        str(tmp_path / "kilnroom.yaml"): ["there is no such file.", "Did you mean", "kiln-room.yaml"],
        str(tmp_path / "none" / "x.yaml"): ["there is no such file."],
        str(tmp_path): ["this is a folder, not a file.", "kiln-room.yaml"],
        "a\0b": ["this is not the name of a file."],
        "": ["there is no such file."],
    }
    for name, fragments in cases.items():
        with pytest.raises(InputError) as refused:
            read_document(name)
        assert all(fragment in str(refused.value) for fragment in fragments)


@pytest.mark.parametrize(
    ("name", "meant"),
    [
        *(("kilnroom", True), ("kiln-rom", True), ("Kiln_Room", True), ("kiln", True), ("kiln-room-2", True)),
        *(("kitchen", False), ("my-room", False), ("room", False), ("k", False), ("zzz", False)),
    ],
)
def test_only_a_name_that_may_be_a_slip_is_suggested(tmp_path: Path, name: str, meant: bool) -> None:
    (tmp_path / "kiln-room.yaml").write_text("job: Kiln room\n")
    with pytest.raises(InputError) as refused:
        read_document(str(tmp_path / f"{name}.yaml"))
    assert ("Did you mean" in str(refused.value)) == meant
    assert ("Check the name and the folder." in str(refused.value)) != meant


def test_files_that_are_no_text(tmp_path: Path) -> None:
    file = tmp_path / "room.yaml"
    for content, fragment in (
        (b"job: \xff\xfe", "byte 6 is not UTF-8"),
        (b"#" * 1_000_001, "larger than 1,000,000 bytes"),
    ):
        file.write_bytes(content)
        with pytest.raises(InputError, match=fragment):
            read_document(file)


def test_a_byte_order_mark_and_windows_line_ends_are_no_matter(tmp_path: Path) -> None:
    file = tmp_path / "room.yaml"
    file.write_bytes("\ufeffjob: Kiln\r\nunits: mm\r\n".encode())
    document = read_document(file)
    assert document.data == {"job": "Kiln", "units": "mm"}
    assert document.complaint(("units",), "?").text == "units: mm"


class Bar(Keys):
    length: Size = Field(description="Stock length.", examples=["12'"])


class Catalogue(Keys):
    title: Words
    count: int = Field(default=1, ge=1, lt=10)
    shares: list[float] = Field(default=[], min_length=1, max_length=2)
    hung: bool = True
    bars: dict[str, Bar] = Field(default={})
    opening: Extent | None = None
    shift: Length = 0.0
    gap: Distance = 0.0


def check(text: str) -> str:
    with pytest.raises(InputError) as refused:
        validate(parse_document(text, "f"), Catalogue, {"units": "mm"})
    return str(refused.value)


def test_a_model_reads_lengths_in_the_units_of_its_context() -> None:
    text = 'title: 12\nbars: {main: {length: 3.6 m}}\nopening: [600, 24"]\nshift: -5'
    read = validate(parse_document(text, "f"), Catalogue, {"units": "mm"})
    assert read.title == "12"
    assert (read.bars["main"].length, read.opening, read.shift) == (3600.0, (600.0, 609.6), -5.0)


@pytest.mark.parametrize(
    ("text", "fragments"),
    [
        ("count: 3", ['f: "title" is missing.', "Add the key title."]),
        ("title: 1.10", ["f:1:8  title: 1.1 is not a text.", 'Put it in quotes: "1.1".']),
        ("title: a\ncuont: 3", ['f:2:1  cuont: unknown key "cuont".', 'Did you mean "count"?']),
        ("title: a\nxyz: 3", ["Known here: bars, count, gap, hung, opening, shares, shift, title."]),
        ("{title: a, count:3}", ['unknown key "count:3".', "Put a space after the colon: count: 3"]),
        ("title: a\ncount: 0", ["f:2:8  count: 0 is out of range.", "at least 1"]),
        ("title: a\ncount: 10", ["less than 10"]),
        ("title: a\ncount: 2.5", ["2.5 is not a whole number."]),
        ("title: a\ncount: abc", ['"abc" is not a whole number.']),
        ("title: a\nhung: yes", ['"yes" is not true or false.']),
        ("title: a\nshares: []", ["0 values are too few.", "Write at least 1."]),
        ("title: a\nshares: [1, 2, 3]", ["3 values are too many.", "Write at most 2."]),
        ("title: a\nshares: [.nan, x]", ["shares › 1: nan is not a number.", 'shares › 2: "x" is not a number.']),
        ("title: a\nshares: 3", ["3 is not a list."]),
        ("title: a\nbars: {main: 3}", ["bars › main: 3 is not keys with values."]),
        ("title: a\nbars: {main: {}}", ['bars › main: "length" is missing.', "Add  length: 12'"]),
        ("title: a\nbars: {main: {lenght: 1}}", ['bars › main › lenght: unknown key "lenght".', '"length"?']),
        ("title: a\nopening: [1]", ["expected two lengths, got 1 value.", "in brackets"]),
        ("title: a\nopening: [5,68 m, 3 m]", ["got 3 values.", "a comma inside a number splits it"]),
        ("title: a\nopening: [0, -1]", ["opening › 1: 0 is not more than nothing.", "opening › 2: -1 is not"]),
        ("title: a\ngap: -1 mm", ['"-1 mm" is less than nothing.']),
        ("title: a\nshift: 5 ells", ['"5 ells" is not a length.', "Write metric as 5680 mm"]),
    ],
)
def test_faults_of_a_model_are_said_in_plain_words(text: str, fragments: list[str]) -> None:
    said = check(text)
    for fragment in fragments:
        assert fragment in said


def test_all_faults_are_said_at_once_in_the_order_of_the_file() -> None:
    said = check("gap: -1\ncount: 0\ntitle: [1]\nzzz: 1\n")
    assert [row.split(":")[1] for row in said.splitlines() if row.startswith("f:")] == ["1", "2", "3", "4"]


def test_nobody_reads_a_thousand_complaints() -> None:
    rows = "\n".join(f"k{n}: 1" for n in range(1000))
    with pytest.raises(InputError) as refused:
        validate(parse_document(f"title: a\n{rows}", "f"), Catalogue)
    assert len(refused.value.complaints) == MOST_COMPLAINTS + 1
    assert "and 950 more like these." in str(refused.value)
