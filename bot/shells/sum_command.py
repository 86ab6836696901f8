"""``legline sum``: the list of sums, one sum with its working, its help, its JSON.

Exit codes: 0 done, 1 the sum refused (the reason is on standard error), 2 the words are wrong.
"""

import json
import re
import shutil
import sys

from bot.problems import LeglineError, NotEnough
from bot.shells.sum_prompts import Ask, Words, ask_for_missing, keyboard
from bot.sums.answers import Refused, Taken, by_name, nearest, read_answer, sample
from bot.sums.catalogue import CATALOGUE, Input, Sum
from bot.sums.draw import fold, page
from bot.sums.spans import Span

DONE, REFUSED, WRONG_WORDS = 0, 1, 2
FLAGS = ("--json", "--help", "-h", "--metric", "--us")
_METRIC = re.compile(r"(?i)\d\s*(kg|t|tonnes?|mm|cm|m|met\w+|n|kn|nm|n\.m|c|°c|kpa|mpa|bar|mm2|km)\b")


def run(argv: list[str], ask: Ask | None = None) -> int:
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


def _run(argv: list[str], ask: Ask | None) -> int:
    flags = {word for word in argv if word in FLAGS}
    wants_help = bool(flags & {"--help", "-h"})
    words = [word for word in argv if word not in FLAGS]
    if not words:
        _write(_list_json() if "--json" in flags else _list())
        return DONE
    one = CATALOGUE.get(words[0].lower().replace("_", "-"))
    if one is None:
        raise Words(
            f'There is no sum "{words[0]}".{nearest(words[0], list(CATALOGUE))} `legline sum` lists them.'
        )
    if wants_help:
        _write(_help(one))
        return DONE
    texts = _options(one, words[1:])
    if ask is None and sys.stdin is not None and sys.stdin.isatty():
        ask = keyboard
    taken = {option: _read(one, _input(one, option), text) for option, text in texts.items()}
    ask_for_missing(one, taken, ask, everything=not texts)
    try:
        given = _given(one, taken)
        result = one.run(given)
    except NotEnough as wanting:
        if ask is None or not texts:
            raise
        # One of several inputs would do, which no single "wanted" says: with a person there, ask for the rest.
        sys.stderr.write(f"{wanting}\n")
        ask_for_missing(one, taken, ask, everything=True)
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


def _options(one: Sum, words: list[str]) -> dict[str, str]:
    """The text of each option, by option. A yes-or-no option may stand alone."""
    found: dict[str, str] = {}
    at = 0
    while at < len(words):
        word = words[at]
        if not word.startswith("--"):
            raise Words(
                f'"{word}" stands alone. A value follows its option, in quotes where it has a space:'
                f' --{one.inputs[0].option} "{sample(one.inputs[0], one)}".'
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
                raise Words(f'--{option} wants a value after it, like --{option} "{sample(wanted, one)}".')
        if wanted.option in found:
            raise Words(f"--{option} was given twice. Leave one out.")
        found[wanted.option] = text
    return found


def _input(one: Sum, option: str) -> Input:
    """The input of that option; its argument's name is understood too."""
    for wanted in one.inputs:
        if option in (wanted.option, wanted.name, wanted.name.replace("_", "-")):
            return wanted
    near = nearest(option, [wanted.option for wanted in one.inputs], "--")
    raise Words(f"{one.name} has no --{option}.{near} `legline sum {one.name} --help` names what it wants.")


def _read(one: Sum, wanted: Input, text: str) -> Taken:
    """The value of an option from its text. Raises Words where it cannot be read."""
    read = read_answer(one, wanted, text, f"--{wanted.option}")
    if isinstance(read, Refused):
        raise Words(read.reply)
    return read


def _given(one: Sum, taken: dict[str, Taken]) -> dict[str, object]:
    """The inputs of the sum by their names. A metric or SAE wire becomes two inputs."""
    given: dict[str, object] = {}
    for option, what in taken.items():
        given.update(by_name(_input(one, option), what.value))
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
