"""One whole conversation of a simulated person with the program, in-process, and what came of it."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any

from bot.shells.session import Session
from bot.talk.knowledge import Knowledge
from bot.talk.view import as_json
from scripts.simulate.complaint import complain
from scripts.simulate.draws import pick, stream
from scripts.simulate.facts import Facts
from scripts.simulate.faults import CAUSES, OUTSIDE, fits, planted
from scripts.simulate.pages import CALL_OUT_MINUTES, MOST_VERDICTS, Repairs
from scripts.simulate.person import Need, Person
from scripts.simulate.trailer import EVERYTHING, GEAR_WEIGHTS, Trailer, draw_trailer

MOST_TURNS, MOST_REPEATS = 60, 3


@dataclass(frozen=True)
class Options:
    """How the trailers are drawn and the people answer."""

    seed: int = 1
    dont_know: float = 0.05
    even: bool = False
    two_faults: bool = False
    typos: float = 0.0
    tools: str = "drawn"  # or "all": everybody has everything, and a helper and a truck
    wrong: float = 0.045  # share of looks that are mistaken
    slip: float = 0.015  # share of readings with a wrong digit, or in the wrong unit


@dataclass
class Case:
    """A trailer with its planted causes, and the person beside it."""

    t: Trailer
    causes: tuple[str, ...]
    person: Person


@dataclass
class Played:
    """What came of one conversation."""

    number: int
    causes: tuple[str, ...]
    gear: str
    verdicts: list[tuple[str, float]] = field(default_factory=list)
    asked: list[tuple[str, str]] = field(default_factory=list)
    check_minutes: float = 0.0
    wrong_minutes: float = 0.0
    repaired: bool = False  # it works again
    first_mends: bool = False  # the first repair named mends it, under whatever name
    ended: str = ""
    unsafe: list[str] = field(default_factory=list)
    repeats: int = 0
    false_alarm: bool = False
    misread: list[str] = field(default_factory=list)
    missed: int = 0
    told: int = 0
    complaint: str = ""
    equipped: bool = False  # meter, helper, crank handle and truck at hand
    lines: list[str] = field(default_factory=list)

    @property
    def first_right(self) -> bool:
        """The first verdict names a planted cause (out of scope: it was pointed elsewhere)."""
        return bool(self.verdicts) and self.verdicts[0][0] in self.causes

    @property
    def within_two(self) -> bool:
        """One of the first two verdicts does."""
        return any(v in self.causes for v, _ in self.verdicts[:2])

    @property
    def cost(self) -> float:
        """Minutes of checks and of wrong repairs with their parts."""
        return self.check_minutes + self.wrong_minutes


def make_case(options: Options, number: int, needs: dict[str, Need]) -> Case:
    """Trailer `number` of a seed: gear and cause by weight, then the rest."""
    rng = stream(options.seed, number, "cause")
    if options.even:
        names = list(CAUSES)
        cause = names[number % len(names)]
        gears = {g: w for g, w in GEAR_WEIGHTS.items() if g in CAUSES[cause][1]}
        gear = pick(rng, gears)
    else:
        gear = pick(rng, GEAR_WEIGHTS)
        cause = pick(rng, {c: w for c, (w, g) in CAUSES.items() if gear in g})
    causes: tuple[str, ...] = (cause,)
    if options.two_faults and cause not in OUTSIDE:
        others = {
            c: w for c, (w, g) in CAUSES.items() if gear in g and c not in OUTSIDE and not _alike(c, cause)
        }
        causes = (cause, pick(rng, others))
    t = draw_trailer(options.seed, number, gear)
    for c in causes:
        t = fits(t, c)
    if options.tools == "all":
        t = replace(t, has=EVERYTHING)
    facts = Facts(t, planted(t, causes), causes)
    return Case(t, causes, Person(t, facts, needs, options.dont_know, options.wrong, options.slip))


def _alike(one: str, other: str) -> bool:
    return one == other or {one, other} <= {"motor_failed", "motor_shaft_sheared", "motor_undersized"}


def is_unsafe(need: Need, t: Trailer, finding: str) -> bool:
    """Whether a question sends somebody where the nose can come down: under it, or at a leg that must be free of weight
    while it is not known to be hitched."""
    if need.reach == "under" or "person under the nose" in need.hazards and finding not in (
        "hitched", "kingpin_locked"
    ):  # fmt: skip
        return True
    return need.weight_off and t.support != "hitched" and "truck" not in t.has


class Call:
    """Plays one case to the program."""

    def __init__(
        self, case: Case, knowledge: Knowledge, repairs: Repairs, options: Options, keep: bool = False
    ):
        self.case, self.repairs, self.options, self.keep = case, repairs, options, keep
        self.session, self.knowledge = Session(knowledge, None), knowledge
        self.left = list(case.causes)
        self.person = case.person
        self.person.told_missing = set()
        self.out = Played(case.t.number, case.causes, case.t.gear)
        self.out.equipped = {"meter", "helper", "crank handle", "truck"} <= case.t.has
        self.seen_questions: dict[str, int] = {}

    def say(self, text: str) -> dict[str, Any]:
        """One line to the program; its answer."""
        done = self.session.hear(text)
        said = as_json(self.session.state, done.replies, self.knowledge)
        if self.keep:
            self.out.lines.append(f"> {text}")
            self.out.lines += [f"  {line}" for line in said["say"]]
        return said

    def play(self) -> Played:
        """The whole call."""
        out = self.out
        first = complain(self.person, self.case.causes, self.options.typos)
        out.complaint = first.text
        said = self.say(first.text)
        out.told = len(first.told)
        self._compare(first.told, said["findings"])
        outside = self.case.causes[0] in OUTSIDE
        for _ in range(MOST_TURNS):
            if said["closed"]:
                out.ended = out.ended or "closed"
                break
            if said["alert"] == "out_of_scope":
                if outside:
                    out.verdicts.append((self.case.causes[0], 1.0))
                    out.ended, out.repaired, out.first_mends = "pointed elsewhere", True, True
                    break
                out.false_alarm = True
                said = self.say("it is the front legs, the landing gear")
                if said["alert"] == "out_of_scope":
                    out.ended = "held out of scope"
                    break
                continue
            if said["alert"] == "emergency":
                out.false_alarm = True
                said = self.say("yes, everybody is clear and it is over")
                continue
            if said["verdict"]:
                following = self._repair(said["verdict"])
                if following is None:
                    break
                said = following
                continue
            asking = said["asking"]
            if not asking:
                out.ended = "nothing asked"
                break
            following = self._answer(asking)
            if following is None:
                break
            said = following
        else:
            out.ended = "too long"
        if not out.repaired:
            out.wrong_minutes += CALL_OUT_MINUTES
        return out

    def _compare(self, told: dict[str, str], found: dict[str, Any]) -> None:
        """How the first line was read: findings told and missed, and findings taken that are not so."""
        plain = {k: {True: "yes", False: "no"}.get(v, v) for k, v in found.items()}
        self.out.missed = sum(k not in plain for k in told)
        for name, value in plain.items():
            truth = self.person.sees(name)
            if isinstance(truth, str) and isinstance(value, str) and value != truth:
                self.out.misread.append(f"{name}={value}")

    def _answer(self, asking: dict[str, Any]) -> dict[str, Any] | None:
        name, out = asking["finding"], self.out
        times = self.seen_questions[name] = self.seen_questions.get(name, 0) + 1
        if times > MOST_REPEATS:
            out.ended = f"stuck at {name}"
            return None
        need = self.person.needs.get(name)
        if need is None:
            return self.say("don't know")
        spoken = self.person.say(name)
        if times == 1:
            out.asked.append((name, spoken.text))
            out.check_minutes += spoken.minutes
            if is_unsafe(need, self.case.t, name):
                out.unsafe.append(name)
        elif spoken.value is not None:
            out.repeats += 1
        return self.say(spoken.text if times < 3 else "don't know")

    def _repair(self, verdict: dict[str, Any]) -> dict[str, Any] | None:
        """The repair done; what the trailer does now. None where the call ends."""
        out, cause, gear = self.out, verdict["cause"], self.case.t.gear
        out.verdicts.append((cause, float(verdict["chance"])))
        repair = self.repairs.procedures.get(verdict["document"])
        mended = [c for c in self.left if c == cause or (repair is not None and c in repair.mends)]
        if mended:
            out.first_mends = out.first_mends or len(out.verdicts) == 1
            self.left = [c for c in self.left if c not in mended]
            if not self.left:
                out.repaired, out.ended = True, "mended"
                self.say("fixed, it works again")
                return None
            return self._partly()
        if cause not in [v for v, _ in out.verdicts[:-1]]:  # done once; it costs nothing to say so again
            out.wrong_minutes += self.repairs.cost(cause, gear, verdict["document"])
        if len(out.verdicts) >= MOST_VERDICTS:
            out.ended = "five repairs in vain"
            return None
        return self.say("that did not fix it")

    def _partly(self) -> dict[str, Any] | None:
        """One of two faults is mended: the person tells what is still wrong, and answers from how it is now."""
        t, left = self.case.t, tuple(self.left)
        self.person = Person(
            t,
            Facts(t, planted(t, left), left),
            self.person.needs,
            self.person.dont_know,
            self.person.wrong,
            self.person.slip,
        )
        self.seen_questions = {}
        said = self.say("that helped but it is not fixed")
        if said["verdict"]:
            said = self.say("that did not fix it")
        if said["alert"]:
            return said
        return self.say(complain(self.person, left, self.options.typos, again=True).text)


__all__ = ["Call", "Case", "Options", "Played", "is_unsafe", "make_case"]
