"""Which amps a quantity of a line is: of a fuse, of the motor's label, or drawn."""

from __future__ import annotations

from bot.corpus.lexicon import Heard
from bot.corpus.patterns import Token
from bot.talk.spots import FAR, Cues, Spot

_DRAWN = frozenset(
    [
        "draw",
        "draws",
        "drawing",
        "pull",
        "pulls",
        "pulling",
        "pulled",
        "drew",
        "take",
        "takes",
        "clamp",
        "ammeter",
        "measured",
        "measure",
        "peak",
    ]
)


def _claims(words: Cues, spot: Spot, cue: Heard) -> bool:
    """Whether no other label of fuse or motor is nearer to a number than this one."""
    far = words.distance(spot, cue)
    labels = (*words.cues.get("place: fuse", ()), *words.cues.get("place: motor tag", ()))
    return not any(words.distance(spot, label) < far for label in labels)


def amp_finding(words: Cues, spot: Spot, amps: list[Spot]) -> str:
    """Amps of a fuse, of the motor's label, or drawn. A label nearer to another number is that one's own."""
    line = words.line
    behind = line[spot.last + 1].text if spot.last + 1 < len(line) else ""
    drawn = any(t.text in _DRAWN for t in line[max(0, spot.first - 3) : spot.first])

    def role(meaning: str) -> float:
        """How far the nearest cue of that meaning is that no other amps are nearer to."""
        least = float(FAR)
        for cue in words.cues.get(meaning, ()):
            far = float(words.distance(spot, cue))
            if any(o is not spot and words.distance(o, cue) < far and _claims(words, o, cue) for o in amps):
                continue
            if cue.start > spot.last:
                far -= 0.5
            least = min(least, far - 0.1 * (cue.end - cue.start))
        return least

    fuse, tag = role("place: fuse"), role("place: motor tag")
    if drawn and not (fuse <= 1 and behind):
        return "amps"
    if fuse <= (5 if spot.found.unit is None else 3) and fuse <= tag:
        return "fuse_rating_a"
    if tag <= 6 or (len(amps) == 1 and tag < FAR and fuse == FAR and not drawn):
        return "motor_rating_a"
    if behind == "motor" and line[spot.last + 1].comma == spot.comma:
        return "motor_rating_a"  # "a 35 A motor"
    return "amps"


_CLAMPS = {
    ("amp", "clamp"), ("clamp", "meter"), ("clamp", "on"), ("current", "clamp"), ("clamp", "reads"), ("clamp", "shows"),
    ("clamp", "says"), ("clamp", "read"), ("clamp", "showed"), ("clamp", "said"), ("clampmeter", "reads"),
}  # fmt: skip


def clamped(line: tuple[Token, ...]) -> bool:
    """Whether the line speaks of an ammeter put round a wire: "amp clamp", "clamp meter", "clamp-on"."""
    texts = [t.text for t in line]
    pairs = set(zip(texts, texts[1:], strict=False))
    return bool(pairs & _CLAMPS)
