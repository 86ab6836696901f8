"""The person beside the trailer: how the truth becomes an answer, with meter error, slips, mistakes and missing tools.

An answer hangs on the trailer and the question alone, so every way of asking hears the same one.
"""

from __future__ import annotations

from dataclasses import dataclass

from scripts.simulate.draws import stream
from scripts.simulate.facts import Facts, Value
from scripts.simulate.trailer import OPEN_OHM, Trailer

CHOICES = {
    "legs_moving": ("both", "left", "right", "neither"),
    "button_response": ("silent", "clicks", "hums", "motor_runs"),
    "direction_that_works": ("both", "extend", "retract", "neither"),
}
NEVER_WRONG = {"gear", "support", "hitched", "kingpin_locked"}
METER = {"volts_battery_resting", "volts_battery_loaded", "volts_motor_loaded", "volts_ground_drop", "volts_switch_in",
         "volts_switch_out", "volts_relay_in", "volts_relay_out"}  # fmt: skip


@dataclass(frozen=True)
class Need:
    """What a question needs: read from the head of its page."""

    minutes: float
    tools: tuple[str, ...] = ()
    people: int = 1
    weight_off: bool = False
    reach: str = "outside"
    hazards: tuple[str, ...] = ()
    unit: str = ""
    asked: bool = True


@dataclass(frozen=True)
class Spoken:
    """An answer: the value (None: not known), the words for it, and the minutes it took."""

    value: Value | None
    text: str
    minutes: float


@dataclass
class Person:
    """Answers questions about one trailer. `dont_know` is the share of questions that get no answer."""

    t: Trailer
    facts: Facts
    needs: dict[str, Need]
    dont_know: float = 0.05
    wrong: float = 0.045
    slip: float = 0.015

    def __post_init__(self) -> None:
        self.told_missing: set[str] = set()

    def sees(self, finding: str) -> Value | None:
        """What this person takes to be so, mistakes and meter included; None where it cannot be seen at all."""
        truth = self.facts.values.get(finding)
        if truth is None:
            return None
        rng = stream(self.t.seed, self.t.number, f"sees {finding}")
        if isinstance(truth, str):
            chance = (
                0.02 if finding in CHOICES else self.wrong
            )  # what a leg or motor plainly does is mistaken less
            if finding in NEVER_WRONG or finding in self.facts.certain or rng.random() >= chance:
                return truth
            if truth in ("yes", "no"):
                return "no" if truth == "yes" else "yes"
            return rng.choice([c for c in CHOICES[finding] if c != truth])
        return float(self._read(finding, truth))

    def _read(self, finding: str, truth: float) -> float:
        rng = stream(self.t.seed, self.t.number, f"reads {finding}")
        if finding in METER:
            value = abs(truth * (1 + rng.gauss(0, 0.005)) + rng.choice((-0.01, 0, 0.01)))
            value = round(value, 2) if rng.random() < 0.5 else round(value, 1)
            if rng.random() < self.slip:
                return value * 1000 if rng.random() < 0.4 and value < 2 else self._wrong_digit(value)
            return value
        if finding == "amps":
            value = round(max(0.0, truth * (1 + rng.gauss(0, 0.015)) + rng.uniform(-0.4, 0.4)), 1)
            return self._wrong_digit(value) if rng.random() < self.slip else value
        if finding == "wire_length_ft":
            return max(1.0, float(round(truth * rng.uniform(0.8, 1.25))))
        if finding == "wire_gauge_awg":
            return truth if rng.random() < 0.95 else truth + rng.choice((-2, 2))
        if finding == "leg_length_difference_in":
            return round(max(0.0, truth + rng.gauss(0, 0.1)) * 4) / 4
        if finding in ("pin_weight_lb", "gross_weight_lb"):
            return round(truth * (1 + rng.gauss(0, 0.01)), -1)
        return truth

    def _wrong_digit(self, value: float) -> float:
        """The number with one digit typed as another, or its point left out."""
        rng = stream(self.t.seed, self.t.number, f"digit {value}")
        text = f"{value:g}"
        if "." in text and rng.random() < 0.3:
            return float(text.replace(".", ""))
        places = [i for i, ch in enumerate(text) if ch.isdigit()]
        place = rng.choice(places)
        return float(text[:place] + rng.choice("0123456789") + text[place + 1 :])

    def lacks(self, finding: str) -> str:
        """What is missing for this check, or ""."""
        need = self.needs.get(finding)
        if need is None:
            return ""
        for tool in need.tools:
            if tool not in ("none", *self.t.has):
                return tool
        if need.people > 1 and "helper" not in self.t.has:
            return "helper"
        if need.weight_off and "truck" not in self.t.has:
            return "truck"
        return ""

    def answers(self, finding: str) -> Value | None:
        """The value this person would give if asked, or None: not known, no tool, nobody to help."""
        if self.lacks(finding):
            return None
        rng = stream(self.t.seed, self.t.number, f"knows {finding}")
        if finding not in ("gear", "support") and rng.random() < self.dont_know:
            return None
        return self.sees(finding)

    def minutes(self, finding: str) -> float:
        """Minutes this question takes: the page's where it is answered, one where it is not."""
        need = self.needs.get(finding)
        if need is None or self.answers(finding) is None:
            return 1.0
        return need.minutes

    def say(self, finding: str) -> Spoken:
        """The typed answer."""
        value = self.answers(finding)
        minutes = self.minutes(finding)
        if value is None:
            lack = self.lacks(finding)
            told = {
                "meter": "no meter",
                "clamp meter": "no meter" if "meter" not in self.t.has else "",
                "helper": "i am alone here",
                "truck": "no truck here",
            }.get(lack, "")
            if told and lack not in self.told_missing:
                self.told_missing.add(lack)
                return Spoken(None, told, minutes)
            return Spoken(None, "don't know", minutes)
        if isinstance(value, float):
            unit = self.needs[finding].unit if finding in self.needs else ""
            return Spoken(value, f"{value:g} {unit}".strip(), minutes)
        return Spoken(value, value, minutes)


def sound_person(t: Trailer, facts: Facts, needs: dict[str, Need], dont_know: float) -> Person:
    """A person beside this trailer."""
    return Person(t, facts, needs, dont_know)


__all__ = ["OPEN_OHM", "Need", "Person", "Spoken", "sound_person"]
