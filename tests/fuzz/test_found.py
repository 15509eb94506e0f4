"""What fuzzing found, each as the smallest room file that showed it."""

import pytest
from fuzz.outcome import outcome


@pytest.mark.parametrize(
    ("text", "words"),
    [
        pytest.param(
            "units: cm\nroom:\n  rectangle: [400, 300]\n  columns:\n  - {at: [10, 10], size: [95, 3.496e-238]}\n",
            "less than 0.1 mm",
            id="a column of no depth made shapely divide by nothing",
        ),
        pytest.param(
            'units: mm\nroom:\n  corners: [A, B, "I\\x8AE", D]\n  tape: {A-B: 4000}\n',
            "control character",
            id="a control character of the second set (C1) came through to the terminal",
        ),
        pytest.param(
            '"\\x1F": null\nunits: mm\nroom: {rectangle: [4000, 3000]}\n',
            "this key holds a control character",
            id="a control character in a key came through to the terminal",
        ),
        pytest.param(
            'units: mm\nroom: {rectangle: [4000, 3000]}\nstructure: {underside: "\\rE"}\n',
            "this text holds a control character",
            id="a carriage return written with a backslash came through to the terminal",
        ),
        pytest.param(
            "units: mm\nroom:\n  points: [[0, 3000], [0, 0], [4000, 0], [5000, 2500], [4500, -500], [900, -1.1e-23]]\n",
            "cross or touch",
            id="a wall that ran along another within float noise left a line as a piece of floor",
        ),
    ],
)
def test_it_is_refused_in_words(text: str, words: str) -> None:
    found = outcome(text)
    assert found.kind == "refused"
    assert words in found.words
