"""The drawings, column by column, counted by hand on squared paper from the rule in each docstring."""

from bot.sums.draw import bar, bar_line, page, side_view, steps
from bot.sums.legs import leg_load
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
    assert bar_line(row)[0] == "load: 50 lb (22.7 kg) of 100 lb (45.4 kg)"


def test_label_of_a_bar_is_folded_at_80_columns() -> None:
    figures = ": 50 lb (22.7 kg) of 100 lb (45.4 kg)"
    fits = Row("bar", "x" * (80 - len(figures)), 50.0, 40.0, 60.0, 100.0, "lb")
    assert len(bar_line(fits)) == 2
    assert len(bar_line(fits._replace(label=fits.label + "x"))) == 3


def test_small_load_is_still_a_load() -> None:
    view = side_view((Row("place", "legs", 0.5, 0.5, 0.5, 6.0, "lb"),))
    # Row 1 is the body, row 2 the posts.
    assert view[2].endswith("|")


def test_nothing_to_draw_is_nothing() -> None:
    assert side_view(()) == steps(()) == ()


def _result(narrow: str, rows: tuple[Row, ...]) -> Result:
    value = Value("load", 50.0, 40.0, 60.0, "lb")
    return Result("x", (value,), ("50 lb",), (), ("nothing",), 40.0, 60.0, "clear", narrow, rows, ())


def test_page_is_80_columns_wide_and_in_us_units_unless_told() -> None:
    result = leg_load(14000, 2800, 26, 6, rating_each_lb=1850)
    assert page(result) == page(result, 80, "us")
    assert max(map(len, page(result))) > 77
