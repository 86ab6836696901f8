"""The first line: what this person notices, put together from several ways of saying each thing."""

from __future__ import annotations

from dataclasses import dataclass

from scripts.simulate import phrases
from scripts.simulate.condition import crank_force_n
from scripts.simulate.draws import Random, stream
from scripts.simulate.person import Person
from scripts.simulate.sights import LOOKS

_LETTERS = "abcdefghijklmnopqrstuvwxyz"


@dataclass(frozen=True)
class Complaint:
    """The line and the findings it states."""

    text: str
    told: dict[str, str]


def misspelt(text: str, share: float, rng: Random) -> str:
    """The line with that share of its longer words mistyped: letters swapped, dropped, doubled or wrong."""
    words = text.split(" ")
    for i, word in enumerate(words):
        if len(word) < 4 or not word.isalpha() or rng.random() >= share:
            continue
        at = rng.randrange(1, len(word) - 1)
        kind = rng.randrange(4)
        words[i] = {
            0: word[:at] + word[at + 1] + word[at] + word[at + 2 :],
            1: word[:at] + word[at + 1 :],
            2: word[:at] + word[at] + word[at:],
            3: word[:at] + rng.choice(_LETTERS) + word[at + 1 :],
        }[kind]
    return " ".join(words)


def complain(person: Person, causes: tuple[str, ...], typos: float = 0.0, again: bool = False) -> Complaint:
    """The first line of this person; `again` for what is still wrong after a repair."""
    t = person.t
    rng = stream(t.seed, t.number, f"complaint {again}")
    outside = [c for c in causes if c in phrases.OUTSIDE]
    if outside:
        return Complaint(rng.choice(phrases.OPENINGS) + rng.choice(phrases.OUTSIDE[outside[0]]), {})
    told: dict[str, str] = {}
    parts: list[str] = []
    if not again and rng.random() < 0.4:
        parts.append(rng.choice(phrases.TASKS[t.task]))
    parts += _manual(person, rng, told) if t.gear == "manual" else _electric(person, rng, told)
    parts += _added(person, rng, told, causes)
    if not again and rng.random() < 0.5:
        parts.append(rng.choice(phrases.GEAR[t.gear]))
        told["gear"] = t.gear
    if not again and t.gear != "manual" and rng.random() < 0.12 and "meter" in t.has:
        volts = person.sees("volts_battery_resting")
        if isinstance(volts, float) and 5 < volts < 16:
            parts.append(
                rng.choice(("battery reads {n} at rest", "{n} volts on the battery at rest")).format(
                    n=f"{volts:g}"
                )
            )
    text = ", ".join(parts[:1]) + "".join(rng.choice((", ", ". ", " and ")) + p for p in parts[1:])
    line = text if again else rng.choice(phrases.OPENINGS) + text + rng.choice(phrases.CLOSINGS)
    if typos:
        line = misspelt(line, typos, rng)
    return Complaint(line, told)


def _electric(person: Person, rng: Random, told: dict[str, str]) -> list[str]:
    heard, moves = str(person.sees("button_response")), str(person.sees("legs_moving"))
    direction, slow = str(person.sees("direction_that_works")), person.sees("motor_slow") == "yes"
    parts: list[str] = []
    if moves in ("left", "right"):
        parts.append(rng.choice(phrases.MOVES[moves]))
        told["legs_moving"] = moves
    elif heard == "motor_runs" and moves == "neither":
        parts.append(rng.choice(phrases.HEARD["motor_runs neither"]))
        told.update(button_response=heard, legs_moving=moves)
    elif heard == "motor_runs" or moves == "both":
        if slow:
            parts.append(rng.choice(phrases.MOVES["both slow"]))
            told.update(motor_slow="yes")
        elif direction not in ("extend", "retract"):
            parts.append(rng.choice(phrases.MOVES["both"]))
            told["legs_moving"] = "both"
    else:
        parts.append(rng.choice(phrases.HEARD[heard]))
        told["button_response"] = heard
        if rng.random() < 0.35:
            parts.append(rng.choice(phrases.MOVES["neither"]))
            told["legs_moving"] = "neither"
    if direction in ("extend", "retract") and (not parts or rng.random() < 0.6):
        parts.append(rng.choice(phrases.DIRECTION[direction]))
        told["direction_that_works"] = direction
    return parts or ["the landing gear is not right"]


def _manual(person: Person, rng: Random, told: dict[str, str]) -> list[str]:
    moves, free = str(person.sees("legs_moving")), person.sees("crank_turns_freely") == "yes"
    force = crank_force_n(person.t, person.facts.c)
    if moves in ("left", "right"):
        told["legs_moving"] = moves
        return [rng.choice(phrases.MANUAL[moves])]
    if moves == "neither":
        key = "free" if free else "locked"
        told["crank_turns_freely"] = "yes" if free else "no"
        return [rng.choice(phrases.MANUAL[key])]
    if not free:
        told["crank_turns_freely"] = "no"
        return [rng.choice(phrases.MANUAL["stiff" if force < 350 else "locked"])]
    told["legs_moving"] = "both"
    return [rng.choice(phrases.MANUAL["both"])]


def _added(person: Person, rng: Random, told: dict[str, str], causes: tuple[str, ...]) -> list[str]:
    """What the person mentions beside it: what they noticed of themselves, mostly what came with the trouble.

    Somebody whose drive runs well complains of what they see, so of that at least one thing is told.
    """
    found: list[tuple[str, str, tuple[str, ...], float]] = []
    for table, value in ((phrases.ADDED, "yes"), (phrases.ADDED_NO, "no")):
        for finding, (chance, ways) in table.items():
            if person.sees(finding) == value == person.facts.values.get(finding) and finding not in told:
                if finding == "breaker_trips" and person.t.guard == "fuse":
                    ways = ("it blows fuses", "the fuse keeps blowing")
                by_cause = LOOKS.get(finding, (0.0, {}))[1]
                chance *= 1.0 if finding not in LOOKS or any(c in by_cause for c in causes) else 0.4
                found.append((finding, value, ways, chance))
    main = [f for f in found if f[0] in person.facts.certain]
    chosen = [f for f in found if rng.random() < f[3]]
    rng.shuffle(chosen)
    well = told.get("legs_moving") == "both" or told == {}
    if main and not any(f in chosen for f in main):
        chosen.insert(0, rng.choice(main))
    elif well and not chosen and found:
        chosen = [max(found, key=lambda f: f[3])]
    chosen.sort(key=lambda f: f not in main)
    chosen = chosen[: rng.choice((1, 2, 2, 3))]
    for finding, value, _, _ in chosen:
        told[finding] = value
    return [rng.choice(ways) for _, _, ways, _ in chosen]
