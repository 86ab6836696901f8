"""Where a conversation stands. Frozen: every turn makes a new one, and the one before is kept for "back"."""

from __future__ import annotations

from enum import Enum

from bot.frozen import dataclass, field
from bot.talk.events import Event


class Stage(Enum):
    """What the conversation waits for."""

    HEARING = "hearing"  # the complaint
    ASKING = "asking"  # the answer to a check
    OFFERED = "offered"  # whether to walk the repair
    HELD = "held"  # a typed yes to a hold
    REPAIRING = "repairing"  # a step to be done
    PROVING = "proving"  # whether it is mended
    DANGER = "danger"  # whether the danger is over
    OUTSIDE = "outside"  # pointed elsewhere
    CLOSED = "closed"


@dataclass(frozen=True)
class Found:
    """One finding: its value, the words it came from, the turn, and its range where it is a reading."""

    name: str
    value: str | float
    words: str
    turn: int
    low: float | None = None
    high: float | None = None
    weighed: bool = False  # heard by the weights of words alone: what is told in plain words goes before it


@dataclass(frozen=True)
class Asking:
    """The open question as the contract shows it."""

    finding: str
    kind: str
    unit: str = ""
    choices: tuple[str, ...] = ()


@dataclass(frozen=True)
class Verdict:
    """What it would act on: the cause, its chance, the procedure."""

    cause: str
    chance: float
    document: str


@dataclass(frozen=True)
class Walk:
    """A procedure being walked: which, the step shown or waited for, the holds opened, parts taken off so far."""

    document: str
    step: int
    opened: frozenset[str] = frozenset()
    off: frozenset[str] = frozenset()
    digest: str = ""  # SHA-256 of the page as it was when the walk began


@dataclass(frozen=True)
class Given:
    """One input of a sum: the argument's name, its value, how it is read back, and whether the case told it."""

    name: str
    value: object
    echo: str
    from_case: bool = False


@dataclass(frozen=True)
class OpenSum:
    """A sum that was asked for and still lacks something: what it has, what was left out, which option is asked."""

    name: str
    given: tuple[Given, ...] = ()
    left: tuple[str, ...] = ()
    asking: str = ""
    missed: int = 0


@dataclass(frozen=True)
class Doubt:
    """A line that may tell of a danger: of which kind, the line, and the state it was said to."""

    kind: str
    text: str
    asked: State = field(compare=False, repr=False)


@dataclass(frozen=True)
class State:
    """The whole conversation. `before` is the state before the last line, for "back"."""

    stage: Stage = Stage.HEARING
    turn: int = 0
    wording: str = "owner"
    units: str = "us"
    found: tuple[Found, ...] = ()
    unknown: tuple[str, ...] = ()
    asking: Asking | None = None
    reason: tuple[str, ...] = ()  # causes the open question separates
    tools: tuple[tuple[str, bool], ...] = ()
    helper: bool | None = None
    truck: bool | None = None
    doubt: Doubt | None = None  # a danger that the last line may have told of, while it is asked about
    doubted: tuple[str, ...] = ()  # kinds of danger that were asked about already
    conditions: tuple[str, ...] = ()  # where and when the work is done: dark, rain, slope ...
    tried: tuple[str, ...] = ()
    settled: tuple[
        tuple[str, str], ...
    ] = ()  # pairs of answers that were asked about because they pull apart
    alert: str = ""
    danger: str = ""
    pointer: str = ""
    verdict: Verdict | None = None
    walk: Walk | None = None
    off: frozenset[str] = frozenset()  # parts that may be off the trailer, whatever was said or walked since
    documents: tuple[str, ...] = ()
    missed: int = 0  # lines in a row that were not understood
    words: str = ""  # the complaint as told so far, for the search
    drawings: str = "on"  # "off" for a screen reader: nothing is drawn
    sum: OpenSum | None = None  # the sum whose input is asked for just now
    last_sum: OpenSum | None = None  # the sum told last, for "draw it"
    worked: tuple[str, ...] = ()  # sums told already, each with its inputs
    told: tuple[
        Given, ...
    ] = ()  # what only sums use, told on the way: seconds of a lift, ratings of the legs
    noted: tuple[str, ...] = ()  # notes of sums told already
    corrected: tuple[str, ...] = ()  # wrong rules of thumb put right already
    log: tuple[Event, ...] = ()
    before: State | None = field(default=None, compare=False, repr=False)

    def value(self, name: str) -> str | float | None:
        """The value of a finding, or None."""
        return next((f.value for f in self.found if f.name == name), None)

    def findings(self) -> dict[str, str | float]:
        """Every finding by name."""
        return {f.name: f.value for f in self.found}

    @property
    def support(self) -> str:
        """What holds the nose up, as far as it was said: hitched, legs, stands, unsure."""
        value = self.value("support")
        return str(value) if value is not None else "unsure"
