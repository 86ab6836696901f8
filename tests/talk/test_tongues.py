"""Spanish and French: said so in that language, words of danger caught, no word taken for another that looks alike."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from bot.talk.events import Said
from bot.talk.knowledge import Knowledge
from bot.talk.state import Stage, State
from bot.talk.tongues import PAGE, TONGUES, Tongue, danger_in, tongue_of
from bot.talk.turn import turn

LINES = Path(__file__).resolve().parents[1] / "lines"
SPANISH, FRENCH = TONGUES


@pytest.mark.parametrize(
    ("line", "tongue"),
    [
        ("las patas delanteras no suben, solo hace clic", SPANISH),
        ("la pata izquierda del remolque no baja cuando aprieto el botón", SPANISH),
        ("les béquilles avant ne montent plus", FRENCH),
        ("le moteur tourne mais les pieds ne bougent pas", FRENCH),
    ],
)
def test_a_complaint_is_answered_in_its_language(line: str, tongue: Tongue, knowledge: Knowledge) -> None:
    done = turn(State(), Said(line), knowledge)
    assert done.replies[0].text == tongue.says
    assert PAGE in tongue.says
    assert PAGE in knowledge.pages
    assert done.state.stage is not Stage.DANGER


def test_solo_is_not_alone(knowledge: Knowledge) -> None:
    state = turn(State(), Said("las patas delanteras no suben, solo hace clic"), knowledge).state
    assert state.helper is None
    assert turn(State(), Said("legs stuck, I am alone here"), knowledge).state.helper is False


@pytest.mark.parametrize(
    "line",
    [
        "mi hijo está herido, la pata le cayó en el pie",
        "hay mucho humo en el motor de las patas",
        "el remolque se cayó de las patas",
        "mon frère est dessous et la remorque descend",
        "il y a de la fumée qui sort du moteur",
    ],
)
def test_danger_is_caught_and_said_in_both_languages(line: str, knowledge: Knowledge) -> None:
    tongue = tongue_of(line)
    assert tongue is not None
    done = turn(State(), Said(line), knowledge)
    assert done.state.stage is Stage.DANGER
    assert done.replies[0].text == tongue.alarm
    assert any("emergency number" in reply.text for reply in done.replies)


@pytest.mark.parametrize(
    ("line", "tongue"),
    [
        ("no hay nadie debajo del remolque", SPANISH),
        ("no sale humo del motor", SPANISH),
        ("il n'y a pas de fumée", FRENCH),
        ("personne n'est blessé", FRENCH),
    ],
)
def test_what_is_denied_is_no_danger(line: str, tongue: Tongue) -> None:
    assert danger_in(line, tongue) == ""


def test_a_stop_stays_shut_to_a_line_that_is_not_read(knowledge: Knowledge) -> None:
    state = State()
    for line in (
        "motor hums, one motor, truck is hitched, jaws locked, I saw them",
        "clean the ground",
        "yes",
    ):
        state = turn(state, Said(line), knowledge).state
    for line in (
        "si, esta todo bien con las ruedas del remolque",
        "oui, tout est fait avec les roues de la remorque",
    ):
        done = turn(state, Said(line), knowledge)
        assert tongue_of(line) is not None
        assert (done.state.stage, done.state.walk) == (state.stage, state.walk)


def test_english_is_never_taken_for_another_language() -> None:
    """Every line of the sets d to g; the lines in another language stand in a to c."""
    lines = [
        row.get("line") or row.get("complaint") or ""
        for file in sorted(LINES.glob("*_[d-g].jsonl"))
        for row in map(json.loads, file.read_text(encoding="utf-8").splitlines())
    ]
    assert len(lines) > 1800
    assert [line for line in lines if tongue_of(line)] == []
