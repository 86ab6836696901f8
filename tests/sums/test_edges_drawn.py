"""The drawings on screens of 40, 80 and 100 columns: each mark at the column of its share of the scale.

The columns are counted by hand. A fuse's window has five decades, 0.1 s to 10,000 s: 6 columns each on a
screen of 40, 14 on one of 80 or more. The side view is two columns narrower than the screen, 98 at most;
the pin stands one column in, the furthest place five columns before the end, all others by their share.
"""

from math import inf

import pytest

from bot.sums.draw import Drawn, bar_line, drawing, page, side_view, steps, window
from bot.sums.fuses import fuse_time
from bot.sums.legs import leg_load
from bot.sums.path import path
from bot.sums.result import Result, Row

# --- a fuse's window ----------------------------------------------------------------------------------


def _window(seconds: float, low: float, high: float, width: int) -> tuple[str, ...]:
    return window(Row("window", "fuse", seconds, low, high, 0, "s"), width)


def _mark(lines: tuple[str, ...]) -> int:
    return next(line for line in lines if "^" in line).index("^") - 2


@pytest.mark.parametrize(
    ("seconds", "on_40", "on_80"),
    [
        # By tens: a whole decade, and half of one at the root of ten.
        (0.1, 0, 0), (0.31623, 3, 7), (1, 6, 14), (3.1623, 9, 21), (10, 12, 28), (31.623, 15, 35), (100, 18, 42),
        (316.23, 21, 49), (1000, 24, 56), (3162.3, 27, 63), (10_000, 30, 70),
        # What is off the scale stands at its end.
        (0.01, 0, 0), (30_000, 30, 70),
    ],
)  # fmt: skip
def test_end_of_the_lift_stands_at_its_share_of_the_scale(seconds: float, on_40: int, on_80: int) -> None:
    for width, column in ((40, on_40), (80, on_80), (100, on_80)):
        lines = _window(seconds, 2, 200, width)
        assert _mark(lines) == column
        assert max(map(len, lines)) <= width
        assert "the lift ends: " in "".join(lines[4:])


@pytest.mark.parametrize(("width", "decade"), [(40, 6), (80, 14), (100, 14)])
def test_fuse_changes_its_letter_at_its_two_times(width: int, decade: int) -> None:
    said, cells, ticks, names = _window(0, 1, 100, width)
    assert said == "holds to 1 s, surely open after 100 s"
    assert cells == "  " + "=" * decade + "~" * 2 * decade + "#" * (2 * decade + 1)
    assert ticks == "  " + ("|" + " " * (decade - 1)) * 5 + "|"
    for name, tenths in (("0.1 s", 0), ("1 ", 1), ("10 ", 2), ("100 ", 3), ("1k", 4), ("10k", 5)):
        assert names[2 + decade * tenths :].startswith(name)


def test_fuse_that_holds_for_less_than_a_second_holds_and_one_of_nothing_may_open_at_once() -> None:
    assert _window(0, 0.5, 100, 80)[0] == "holds to 0.5 s, surely open after 100 s"
    assert _window(0, 0, inf, 80)[0] == "may open at once, may never open"
    assert _window(0, 0, inf, 80)[1] == "  " + "~" * 71
    assert _mark(_window(0.5, 0, inf, 80)) == 10  # 14 x log10(5) = 9.8


def test_window_on_the_narrowest_screen_keeps_five_columns_a_decade() -> None:
    for width in (10, 20, 34):
        assert len(_window(0, 1, 100, width)[-2].strip()) == 26
        assert _window(0, 1, 100, width)[-1].split() == ["0.1s", "1", "10", "100", "1k", "10k"]
    assert len(_window(0, 1, 100, 39)[-2].strip()) == 31


def test_words_of_the_lift_stand_right_of_the_mark_else_left_else_below() -> None:
    # 1000 s stands at column 56 of a wide window; two blanks, the mark, a blank and 21 letters are 81 columns.
    text = "the lift ends: 1000 s"
    row = Row("window", "fuse", 1000, 2, 200, 0, "s")
    assert window(row, 81)[-1] == "  " + " " * 56 + "^ " + text
    assert window(row, 80)[-1] == "  " + " " * (56 - 22) + text + " ^"
    assert window(row) == window(row, 80)
    # Five columns a decade: 2500 s at column 22 just leaves room for 21 letters and a blank, 1500 s at 21 not.
    assert _window(2500, 2, 9, 35)[-1] == "  the lift ends: 2500 s ^"
    assert _window(1500, 2, 9, 35)[-2:] == ("  " + " " * 21 + "^", "  the lift ends: 1500 s")
    assert _window(9000, 2, 9, 35)[-1] == "  " + " " * 3 + "the lift ends: 9000 s ^"


# --- volts along the path -----------------------------------------------------------------------------

LOST = "lost on the way"


def _points(says: str = LOST) -> list[Row]:
    return [
        Row("step", "battery", 12.0, 12, 12, 0, "V"),
        Row("step", "motor", 9.0, 9, 9, 0, "V", says),
    ]


def test_what_a_step_loses_stands_beside_a_bar_of_16_columns_and_below_a_shorter_one() -> None:
    # Label 9, figures 11 with their blanks and bars; "3.00 V lost on the way" is 22 and three blanks more.
    wide = steps(_points(), 9 + 11 + 16 + 22 + 3)
    assert wide == (
        "battery   12.0 V  |" + "#" * 16 + "|",
        "motor      9.0 V  |" + "#" * 12 + "|     3.00 V lost on the way",
    )
    narrow = steps(_points(), 60)
    assert narrow[0] == "battery   12.0 V  |" + "#" * 40 + "|"
    assert narrow[1] == "motor      9.0 V  |" + "#" * 30 + "|"
    assert [line.strip() for line in narrow[2:]] == ["3.00 V lost on the way"]


def test_one_place_alone_has_the_whole_room() -> None:
    assert steps(_points()[:1], 80) == ("battery   12.0 V  |" + "#" * 60 + "|",)


def test_steps_are_of_80_columns_unless_told() -> None:
    assert steps(_points("")) == steps(_points(""), 80)
    assert steps(_points(""))[0].count("#") == 60
    assert steps(_points(""))[1].count("#") == 45


# --- the side view ------------------------------------------------------------------------------------


def _place(label: str, behind_ft: float, load_lb: float = 0.0) -> Row:
    return Row("place", label, load_lb, load_lb, load_lb, behind_ft, "lb")


TRAILER = (_place("pin", 0), _place("legs", 6, 3640), _place("axles", 26, 10360))


@pytest.mark.parametrize(
    ("width", "legs", "wheel"),
    [
        # 32, 72 and 92 columns for 26 ft: the legs at 6 ft are 7.4, 16.6 and 21.2 of them behind the pin.
        (40, 1 + 7, 1 + 32), (80, 1 + 17, 1 + 72), (100, 1 + 21, 1 + 92), (200, 1 + 21, 1 + 92),
    ],
)  # fmt: skip
def test_places_stand_at_their_share_of_the_length(width: int, legs: int, wheel: int) -> None:
    roof, body, posts, ground, *_ = side_view(TRAILER, width)
    room = min(width, 100) - 2
    assert roof == " " + "_" * (room - 2)
    assert body == "|" + "_" * (room - 2) + "|"
    assert posts == " :" + " " * (legs - 2) + "|" + " " * (wheel - legs - 2) + "(O)"
    assert ground == "-" * legs + "^" + "-" * (room - legs - 1)


def test_view_is_of_80_columns_unless_told_and_20_at_least() -> None:
    assert side_view(TRAILER) == side_view(TRAILER, 80)
    assert len(side_view(TRAILER, 10)[1]) == 20
    assert len(side_view(TRAILER, 22)[1]) == 20
    assert len(side_view(TRAILER, 23)[1]) == 21


def test_wheels_before_another_place_do_not_move_it() -> None:
    # 34 columns for 34 ft: a column a foot.
    axles, jack = _place("axles", 17, 10360), _place("jack", 34, 100)
    for places in ((axles, jack), (jack, axles)):
        assert side_view(places, 42)[2] == " " * 17 + "(O)" + " " * 15 + "|"


def test_small_load_stands_on_the_ground() -> None:
    view = side_view((_place("pin", 0), _place("legs", 34, 0.5)), 42)
    assert view[2].rstrip().endswith("|")
    assert view[3].index("^") == 35


def test_label_stands_under_its_place_and_moves_left_at_the_end() -> None:
    # At 80 columns: pin at 1, legs at 18; the 24 letters of the axles end at column 78.
    lines = side_view(TRAILER, 80)
    label = "axles 10360 lb (4699 kg)"
    assert lines[4:] == (" pin" + " " * 14 + "legs 3640 lb (1651 kg)" + " " * 14 + label,)
    assert len(lines[4]) == 78


@pytest.mark.parametrize(
    ("second_ft", "rows"),
    [
        # A column a foot: "pin" ends before column 4. Two blanks between labels are enough, one is not.
        (5, (" pin  legs",)), (4, (" pin", "     legs")), (6, (" pin   legs",)), (2, (" pin", "   legs")),
    ],
)  # fmt: skip
def test_labels_have_two_blanks_between_them_or_a_line_each(second_ft: float, rows: tuple[str, ...]) -> None:
    places = (_place("pin", 0), _place("legs", second_ft), _place("axles", 34))
    lines = side_view(places, 42)[4:]
    assert tuple(line.removesuffix("axles").rstrip() for line in lines) == rows
    assert lines[-1].endswith("axles")


def test_label_wider_than_the_view_begins_at_its_edge() -> None:
    label = "pin, truck gone and far away"
    assert side_view((_place(label, 0), _place("legs", 6)), 22)[4] == label


# --- all that a result draws --------------------------------------------------------------------------


def test_each_kind_of_row_has_its_drawing_and_no_other() -> None:
    fuse = drawing(fuse_time(45, 30, "large blade", 40), 80)
    legs = drawing(leg_load(14000, 2800, 26, 6), 80)
    volts = drawing(path(12.1, 6.8, 4.4), 80)
    for lines, bars, windows, places in ((fuse, 1, 1, 0), (legs, 0, 0, 1), (volts, 1, 0, 0)):
        text = "\n".join(lines)
        assert text.count("# at least, ~ perhaps, | the limit") == bars
        assert text.count("0.1 s") == windows
        assert text.count("(O)") == places
    assert sum(line.startswith(("battery", "motor")) for line in volts) == 4


def test_drawing_can_be_had_for_another_width() -> None:
    result = leg_load(14000, 2800, 26, 6, rating_each_lb=1850)
    drawn = Drawn.of(result)
    assert drawn == "\n".join(drawing(result, 60, "us"))
    assert "3640 lb (1651 kg)" in drawn
    assert "1651 kg (3640 lb)" in Drawn.of(result, "metric")
    for width in (40, 80, 100):
        assert drawn.at(width) == drawing(result, width, "us")
        assert max(map(len, drawn.at(width))) <= width
    assert drawing(result) == drawing(result, 80, "us")
    # The side view alone shows one column more.
    assert drawing(result, 81) != drawing(result, 80)


def test_page_shows_drawing_and_what_narrows_it_where_there_is_any() -> None:
    result = leg_load(14000, 2800, 26, 6, rating_each_lb=1850)
    lines = page(result, 80)
    assert any("(O)" in line for line in lines)
    assert bar_line(next(row for row in result.rows if row.kind == "bar"), 80)[-1] in lines
    at = lines.index("narrows it most:")
    assert lines[at + 1].strip() == result.narrow
    bare = Result("x", result.values, (), (), (), 0, 0, "clear")
    told = page(bare, 80)
    assert "narrows it most:" not in told
    assert told[-1] == "verdict: clear", "no drawing, no empty line"
