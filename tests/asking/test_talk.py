"""The talk as a person on site meets it: answers, slips, going back, what is kept."""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.asking.draft import draft_text, talk_of
from planner.asking.showing import view_of
from planner.asking.talk import Reply, Talk, asked, said, summary
from planner.errors import PlannerError

RECTANGLE = ("Kiln room", "ft-in", "rectangle", "18' 7\"", "11' 4\"")
#: An L, 6 m by 5.5 m with 2.5 m by 2.1 m taken from a corner; D juts in. 3500 + 2500 = 6000, 3400 + 2100 = 5500.
EL = ("Shop", "mm", "taped", "6", "left", "D", "none", "6000", "3400", "2500", "2100", "3500", "5500")


def told(*lines: str, talk: Talk | None = None) -> tuple[Talk, Reply]:
    """Give lines one after another; the last reply comes back."""
    talk, reply = talk or Talk(), Reply()
    for line in lines:
        talk, reply = said(talk, line)
    return talk, reply


def open_key(talk: Talk) -> str:
    now = asked(talk)
    assert now is not None
    return now.question.key


def test_every_answer_is_echoed_in_both_kinds_of_unit() -> None:
    """18 ft 7 in = 223 in = 223 x 25.4 = 5664.2 mm; 5680 mm = 223.62 in = 18 ft 7 5/8 in."""
    _, reply = told(*RECTANGLE[:4])
    assert reply.lines == ("18'-7\" = 5664 mm",)
    _, reply = told("Room", "mm", "", "5680")
    assert reply.lines == ("5680 mm = 18'-7 5/8\"",)


@pytest.mark.parametrize(
    "line",
    ["18' 7-1/2\"", "18ft 7.5in", '223 1/2"', "5.6769 m", "5676.9 mm", "567.69cm", "18′ 7½″", "18' 7-1/2", "18 ft 7.5"],
)
def test_a_length_is_taken_as_written_on_a_tape(line: str) -> None:
    """18 ft 7-1/2 in = 223.5 in = 5676.9 mm, however it is written."""
    talk, reply = told("Room", "ft-in", "", line)
    assert (reply.tone, reply.lines) == ("understood", ("18'-7 1/2\" = 5677 mm",))
    assert open_key(talk) == "width"


def test_a_bare_number_that_could_be_feet_or_inches_is_refused_with_its_mend() -> None:
    talk, reply = told("Room", "ft-in", "", "18")
    assert reply.tone == "refused"
    assert reply.lines == ("18 could be feet or inches.", "Write 18' or 18\".")
    assert open_key(talk) == "length"


def test_a_wall_of_three_inches_is_doubted_and_kept_only_with_a_yes() -> None:
    talk, reply = told(*EL[:7], '3"')
    assert reply.tone == "doubted"
    assert "very short" in reply.lines[0]
    assert open_key(talk) == "line A-B"
    sure, reply = told("yes", talk=talk)
    assert reply.tone == "understood"
    assert sure.given["line A-B"] == '3"'
    other, _ = told("6000", talk=talk)
    assert other.given["line A-B"] == "6000 mm"


def test_a_doubted_answer_is_forgotten_once_something_else_is_said() -> None:
    talk, _ = told(*EL[:7], '3"', "?")
    _, reply = told("yes", talk=talk)
    assert reply.tone == "refused"


def test_a_diagonal_longer_than_the_two_walls_beside_it_cannot_be() -> None:
    """A-B and B-C together are 6000 + 3400 = 9400 mm; A-C cannot be 9800."""
    talk, _ = told(*EL)
    assert open_key(talk) == "line A-C"
    talk, reply = told("9800", talk=talk)
    assert reply.tone == "refused"
    assert "together are only 9400 mm" in reply.lines[0]
    assert open_key(talk) == "line A-C"


def test_a_diagonal_far_from_what_square_corners_give_is_doubted() -> None:
    """The corner B square, A-C is the root of 6000² + 3400², 6896 mm; 6396 is half a metre less."""
    talk, reply = told(*EL, "6396")
    assert reply.tone == "doubted"
    assert "6896 mm" in reply.lines[0]
    _, reply = told("6896", talk=talk)
    assert reply.tone == "understood"


def test_two_readings_of_one_wall_that_differ_are_doubted() -> None:
    _, reply = told(*EL[:7], "6000; 6100")
    assert (reply.tone, "differ by 100 mm" in reply.lines[0]) == ("doubted", True)
    talk, reply = told(*EL[:7], "6000; 6001")
    assert talk.given["line A-B"] == "6000 mm; 6001 mm"


def test_walls_that_do_not_close_are_told_with_the_gap_and_the_slip() -> None:
    """E-F is told as 3400 instead of 3500: 6000 - 2500 - 3400 = 100 mm are left along A-B; too little to say so.

    Told as 2500, 1000 mm are left, in one of the walls that run that way: A-B, C-D and E-F.
    """
    talk, _ = told(*EL[:11], "3400", "5500")
    assert open_key(talk) == "line A-C"
    talk, _ = told(*EL[:11], "2500", "5500")
    now = asked(talk)
    assert now is not None
    assert now.question.key == "closing"
    assert "1000 mm" in now.remark
    assert "a metre misread" in now.remark
    assert {"A-B", "C-D", "E-F"} == {word.strip(".(,") for word in now.remark.split() if word.strip(".(,")[1:2] == "-"}


def test_a_wall_named_there_is_taped_again_and_the_rest_is_kept() -> None:
    talk, _ = told(*EL[:11], "2500", "5500", "E-F")
    assert open_key(talk) == "line E-F"
    talk, _ = told("3500", talk=talk)
    assert open_key(talk) == "line A-C"
    assert talk.given["line F-A"] == "5500 mm"


def test_going_on_with_walls_that_do_not_close_holds_only_while_they_stay_so() -> None:
    talk, _ = told(*EL[:11], "2500", "5500", "none")
    assert open_key(talk) == "line A-C"
    talk, _ = told("go C-D", "2000", talk=talk)
    now = asked(talk)
    assert now is not None
    assert (now.question.key, "changed" in now.remark) == ("closing", True)


def test_diagonals_are_proposed_with_the_reason() -> None:
    """An L has 12 numbers, less 3 for where it lies, less 6 walls: 3 lines fix it. Two more check it."""
    talk, _ = told(*EL)
    reasons, heard = [], []
    while (now := asked(talk)) is not None and now.question.key.startswith("line"):
        reasons.append(now.question.why.split()[1])
        heard += [now.remark] if now.remark else []
        talk, _ = said(talk, "none")
    assert reasons == ["fixes"] * 3 + ["checks"] * 2
    assert [words.split(".")[0] for words in heard] == [
        "Now 5 diagonals; skip with none what you cannot reach",  # the count and the reason are heard once each
        "It checks the others: with one line more than the shape needs, a slip of the tape shows",
    ]


def test_a_slip_is_named_once_all_lines_are_known() -> None:
    """Of a 4 m by 3 m room all lines are given, and A-B once more, misread by ten centimetres."""
    lines = ("Box", "mm", "taped", "4", "left", "none", "4000; 4100", "yes", "3000", "4000", "3000", "5000", "5000")
    talk, _ = told(*lines)
    now = asked(talk)
    assert now is not None
    assert now.question.key == "more 1"
    assert "A-B was taped as 4100 mm" in now.remark
    talk, _ = told("A-B", "4000; 4001", talk=talk)
    now = asked(talk)
    assert now is not None
    assert "all agree" in now.remark


def test_a_line_left_out_can_be_added_at_the_end() -> None:
    """D-F of the L: along 3500, away 5500 - 3400 = 2100; the root of both squared is 4082 mm."""
    talk, _ = told(*EL, *["none"] * 5, "f-d")
    assert open_key(talk) == "line D-F"
    talk, reply = told("4082", talk=talk)
    assert reply.tone == "understood"
    assert open_key(talk) == "more 1"


def test_a_line_that_was_not_proposed_can_be_added_at_the_end() -> None:
    """A-D of the L: 3500 along and 3400 away; the root of both squared is 4879.5 mm."""
    talk, _ = told(*EL, *["none"] * 5, "a-d")
    assert open_key(talk) == "line A-D"
    talk, reply = told("4880", talk=talk)
    assert reply.tone == "understood"
    assert open_key(talk) == "more 2"


def test_corners_that_cannot_close_are_refused_before_a_wall_is_taped() -> None:
    """Six corners, all square, none jutting in: 6 x 90 = 540, and once round takes (6 - 2) x 180 = 720."""
    talk, _ = told("Shop", "mm", "taped", "6", "left", "none")
    now = asked(talk)
    assert now is not None
    assert "cannot all be square" in now.remark
    _, reply = told("none", talk=talk)
    assert "720" in reply.lines[0]
    assert "540" in reply.lines[0]
    talk, reply = told("C 180 F 180", talk=talk)
    assert reply.tone == "understood"


def test_back_goes_one_question_back_and_an_empty_line_keeps_what_stood_there() -> None:
    talk, _ = told(*RECTANGLE, "back")
    now = asked(talk)
    assert now is not None
    assert (now.question.key, now.usual) == ("width", "11' 4\"")
    talk, _ = told("back", "", talk=talk)
    assert talk.given["length"] == "18' 7\""
    assert open_key(talk) == "column 1"
    first, reply = told("back")
    assert (open_key(first), reply.tone) == ("job", "refused")


def test_undo_takes_back_the_last_step_again_and_again() -> None:
    talk, _ = told(*RECTANGLE, "undo", "undo")
    assert open_key(talk) == "length"
    assert "width" not in talk.given
    _, reply = told("undo")
    assert reply.lines == ("There is nothing to take back.",)


def test_undo_brings_back_what_was_written_over() -> None:
    talk, _ = told(*RECTANGLE, "back", "12'", "undo", "undo")
    assert talk.given["width"] == "11' 4\""


def test_an_answer_that_no_longer_holds_is_asked_for_again_and_shown() -> None:
    """A light 14 ft along the wall is outside once the wall is 12 ft long."""
    talk, _ = told(*RECTANGLE, *["none"] * 3, "no", "", "", "downlight", "", "14', 5'", "none", "go 4", "12'")
    now = asked(talk)
    assert now is not None
    assert now.question.key == "service 1 where"
    assert "You said 14' x 5'" in now.remark
    assert "outside the room" in now.remark


def test_units_changed_later_leave_lengths_as_they_were_meant() -> None:
    talk, _ = told("Room", "mm", "", "5680", "3450", "go 2", "in")
    assert talk.given["length"] == "5680 mm"
    assert open_key(talk) == "column 1"


def test_readings_are_kept_when_the_corners_are_named_anew() -> None:
    talk, _ = told(*EL, "go 4", "4")
    assert "line A-B" not in talk.given
    now = asked(talk)
    assert now is not None
    assert (now.question.key, now.usual) == ("line A-B", "6000 mm")


def test_said_lists_what_was_answered() -> None:
    talk, _ = told(*RECTANGLE)
    assert [row.split()[0] for row in summary(talk.given)] == ["1", "2", "3", "4", "5"]
    assert summary(talk.given)[3].endswith("18' 7\"")


def test_rest_takes_usual_answers_and_stops_at_what_only_the_person_knows() -> None:
    talk, _ = told("Room", "ft-in", "rest")
    assert open_key(talk) == "length"
    talk, reply = told(*RECTANGLE, "rest")
    assert open_key(talk) == "write"
    assert "Kind of grid: lay-in-imperial" in reply.lines
    back, _ = told("undo", talk=talk)
    assert open_key(back) == "column 1"


def test_a_job_may_bear_the_name_of_a_word_that_steers() -> None:
    talk, _ = told('"Back"')
    assert talk.given["job"] == "Back"


def test_two_lengths_at_once_are_told_apart() -> None:
    _, reply = told("Room", "ft-in", "", "18' 7\" x 11' 4\"")
    assert reply.lines[0] == "that is two lengths."


@pytest.mark.parametrize(
    ("units", "line", "kept"),
    [
        ("ft-in", "2x4", "2' x 4'"),
        ("ft-in", "24x48", '24" x 48"'),
        ("ft-in", '24 x 48"', '24" x 48"'),
        ("in", "24 by 24", '24" x 24"'),
        ("mm", "600x1200", "600 mm x 1200 mm"),
        ("m", "600 x 1200", "600 mm x 1200 mm"),
        ("m", "0.6, 1.2", "0.6 m x 1.2 m"),
        ("cm", "60 × 60", "60 cm x 60 cm"),
    ],
)
def test_a_panel_size_is_taken_as_the_trade_says_it(units: str, line: str, kept: str) -> None:
    talk, reply = told("Room", units, "", "6 m", "4 m", *["none"] * 3, "no", "", line)
    assert reply.tone == "understood", reply
    assert talk.given["module"] == kept


def test_a_module_that_the_grid_does_not_take_is_refused() -> None:
    _, reply = told("Room", "mm", "", "6 m", "4 m", *["none"] * 3, "no", "", "500 x 500")
    assert reply.lines[1] == "It takes 600 mm x 600 mm, 600 mm x 1200 mm."


def test_a_light_outside_the_room_is_refused_at_once() -> None:
    _, reply = told(*RECTANGLE, *["none"] * 3, "no", "", "", "light", "", "20', 3'")
    assert reply.tone == "refused"
    assert "outside the room" in reply.lines[0]


def test_a_ceiling_above_the_joists_is_refused_at_once() -> None:
    _, reply = told(*RECTANGLE, "none", "8'", "8' 6\"")
    assert "not below the joists" in reply.lines[0]


def test_a_draft_gives_the_talk_back_at_every_question() -> None:
    """Whoever leaves at any question finds it again, with all that was said."""
    lines = (*EL, "6896", "none", "none", "4082", "none", "none", "round", "100", "3 m, 2 m", *["none"] * 3, "no")
    talk = Talk()
    for line in lines:
        talk, _ = said(talk, line)
        again = talk_of(draft_text(talk), "x.draft")
        assert again.given == talk.given
        assert open_key(again) == open_key(talk)


@pytest.mark.parametrize("text", ["", "{", "[]", "{}", '{"what": "else"}', '{"answers": 3}', "[" * 5000])
def test_what_is_no_draft_is_refused(text: str) -> None:
    with pytest.raises(PlannerError, match="no draft"):
        talk_of(text, "x.draft")


def test_signs_that_could_drive_a_terminal_go_no_further() -> None:
    talk, reply = told("Kiln\x1b[31m room\x07")
    assert talk.given["job"] == "Kiln [31m room"
    assert "\x1b" not in reply.lines[0]


FULL, _ = told(*EL, "6896", *["none"] * 5, "round", "100", "3 m, 2 m", *["none"] * 3, "no", "", "", "downlight")


@settings(max_examples=30, deadline=None)
@given(st.data())
def test_whatever_is_written_into_a_draft_it_is_read_or_refused(data: st.DataObject) -> None:
    talk = FULL
    key = data.draw(st.sampled_from(sorted(talk.given)))
    text = data.draw(
        st.one_of(st.text(max_size=12), st.sampled_from(["none", "A B", "1 x 1", "C 1 2", "0", "6 x", "yes"]))
    )
    record = json.loads(draft_text(talk))
    record["answers"][key] = text
    try:
        again = talk_of(json.dumps(record), "x.draft")
    except PlannerError:
        return
    said(again, "none")
    view_of(again.given)


def test_a_line_that_cannot_be_points_at_another_line_and_not_at_a_length() -> None:
    """An L in feet: A-F and F-E are 7' and 10', so A-E cannot be 20' 4"; lengths have dashes as lines have."""
    walls = ("16'", "12'", "6'", "5'", "10'", "7'")
    _, reply = told("Back room", "ft-in", "taped", "6", "left", "E", "none", *walls, "20' 4\"")
    assert reply.tone == "refused"
    assert "go A-F" in " ".join(reply.lines)


@pytest.mark.parametrize(("line", "meant"), [("5 1", "5' 1"), ("11 4-1/2", "11' 4-1/2"), ("9 10.5", "9' 10.5")])
def test_feet_and_inches_without_a_mark_are_asked_back_as_one_would_write_them(line: str, meant: str) -> None:
    talk, reply = told("Room", "ft-in", "", line)
    assert reply.tone == "refused" and reply.lines[1] == f"Write  {meant}  if that is meant."
    _, reply = told(meant, talk=talk)
    assert reply.tone == "understood"
