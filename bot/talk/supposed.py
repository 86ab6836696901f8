"""Which words of a line only ask, guess or tell of another trailer, so that nothing in them was found on this one.

"Would I hear a hum if the motor was stuck?" tells of no hum; "why does it hum when I press it" does. A line is cut
into pieces at full stops, commas and words such as "but" and "because"; a piece that opens as a general question is
left out whole, a guess ("it could be running slow") from the word of guessing on. What is told of years ago or of
other gear counts only where it lasts or speaks of the supply: a new motor, a knocked leg, lights that are dead too.
"""

from __future__ import annotations

import re

from bot.corpus.patterns import Token
from bot.frozen import dataclass

_GO_ON = frozenset(
    ("if", "when", "while")
)  # after one of these a piece goes on, unless a comma stands before it
_CUTS = frozenset(("why", "since"))  # "could that be why it hums" tells of the hum
_STOP = re.compile(r"[,()\":—–]")
_EARLY = 3  # words before a guess that tell nothing of their own: "the fuse could be", "the dealer guessed"

_LEAD = (
    r"(?:(?:so|and|ok|okay|well|hi|hello|hey|hmm?|quick question|question|just|now|also|or|then|anyway|sorry|please"
    r"|another question|i wonder|wondering)[\s:]+)*"
)
_WHAT = r"(?:the|an?|it|that|this|there|they|these|those|he|she|my|our|your|any|both|either|one|each|all|\w+ing)\b"
_I = r"(?:i|we)\b"
_SENSE = r"(?:even |ever |really |still |be )*(?:hear|see|feel|expect|find|notice|measure|get a)\w*\b"
_KNOW = r"(?:know|tell|check|see|find out|test|be sure|figure out|work out|make sure|say)\b"
_GENERAL = re.compile(
    rf"{_LEAD}(?:"
    rf"(?:would|wouldn'?t) (?:{_WHAT}|{_I})"
    rf"|(?:could|couldn'?t|should|shouldn'?t|might) (?:{_WHAT}|{_I} {_SENSE})"
    rf"|could {_I} have\b"
    rf"|(?:will|won'?t) {_WHAT}.*\bif\b"
    rf"|(?:will|do|can|may) {_I} {_SENSE}.*\bif\b"
    r"|(?:(?:what|when|where|how|which|who)\b.*\b)?(?:is|are|am|isn'?t|aren'?t)\b.*\b(?:supposed|meant|ought|designed) to\b"
    r"|what if\b|what happens (?:if|when)\b|what would happen\b|suppos(?:e|ing)\b|imagine\b|hypothetically\b"
    r"|what (?:does|will|might|could) (?:it|that) mean if\b"
    r"|(?:what|how|where|when) (?:would|should) (?:it|that|the|an?|they|i (?:hear|see|feel|expect|notice))\b"
    rf"|how (?:would|do|can|could|will|might|should|to)\b.*\b{_KNOW}.*\b(?:if|whether)\b"
    rf"|(?:is there )?(?:any|a|some) way (?:to|i can|of) {_KNOW}.*\b(?:if|whether)\b"
    r"|(?:do|does|don'?t|doesn'?t)\b.*\b(?:usually|normally|typically|generally|ordinarily)\b"
    r"|does (?:it|that) (?:hurt|harm|matter|damage|do any)\b.*\bif\b"
    r"|(?:do|does|can|will) (?:an?|any|bad|low|worn|weak|loose|old)\b.*\b(?:cause|make)\b"
    r"|how much (?:is|are|does|do|would|for)\b|what (?:torque|makes (?:an?|the)\b)"
    rf"|(?:is|are) (?:an?|some|any|little|\w+ing)\b.*\b(?:normal|bad|common|usual|better|ok|okay)\b"
    r"|i(?:'d| would) be worried\b|i(?:'m| am) always (?:afraid|worried)\b|i always worry\b|unless\b"
    r"|(?:i|we)(?:'ll| will) (?:be(?! honest)|go|have to|pull|try|check|look|see|wait|crank|count|unplug|put|change|clean)\b"
    r"|(?:i|we|they)(?:'m|'re| am| are| was| were)? (?:going to|planning to|plan to|plan on|planning on)\b"
    r"|(?:someone|somebody|people|folks|they|(?:an?|some|the) (?:guy|bloke|fella|man|video|post)|bloke|fella|mate)\b"
    r".*\b(?:forum|video|online|internet|youtube|counter)\b"
    r"|(?:someone|somebody|people|folks) (?:said|says|say|wrote|told|claims)\b"
    r"|(?:i(?:'m| am) |we(?:'re| are) |i have |i'?ve |honestly )*(?:not sure|unsure|not certain|no clue|no idea)\b.*\b(?:if|whether)\b"
    r"|(?:i |we |honestly )*(?:can'?t|cannot|cant|couldn'?t|could not|hard to|dunno|don'?t know|do not know|dont know)"
    r"(?: really| honestly| for sure)?(?: (?:say|tell|remember))?(?: for sure)? (?:if|whether)\b"
    r"|(?:my |the |our )?(?:wife|husband|hubby|dad|mom|mum|son|daughter|brother|sister|friend|buddy|mate|neighbou?r|dealer|uncle|guy)"
    r"(?:[- ]in[- ]law)? (?:reckons|thinks|figures|bets|supposes|says (?:maybe|probably))\b"
    r"|if\b.*\b(?:was|were|had|got|ran)\b.*\b(?:that would (?:explain|mean)|would|i'?d know\b)"
    r")"
)
_ONLY_LEADS = re.compile(rf"{_LEAD}(?:\w+$)?")
_IF_SO = re.compile(r"if\b.* (?:do|does|can|could|is|are|what|what's|whats|how|should|will|then)\b")
_IF_IT_WERE = re.compile(r"if\b.*\b(?:was|were|had)\b")  # "if it was stuck, would it hum"
_ASKED_IDLY = re.compile(
    rf"{_LEAD}(?:perhaps|maybe|possibly)\b"
)  # where the sentence ends in a question mark
_WONDERS = re.compile(r"\b(?:wonder|wonders|wondering|wondered|curious|asks|asked|asking) (?:if|whether)\b")
# What one does with a fault that is there, and faults spoken of as they are now.
_TOLD = re.compile(
    r"\b(?:safe|ok|okay|fine|all ?right|risky|dangerous|worth)\b.*\bwith\b|\blike (?:this|that|it does)\b"
    r"|\bbelieve (?:it|that|me)\b"
)
_BY_HAND = (
    r"(?:turned|pushed|moved|slid|pulled|lifted|cranked|heard|seen|felt|rocked|spun|wound|wiggled|shaken|jiggled"
    r"|raised|lowered|wrong|worth|better|worse)"
)
_GUESS = re.compile(
    rf"(?<!\bi )(?<!\bwe )\b(?:could|might(?: not)?|may(?: not)?) (?:just |well |only |also |possibly |maybe |very )*"
    rf"(?:be\b(?! (?:easily )?{_BY_HAND})|(?<!^could )have\b(?! sworn))"
    r"|(?<!\bi )(?<!\bwe )\b(?:guessed|guesses|suspects|suspected|speculates|speculated|supposes|assumes)\b"
    r"|\b(?:assume|assuming|supposedly|presumably)\b"
)
_RIG = r"(?:trailer|camper|rig|fiver|fifth ?wheel|5th ?wheel|rv|caravan|one we had|unit)"
_OTHER = re.compile(rf"\b(?:last|previous|former|earlier|other) {_RIG}\b")
_OLD = re.compile(rf"\bold {_RIG}\b")
_PAST = re.compile(r"\b(?:had|was|were|did|didn'?t|used|would|blew|broke)\b")
_THEIRS = re.compile(
    rf"\b(?:brother|neighbou?r|friend|buddy|mate|dad|father|son|uncle|cousin|sister|guy|fella|pal)'?s? "
    rf"{_RIG}\b"
)
_STRANGERS = re.compile(
    rf"\b(?:neighbou?r|cousin|uncle|pal|buddy)'?s? (?:{_RIG}|grinds|clicks|hums|is|has|does)\b"
    r"|(?<!was my )(?<!was our )\b(?:cousin|uncle|neighbou?r|pal)\b.*\b(?:his|hers|theirs)\b|\bon his rig\b"
)
_MINE = re.compile(r"\b(?:mine|ours)\b")
_LONG_AGO = re.compile(
    r"\b(?:last (?:year|summer|winter|spring|fall|autumn|season|march|april|may|june|july)"
    r"|(?:years?|yrs?|seasons?) (?:ago|back)|back in (?:19|20)\d\d|in (?:19|20)\d\d)\b"
)
_STILL = re.compile(
    r"\b(?:since|still|ever|never|now|today|as|than|compared|against|slower|faster|hasn'?t|haven'?t)\b"
)
_OTHER_GEAR = re.compile(
    r"(?:(?:but|and|the|my|our|that|those) )*(?:rear |back |electric )*(?:slides?|slide-?outs?|awnings?|steps?|stabili[sz]ers?'?s?|stabs"
    r"|ladder|bunks?|brakes|boat|headlights|internet|toilet|tongue jack)\b(?! lights?)"
)
_THAT_WAS = re.compile(r"(?:but )?(?:that|this|it)(?: was|'s| is)\b")


@dataclass(frozen=True)
class Supposed:
    """The words of a line that tell of nothing found: places among its tokens; `whole` where no others are left."""

    words: frozenset[int] = frozenset()
    guesses: tuple[tuple[int, int, int], ...] = ()  # first word of a piece, the one that guesses, the last
    whole: bool = False
    aside: frozenset[int] = frozenset()  # words of years ago, and of other gear of the trailer

    def covers(self, start: int, end: int) -> bool:
        """Whether what was heard in the words from `start` to before `end` was only asked or guessed."""
        if all(i in self.words for i in range(start, end)):
            return True
        return any(first <= start <= last and at < end - 1 for first, at, last in self.guesses)

    def leaves_out(self, finding: str, start: int, end: int) -> bool:
        """Whether a finding heard in those words is none of this trailer's legs as they are now."""
        beside = finding not in _LASTING and all(i in self.aside for i in range(start, end))
        return beside or self.covers(start, end)


_NOTHING = Supposed()
# What is told of times past, and what other gear says of the supply.
_LASTING = frozenset(
    (
        "stood_unused_long",
        "new_battery",
        "new_motor",
        "new_switch",
        "leg_knocked",
        "drove_with_legs_down",
        "gear",
    )
    + (
        "ran_past_the_end",
        "same_fault_after_motor_swap",
        "shore_power_was_off",
        "battery_low",
        "lights_dead_too",
    )
    + (
        "lights_dim_when_button_pressed",
        "support",
        "hitched",
        "kingpin_locked",
        "leg_visibly_bent",
        "prop_kind",
    )
)


def supposed(line: tuple[Token, ...], text: str) -> Supposed:
    """What a line only asks, guesses or tells of another trailer; `text` is the line its tokens were made of."""
    low = text.lower().replace("’", "'")
    if len(low) != len(text):
        return _NOTHING
    pieces = _pieces(line, low)
    words: set[int] = set()
    guesses: list[tuple[int, int, int]] = []
    aside: set[int] = set()
    left = 0
    before = False
    told = [low[line[first].start : line[last].end] for first, last in pieces]
    for n, (first, last) in enumerate(pieces):
        said = told[n]
        asks = _asks(line, low, last)
        same = n > 0 and line[pieces[n - 1][1]].clause == line[first].clause
        alone = _of_another(said, low)
        out = (
            alone
            or (bool(_GENERAL.match(said)) and not _TOLD.search(said))
            or (asks and bool(_ASKED_IDLY.match(said) or _IF_SO.match(said)))
            or (same and before and _goes_on(said))
            or (bool(_IF_IT_WERE.match(said)) and n + 1 < len(told) and bool(_GENERAL.match(told[n + 1])))
        )
        before = out and not alone
        if out:
            words.update(range(first, last + 1))
            if alone and same and _THAT_WAS.match(said):
                words.update(range(pieces[n - 1][0], first))  # "the fuse blew, that was the old trailer"
            continue
        if _OTHER_GEAR.match(said) or (_LONG_AGO.search(said) and not _STILL.search(said)):
            aside.update(range(first, last + 1))
        guess = _GUESS.search(said) or _WONDERS.search(said)
        if guess:
            at = next(i for i in range(first, last + 1) if line[i].end > line[first].start + guess.start())
            guesses.append((first, at, last))
            left += at - first > _EARLY
        elif not _ONLY_LEADS.fullmatch(said):
            left += 1
    if not (words or guesses or aside):
        return _NOTHING
    return Supposed(frozenset(words), tuple(guesses), not left, frozenset(aside))


def _pieces(line: tuple[Token, ...], text: str) -> list[tuple[int, int]]:
    """The first and last token of each piece."""
    found: list[tuple[int, int]] = []
    for i, token in enumerate(line):
        if found:
            last = line[i - 1]
            marked = token.comma != last.comma and (
                token.text not in _GO_ON or bool(_STOP.search(text[last.end : token.start]))
            )
            if token.clause == last.clause and not marked and token.text not in _CUTS:
                found[-1] = (found[-1][0], i)
                continue
        found.append((i, i))
    return found


def _asks(line: tuple[Token, ...], text: str, last: int) -> bool:
    """Whether the sentence that a token stands in ends in a question mark."""
    while last + 1 < len(line) and line[last + 1].clause == line[last].clause:
        last += 1
    behind = line[last + 1].start if last + 1 < len(line) else len(text)
    return "?" in text[line[last].end : behind]


def _goes_on(said: str) -> bool:
    """Whether a piece only carries on the question before it: "would it hum, or click"; "what if it hums but won't lift"."""
    return bool(
        re.match(r"(?:if|when|while|or|unless|in case|suppos\w+)\b", said)
        or re.match(rf"(?:but|and) (?!{_WHAT}|{_I})", said)
    )


def _of_another(said: str, whole: str) -> bool:
    """Whether a piece tells of a trailer that is not the one at hand."""
    if _OTHER.search(said):
        return True
    if _OLD.search(said):
        return bool(_PAST.search(said))
    if _STRANGERS.search(said):
        return True
    return bool(_THEIRS.search(said)) and bool(_MINE.search(whole))
