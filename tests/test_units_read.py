"""The answer to one question: taken in the unit wanted, or a reply that says what to type instead."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.units import Reading, UnknownUnit, Unread, read, scan, show, show_both, taken

# International yard and pound agreement, 1959.
MM_PER_INCH = 25.4
KG_PER_LB = 0.45359237


def split(text: str) -> list[str]:
    """The words of a text; a list of thirty quoted words is hard to read."""
    return text.split()


def reading(text: str, want: str) -> Reading:
    """The reading in an answer that must be taken."""
    answer = read(text, want)
    assert isinstance(answer, Reading), answer
    return answer


def unread(text: str, want: str) -> Unread:
    """The reply to an answer that must not be taken."""
    answer = read(text, want)
    assert isinstance(answer, Unread), answer
    return answer


@pytest.mark.parametrize(
    ("text", "want", "value", "echo"),
    [
        ("12.4", "V", 12.4, "12.4 V"),
        ("12,5", "V", 12.5, "12.5 V"),
        ("twelve", "V", 12, "12 V"),
        ("no 12.4", "V", 12.4, "12.4 V"),
        ("300 mV", "V", 0.3, "300 mV = 0.3 V"),
        ("57 mm", "in", 57 / MM_PER_INCH, "57 mm = 2.24 in"),
        ("2 1/4", "in", 2.25, "2.25 in"),
        ("5' 6\"", "in", 66, "5.5 ft = 66 in"),
        ("quarter of an inch", "mm", MM_PER_INCH / 4, "0.25 in = 6.35 mm"),
        ("2/0", "AWG", -1, "2/0 AWG"),
        ("00", "AWG", -1, "2/0 AWG"),
        ("#10", "AWG", 10, "10 AWG"),
        ("2000", "lb", 2000, "2000 lb"),
        ("2011", "lb", 2011, "2011 lb"),
        ("14k", "lb", 14000, "14000 lb"),
        ("14,000", "lb", 14000, "14000 lb"),
        ("6350 kg", "lb", 6350 / KG_PER_LB, "6350 kg = 13999 lb"),
        ("20 degrees", "F", 20, "20 F"),
        ("20 C", "F", 68, "20 C = 68 F"),
        ("2 minutes", "s", 120, "2 min = 120 s"),
        ("80 percent", "percent", 80, "80 %"),
        ("80", "percent", 80, "80 %"),
        ("0.5k", "ohm", 500, "500 ohm"),
        ("12.4 V on meter 2", "V", 12.4, "12.4 V"),
        ("33 to 34 amps", "A", 33.5, "33 to 34 A"),
        ("under 10", "V", 10, "under 10 V"),
        ("over 50 amps", "A", 50, "over 50 A"),
        ("about 9", "V", 9, "about 9 V"),
        ("10 to 12 ft", "in", 132, "10 to 12 ft = 120 to 144 in"),
    ],
)
def test_an_answer_is_taken_in_the_unit_wanted_and_read_back(
    text: str, want: str, value: float, echo: str
) -> None:
    answer = reading(text, want)
    assert answer.value == pytest.approx(value, rel=1e-9)
    assert (answer.unit, answer.echo) == (want, echo)


def test_both_ends_of_a_range_are_converted() -> None:
    answer = reading("50.8 to 76.2 mm", "in")  # 2 and 3 inches of 25.4 mm
    assert [answer.low, answer.high] == pytest.approx([2, 3], rel=1e-9)


def test_an_open_end_stays_open_through_a_conversion() -> None:
    assert reading("over 2 m", "ft").high == math.inf


def test_metric_wire_is_read_as_gauge_with_the_sizes_beside_it() -> None:
    # ASTM B258 areas (check W-06): 12 AWG 3.309 mm2, 10 AWG 5.261 mm2; 4 mm2 lies between.
    answer = reading("4 mm2", "AWG")
    assert 10 < answer.value < 12
    assert answer.note == "Between 12 and 10 AWG."


def test_a_gauge_of_no_named_system_is_taken_as_awg_and_says_so() -> None:
    answer = reading("10 guage", "AWG")
    assert answer.value == 10
    assert answer.note is not None
    assert "SAE" in answer.note


@pytest.mark.parametrize(
    ("text", "want", "why", "pieces"),
    [
        ("12 volts", "ft", "other kind", ("12 V", "volts", "feet (ft)", "18 ft")),
        ("40 amps", "V", "other kind", ("40 A", "amps", "volts (V)")),
        ("100 Ah", "A", "other kind", ("100 Ah", "amps (A)")),
        ("don't know", "V", "nothing", ("don't know", "volts (V)", "12.4 V")),
        ("", "lb", "nothing", ("empty", "pounds (lb)")),
        ("zero mm2", "AWG", "other kind", ("0 mm2", "(AWG)")),
        ("2 motors", "V", "nothing", ("2 motors", "volts (V)")),
        ("12.4 V and 8.1 V", "V", "several", ("12.4 V", "8.1 V", "one")),
        ("12.4 and 8.1 volts", "V", "several", ("12.4", "8.1 V", "one")),
        ("3 tons", "lb", "doubtful", ("3 tons", "2,240")),
        ("30 mil", "in", "doubtful", ("30 mil", "inch")),
        ("12,500", "V", "doubtful", ("12,500", "12500")),
        ("12,5", "lb", "doubtful", ("12.5", "12500")),
        ("twelve six", "V", "doubtful", ("12.6",)),
    ],
)
def test_an_answer_not_taken_says_what_was_read_and_what_is_wanted(
    text: str, want: str, why: str, pieces: tuple[str, ...]
) -> None:
    answer = unread(text, want)
    assert answer.why == why
    for piece in pieces:
        assert piece in answer.reply


def test_one_reading_said_twice_is_one_reading() -> None:
    assert reading("12.4 V, yes 12.4 V", "V").value == 12.4


def test_a_unit_the_table_lacks_is_our_own_fault() -> None:
    with pytest.raises(UnknownUnit, match="parsec"):
        read("12", "parsec")


def test_a_quantity_met_in_a_complaint_can_be_taken_for_a_slot() -> None:
    found = scan("battery says 12500 mV and the pin weighs 1000 kg")
    volts, pounds = taken(found[0], "V"), taken(found[1], "lb")
    assert volts is not None
    assert pounds is not None
    assert volts.value == pytest.approx(12.5)
    assert pounds.value == pytest.approx(1000 / KG_PER_LB)
    assert taken(found[0], "lb") is None


WORDS_BELOW_20 = split(
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen "
    "fifteen sixteen seventeen eighteen nineteen"
)
TENS = ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]


def in_words(number: int) -> str:
    """A whole number below 100,000 in English words, written for these tests alone."""
    if number >= 1000:
        rest = number % 1000
        return f"{in_words(number // 1000)} thousand" + (f" {in_words(rest)}" if rest else "")
    if number >= 100:
        rest = number % 100
        return f"{WORDS_BELOW_20[number // 100]} hundred" + (f" and {in_words(rest)}" if rest else "")
    if number >= 20:
        return TENS[number // 10 - 2] + (f"-{WORDS_BELOW_20[number % 10]}" if number % 10 else "")
    return WORDS_BELOW_20[number]


@settings(max_examples=150, deadline=None)
@given(st.integers(0, 40), st.integers(0, 15))
def test_every_spelling_of_a_length_on_a_tape_gives_one_value(whole: int, sixteenths: int) -> None:
    inches = whole + sixteenths / 16
    ways = [f"{inches!r} in", f"{inches!r}", f'{inches!r}"', f"{inches * MM_PER_INCH:.6f} mm"]
    if sixteenths % 8 == 0:  # three places after a comma could be thousands, and are asked about
        ways.append(f"{inches!r} inches".replace(".", ","))
    ways += [
        f"{inches / 12:.15f} ft",
        f"{inches * MM_PER_INCH / 10:.7f} cm",
    ]
    if sixteenths and whole:
        ways += [f"{whole} {sixteenths}/16 in", f'{whole}-{sixteenths}/16"', f"{whole} {sixteenths}/16"]
    elif sixteenths:
        ways += [f"{sixteenths}/16 in", f"{sixteenths}/16 of an inch"]
    if whole >= 12:
        ways += [
            f"{whole // 12}' {inches - whole // 12 * 12!r}\"",
            f"{whole // 12} ft {inches - whole // 12 * 12!r} in",
        ]
    for way in ways:
        assert reading(way, "in").value == pytest.approx(inches, rel=1e-9, abs=1e-9), way


@settings(max_examples=150, deadline=None)
@given(st.integers(1, 99_999).filter(lambda n: n != 911))  # 911 alone is a call for help, no weight
def test_every_spelling_of_a_weight_gives_one_value(pounds: int) -> None:
    grams = pounds * 453.59237
    ways = [f"{pounds} lb", f"{pounds}lbs", f"{pounds}#", f"{pounds:,} pounds", f"{pounds}"]
    ways += [
        f"{in_words(pounds)} pounds",
        in_words(pounds),
        f"{grams / 1000:.8f} kg",
        f"{pounds / 1000!r}k lb",
    ]
    for way in ways:
        if way == f"{pounds}.0" or (way.endswith("k lb") and "e" in way):
            continue
        assert reading(way, "lb").value == pytest.approx(pounds, rel=1e-9), way


@settings(max_examples=100, deadline=None)
@given(st.integers(0, 30), st.integers(0, 9))
def test_every_spelling_of_a_voltage_gives_one_value(whole: int, tenth: int) -> None:
    volts = float(f"{whole}.{tenth}")
    ways = [
        f"{volts}",
        f"{volts}V",
        f"{volts} volts",
        f"{volts} vdc",
        f"{whole},{tenth} V",
        f"{whole * 1000 + tenth * 100} mV",
    ]
    ways += [
        f"{in_words(whole)} point {in_words(tenth)} volts",
        f"{whole} point {tenth}",
        f"{volts / 1000:.7f} kV",
    ]
    for way in ways:
        assert reading(way, "V").value == pytest.approx(volts, rel=1e-9, abs=1e-12), way


@settings(max_examples=300, deadline=None)
@given(
    st.lists(
        st.one_of(
            st.sampled_from(
                split(
                    "12 99999999999999 0 1/2 ½ 2/0 0.001 14,000 12,5 under over about -5 to 10 v in ft lb"
                    " tons mil deg degrees F C K AWG awg ga sae mm2 cmil kN M12 1/2-13 half twelve six"
                    " point four #10 % N.m hours"
                )
            ),
            st.text(max_size=3),
        ),
        max_size=6,
    ),
    st.sampled_from(
        [
            "V",
            "A",
            "ohm",
            "AWG",
            "SAE",
            "ft",
            "in",
            "lb",
            "F",
            "C",
            "K",
            "s",
            "lb-ft",
            "percent",
            "mm2",
            "psi",
        ]
    ),
)
def test_no_answer_makes_the_reader_raise(pieces: list[str], want: str) -> None:
    answer = read(" ".join(pieces), want)
    if isinstance(answer, Reading):
        assert not math.isnan(answer.value)
        assert answer.low <= answer.high
        assert answer.echo
    else:
        assert answer.reply.endswith((".", "?"))


@pytest.mark.parametrize("text", ["", "twelve six", "12 volts", "12.4 and 8.1", "3 tons", "none", "12,500"])
@pytest.mark.parametrize("want", ["V", "ft", "lb", "AWG", "F"])
def test_replies_keep_to_plain_words(text: str, want: str) -> None:
    answer = read(text, want)
    if isinstance(answer, Unread):
        low = answer.reply.lower()
        assert not [word for word in ("invalid", "error", "failed", "please", "!") if word in low]


@pytest.mark.parametrize(
    ("value", "unit", "us", "metric"),
    [
        (1, "in", "1 in", "25.4 mm"),
        (1, "lb", "1 lb", "0.4536 kg"),  # 0.45359237 kg to four figures
        (10, "ft", "10 ft", "3.048 m"),
        (68, "F", "68 F", "20 C"),
        (12.4, "V", "12.4 V", "12.4 V"),
        (25.4, "mm", "1 in", "25.4 mm"),
        (100, "N.m", "73.76 lb-ft", "100 N.m"),  # 100 / 1.3558179483314 (check U-05)
        (60, "psi", "60 psi", "413.7 kPa"),  # 60 x 6894.757 Pa (check U-07)
    ],
)
def test_a_value_is_shown_in_either_family(value: float, unit: str, us: str, metric: str) -> None:
    assert (show(value, unit), show(value, unit, "metric")) == (us, metric)
    assert show_both(value, unit) == (us if us == metric else f"{us} ({metric})")
    assert show_both(value, unit, "metric") == (us if us == metric else f"{metric} ({us})")
