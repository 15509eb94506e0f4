"""HTML, written so that nothing untrusted becomes markup: text and attributes are escaped here and nowhere else.

In: names of elements, attributes and content. Out: `Html`, which is markup already; a plain string is text.
"""

import json
from collections.abc import Iterable
from html import escape
from typing import Any


class Html(str):
    """Markup that may stand in a page as it is."""

    __slots__ = ()


Content = str | Html | None

#: Elements without content (HTML standard, void elements); those of them that are used here.
_VOID = ("meta", "link", "input")


def element(tag: str, /, *content: Content, **attributes: object) -> Html:
    """One element. Attributes lose a trailing "_", inner ones become "-"; None and False are left out."""
    written = "".join(_attribute(key, value) for key, value in attributes.items())
    if tag in _VOID:
        return Html(f"<{tag}{written}>")
    return Html(f"<{tag}{written}>{together(content)}</{tag}>")


def together(content: Iterable[Content]) -> Html:
    """Pieces one after the other, texts escaped."""
    return Html("".join(part if isinstance(part, Html) else escape(part) for part in content if part is not None))


def data_block(id_: str, value: Any) -> Html:
    """Data for the page's program. No "<" is left in it, so that nothing in a string ends the block."""
    text = json.dumps(value, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    for letter in "<>&\u2028\u2029":
        text = text.replace(letter, f"\\u{ord(letter):04x}")
    return element("script", Html(text), type="application/json", id=id_)


def _attribute(key: str, value: object) -> str:
    if value is None or value is False:
        return ""
    name = key.rstrip("_").replace("_", "-")
    return f" {name}" if value is True else f' {name}="{escape(str(value))}"'
