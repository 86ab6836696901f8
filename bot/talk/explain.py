"""Why: what a question separates, what speaks for and against a cause, what would change the verdict."""

from __future__ import annotations

from bot.corpus.model import Procedure
from bot.frozen import replace
from bot.reason.chances import ELSE, Standing, discrete, part_words, predicted, row_of, standing
from bot.reason.circuit import READINGS
from bot.talk.in_danger import IN_DANGER, why_in_danger
from bot.talk.knowledge import Knowledge
from bot.talk.phrasing import Line, first_lower, found_words, percent, title_of, value_words
from bot.talk.state import Found, State
from bot.talk.which import WHICH, why_which

_TELLING = ("volts_battery_loaded", "volts_motor_loaded", "volts_ground_drop", "amps")
_NO_EVIDENCE = {"support", "hitched", "kingpin_locked", "gear"}


def cause_title(name: str, knowledge: Knowledge) -> str:
    """A cause in plain words."""
    return (
        "something this page set does not know"
        if name == ELSE
        else first_lower(knowledge.causes[name].page.title)
    )


def why_asked(state: State, knowledge: Knowledge) -> list[Line]:
    """The reason of the open question: the causes it separates and what each answer would do."""
    asking = state.asking
    if asking is None:
        return []
    if asking.finding == WHICH:
        return [why_which()]
    if asking.finding == IN_DANGER:
        return [why_in_danger()]
    names = [cause_title(n, knowledge) for n in state.reason]
    if asking.finding == "support":
        return [
            Line(
                "say",
                "Because people are hurt when a nose comes down: what may be tried, and in which order, hangs on what holds it up.",
            )
        ]
    if asking.finding == "gear":
        return [
            Line(
                "say",
                "Because a hand crank, one motor with a bar, and a motor on each leg fail in different places; the answer strikes out what cannot be.",
            )
        ]
    if not names or asking.finding not in knowledge.checks:
        return [Line("say", "It decides whether the next step can be done without anybody hurt.")]
    lines = [Line("say", f"It tells apart: {', '.join(names)}.")]
    now = standing(knowledge.model, state.findings(), state.tried)
    gear = state.value("gear")
    rows = predicted(knowledge.model, now, asking.finding, str(gear) if gear is not None else None)
    check = knowledge.checks[asking.finding]
    reading = asking.finding in READINGS
    led: set[int] = set()
    if not reading and check.kind == "quantity":
        rows = {}
    for answer, row in sorted(rows.items(), key=lambda r: -_likely(now, r[1])) if reading else rows.items():
        weights = [c * r for c, r in zip(now.chances, row, strict=True)]
        total = sum(weights)
        best = max(range(len(weights)), key=lambda i: weights[i])
        if total < 0.02 or (reading and (best in led or len(led) == 3)):
            continue
        led.add(best)
        words = (
            part_words(asking.finding, answer)
            if reading
            else first_lower(value_words(check, answer, state.units)).rstrip(".")
        )
        lines.append(
            Line(
                "note",
                f"{words}: then {cause_title(knowledge.model.names[best], knowledge)} leads with {percent(weights[best] / total)} in 100.",
            )
        )
    if asking.kind == "quantity":
        section = check.page.section("What it means")
        lines += [Line("note", b) for b in (section.bullets[:2] if section else ())]
    return lines


def _likely(now: Standing, row: tuple[float, ...]) -> float:
    return sum(c * r for c, r in zip(now.chances, row, strict=True))


def for_and_against(
    cause: str, state: State, knowledge: Knowledge, now: Standing
) -> tuple[list[str], list[str]]:
    """Findings that raise and that lower the chance of a cause, strongest first: each by leaving it out."""
    index = knowledge.model.index[cause]
    findings = state.findings()
    scored = []
    for found in state.found:
        if found.name in _NO_EVIDENCE:
            continue
        rest = {k: v for k, v in findings.items() if k != found.name}
        without = standing(knowledge.model, rest, state.tried).chances[index]
        scored.append((now.chances[index] - without, found))
    scored.sort(key=lambda pair: -abs(pair[0]))
    raised = [found_words(f, state, knowledge) for gain, f in scored if gain > 0.01]
    lowered = [
        found_words(f, state, knowledge)
        for gain, f in scored
        if gain < -0.05 and _odd(cause, f, state, knowledge)
    ]
    return raised[:4], lowered[:3]


def _odd(cause: str, found: Found, state: State, knowledge: Knowledge) -> bool:
    """Whether a finding would be seldom under the cause, not only commoner under another."""
    model = knowledge.model
    answer = discrete(model, found.name, found.value)
    gear = state.value("gear")
    if answer is None:
        return True
    return row_of(model, found.name, answer, str(gear) if gear else None)[model.index[cause]] < 0.3


def mind_changer(cause: str, state: State, knowledge: Knowledge, now: Standing, asked: frozenset[str]) -> str:
    """The one answer still open that would take most from the cause."""
    model = knowledge.model
    index = model.index[cause]
    gear = state.value("gear")
    best, words = now.chances[index] - 0.02, ""
    for finding, check in model.checks.items():
        if (
            finding in state.findings()
            or finding in _NO_EVIDENCE
            or finding in asked
            or check.page.head.get("asked") == "no"
        ):
            continue
        if check.kind == "quantity" and finding not in _TELLING:
            continue
        rows = predicted(model, now, finding, str(gear) if gear else None)
        if gear is not None and gear not in check.fits:
            continue
        for answer, row in rows.items():
            weights = [c * r for c, r in zip(now.chances, row, strict=True)]
            total = sum(weights)
            # A look settles it for more people than a meter does: a reading has to take a good deal more away.
            left = weights[index] / total + (0.25 if finding in READINGS else 0.0) if total > 0.004 else 1.0
            if left < best:
                best = left
                said = (
                    part_words(finding, answer)
                    if finding in READINGS
                    else first_lower(value_words(check, answer, state.units)).rstrip(".")
                )
                words = f"{title_of(finding, knowledge)}: {said}"
    return words


def more_of(state: State, knowledge: Knowledge) -> list[Line]:
    """What stands behind a verdict: what the fault is, what it is mistaken for and what settles it."""
    assert state.verdict is not None
    page = knowledge.causes[state.verdict.cause].page
    section = page.section("What it is")
    text = section.text.split("```")[0] if section else page.title
    lines = [Line("say", " ".join(text.split()))]
    lines += [Line("note", "Mistaken for " + b) for b in page.bullets("Mistaken for")[:3]]
    lines.append(
        Line(
            "ask",
            "Shall we go through the repair? yes, no, other causes, what do I order, or that did not fix it.",
        )
    )
    return lines


def verdict_lines(state: State, knowledge: Knowledge, procedure: Procedure | None) -> list[Line]:
    """What is wrong, how sure, why, what else, and what would change it."""
    assert state.verdict is not None
    now = standing(knowledge.model, state.findings(), state.tried)
    cause = state.verdict.cause
    raised, lowered = for_and_against(cause, state, knowledge, now)
    ranked = sorted(range(len(now.chances)), key=lambda i: -now.chances[i])
    others = [
        f"{cause_title(knowledge.model.names[i], knowledge)} {percent(now.chances[i])}"
        for i in ranked
        if knowledge.model.names[i] != cause and now.chances[i] > 0.02
    ][:3]
    lines = [
        Line(
            "say",
            f"Most likely: {cause_title(cause, knowledge)}, {percent(state.verdict.chance)} in 100 (by our own weights, not by counted repairs).",
        )
    ]
    lines.append(
        Line("note", "For it: " + ("; ".join(raised) if raised else "nothing beyond how common it is") + ".")
    )
    lines.append(Line("note", "Against it: " + ("; ".join(lowered) if lowered else "nothing so far") + "."))
    if others:
        lines.append(Line("note", "It could also be: " + ", ".join(others) + "."))
    changer = mind_changer(cause, state, knowledge, now, frozenset(state.unknown))
    if changer:
        lines.append(Line("note", f"What would change my mind: {changer}."))
    if procedure is not None:
        off = (
            "the leg comes off"
            if procedure.needs_leg_off
            else "a part comes off"
            if any(set(s.removes) - {"pin"} for s in procedure.steps)
            else "a pin comes out"
            if any(s.removes for s in procedure.steps)
            else "no part comes off"
        )
        truck = ", truck hitched" if procedure.needs_truck else ""
        lines.append(
            Line(
                "say",
                f"Mending it: {procedure.page.title}. About {procedure.minutes:g} minutes, {procedure.people} {'person' if procedure.people == 1 else 'people'}, {off}{truck}.",
            )
        )
    lines.append(
        Line(
            "ask",
            "Shall we go through it? yes, or: why, other causes, that did not fix it, record, put aside.",
        )
    )
    return lines


def nothing_left(state: State, knowledge: Knowledge, now: Standing) -> tuple[State, tuple[Line, ...]]:
    """Where no question and no repair is worth its minutes: who to call, what to hand over, and what would go on."""
    ranked = sorted(range(len(knowledge.model.causes)), key=lambda i: -now.chances[i])[:3]
    guesses = ", ".join(
        f"{cause_title(knowledge.model.names[i], knowledge)} {percent(now.chances[i])}" for i in ranked
    )
    documents = tuple(d for d in ("call-the-right-shop",) if d in knowledge.pages)
    lines = (
        Line("say", "I stop here: no repair left is likely enough to be worth its time and its part, and no question left would change that."),
        Line("note", f"Not ruled out, in 100: {guesses}."),
        Line("say", "A certified RV technician, best one who comes to you, is the cheaper way from here. Say record, and hand it over: it saves asking all this again."),
        Line("ask", "Or tell me anything new: a reading, a sound, an answer you could not give before."),
    )  # fmt: skip
    return replace(state, asking=None, reason=(), documents=documents), lines
