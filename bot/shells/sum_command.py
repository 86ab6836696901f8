"""``legline sum``: the list of sums, one sum with its working, its help, its JSON.

Exit codes: 0 done, 1 the sum refused (the reason is on standard error), 2 the words are wrong.
"""

import json
import re
import shutil
import sys
from collections.abc import Callable
from fractions import Fraction
from typing import NamedTuple

from bot.problems import LeglineError, NotEnough
from bot.sums.catalogue import CATALOGUE, Input, Sum
from bot.sums.draw import fold, page
from bot.sums.spans import Span

DONE, REFUSED, WRONG_WORDS = 0, 1, 2
FLAGS = ("--json", "--help", "-h", "--metric", "--us")
_METRIC = re.compile(r"(?i)\d\s*(kg|t|tonnes?|mm|cm|m|met\w+|n|kn|nm|n\.m|c|°c|kpa|mpa|bar|mm2|km)\b")


class Words(Exception):
    """The words of the call are wrong; the text says what to type."""


class Taken(NamedTuple):
    """One input as it was understood: its value for the sum, and the words for the person."""

    value: object
    echo: str


def run(argv: list[str], ask: Callable[[str], str] | None = None) -> int:
    """Carry out ``legline sum`` with the words after ``sum``; return the exit code.

    ``ask`` puts a question to the person and returns the answer; by default the keyboard, where there is one.
    """
    try:
        return _run(argv, ask)
    except Words as wrong:
        sys.stderr.write(f"{wrong}\n")
        return WRONG_WORDS
    except LeglineError as refusal:
        sys.stderr.write(f"{refusal}\n")
        return REFUSED


def _run(argv: list[str], ask: Callable[[str], str] | None) -> int:
    flags = {word for word in argv if word in FLAGS}
    wants_help = bool(flags & {"--help", "-h"})
    words = [word for word in argv if word not in FLAGS]
    if not words:
        _write(_list_json() if "--json" in flags else _list())
        return DONE
    one = CATALOGUE.get(words[0].lower().replace("_", "-"))
    if one is None:
        raise Words(
            f'There is no sum "{words[0]}".{_nearest(words[0], list(CATALOGUE))} `legline sum` lists them.'
        )
    if wants_help:
        _write(_help(one))
        return DONE
    texts = _options(one, words[1:])
    if ask is None and sys.stdin is not None and sys.stdin.isatty():
        ask = _keyboard
    taken = {option: _read(one, _input(one, option), text) for option, text in texts.items()}
    _ask_for_missing(one, taken, ask, everything=not texts)
    given = _given(one, taken)
    result = one.run(given)
    first = _family(flags, texts)
    if "--json" in flags:
        data = {**result.as_data(), "inputs": {name: _plain(value) for name, value in given.items()}}
        _write([json.dumps(data, ensure_ascii=False)])
        return DONE
    width = max(40, min(shutil.get_terminal_size((100, 24)).columns, 110))
    echoes = [f"{option}: {what.echo}" for option, what in taken.items()]
    _write([*fold("taken: " + "; ".join(echoes), width), "", *page(result, width, first)])
    return DONE


def _write(lines: list[str]) -> None:
    sys.stdout.write("\n".join(lines) + "\n")


def _keyboard(question: str) -> str:
    sys.stderr.write(question)
    sys.stderr.flush()
    line = sys.stdin.readline()
    if not line:
        raise Words("The answers ended before the sum had what it wants.")
    return line.strip()


def _options(one: Sum, words: list[str]) -> dict[str, str]:
    """The text of each option, by option. A yes-or-no option may stand alone."""
    found: dict[str, str] = {}
    at = 0
    while at < len(words):
        word = words[at]
        if not word.startswith("--"):
            raise Words(
                f'"{word}" stands alone. A value follows its option, in quotes where it has a space:'
                f' --{one.inputs[0].option} "{_sample(one.inputs[0])}".'
            )
        option, equals, text = word[2:].partition("=")
        wanted = _input(one, option)
        at += 1
        if not equals:
            if at < len(words) and not words[at].startswith("--"):
                text = words[at]
                at += 1
            elif wanted.kind == "yes_no":
                text = "yes"
            else:
                raise Words(f'--{option} wants a value after it, like --{option} "{_sample(wanted)}".')
        if wanted.option in found:
            raise Words(f"--{option} was given twice. Leave one out.")
        found[wanted.option] = text
    return found


def _input(one: Sum, option: str) -> Input:
    """The input of that option; its argument's name is understood too."""
    for wanted in one.inputs:
        if option in (wanted.option, wanted.name, wanted.name.replace("_", "-")):
            return wanted
    near = _nearest(option, [wanted.option for wanted in one.inputs], "--")
    raise Words(f"{one.name} has no --{option}.{near} `legline sum {one.name} --help` names what it wants.")


def _nearest(word: str, names: list[str], before: str = "") -> str:
    from difflib import get_close_matches

    near = get_close_matches(word.lower(), names, 1, 0.5)
    return f" Did you mean {before}{near[0]}?" if near else ""


def _read(one: Sum, wanted: Input, text: str) -> Taken:
    """The value of an option from its text. Raises Words where it cannot be read."""
    text = text.strip()
    if not text:
        raise Words(f"--{wanted.option} is empty. Type {_sample(wanted)}, or leave the option out.")
    if wanted.kind == "choice":
        word = text.lower()
        if word not in wanted.choices:
            near = _nearest(word, list(wanted.choices))
            raise Words(f'--{wanted.option} is "{text}"; it is one of: {", ".join(wanted.choices)}.{near}')
        return Taken(word, word)
    if wanted.kind == "yes_no":
        if text.lower() not in ("yes", "no", "y", "n"):
            raise Words(f'--{wanted.option} is "{text}"; type yes or no.')
        answer = text.lower().startswith("y")
        return Taken(answer, "yes" if answer else "no")
    if wanted.kind == "text":
        return Taken(text, text)
    if wanted.kind == "gauge":
        return _gauge(one, wanted, text)
    if wanted.kind == "numbers":
        parts = [
            part for part in re.split(r"[;+]|,\s+|\s+and\s+|(?<=\d)\s+(?=\d)|\s+(?=\d)", text) if part.strip()
        ]
        taken = [
            _quantity(wanted, part if re.search("[a-z]", part) else f"{part} {wanted.unit}") for part in parts
        ]
        numbers = [what.value.value if isinstance(what.value, Span) else what.value for what in taken]
        return Taken(numbers, ", ".join(what.echo for what in taken))
    if wanted.kind == "count" or not wanted.unit:
        number = _number(text)
        if number is None:
            raise Words(f'--{wanted.option} is "{text}"; type a plain number, like {_sample(wanted)}.')
        return Taken(number, text)
    what = _quantity(wanted, text)
    if wanted.kind == "number" and isinstance(what.value, Span):
        return Taken(what.value.value, what.echo)
    return what


def _quantity(wanted: Input, text: str) -> Taken:
    if not wanted.unit:
        number = _number(text)
        if number is None:
            raise Words(f'--{wanted.option}: "{text.strip()}" is no plain number.')
        return Taken(number, text.strip())
    from bot import units

    reading = units.read(text, wanted.unit)
    reply = getattr(reading, "reply", None)
    if reply is not None:
        raise Words(f"--{wanted.option}: {reply}")
    value, low, high = (float(getattr(reading, part)) for part in ("value", "low", "high"))
    echo = str(getattr(reading, "echo", text))
    return Taken(Span(low, value, high) if low < high else value, echo)


def _gauge(one: Sum, wanted: Input, text: str) -> Taken:
    """A gauge, "10", "1/0", "10 AWG"; a plain "SAE" in it chooses that family where the sum knows it."""
    metric = re.fullmatch(r"(?i)\s*(\d+(?:\.\d+)?)\s*(mm2|mm²|sq\.? ?mm)\s*", text)
    if metric:
        if not any(other.name == "mm2" for other in one.inputs):
            raise Words(f"{one.name} takes a gauge, not mm2. `legline sum harness --mm2` does.")
        return Taken(("mm2", float(metric.group(1))), f"{metric.group(1)} mm2")
    words = re.fullmatch(
        r"(?i)\s*#?\s*(\d{1,2}|[1-4]/0|0{1,4})\s*(awg|sae|gauge|ga|gage)?\s*(awg|sae|gauge)?\s*", text
    )
    if not words:
        raise Words(f'--{wanted.option} is "{text}"; type a gauge, like 10, 10 AWG or 1/0.')
    sae = "sae" in text.lower()
    if sae:
        if not any(other.name == "family" for other in one.inputs):
            raise Words(
                f"{one.name} takes an American gauge. `legline sum harness --family sae` knows the other."
            )
        return Taken(("sae", words.group(1)), f"{words.group(1)} SAE gauge")
    return Taken(words.group(1), f"{words.group(1)} AWG")


def _number(text: str) -> float | None:
    """A plain number: 5, 0.15, 3/16, 1 1/2. None where it is something else."""
    try:
        return float(sum(Fraction(part) for part in text.replace(",", "").split()))
    except (ValueError, ZeroDivisionError, OverflowError):
        return None


def _ask_for_missing(
    one: Sum, taken: dict[str, Taken], ask: Callable[[str], str] | None, everything: bool
) -> None:
    """Put the questions that are left: those that have to be answered, or all where nothing was given."""
    for wanted in one.inputs:
        if wanted.option in taken or not (wanted.required or everything):
            continue
        if ask is None:
            if not wanted.required:
                continue
            raise Words(
                f"{one.name} wants --{wanted.option}: {wanted.prompt},"
                f' like --{wanted.option} "{_sample(wanted)}".'
            )
        kind = (
            f" ({', '.join(wanted.choices)})"
            if wanted.choices
            else f" [{wanted.unit}]"
            if wanted.unit
            else ""
        )
        blank = (
            ""
            if wanted.required
            else f"; Enter for {wanted.assumed}"
            if wanted.assumed
            else "; Enter to leave out"
        )
        while True:
            answer = ask(f"{wanted.prompt}{kind}{blank}: ")
            if not answer and not wanted.required:
                break
            try:
                taken[wanted.option] = _read(one, wanted, answer)
                break
            except Words as wrong:
                sys.stderr.write(f"{wrong}\n")


def _given(one: Sum, taken: dict[str, Taken]) -> dict[str, object]:
    """The inputs of the sum by their names. A metric or SAE wire becomes two inputs."""
    given: dict[str, object] = {}
    for option, what in taken.items():
        name = _input(one, option).name
        if isinstance(what.value, tuple) and not isinstance(what.value, Span):
            family, size = what.value
            given.update({"mm2": size} if family == "mm2" else {name: size, "family": "sae"})
        else:
            given[name] = what.value
    if not given:
        raise NotEnough(one.name, f"something to go on: `legline sum {one.name} --help` names it")
    return given


def _family(flags: set[str], texts: dict[str, str]) -> str:
    """Which unit family comes first in the answer: the one asked for, else the one typed."""
    if "--metric" in flags:
        return "metric"
    if "--us" in flags:
        return "us"
    metric = sum(1 for text in texts.values() if _METRIC.search(text))
    return "metric" if metric and metric * 2 >= len(texts) else "us"


def _plain(value: object) -> object:
    return {"low": value.low, "value": value.value, "high": value.high} if isinstance(value, Span) else value


_SAMPLES = {
    "lb": "2800 lb", "ft": "18 ft", "in": "9 in", "V": "12.1 V", "A": "30 A", "ohm": "0.12 ohm", "F": "68 F",
    "AWG": "10", "s": "40 s", "%": "5 %", "N.m": "1.2 N.m", "lb-in": "600 lb-in", "psi": "36000 psi",
    "psf": "1500 psf", "Ah": "80 Ah", "rpm": "1700 rpm", "mm2": "6 mm2",
}  # fmt: skip


def _sample(wanted: Input) -> str:
    if wanted.choices:
        return wanted.choices[0]
    if wanted.kind == "yes_no":
        return "yes"
    if wanted.kind == "numbers":
        return "4200 lb, 3900 lb" if wanted.unit else "12 5 2720 10.8 30 1712"
    if wanted.kind == "text":
        return "1/2-13"
    return _SAMPLES.get(wanted.unit, "2")


def _quoted(words: tuple[str, ...]) -> str:
    return " ".join(
        word if word.startswith("--") or re.fullmatch(r"[\w./-]+", word) else f'"{word}"' for word in words
    )


def _list() -> list[str]:
    wide = max(map(len, CATALOGUE))
    lines = [f"{one.name:<{wide}}  {one.help}" for one in CATALOGUE.values()]
    return [*lines, "", "legline sum NAME --help   what it wants, and an example that runs"]


def _list_json() -> list[str]:
    return [json.dumps([{"sum": one.name, "help": one.help} for one in CATALOGUE.values()])]


def _help(one: Sum) -> list[str]:
    lines = [f"legline sum {one.name}", f"  {one.help}", "", "options:"]
    for wanted in one.inputs:
        what = (
            " | ".join(wanted.choices) if wanted.choices else wanted.unit or wanted.kind.replace("_", " or ")
        )
        tail = " (wanted)" if wanted.required else f" (else: {wanted.assumed})" if wanted.assumed else ""
        lines += fold(f"--{wanted.option} [{what}]  {wanted.prompt}{tail}", 100, "  ")
    lines += ["  --json  one JSON object", "  --metric, --us  which units come first", "", "example:"]
    return [*lines, f"  legline sum {one.name} {_quoted(one.example)}"]
