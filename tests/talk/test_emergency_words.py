"""What an emergency says: at most four short lines, the number to call, what not to do, and no cure in it."""

from __future__ import annotations

import pytest

from bot.talk.danger import enter
from bot.talk.state import Stage, State

KINDS = [
    "person hurt", "nose dropped", "smoke or runaway", "jaws not locked", "support taken away", "person under it",
]  # fmt: skip
# A line of at most 90 letters is two lines of a phone held upright; our own bound, no source.
LONGEST = 92


@pytest.mark.parametrize("kind", KINDS)
def test_four_short_lines_at_most(kind: str) -> None:
    lines = [line.text for line in enter(State(), kind).lines]
    assert 3 <= len(lines) <= 4
    assert [line for line in lines if len(line) > LONGEST] == []
    assert lines[-1].split("Tell me when")[-1].strip()
    assert "Tell me when" in lines[-1]


@pytest.mark.parametrize("kind", KINDS)
def test_each_says_what_must_not_be_done(kind: str) -> None:
    text = " ".join(line.text for line in enter(State(), kind).lines).lower()
    assert any(word in text for word in ("do not", "press nothing", "press no", "hands off", "no bolt"))
    assert enter(State(), kind).state.stage is Stage.DANGER


@pytest.mark.parametrize("kind", ["person hurt", "nose dropped", "smoke or runaway", "person under it"])
def test_where_somebody_may_be_hurt_the_number_is_named(kind: str) -> None:
    text = " ".join(line.text for line in enter(State(), kind).lines)
    assert "local emergency number" in text


@pytest.mark.parametrize("kind", ["person hurt", "nose dropped", "person under it"])
def test_nothing_is_raised_with_what_failed(kind: str) -> None:
    """WAC 296-307-22509(3): nobody under a load that a jack alone holds."""
    text = " ".join(line.text for line in enter(State(), kind).lines).lower()
    assert "with what failed" in text or "jack or leg that failed" in text
