"""Quantities met in a free line of text: what is read, what it is worth, and what is left alone.

Expected values are worked from the definitions, never from the reader. Inch 25.4 mm and pound 0.45359237 kg:
international yard and pound agreement, 1959. 12 inches a foot, 16 ounces a pound, 60 seconds a
minute: by definition.
"""

import math
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.units import Found, bolt_size, scan


def split(text: str) -> list[str]:
    """The words of a text; a list of thirty quoted words is hard to read."""
    return text.split()


def only(text: str, *, words: bool = False) -> Found:
    """The single quantity in a text."""
    found = scan(text, words=words)
    assert len(found) == 1, (text, found)
    return found[0]


SPELLINGS: list[tuple[str, float | Fraction, str | None]] = [
    # lengths; fractions as on a tape measure
    ("1 1/2 in", Fraction(3, 2), "in"),
    ('2-1/4"', Fraction(9, 4), "in"),
    ("1 3/8", Fraction(11, 8), None),
    ("20-1/2", Fraction(41, 2), None),
    ("1-1/2 inches", Fraction(3, 2), "in"),
    ("1 1⁄2 in", Fraction(3, 2), "in"),
    ("½ in", Fraction(1, 2), "in"),
    ("2½″", Fraction(5, 2), "in"),
    ("12½", Fraction(25, 2), None),
    ("3/8", Fraction(3, 8), None),
    ("11/16 inch", Fraction(11, 16), "in"),
    ("2''", 2, "in"),
    ("5' 6\"", Fraction(66, 12), "ft"),
    ("5'6\"", Fraction(66, 12), "ft"),
    ("5′ 6″", Fraction(66, 12), "ft"),
    ("5’ 6”", Fraction(66, 12), "ft"),
    ("5'-6\"", Fraction(66, 12), "ft"),
    ("5' 6", Fraction(66, 12), "ft"),
    ("5 ft 6 in", Fraction(66, 12), "ft"),
    ("5 ft. 6 in.", Fraction(66, 12), "ft"),
    ("five feet six inches", Fraction(66, 12), "ft"),
    ("5' 6-1/2\"", Fraction(133, 24), "ft"),
    ("5 1/2 ft", Fraction(11, 2), "ft"),
    ("18'", 18, "ft"),
    ("18 foot", 18, "ft"),
    ("12,5 mm", Fraction(25, 2), "mm"),
    ("0,5 mm", Fraction(1, 2), "mm"),
    ("57mm", 57, "mm"),
    ("30 thou", 30, "thou"),
    ("half an inch", Fraction(1, 2), "in"),
    ("half inch", Fraction(1, 2), "in"),
    ("three quarters of an inch", Fraction(3, 4), "in"),
    ("a quarter inch", Fraction(1, 4), "in"),
    ("quarter of an inch", Fraction(1, 4), "in"),
    ("five eighths of an inch", Fraction(5, 8), "in"),
    ("1/16 of an inch", Fraction(1, 16), "in"),
    ("seven thirty-seconds of an inch", Fraction(7, 32), "in"),
    ("an inch and a half", Fraction(3, 2), "in"),
    ("two and three quarter inches", Fraction(11, 4), "in"),
    # volts, amps, ohms
    ("12V", 12, "V"),
    ("12.4v", 12.4, "V"),
    ("12.4 vdc", 12.4, "V"),
    ("12.4 volts dc", 12.4, "V"),
    ("１２．４ Ｖ", 12.4, "V"),
    ("12.4\u00a0V", 12.4, "V"),
    (".5 V", 0.5, "V"),
    ("300 mV", 300, "mV"),
    ("300 millivolts", 300, "mV"),
    ("twelve volts", 12, "V"),
    ("twelve point four volts", 12.4, "V"),
    ("twelve point oh five volts", 12.05, "V"),
    ("one two point four volts", 12.4, "V"),
    ("12 point 4 volts", 12.4, "V"),
    ("nine and a half volts", 9.5, "V"),
    ("12 and a half volts", 12.5, "V"),
    ("half a volt", 0.5, "V"),
    ("eleven flat", 11, None),
    ("twelve point four", 12.4, None),
    ("dead zero", 0, None),
    ("minus 12 V", -12, "V"),
    ("-12.4 V", -12.4, "V"),
    ("30A", 30, "A"),
    ("30 amp", 30, "A"),
    ("30-amp", 30, "A"),
    ("45amps", 45, "A"),
    ("thirty five amps", 35, "A"),
    ("thirty-five amps", 35, "A"),
    ("650 mA", 650, "mA"),
    ("75 mohm", 75, "mohm"),
    ("75 mΩ", 75, "mohm"),
    ("75 milliohms", 75, "mohm"),
    ("0.5 kOhm", 0.5, "kohm"),
    ("2 MΩ", 2, "Mohm"),
    ("4.7 Ω", 4.7, "ohm"),
    ("4.7 \u2126", 4.7, "ohm"),
    # weights
    ("14k lbs", 14000, "lb"),
    ("14,000 lb", 14000, "lb"),
    ("14 000 lb", 14000, "lb"),
    ("14000#", 14000, "lb"),
    ("2,300#", 2300, "lb"),
    ("fourteen thousand pounds", 14000, "lb"),
    ("12 thousand pounds", 12000, "lb"),
    ("fourteen hundred pounds", 1400, "lb"),
    ("fourteen thousand five hundred and thirty-five pounds", 14535, "lb"),
    ("8 lb 4 oz", Fraction(132, 16), "lb"),
    ("15 480 kg", 15480, "kg"),
    ("1.234,5 kg", 1234.5, "kg"),
    ("6.35 t", 6.35, "t"),
    ("4 metric tons", 4, "t"),
    ("3 short tons", 3, "short ton"),
    # wire
    ("8awg", 8, "AWG"),
    ("10 AWG", 10, "AWG"),
    ("#10 wire", 10, "AWG"),
    ("2/0", -1, "AWG"),
    ("4/0 AWG", -3, "AWG"),
    ("00 gauge", -1, "AWG"),
    ("10 gauge SAE", 10, "SAE"),
    ("4 mm2", 4, "mm2"),
    ("4mm²", 4, "mm2"),
    ("4 sq mm", 4, "mm2"),
    # torque, pressure, temperature, time, share
    ("40 ft-lb", 40, "lb-ft"),
    ("40 ft. lbs.", 40, "lb-ft"),
    ("40 foot pounds", 40, "lb-ft"),
    ("75 lb-ft", 75, "lb-ft"),
    ("75 lb·ft", 75, "lb-ft"),
    ("100 Nm", 100, "N.m"),
    ("100 N·m", 100, "N.m"),
    ("120 in-lbs", 120, "lb-in"),
    ("60 psi", 60, "psi"),
    ("1500 pounds per square foot", 1500, "psf"),
    ("400 kPa", 400, "kPa"),
    ("20 degF", 20, "F"),
    ("20°F", 20, "F"),
    ("-5 C", -5, "C"),
    ("2 minutes and 30 seconds", Fraction(150, 60), "min"),
    ("40 secs", 40, "s"),
    ("80 %", 80, "%"),
    ("eighty percent", 80, "%"),
    ("90 rpm", 90, "rpm"),
    ("100 amp hours", 100, "Ah"),
    ("650 CCA", 650, "CCA"),
]


@pytest.mark.parametrize(("text", "value", "unit"), SPELLINGS)
def test_each_spelling_gives_its_value_and_unit(text: str, value: float | Fraction, unit: str | None) -> None:
    found = only(text)
    assert found.value == pytest.approx(float(value), rel=1e-12)
    assert found.unit == unit
    assert found.doubtful is None


@pytest.mark.parametrize("text", ["10 ga", "10 guage", "10 gage", "8 gauge", "10-gauge", "10g wire"])
def test_a_gauge_without_its_system_asks_which_of_the_two(text: str) -> None:
    found = only(text)
    assert (found.unit, found.kind) == ("AWG", "gauge")
    assert found.doubtful is not None
    assert "SAE" in found.doubtful  # check W-20: SAE wire of one number is smaller than AWG


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("3 tons", "2,240"),  # long ton 2,240 lb: NIST SP 811 as reprinted
        ("half ton", "1,000 kg"),
        ("30 mil", "Thousandths"),
        ("20 degrees", "Celsius"),
        ("#10", "screw"),
        ("12,500 V", "12500"),
        ("12,5", "12.5"),
        ("12,5 lb", "12500"),
        ("14.000 lb", "14000"),
        ("twelve six volts", "12.6"),
        ("2 1/2 inch bolts", "one size"),
        ("2 MOHM", "megohms"),
    ],
)
def test_a_text_of_two_senses_comes_with_a_question_back(text: str, word: str) -> None:
    found = only(text)
    assert found.doubtful is not None
    assert word in found.doubtful


@pytest.mark.parametrize(
    ("text", "low", "high", "unit"),
    [
        ("33 to 34 amps", 33, 34, "A"),
        ("33A to 34A", 33, 34, "A"),
        ("between 33 and 34 amps", 33, 34, "A"),
        ("10-12 ft", 10, 12, "ft"),
        ("10–12 ft", 10, 12, "ft"),
        ("10.5 - 11 V", 10.5, 11, "V"),
        ("twelve to thirteen volts", 12, 13, "V"),
        ("9 or 10 amps", 9, 10, "A"),
        ("1/2-3/4 in", 0.5, 0.75, "in"),
        ("5'-6'", 5, 6, "ft"),
        ("12 ± 0.5 V", 11.5, 12.5, "V"),
        ("12 +/- 0.5 V", 11.5, 12.5, "V"),
        ("12 to 10 AWG", 10, 12, "AWG"),
    ],
)
def test_a_range_keeps_both_ends_and_takes_the_middle(text: str, low: float, high: float, unit: str) -> None:
    found = only(text)
    assert (found.low, found.high, found.unit) == (low, high, unit)
    assert found.value == pytest.approx((low + high) / 2)


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        ("under 10 v", 0, 10),
        ("less than 10 v", 0, 10),
        ("no more than 10 v", 0, 10),
        ("never over 10 volts", 0, 10),
        ("won't get above 10 v", 0, 10),
        ("up to 10 volts", 0, 10),
        ("10 volts or less", 0, 10),
        ("<10V", 0, 10),
        ("over 10 volts", 10, math.inf),
        ("at least 10 volts", 10, math.inf),
        ("not less than 10 volts", 10, math.inf),
        ("10+ volts", 10, math.inf),
        ("10 volts or more", 10, math.inf),
    ],
)
def test_a_bound_leaves_one_side_open(text: str, low: float, high: float) -> None:
    found = only(text)
    assert (found.value, found.low, found.high, found.unit) == (10, low, high, "V")


def test_under_a_temperature_has_no_floor() -> None:
    assert only("under 20 F").low == -math.inf


def test_a_rise_up_to_a_figure_is_that_figure() -> None:
    found = only("it went up to 14 volts")
    assert (found.low, found.high) == (14, 14)


@pytest.mark.parametrize(
    "text",
    [
        "about 9",
        "around 9",
        "roughly 9",
        "~9",
        "9ish",
        "9-ish",
        "9 or so",
        "9 give or take",
        "approx. 9",
        "close to 9",
    ],
)
def test_about_spreads_five_percent_either_way(text: str) -> None:
    found = only(text)
    assert found.about
    assert [found.value, found.low, found.high] == pytest.approx([9, 8.55, 9.45])


@pytest.mark.parametrize("text", ["9 volts ish", "9vish", "9-ish volts", "9 volts or so", "about 9 volts"])
def test_about_reaches_over_the_unit(text: str) -> None:
    found = only(text)
    assert (found.about, found.unit, found.value) == (True, "V", 9)


@pytest.mark.parametrize(
    "text",
    [
        "broke on 11/25",
        "since 11/25",
        "since 3/4",
        "a 2011 model",
        "the '11 model",
        "bought in 2019",
        "on 3/14/2025",
        "2025-03-14",
        "12-1-2024",
        "call 555-123-4567",
        "(555) 123-4567",
        "555.123.4567",
        "555 123 4567",
        "555-0142",
        "1-800-555-0199",
        "call 911",
        "put aside at 10:42",
        "back at 4 pm",
        "4pm",
        "4 p.m.",
        "four o'clock",
        "one leg goes down",
        "one motor",
        "two motors",
        "both legs",
        "2 motors",
        "the 2 new batteries",
        "2 of 4 bolts",
        "3 times",
        "one of them is bent",
        "one foot is sinking, the other is fine",
        "the one in front",
        "5th wheel",
        "2nd try",
        "7-way plug",
        "T350",
        "exit I-40",
        "a 4x4 block",
        "2x4",
        "step 3",
        "case 214",
        "leg 2 in front",
        "pin 4 of the plug",
        "grade 8 bolt",
        "class 10.9",
        "$400",
        "400 bucks",
        "24/7",
        "50-50",
        "software 1.2.3",
        "3/4 ton pickup",
        "half the time",
        "checkout at eleven",
        "",
        "legs will not go up",
    ],
)
def test_what_only_looks_like_a_reading_is_left_alone(text: str) -> None:
    assert scan(text) == ()


def test_a_fuse_rating_is_a_quantity_and_the_caller_decides() -> None:
    found = only("30 amp fuse")
    assert (found.value, found.unit, found.kind) == (30, "A", "amp")


def test_number_words_count_alone_only_when_asked_for() -> None:
    assert scan("twelve") == ()
    assert only("twelve", words=True).value == 12


def test_a_line_gives_its_quantities_in_order_with_their_places() -> None:
    text = "battery 12.6 V at rest, 33 to 34 amps, 18' of #10 wire, gvwr 14,000 lb"
    found = scan(text)
    assert [(f.value, f.unit) for f in found] == [
        (12.6, "V"),
        (33.5, "A"),
        (18, "ft"),
        (10, "AWG"),
        (14000, "lb"),
    ]
    assert [f.text for f in found] == ["12.6 V", "33 to 34 amps", "18'", "#10", "14,000 lb"]
    assert all(text[f.start : f.end] == f.text for f in found)


def test_a_drop_from_one_reading_to_another_is_two_readings() -> None:
    assert [(f.value, f.unit) for f in scan("went from 12.6 to 9.8 volts")] == [(12.6, "V"), (9.8, "V")]
    assert [f.value for f in scan("climbed from 2 to 40 amps")] == [2, 40]


def test_a_pair_of_system_voltages_is_two_readings() -> None:
    assert [(f.value, f.unit) for f in scan("a 12/24 V charger")] == [(12, "V"), (24, "V")]


def test_a_closing_quotation_mark_is_no_foot_and_no_inch() -> None:
    assert only("it says '12.4' on it").unit is None
    assert only('it says "12.4" on it').unit is None


def test_in_the_preposition_is_no_inch() -> None:
    assert only("200 lb in the bed").unit == "lb"
    assert only("12.4 in the morning").unit is None
    assert only("2 in low").unit == "in"


# ASME B1.1 names a bolt diameter-threads per inch x length (check U-20); number sizes are 0.060 in +
# 0.013 in a number (ASME B1.1); ISO 965-1 names metric threads M diameter x pitch.
@pytest.mark.parametrize(
    ("text", "diameter", "unit", "threads", "pitch", "length"),
    [
        ("1/2-13 x 2", 0.5, "in", 13, None, 2),
        ("1/2-13", 0.5, "in", 13, None, None),
        ("3/8-16 UNC x 1-1/2", 0.375, "in", 16, None, 1.5),
        ("#10-24", 0.190, "in", 24, None, None),
        ("M12", 12, "mm", None, None, None),
        ("M12x1.75x40", 12, "mm", None, 1.75, 40),
        ("m12 x 40", 12, "mm", None, None, 40),
    ],
)
def test_a_bolt_size_is_read_as_its_standard_names_it(
    text: str, diameter: float, unit: str, threads: float | None, pitch: float | None, length: float | None
) -> None:
    bolt = bolt_size(f"the {text} bolt")
    assert bolt is not None
    assert bolt.diameter == pytest.approx(diameter)
    assert (bolt.unit, bolt.threads_per_inch, bolt.pitch_mm, bolt.length) == (unit, threads, pitch, length)
    assert only(text).kind == "bolt"


def test_a_mixed_fraction_is_no_bolt() -> None:
    assert bolt_size("2-1/4 in") is None


PIECES = st.lists(
    st.one_of(
        st.sampled_from(
            split(
                "12 4 1/2 ½ 12.4 14,000 12,5 0 00 2/0 # ' \" - – . , / ° % ± + ( ) x v volts in ft lb ga awg "
                "tons mm2 m M a an and or to of half quarter three twenty hundred thousand point flat zero "
                "about under not over ish k pm : ² Ω"
            )
        ),
        st.text(max_size=3),
    ),
    max_size=14,
)


@settings(max_examples=400, deadline=None)
@given(PIECES, st.sampled_from([" ", ""]), st.booleans())
def test_no_text_makes_the_reader_raise_and_places_stay_true(
    pieces: list[str], glue: str, words: bool
) -> None:
    text = glue.join(pieces)
    end = 0
    for found in scan(text, words=words):
        assert end <= found.start < found.end <= len(text)
        assert text[found.start : found.end] == found.text
        assert found.low <= found.value <= found.high
        end = found.end


@settings(max_examples=200, deadline=None)
@given(st.text(max_size=120))
def test_arbitrary_text_never_raises(text: str) -> None:
    for found in scan(text):
        assert found.low <= found.high


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("12V6 at rest", 12.6, "V"),  # the letter in place of the point, as IEC 60062 writes values
        ("9v8 when held", 9.8, "V"),
        ("the feed is AWG8", 8, "AWG"),
        ("number eight wire", 8, "AWG"),
        ("wire is number 6", 6, "AWG"),
        ("200 stone on the pin", 200, "stone"),
        ("between 13 and 14 thousand pounds", 13500, "lb"),
        ("15 and a half k pounds", 15500, "lb"),
        ("fourteen thousand nine fifty pounds", 14950, "lb"),
        ("inch and a quarter off", 1.25, "in"),
        ("fifty odd amps", 50, "A"),
        ("nine eight volts", 9.8, "V"),
    ],
)
def test_shapes_people_give_a_number(text: str, value: float, unit: str) -> None:
    (found,) = scan(text)
    assert found.value == pytest.approx(value, rel=1e-12)
    assert found.unit == unit


@pytest.mark.parametrize("text", ["number six bolt", "12V2A charger", "ten stone steps", "paid 12000 for it"])
def test_shapes_that_are_no_such_quantity(text: str) -> None:
    assert not [
        f for f in scan(text) if f.unit in ("AWG", "stone", "lb") or f.value == 12.2 or f.kind == "bare"
    ]
