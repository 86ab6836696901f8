"""The drawings, column by column, counted by hand on squared paper from the rule in each docstring."""

from bot.sums.draw import bar, bar_line, drawing, page, side_view, steps
from bot.sums.legs import leg_load
from bot.sums.path import path
from bot.sums.result import Result, Row, Value

PLACES = (
    Row("place", "pin, truck gone", 0.0, 0.0, 0.0, 0.0, "lb"),
    Row("place", "legs", 3640.0, 3600.0, 3680.0, 6.0, "lb"),
    Row("place", "axles", 10360.0, 10360.0, 10360.0, 26.0, "lb"),
)


def test_range_too_small_for_a_column_still_has_one() -> None:
    # 20 columns for 100: 49.9 and 50.1 both round to column 10; one column shows that there is a range.
    assert bar(50, 49.9, 50.1, 100, 20) == "[##########~.........|]"
    assert bar(100, 99.9, 100, 100, 20) == "[####################|]"


def test_bar_is_never_wider_than_72_columns_with_its_margin() -> None:
    row = Row("bar", "load", 50.0, 40.0, 60.0, 100.0, "lb")
    # Two blanks, brackets, the mark of the rating, and the bar: 5 columns less than the screen in all.
    assert len(bar_line(row, 60)[-1]) == 60
    assert len(bar_line(row, 72)[-1]) == len(bar_line(row, 200)[-1]) == 72
    assert bar_line(row) == bar_line(row, 80, "us")
    assert bar_line(row)[0] == "load: 50 lb (22.68 kg) of 100 lb (45.36 kg)"


def test_label_of_a_bar_is_folded_at_80_columns() -> None:
    figures = ": 50 lb (22.68 kg) of 100 lb (45.36 kg)"
    fits = Row("bar", "x" * (80 - len(figures)), 50.0, 40.0, 60.0, 100.0, "lb")
    assert len(bar_line(fits)) == 2
    assert len(bar_line(fits._replace(label=fits.label + "x"))) == 3


def test_side_view_at_80_columns_is_78_wide() -> None:
    deck, posts, *labels = side_view(PLACES)
    assert deck == "=" * 77
    # The last place stands 4 columns before the end: 74; the legs at 6/26 of that: 17.08.
    assert posts == ":" + " " * 16 + "|" + " " * 56 + "|"
    assert labels[0] == "pin, truck gone"
    assert labels[1] == " " * 17 + "legs 3640 lb (1651 kg)"
    # 78 less the 25 letters of "axles 10360 lb (4699 kg)" and its place.
    assert labels[2] == " " * (78 - len("axles 10360 lb (4699 kg)")) + "axles 10360 lb (4699 kg)"


def test_side_view_is_between_20_and_98_wide() -> None:
    assert side_view(PLACES, 300)[0] == "=" * 97
    assert side_view(PLACES, 5)[0] == "=" * 19
    assert side_view(PLACES, 60)[0] == "=" * 57


def test_side_view_puts_the_persons_units_first() -> None:
    assert side_view(PLACES, 80, "metric")[3].strip() == "1651 kg (3640 lb)".join(("legs ", ""))
    assert side_view(PLACES) == side_view(PLACES, 80, "us")


def test_small_load_is_still_a_load() -> None:
    view = side_view((Row("place", "legs", 0.5, 0.5, 0.5, 6.0, "lb"),))
    assert view[1].endswith("|")


def test_nothing_to_draw_is_nothing() -> None:
    assert side_view(()) == steps(()) == ()


def test_drawing_has_bars_then_steps_then_the_side_view() -> None:
    load = leg_load(14000, 2800, 26, 6, rating_each_lb=1850)
    drawn = drawing(load)
    assert drawn[0].startswith("each leg: 1820 lb")
    assert drawn[1].startswith("  [####")
    assert drawn[2:] == side_view([row for row in load.rows if row.kind == "place"])
    volts = path(12.1, 6.8)
    lines = drawing(volts)
    assert lines[-2:] == steps([row for row in volts.rows if row.kind == "step"])
    assert lines[-2].startswith("battery")
    assert drawing(volts) == drawing(volts, 80, "us")


def _result(narrow: str, rows: tuple[Row, ...]) -> Result:
    value = Value("load", 50.0, 40.0, 60.0, "lb")
    return Result("x", (value,), ("50 lb",), (), ("nothing",), 40.0, 60.0, "clear", narrow, rows, ())


def test_page_has_its_parts_in_order_and_no_empty_ones() -> None:
    row = Row("bar", "load", 50.0, 40.0, 60.0, 100.0, "lb")
    assert page(_result("a scale", (row,))) == (
        "load: 50 lb (22.68 kg), from 40 lb (18.14 kg) to 60 lb (27.22 kg)",
        "verdict: clear",
        "",
        "load: 50 lb (22.68 kg) of 100 lb (45.36 kg)",
        # 67 columns for 100: 26.8 and 40.2 of them.
        "  [" + "#" * 27 + "~" * 13 + "." * 27 + "|]",
        "",
        "working:",
        "  50 lb",
        "",
        "narrows it most:",
        "  a scale",
        "",
        "source:",
        "  nothing",
    )
    assert page(_result("", ())) == (
        "load: 50 lb (22.68 kg), from 40 lb (18.14 kg) to 60 lb (27.22 kg)",
        "verdict: clear",
        "",
        "working:",
        "  50 lb",
        "",
        "source:",
        "  nothing",
    )


def test_page_is_80_columns_wide_and_in_us_units_unless_told() -> None:
    result = leg_load(14000, 2800, 26, 6, rating_each_lb=1850)
    assert page(result) == page(result, 80, "us")
    assert max(map(len, page(result))) > 77
