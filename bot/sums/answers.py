"""What a person typed for one input of a sum: its value as the formula takes it, or what to type instead."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import NamedTuple

from bot.sums.inputs import Input, Sum
from bot.sums.spans import Span


class Taken(NamedTuple):
    """One input as it was understood: its value for the sum, and the words for the person."""

    value: object
    echo: str


class Refused(NamedTuple):
    """A text that is no answer; ``reply`` says what was found and what to type."""

    reply: str


#: A sample by unit. All samples together are one trailer: 14,000 lb, 2,800 lb of it on the pin.
_BY_UNIT = {
    "lb": "2800 lb", "ft": "18 ft", "in": "9 in", "V": "12.1 V", "A": "30 A", "F": "68 F",
    "AWG": "10", "%": "5 %", "N.m": "1.2 N.m", "lb-in": "600 lb-in", "psi": "36000 psi", "psf": "1500 psf",
    "rpm": "1700 rpm", "mm2": "6 mm2",
}  # fmt: skip


#: A sample by option, where the unit has none or the unit's own one is out of the limits or no such part.
_BY_OPTION = {
    "washer-friction": "0.12", "turns-per-inch": "200", "turn": "30", "starts": "1", "ratio": "1",
    "turns": "10", "inches": "1 3/4 in", "insulation": "75", "timber": "6", "contacts": "4", "motors": "1",
    "gross": "14000 lb", "pin-to-axles": "26 ft", "pin-to-legs": "6 ft", "pin-to-stands": "6 ft",
    "cg-height": "5 ft", "leg-spacing": "72 in", "moved": "500 lb", "from": "4 ft",
    "truck-alone": "4000 lb, 3500 lb", "truck-coupled": "4100 lb, 6200 lb", "trailer-axles": "11200 lb",
    "points": "12 5 2720 10.8 30 1712", "battery-ohm": "0.015 ohm", "contact-ohm": "0.01 ohm",
    "no-load-rpm": "2860 rpm", "cranking": "575 A", "bore": "1/2 in", "tube": "2 1/2 in", "wall": "1/4 in",
    "push": "300 lb", "washer": "1 1/4 in", "difference": "3/4 in", "width": "24 in",
}  # fmt: skip


def sample(wanted: Input, one: Sum) -> str:
    """An answer as it may be typed, taken from the example of the sum where that has one.

    Each is itself taken by ``read_answer`` and lies within the limits of the sum.
    """
    if f"--{wanted.option}" in one.example:
        return one.example[one.example.index(f"--{wanted.option}") + 1]
    if wanted.choices:
        return wanted.choices[0]
    if wanted.kind == "yes_no":
        return "yes"
    return _BY_OPTION.get(wanted.option) or _BY_UNIT.get(wanted.unit, "2")


def nearest(word: str, names: list[str], before: str = "") -> str:
    """A sentence with the closest of the names, led by a space, or nothing."""
    from difflib import get_close_matches

    near = get_close_matches(word.lower(), names, 1, 0.5)
    return f" Did you mean {before}{near[0]}?" if near else ""


def read_answer(one: Sum, wanted: Input, text: str, called: str = "") -> Taken | Refused:
    """The value of one input from its text. ``called`` is how the reply names it; by default its option."""
    text, called = text.strip(), called or wanted.option.replace("-", " ")
    if not text:
        return Refused(f"{called} is empty. Type {sample(wanted, one)}, or leave it out.")
    if wanted.kind == "choice":
        word = " ".join(text.lower().split())
        if word not in wanted.choices:
            near = nearest(word, list(wanted.choices))
            return Refused(f'{called} is "{text}"; it is one of: {", ".join(wanted.choices)}.{near}')
        return Taken(word, word)
    if wanted.kind == "yes_no":
        if text.lower() not in ("yes", "no", "y", "n"):
            return Refused(f'{called} is "{text}"; type yes or no.')
        answer = text.lower().startswith("y")
        return Taken(answer, "yes" if answer else "no")
    if wanted.kind == "text":
        return Taken(text, text)
    if wanted.kind == "gauge":
        return _gauge(one, text, called)
    if wanted.kind == "numbers":
        return _numbers(wanted, text, called)
    if wanted.kind == "count" or not wanted.unit:
        number = plain_number(text)
        if number is None:
            return Refused(f'{called} is "{text}"; type a plain number, like {sample(wanted, one)}.')
        return Taken(number, text)
    what = _quantity(wanted, text, called)
    if isinstance(what, Taken) and wanted.kind == "number" and isinstance(what.value, Span):
        return Taken(what.value.value, what.echo)
    return what


def _numbers(wanted: Input, text: str, called: str) -> Taken | Refused:
    numbers: list[float] = []
    echoes: list[str] = []
    for part in re.split(r"[;+]|,\s+|\s+and\s+|(?<=\d)\s+(?=\d)|\s+(?=\d)", text):
        if not part.strip():
            continue
        what = _quantity(wanted, part, called)
        if isinstance(what, Refused):
            return what
        value = what.value.value if isinstance(what.value, Span) else what.value
        assert isinstance(value, (int, float))
        numbers.append(float(value))
        echoes.append(what.echo)
    return Taken(numbers, ", ".join(echoes))


def _quantity(wanted: Input, text: str, called: str) -> Taken | Refused:
    if not wanted.unit:
        number = plain_number(text)
        if number is None:
            return Refused(f'{called}: "{text.strip()}" is no plain number.')
        return Taken(number, text.strip())
    from bot import units

    reading = units.read(text, wanted.unit)
    if isinstance(reading, units.Unread):
        return Refused(f"{called}: {reading.reply}")
    value, low, high = float(reading.value), float(reading.low), float(reading.high)
    return Taken(Span(low, value, high) if low < high else value, str(reading.echo))


def _gauge(one: Sum, text: str, called: str) -> Taken | Refused:
    """A gauge, "10", "1/0", "10 AWG"; a plain "SAE" in it chooses that family where the sum knows it."""
    metric = re.fullmatch(r"(?i)\s*(\d+(?:\.\d+)?)\s*(mm2|mm²|sq\.? ?mm)\s*", text)
    if metric:
        if not any(other.name == "mm2" for other in one.inputs):
            return Refused(f"{one.name} takes a gauge, not mm2. The sum harness takes mm2.")
        return Taken(("mm2", float(metric.group(1))), f"{metric.group(1)} mm2")
    words = re.fullmatch(
        r"(?i)\s*#?\s*(\d{1,2}|[1-4]/0|0{1,4})\s*(awg|sae|gauge|ga|gage)?\s*(awg|sae|gauge)?\s*", text
    )
    if not words:
        return Refused(f'{called} is "{text}"; type a gauge, like 10, 10 AWG or 1/0.')
    if "sae" in text.lower():
        if not any(other.name == "family" for other in one.inputs):
            return Refused(f"{one.name} takes an American gauge. The sum harness knows the SAE ones.")
        return Taken(("sae", words.group(1)), f"{words.group(1)} SAE gauge")
    return Taken(words.group(1), f"{words.group(1)} AWG")


def plain_number(text: str) -> float | None:
    """A plain number: 5, 0.15, 3/16, 1 1/2. None where it is something else."""
    try:
        return float(sum(Fraction(part) for part in text.replace(",", "").split()))
    except (ValueError, ZeroDivisionError, OverflowError):
        return None


def by_name(wanted: Input, value: object) -> dict[str, object]:
    """The arguments that a value makes: a metric or SAE wire becomes two."""
    if isinstance(value, tuple) and not isinstance(value, Span):
        family, size = value
        return {"mm2": size} if family == "mm2" else {wanted.name: size, "family": "sae"}
    return {wanted.name: value}
