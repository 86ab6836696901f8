"""Limits are enforced, and the docstrings say the same limits as the decorators."""

import importlib
import inspect
import pkgutil
import re

import pytest

import bot.sums
from bot.problems import OutOfRange
from bot.sums.limits import DECLARED, limits

for _module in pkgutil.iter_modules(bot.sums.__path__):
    importlib.import_module(f"bot.sums.{_module.name}")
OURS = {
    name: bounds
    for name, bounds in DECLARED.items()
    if name.startswith("bot.sums.") and ".limits." not in name
}


def _function(name: str) -> object:
    module, _, function = name.rpartition(".")
    return getattr(importlib.import_module(module), function)


@pytest.mark.parametrize("name", sorted(OURS))
def test_docstring_gives_the_limits_that_are_enforced(name: str) -> None:
    text = re.sub(r"\s+", " ", inspect.getdoc(_function(name)) or "")
    for argument, (low, high, _unit) in OURS[name].items():
        after = text.partition(f"{argument} : ")[2] or text.partition(f"{argument},")[2]
        assert re.search(rf"\b{argument}\b", text), f"{name} says nothing of {argument}"
        if "lim" not in after[:0]:
            wanted = (f"{low:g} to {high:g}", f"{low:g} or {high:g}")
            assert any(words in after or words in text for words in wanted), f"{name}: {argument} {wanted}"


@pytest.mark.parametrize("name", sorted(OURS))
def test_value_outside_a_limit_is_refused_with_its_name(name: str) -> None:
    function = _function(name)
    assert callable(function)
    for argument, (low, high, unit) in OURS[name].items():
        for outside in (low - 1 - abs(low), high + 1 + abs(high), float("nan")):
            middles = {
                other: (bounds[0] + bounds[1]) / 2
                for other, bounds in OURS[name].items()
                if other != argument
            }
            with pytest.raises(OutOfRange) as caught:
                # What else the formula wants does not matter: limits are looked at first.
                _call(function, {**middles, argument: outside})
            assert caught.value.name == argument
            assert caught.value.unit == unit
            assert (caught.value.low, caught.value.high) == (low, high)


def _call(function: object, given: dict[str, float]) -> None:
    assert callable(function)
    bare = inspect.signature(function)
    for name, parameter in bare.parameters.items():
        if name not in given and parameter.default is inspect.Parameter.empty:
            given[name] = 1.0
    function(**given)


def test_limit_for_an_argument_that_is_not_there_is_our_own_mistake() -> None:
    with pytest.raises(TypeError, match="volts"):

        @limits(volts=(0, 1, "V"))
        def drop(amps: float) -> float:
            return amps


def test_unwrapped_formula_has_no_limit() -> None:
    from bot.sums.copper import drop_v

    assert inspect.unwrap(drop_v)(5000, 1) == 5000


def test_refusal_says_where_what_and_what_is_accepted() -> None:
    from bot.sums.copper import drop_v

    with pytest.raises(OutOfRange) as caught:
        drop_v(2000, 1)
    assert str(caught.value) == "amps is 2000 A; this formula holds from 0 to 1000 A (copper.py, drop_v)."
