"""Which input of a sum each figure and word of a line is: by its unit, the words beside it, and what was asked."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from bot.corpus.lexicon import Heard
from bot.corpus.patterns import Token
from bot.frozen import dataclass, replace
from bot.problems import LeglineError
from bot.sums.answers import Refused, read_answer
from bot.sums.catalogue import Input, Sum
from bot.sums.convert import both
from bot.sums.legs import leg_load
from bot.sums.spans import Span
from bot.talk.spots import Cues
from bot.talk.state import Given
from bot.talk.understand import Meaning
from bot.units import Found, bolt_size, scan, taken

_NEAR, _BESIDE = 6, 2  # words between a figure and its cue; a figure without a unit has to stand beside it
_COUNTS = {
    "zero": 0.0, "one": 1.0, "two": 2.0, "three": 3.0, "four": 4.0, "five": 5.0, "six": 6.0, "seven": 7.0,
    "eight": 8.0, "nine": 9.0, "ten": 10.0, "eleven": 11.0, "twelve": 12.0,
}  # fmt: skip


@dataclass(frozen=True)
class Filled:
    """What a line gave to a sum, and the figures of it that found no place."""

    given: tuple[Given, ...]
    unused: tuple[str, ...] = ()


@dataclass(frozen=True)
class Step:
    """Inputs of which one is wanted: ``asked`` in turn until one is given; one of ``instead`` will do as well."""

    asked: tuple[str, ...]
    instead: tuple[str, ...] = ()

    @property
    def options(self) -> tuple[str, ...]:
        """Every option that answers it."""
        return (*self.asked, *self.instead)


def asks_of(note: str) -> tuple[Step, ...]:
    """The steps of an ``asks`` note.

    >>> asks_of("load unless pin, rating")
    (Step(asked=('load',), instead=('pin',)), Step(asked=('rating',), instead=()))
    """
    steps = []
    for text in filter(str.strip, note.split(",")):
        asked, _, instead = text.strip().partition(" unless ")
        options = tuple(re.split(r"\s+or\s+", instead)) if instead else ()
        steps.append(Step(tuple(re.split(r"\s+or\s+", asked)), options))
    return tuple(steps)


def hashable(value: object) -> object:
    """The value as a State may keep it: a list as a tuple."""
    return tuple(value) if isinstance(value, list) else value


def fill(one: Sum, meaning: Meaning, asks: tuple[Step, ...], pending: str = "", units: str = "us") -> Filled:
    """What a line says of a sum's inputs. ``asks`` names the inputs asked for; ``pending`` the one open now."""
    outright = tuple(_pairs(one, meaning.text))
    if outright:
        return Filled(outright)
    text, line, heard = meaning.spelt, meaning.line, meaning.heard
    got = {g.name: g for g in _picked(one, line, heard)}
    quantities = scan(text)
    points, used = _points(one, quantities)
    got.update({g.name: g for g in points})
    cues = [replace(h, meaning="place: " + h.value) for h in heard if h.kind == "input"]
    words = Cues(line, tuple(q for q in quantities if q not in used), cues)
    unused: list[str] = []
    free = [i for i in one.inputs if i.kind in ("quantity", "number", "gauge", "text")]
    pairs = []
    whole = _of_trailer(one, words)
    if whole:
        given = load_from(one, {kind: words.spots[at].found for at, kind in whole.items()}, units)
        got.update({"load_lb": given} if given is not None else {})
        words.spots = [spot for at, spot in enumerate(words.spots) if at not in whole]
    for at, spot in enumerate(words.spots):
        for order, wanted in enumerate(free):
            if not _fits(spot.found, wanted):
                continue
            cue, far = words.nearest(
                spot, (f"place: {one.name} {wanted.option}", f"place: {wanted.option}"), 0.3
            )
            if cue and far <= (_NEAR if spot.found.unit else _BESIDE):
                pairs.append((far, order, at, wanted))
    placed: dict[int, Input] = {}
    for _, _, at, wanted in sorted(pairs, key=lambda p: p[:3]):
        if at not in placed and wanted.name not in got and wanted not in placed.values():
            placed[at] = wanted
    named = [option for step in asks for option in step.asked]
    for at, spot in enumerate(words.spots):
        if at in placed or (spot.found.unit is None and spot.found.kind != "bolt"):
            continue
        fitting = [i for i in free if i.name not in got and i not in placed.values() and _fits(spot.found, i)]
        main = [i for i in fitting if i.option == pending] or sorted(
            (i for i in fitting if i.option in named or i.required),
            key=lambda i: named.index(i.option) if i.option in named else -1,
        )
        if main or len(fitting) == 1:
            placed[at] = (main or fitting)[0]
    for at, spot in enumerate(words.spots):
        given = _given(one, placed[at], spot.found) if at in placed else None
        if given is not None:
            got.setdefault(given.name, given)
        elif spot.found.unit is not None:
            unused.append(spot.found.text.strip())
    spots = [(s.first, s.last) for s in words.spots if s.found.unit is not None]
    for given in (*_bolt(one, text), *_counted(one, line, heard, spots)):
        got.setdefault(given.name, given)
    return Filled(tuple(got.values()), tuple(unused))


def _of_trailer(one: Sum, words: Cues) -> dict[int, str]:
    """Weights told of the whole trailer or of its pin, where the sum wants the load on the legs: place -> which."""
    if one.name not in LOAD_ON:
        return {}
    found = {}
    for at, spot in enumerate(words.spots):
        if spot.found.kind not in ("weight", "force"):
            continue
        which, far = words.nearest(spot, ("place: gross", "place: pin"), 0.3)
        load, near = words.nearest(spot, ("place: load", f"place: {one.name} load"), 0.3)
        if which and far <= 3 and not (load and near < far):
            found[at] = which.removeprefix("place: ")
    return found


#: Sums that start from the load on the legs: on both of them, or on one.
LOAD_ON = {"stand": "both legs", "screw": "each leg", "foot": "each leg"}


def load_from(one: Sum, weights: Mapping[str, Found | float | Span], units: str) -> Given | None:
    """The load a sum starts from, worked out from the weight of the trailer ("gross") or of its pin ("pin")."""
    known = {}
    for kind, weight in weights.items():
        if isinstance(weight, (int, float, Span)):
            known[kind] = weight
        elif (reading := taken(weight, "lb")) is not None:
            known[kind] = reading.value
    try:
        result = leg_load(gross_lb=known.get("gross"), pin_lb=known.get("pin"))
    except LeglineError:
        return None
    load, basis = result.found(LOAD_ON[one.name]), "the pin weight" if "pin" in known else "the gross weight"
    said = both(load.value, "lb", "metric" if units == "metric" else "us")
    echo = f"load {said} on {LOAD_ON[one.name]}, worked out from {basis}"
    return Given("load_lb", Span(load.low, load.value, load.high), echo, True)


_SIZE = re.compile(r"(?<![\d/.-])(\d{1,2}/\d{1,2}(?:-\d{1,2})?)(?![\d/])")


def _bolt(one: Sum, text: str) -> Iterator[Given]:
    """A bolt's size written without its unit: 1/2, 3/8-16."""
    wanted = next((i for i in one.inputs if i.kind == "text"), None)
    found = _SIZE.search(text) if wanted is not None else None
    if wanted is not None and found is not None:
        yield Given(wanted.name, found.group(1), found.group(1))


def _fits(found: Found, wanted: Input) -> bool:
    """Whether a quantity can be this input by its unit."""
    if wanted.kind == "text":
        return found.kind == "bolt" or found.unit == "in"
    if not wanted.unit:
        return False
    if found.unit is None:
        return found.kind == "bare"
    if wanted.kind == "gauge" or found.kind == "gauge":
        return wanted.kind == "gauge" and found.kind == "gauge"
    return taken(found, wanted.unit) is not None


def _given(one: Sum, wanted: Input, found: Found) -> Given | None:
    if wanted.kind == "text":
        size = bolt_size(found.text)
        text = found.text if size is not None else f"{found.value:g} in"
        return Given(wanted.name, _ruler(found.value) if size is None else text, text)
    if wanted.kind == "gauge":
        read = read_answer(one, wanted, found.text)
        if isinstance(read, Refused):
            read = read_answer(one, wanted, f"{found.value:g}")
        return None if isinstance(read, Refused) else Given(wanted.name, hashable(read.value), read.echo)
    reading = taken(found, wanted.unit)
    if reading is None:
        return None
    value: object = reading.value
    if wanted.kind == "quantity" and reading.low < reading.high:
        value = Span(reading.low, reading.value, reading.high)
    return Given(wanted.name, value, reading.echo)


def _ruler(inches: float) -> str:
    """A diameter as a bolt's size is written: 1/2, 1 1/4.

    >>> _ruler(0.5), _ruler(1.25)
    ('1/2', '1 1/4')
    """
    from fractions import Fraction

    whole, rest = divmod(Fraction(inches).limit_denominator(64), 1)
    return " ".join(filter(None, (str(whole) if whole else "", str(rest) if rest else "")))


def _pairs(one: Sum, text: str) -> Iterator[Given]:
    """Inputs named outright: ``gauge=10 length=22 ft``, ``--amps "30 A"``."""
    options = {name: i for i in one.inputs for name in (i.option, i.name)}
    found = list(re.finditer(r"(?:(?<=\s)--([a-z][\w-]*)[ =]+|(?<![\w-])([a-z][\w-]*)\s*=\s*)", text.lower()))
    ends = [m.start() for m in found[1:]] + [len(text)]
    for here, end in zip(found, ends[: len(found)], strict=True):
        wanted = options.get(here.group(1) or here.group(2))
        if wanted is None:
            continue
        said = text[here.end() : end].strip(" ,;\"'")
        read = read_answer(one, wanted, said)
        if not isinstance(read, Refused):
            yield Given(wanted.name, hashable(read.value), read.echo)


def _picked(one: Sum, line: tuple[Token, ...], heard: tuple[Heard, ...]) -> Iterator[Given]:
    """Choices and yes or no, from the words of the corpus or from the choice said as it is named."""
    options = {i.option: i for i in one.inputs}
    best: dict[str, tuple[int, Given]] = {}

    def keep(wanted: Input, value: object, echo: str, length: int) -> None:
        if wanted.name not in best or length > best[wanted.name][0]:
            best[wanted.name] = (length, Given(wanted.name, value, echo))

    for h in heard:
        if h.kind != "pick" or h.negated:
            continue
        name, _, rest = h.value.partition(" ")
        option, _, choice = rest.partition(" ")
        if name != one.name or option not in options:
            continue
        wanted = options[option]
        value: object = choice == "yes" if wanted.kind == "yes_no" else choice
        if wanted.kind == "count":
            value = float(choice)
        keep(wanted, value, h.words.strip() or choice, h.end - h.start)
    said = " " + " ".join(t.text for t in line) + " "
    for wanted in one.inputs:
        for choice in wanted.choices:
            if len(choice) > 2 and choice not in _COMMON and f" {choice} " in said:
                keep(wanted, choice, choice, len(choice.split()))
    yield from (given for _, given in best.values())


# Choices that ordinary lines hold in another sense; they count as an answer or by their pattern alone.
_COMMON = {"left", "right", "one", "pair", "open", "hot", "good", "fair", "poor", "fill", "plain", "lead"}


def _points(one: Sum, quantities: tuple[Found, ...]) -> tuple[list[Given], tuple[Found, ...]]:
    """Two measured points of a motor: two sets of volts, amps and speed, in the order they were told."""
    if not any(i.name == "points_flat" for i in one.inputs):
        return [], ()
    if sum(1 for q in quantities if q.unit == "rpm") < 2:
        return [], ()
    sets: list[dict[str, Found]] = [{}]
    for q in quantities:
        unit = {"V": "V", "A": "A", "rpm": "rpm"}.get(q.unit or "")
        if unit is None:
            continue
        if unit in sets[-1]:
            sets.append({})
        sets[-1][unit] = q
    whole = [s for s in sets if len(s) == 3][:2]
    if len(whole) < 2:
        return [], ()
    flat = tuple(s[unit].value for s in whole for unit in ("V", "A", "rpm"))
    echo = "; ".join(f"{s['V'].value:g} V {s['A'].value:g} A {s['rpm'].value:g} rpm" for s in whole)
    return [Given("points_flat", flat, echo)], tuple(q for s in whole for q in s.values())


def _counted(
    one: Sum, line: tuple[Token, ...], heard: tuple[Heard, ...], spots: list[tuple[int, int]]
) -> Iterator[Given]:
    """Bare numbers beside the word they count: two stands, 5 threads an inch, 6 turns an inch."""
    for wanted in one.inputs:
        if wanted.unit or wanted.kind not in ("count", "number", "quantity"):
            continue
        meanings = (f"input: {one.name} {wanted.option}", f"input: {wanted.option}")
        cues = sorted((h for h in heard if h.meaning in meanings), key=lambda h: h.start - h.end)
        for cue in cues:
            for at in (cue.start - 1, cue.end):
                if not 0 <= at < len(line) or any(a <= at <= b for a, b in spots):
                    continue
                number = _number(line[at].text)
                if number is not None:
                    yield Given(wanted.name, number, line[at].text)
                    break
            else:
                continue
            break


def _number(word: str) -> float | None:
    if word in _COUNTS:
        return _COUNTS[word]
    try:
        return float(word)
    except ValueError:
        return None
