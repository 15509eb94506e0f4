"""Names that mean harm, or that no font has, in every place where a room file takes a name: the files stay whole."""

import json
import re
from xml.etree import ElementTree

import pypdfium2
import pytest
from pyogrio.raw import read

from planner.documents import parse_document
from planner.drawing.shapes import Text
from planner.drawing.sheets import draw
from planner.drawing.stylebook import load_style
from planner.drawing.wish import SheetWish
from planner.errors import InputError
from planner.files import files_of
from planner.planning import Plan, plan
from planner.room.reader import brief_from

ISO = load_style("iso-13567")

#: What a name may hold, and whether the sheet must say that letters are missing.
NAMES = {
    "codes of a CAD text": ("%%c%%u %%%d \\P{\\H5;x}", False),
    "a caret code": ("^J^M a", False),
    "a script": ("</title><script>alert(1)</script>", False),
    "an attribute": ('x" onload="alert(1)', False),
    "three hundred letters": ("W" * 300, False),
    "right to left": ("\u202e\u05d7\u05d3\u05e8 12\u202c", False),
    "an emoji": ("fire \U0001f468\u200d\U0001f692 \U0001f600", True),
    "a script that the font lacks": ("\u5929\u82b1\u677f", True),
    "braces": ("{x} {0} {count!r}", False),
    "a formula": ("=HYPERLINK(1)", False),
}


def room_named(name: str) -> Plan:
    """A room with the name in its project, corners, column, services and items."""
    quoted = "'" + name.replace("'", "''") + "'"
    text = f"""
        job: {quoted}
        units: mm
        project: {{client: {quoted}, drawn_by: {quoted}, revision: {quoted}, notes: {quoted}}}
        room:
          corners: [{quoted}, B, C, D]
          tape: {{B-C: 3150, C-D: 4140, B-D: 5202}}
          columns: [{{name: {quoted}, at: [2000, 1500], size: [200, 200]}}]
        services:
          - {{name: {quoted}, kind: troffer, size: [600, 600], near: [1000, 1000]}}
        stock:
          extras: [{{item: {quoted}, count: 2}}]
    """
    lines = "\n".join(line[8:] for line in text.splitlines())
    return plan(brief_from(parse_document(lines, "hostile.yaml")))


@pytest.mark.parametrize(("name", "lacks"), NAMES.values(), ids=NAMES)
def test_the_files_stay_whole(name: str, lacks: bool, tmp_path):
    made = room_named(name)
    sheets = draw(made, ISO, SheetWish())
    contents = files_of(made, sheets, ISO)
    for file, content in contents.items():
        if file.endswith(".svg"):
            root = ElementTree.fromstring(content)
            tags = [element.tag.rpartition("}")[2] for element in root.iter()]
            assert "script" not in tags
            assert not [key for element in root.iter() for key in element.attrib if key.lower().startswith("on")]
    pdf = pypdfium2.PdfDocument(contents["sheets.pdf"])
    assert len(pdf) == len(sheets)
    path = tmp_path / "ceiling.dxf"
    path.write_bytes(contents["ceiling.dxf"])
    meta, _, _, fields = read(path, columns=["Text"])
    assert list(meta["fields"]) == ["Text"]
    texts = [text for text in fields[0] if text]
    assert not any(re.search(r"[\x00-\x09\x0b-\x1f\x7f\ue000-\uf8ff]", text) for text in texts)
    shown = [shape.text for sheet in sheets for shape in sheet.shapes if isinstance(shape, Text)]
    assert all(text.isprintable() for text in shown)
    assert any("Drawn as □" in text for text in shown) == lacks
    assert json.loads(contents["plan.json"])


@pytest.mark.parametrize("escape", ["\\x07", "\\x1b[31m", "\\x7f", "\\0"])
def test_control_characters_are_refused_at_the_door(escape: str):
    text = f'job: "a{escape}b"\nunits: mm\nroom: {{rectangle: [4000, 3000]}}\n'
    with pytest.raises(InputError, match=r"hostile\.yaml:1:6.*control character"):
        brief_from(parse_document(text, "hostile.yaml"))
