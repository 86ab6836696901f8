"""One answer to a question that wants one unit: a reading, or a reply that says what is missing."""

import math
from typing import NamedTuple

from bot.units import wire
from bot.units.convert import convert
from bot.units.doubts import figure_doubt
from bot.units.lines import Found, scan
from bot.units.shown import figure, plain
from bot.units.table import EXAMPLES, UNITS, canonical
from bot.units.tokens import clean

_SAME_MATTER = (frozenset(("weight", "force")), frozenset(("gauge", "area")))
_KIND_SAID = {
    "volt": "a voltage", "amp": "a current", "ohm": "a resistance", "length": "a length",
    "weight": "a weight", "force": "a force", "gauge": "a wire size", "torque": "a torque",
    "pressure": "a pressure", "temperature": "a temperature", "time": "a time", "percent": "a share",
    "area": "an area",
}  # fmt: skip
_LOOSE_GAUGE = "Taken as AWG. If the jacket says SAE, the wire holds 5 to 11 % less copper."


class Reading(NamedTuple):
    """An answer taken: ``value``, ``low`` and ``high`` in ``unit`` (the unit wanted, as it was named).

    An open end is infinite, or 0 for what cannot be negative. ``about`` says the person was unsure.
    ``echo`` is what to read back. ``note`` is one sentence to add where a choice was made, else None.
    """

    value: float
    low: float
    high: float
    unit: str
    about: bool
    echo: str
    note: str | None = None


class Unread(NamedTuple):
    """An answer not taken. ``reply`` says what was found, what is accepted and what to type.

    ``why`` is "nothing", "several", "other kind" or "doubtful"; ``found`` holds what the line did contain.
    """

    reply: str
    why: str
    found: tuple[Found, ...] = ()


def read(text: str, want: str) -> Reading | Unread:
    """The one quantity in an answer, in the unit ``want`` (a short name or any spelling of the table).

    A bare number takes that unit, another unit of the same kind is converted, number words count.
    Raises UnknownUnit when the table has no ``want``; never raises because of ``text``.

    >>> read("twelve point four", "V").echo, read("57 mm", "in").echo, read("10 guage", "AWG").value
    ('12.4 V', '57 mm = 2.24 in', 10.0)
    >>> read("12 volts", "ft").why
    'other kind'
    """
    unit = canonical(want)
    if unit is None:
        from bot.units.faults import UnknownUnit

        raise UnknownUnit(want)
    found = scan(text, words=True)
    fitting = [one for one in found if _fits(one, unit)]
    bare = [one for one in found if one.unit is None or one.unit == "deg" and unit in ("F", "C")]
    if fitting:  # a decimal without a unit beside the one that fits may be a second reading: 12.4 and 8.1 V
        bare = [one for one in bare if "." in one.text or "," in one.text]
    chosen = _one_of(fitting + bare)
    if not chosen:
        return _nothing(text, unit, found)
    if len(chosen) > 1:
        each = " and ".join(_said(one, unit) for one in chosen[:4])
        return Unread(
            f"{_where(text)} I read {each}. This wants one figure in {_named(unit)}. "
            "Type the one that counts.",
            "several",
            found,
        )
    one = chosen[0]
    if doubt := _doubt(one, unit):
        reply = doubt if doubt.startswith('"') else f"{_where(text)} I read {one.text}. {doubt}"
        return Unread(reply, "doubtful", found)
    return taken(one, want) or _nothing(text, unit, found)


def taken(one: Found, want: str) -> Reading | None:
    """One quantity of a line as a reading in ``want``; None where no rule leads there or it is doubtful.

    For quantities met in free text; a bare number takes ``want``.
    """
    unit = canonical(want)
    if unit is None or not (_fits(one, unit) or one.unit is None or one.unit == "deg") or _doubt(one, unit):
        return None
    given = unit if one.unit in (None, "deg") else str(one.unit)
    ends = [_end(x, given, unit) for x in (one.value, one.low, one.high)]
    if None in ends or not math.isfinite(one.value) or math.isinf(ends[0] or 0.0):
        return None
    value, low, high = ends[0] or 0.0, *sorted((ends[1] or 0.0, ends[2] or 0.0))
    echo = _words(one, given, (one.value, one.low, one.high))
    if given != unit:
        echo += " = " + plain(value, unit, 3)
        if one.low != one.high and math.isfinite(low) and math.isfinite(high) and not one.about and low > 0:
            echo = f"{echo[: echo.rindex(' = ')]} = {_span(low, high, unit)}"
    if one.kind == "bolt":
        echo = f"{one.text} bolt, {echo}"
    return Reading(value, low, high, want, one.about, echo, _note(one, unit, value))


def _fits(one: Found, unit: str) -> bool:
    kind = UNITS[unit].kind
    if one.unit is None or one.unit == "deg":
        return False
    here = "length" if one.kind == "bolt" else one.kind
    return here == kind or any({here, kind} <= pair for pair in _SAME_MATTER)


def _one_of(found: list[Found]) -> list[Found]:
    """The quantities that differ, so that one said twice counts once."""
    return [one for k, one in enumerate(found) if all(one[2:5] != before[2:5] for before in found[:k])]


def _doubt(one: Found, unit: str) -> str | None:
    if one.unit is None:
        written = clean(one.text)
        if written.replace(",", "").replace(".", "").isdecimal():
            return figure_doubt(written, unit)
        return one.doubtful
    if one.unit == "deg":
        return None if unit in ("F", "C") else one.doubtful
    return None if one.unit == "AWG" else one.doubtful


def _end(value: float, given: str, unit: str) -> float | None:
    """One end in the wanted unit; open ends stay open; None where no rule leads there."""
    if given == unit:
        return value
    kinds = UNITS[given].kind, UNITS[unit].kind
    if "gauge" in kinds:
        from bot.problems import LeglineError

        if kinds[0] == "area" and not 0 < value < math.inf:  # no copper is the thinnest wire of all
            return math.inf if value <= 0 else -math.inf
        if given in ("AWG", "SAE") and math.isinf(value):
            return 0.0 if value > 0 else math.inf
        try:
            return convert(value, given, unit)
        except LeglineError:
            return None
    return convert(value, given, unit)


def _span(low: float, high: float, unit: str) -> str:
    one, two = plain(low, unit, 3).removesuffix(f" {unit}"), plain(high, unit, 3)
    return f"{one} to {two}"


def _words(one: Found, unit: str, ends: tuple[float, float, float]) -> str:
    value, low, high = ends
    exact = plain(value, unit) if unit == "AWG" else f"{value:.10g} {unit}"
    if math.isinf(high):
        return f"over {exact}"
    if high == value and low < value:
        return f"under {exact}"
    if low == high:
        return exact
    middle = (low + high) / 2
    if (
        one.about
        and abs(middle - value) <= 1e-9 * abs(value)
        and abs((high - low) - 0.1 * abs(value)) <= 1e-9 * abs(value)
    ):
        return f"about {exact}"
    first = plain(low, unit).removesuffix(f" {unit}") if unit == "AWG" else f"{low:.10g}"
    last = plain(high, unit) if unit == "AWG" else f"{high:.10g} {unit}"
    return f"{first} to {last}"


def _note(one: Found, unit: str, value: float) -> str | None:
    if one.unit == "AWG" and one.doubtful:
        return _LOOSE_GAUGE
    if unit == "AWG" and math.isfinite(value) and value != int(value):
        thin = 2 * math.ceil(value / 2) if value > 1 else math.ceil(value)
        thick = thin - (2 if value > 1 else 1)
        return f"Between {wire.awg_text(thin)} and {wire.awg_text(thick)} AWG."
    return None


def _where(text: str) -> str:
    short = " ".join(text.split())
    short = short if len(short) <= 60 else short[:57] + "..."
    return f'In "{short}"' if short else "In an empty line"


def _named(unit: str) -> str:
    said = UNITS[unit].said
    return f"{said} ({unit})" if said != unit else said


def _said(one: Found, unit: str) -> str:
    if one.unit is None or one.unit not in UNITS:
        return one.text
    return _words(one, one.unit, (one.value, one.low, one.high)) if math.isfinite(one.value) else one.text


def _nothing(text: str, unit: str, found: tuple[Found, ...]) -> Unread:
    kind = UNITS[unit].kind
    example = EXAMPLES.get(kind) or f"{figure(100)} {unit}"
    others = [one for one in found if one.unit is not None]
    if others:
        one = others[0]
        name = _named(one.unit) if one.unit in UNITS else str(one.unit)
        what = f"I read {_said(one, unit)}, which is in {name}"
        ask = _KIND_SAID.get(kind, "a figure in that unit")
        return Unread(
            f"{_where(text)} {what}. This wants {_named(unit)}. Type {ask}, like {example}.",
            "other kind",
            found,
        )
    return Unread(
        f"{_where(text)} I find no figure to take. This wants {_named(unit)}, like {example}. "
        f"Type the number; alone it counts as {unit}.",
        "nothing",
        found,
    )
