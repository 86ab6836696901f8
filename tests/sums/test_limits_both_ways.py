"""What a docstring says of a limit is enforced, number by number, and nothing else is."""

import importlib
import inspect
import pkgutil
import re

import pytest

import bot.sums
from bot.problems import OutOfRange
from bot.sums.limits import DECLARED, limits

ENTRY = re.compile(r"^(\w+(?:, \w+)*) : (.*)$")
RANGE = re.compile(r"(?<![\w.])(-?[\d.]+(?:e[+-]?\d+)?) to (-?[\d.]+(?:e[+-]?\d+)?)")
#: Ranges in a docstring that are no limits: what is assumed, or what is refused elsewhere.
NO_LIMIT = {("bot.sums.legs.leg_load", "15", "25"), ("bot.sums.copper.rule_drop_v", "25", "30")}


def _formulas() -> dict[str, str]:
    """Docstring of every public function of the sums that lists its parameters."""
    found = {}
    for one in pkgutil.iter_modules(bot.sums.__path__):
        module = importlib.import_module(f"bot.sums.{one.name}")
        for name, function in vars(module).items():
            if inspect.isfunction(function) and function.__module__ == module.__name__:
                text = inspect.getdoc(function) or ""
                if "Parameters\n----------" in text:
                    found[f"{module.__name__}.{name}"] = text
    return found


FORMULAS = _formulas()


def _said(name: str) -> dict[str, tuple[float, float]]:
    """The ranges that the parameters of a docstring give, by argument; a shared line gives one after the other."""
    said: dict[str, tuple[float, float]] = {}
    block = FORMULAS[name].partition("Parameters\n----------\n")[2].partition("\n\n")[0]
    entries: list[list[str]] = []
    for line in block.splitlines():
        match = ENTRY.match(line)
        if match:
            entries.append([match.group(1), match.group(2)])
        else:
            entries[-1][1] += " " + line.strip()
    for names, text in entries:
        ranges = [(low, high) for low, high in RANGE.findall(text) if (name, low, high) not in NO_LIMIT]
        arguments = names.split(", ")
        if len(arguments) > 1 and len(ranges) == 1:
            ranges *= len(arguments)
        for argument, (low, high) in zip(arguments, ranges, strict=False):
            said[argument] = (float(low), float(high))
    return said


@pytest.mark.parametrize("name", sorted(FORMULAS))
def test_limits_told_are_the_limits_enforced_and_no_others(name: str) -> None:
    enforced = {argument: (low, high) for argument, (low, high, _) in DECLARED.get(name, {}).items()}
    assert _said(name) == enforced


def test_every_enforced_limit_belongs_to_a_formula_with_a_list_of_parameters() -> None:
    ours = {name for name in DECLARED if name.startswith("bot.sums.") and ".limits." not in name}
    assert ours <= set(FORMULAS)


def test_both_ends_are_allowed_and_what_was_not_given_is_passed_over() -> None:
    @limits(first=(0, 1, "A"), second=(2, 3, "V"))
    def pair(first: float | None = None, second: float | None = None) -> tuple[float | None, float | None]:
        return first, second

    assert pair(0, 3) == (0, 3)
    assert pair(1, 2) == (1, 2)
    assert pair() == (None, None)
    with pytest.raises(OutOfRange) as caught:
        pair(None, 3.01)
    assert str(caught.value) == (
        "second is 3.01 V; this formula holds from 2 to 3 V (test_limits_both_ways.py, pair)."
    )
    with pytest.raises(OutOfRange, match="first is -1 A"):
        pair(second=2, first=-1)
