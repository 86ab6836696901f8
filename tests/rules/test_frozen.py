"""The cheap frozen types behave as those of the standard decorator; each is compared with its standard twin."""

from __future__ import annotations

import dataclasses
import pickle
from typing import Any, ClassVar

import pytest

from bot import frozen
from bot.frozen import dataclass, field, replace


@dataclass(frozen=True)
class Mine:
    """A type of every kind of field."""

    a: int
    b: str = "x"
    c: list[int] = field(default_factory=list)
    d: object = field(default=None, compare=False, repr=False)
    shared: ClassVar[int] = 3


@dataclass(frozen=True)
class Below(Mine):
    """One that inherits, with a default of its own."""

    b: str = "y"
    e: float = 0.5


@dataclasses.dataclass(frozen=True)
class _StandardMine:
    a: int
    b: str = "x"
    c: list[int] = dataclasses.field(default_factory=list)
    d: object = dataclasses.field(default=None, compare=False, repr=False)
    shared: ClassVar[int] = 3


@dataclasses.dataclass(frozen=True)
class _StandardBelow(_StandardMine):
    b: str = "y"
    e: float = 0.5


PAIRS: tuple[tuple[Any, Any], ...] = ((Mine, _StandardMine), (Below, _StandardBelow))


@pytest.mark.parametrize(("mine", "standard"), PAIRS)
def test_made_shown_and_compared_like_the_standard_ones(mine: Any, standard: Any) -> None:
    for values, named in (((1,), {}), ((1, "z"), {"d": 4}), ((), {"a": 2, "c": [1]})):
        one, other = mine(*values, **named), standard(*values, **named)
        assert vars(one) == vars(other)
        assert repr(one) == repr(other).replace("_Standard", "")
        assert one == mine(*values, **named)
        assert one != other
        assert (one == mine(9)) == (other == standard(9))
    assert mine(1, d=1) == mine(1, d=2)
    assert mine(1).c is not mine(1).c
    for wrong in ({}, {"a": 1, "nothing": 2}):
        for cls in (mine, standard):
            with pytest.raises(TypeError):
                cls(**wrong)


@pytest.mark.parametrize(("mine", "standard"), PAIRS)
def test_frozen_replaced_listed_and_pickled_like_the_standard_ones(mine: Any, standard: Any) -> None:
    one = mine(1, "b")
    for name in ("a", "new"):
        with pytest.raises(dataclasses.FrozenInstanceError):
            setattr(one, name, 2)
    with pytest.raises(dataclasses.FrozenInstanceError):
        del one.a
    for made in (replace, dataclasses.replace):
        assert made(one, a=5) == mine(5, "b")
        assert vars(made(one, a=5)) == vars(dataclasses.replace(standard(1, "b"), a=5))
        with pytest.raises(TypeError):
            made(one, nothing=1)
    assert dataclasses.is_dataclass(mine)
    assert [f.name for f in dataclasses.fields(mine)] == [f.name for f in dataclasses.fields(standard)]
    assert dataclasses.asdict(one) == dataclasses.asdict(standard(1, "b"))
    again = pickle.loads(pickle.dumps(one))
    assert again == one
    assert type(again) is mine


def test_a_value_with_a_list_in_it_has_no_hash_and_one_without_has() -> None:
    @dataclass(frozen=True)
    class Plain:
        a: int
        b: tuple[int, ...] = ()

    assert hash(Plain(1)) == hash(Plain(1))
    assert len({Plain(1), Plain(1), Plain(2)}) == 2
    with pytest.raises(TypeError):
        hash(Mine(1))
    match Plain(4, (1,)):
        case Plain(a, (b,)):
            assert (a, b) == (4, 1)
        case _:
            pytest.fail("no match by place")


def test_what_asks_for_more_goes_to_the_standard_decorator() -> None:
    @dataclass(order=True)
    class Ordered:
        a: int

    assert Ordered(1) < Ordered(2)
    Ordered(1).a = 3
    assert not hasattr(Ordered, "_all_fields")
    assert frozen.replace(Ordered(1), a=2) == Ordered(2)
