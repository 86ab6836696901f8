"""What a sum wants, in which unit and within which limits, and how it is called by name.

Values come in as plain numbers in the unit named here (or as a Span, low value high). The formulas are
imported when a sum is first run, so that reading the list costs next to nothing.
"""

from collections.abc import Callable, Mapping
from importlib import import_module
from math import isfinite
from typing import NamedTuple

from bot.problems import NotEnough
from bot.sums.result import Result
from bot.sums.spans import Span


class Input(NamedTuple):
    """One thing a sum wants.

    ``name`` is the argument of the formula, ``option`` the word on the command line. ``kind`` is "quantity"
    (a number in ``unit``), "number" (bare), "gauge", "choice", "text", "numbers" (a list) or "yes_no".
    ``assumed`` says what is taken where it is missing ("" where nothing can be).
    """

    name: str
    option: str
    kind: str
    unit: str = ""
    required: bool = False
    prompt: str = ""
    choices: tuple[str, ...] = ()
    assumed: str = ""


class Sum(NamedTuple):
    """One sum: name, one line of help, inputs, the arguments of an example, and the formula's place."""

    name: str
    help: str
    inputs: tuple[Input, ...]
    example: tuple[str, ...]
    place: str

    def run(self, inputs: Mapping[str, object]) -> Result:
        """The answer. ``inputs`` goes by ``name``; None counts as not given.

        Raises NotEnough for a missing or unknown input, OutOfRange and Contradiction as the formula does.
        """
        known = {one.name: one for one in self.inputs}
        given: dict[str, object] = {}
        for name, value in inputs.items():
            if name not in known:
                raise NotEnough(
                    self.name, f"inputs by their names: {', '.join(known)}. There is no {name} here."
                )
            if value is not None and value != "":
                given[name] = _fitting(self.name, known[name], value)
        for one in self.inputs:
            if one.required and one.name not in given:
                raise NotEnough(self.name, f"{one.prompt} (--{one.option})")
        module, _, function = self.place.rpartition(".")
        call: Callable[..., Result] = getattr(import_module(module), function)
        return call(**given)


def _fitting(sum_name: str, wanted: Input, value: object) -> object:
    """The value as the formula takes it. Raises NotEnough where it is of another kind."""
    if wanted.kind == "choice" and value not in wanted.choices:
        raise NotEnough(sum_name, f"{wanted.option} as one of: {', '.join(wanted.choices)}")
    if wanted.kind == "yes_no":
        if value in ("yes", "no"):
            return value == "yes"
        if not isinstance(value, bool):
            raise NotEnough(sum_name, f"{wanted.option} as yes or no")
    if wanted.kind in ("quantity", "number", "count"):
        if isinstance(value, bool) or not isinstance(value, (int, float, Span)):
            raise NotEnough(
                sum_name, f"{wanted.option} as a number{' in ' + wanted.unit if wanted.unit else ''}"
            )
        if not all(isfinite(part) for part in (value if isinstance(value, Span) else (value,))):
            raise NotEnough(sum_name, f"{wanted.option} as a number that is written out")
        if wanted.kind != "quantity" and isinstance(value, Span):
            return round(value.value) if wanted.kind == "count" else value.value
        if wanted.kind == "count":
            return round(float(value))  # type: ignore[arg-type]  # a Span was returned above
    if wanted.kind == "numbers" and not isinstance(value, (list, tuple)):
        raise NotEnough(sum_name, f"{wanted.option} as a list of numbers")
    return value


def quantity(
    name: str, option: str, unit: str, prompt: str, assumed: str = "", required: bool = False
) -> Input:
    """A quantity that may carry a range."""
    return Input(name, option, "quantity", unit, required, prompt, (), assumed)


def number(
    name: str, option: str, unit: str, prompt: str, assumed: str = "", required: bool = False
) -> Input:
    """A number whose formula takes no range."""
    return Input(name, option, "number", unit, required, prompt, (), assumed)


def choice(name: str, option: str, choices: tuple[str, ...], prompt: str, assumed: str = "") -> Input:
    """One word of a closed list."""
    return Input(name, option, "choice", "", False, prompt, choices, assumed)


def count(name: str, option: str, prompt: str, assumed: str = "") -> Input:
    """A whole number of things."""
    return Input(name, option, "count", "", False, prompt, (), assumed)


def yes_no(name: str, option: str, prompt: str, assumed: str = "no") -> Input:
    """Yes or no."""
    return Input(name, option, "yes_no", "", False, prompt, (), assumed)
