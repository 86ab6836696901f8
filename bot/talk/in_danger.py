"""A line that may tell of a danger: one question before anything else, and what its answer does.

The weights cannot tell every danger from the same words in a harmless sense. Between sure and harmless it asks, as
somebody on a help line would: a yes opens the emergency, anything else goes on with what was said as if nothing had
been asked. Each kind is asked about once in a conversation.
"""

from __future__ import annotations

from bot.frozen import replace
from bot.talk.knowledge import Knowledge
from bot.talk.phrasing import Line
from bot.talk.state import Asking, Doubt, Stage, State
from bot.talk.understand import Meaning

IN_DANGER = "in danger"
_ASKED_AT = (Stage.HEARING, Stage.ASKING, Stage.OFFERED)
_AN_ANSWER = 3  # words: so short a line that answers the open question tells of nothing else
_QUESTIONS = {
    "person hurt": "Is somebody hurt or caught just now?",
    "nose dropped": "Is the nose falling, sinking, rolling or hanging loose just now?",
    "smoke or runaway": "Does something smoke, melt or burn just now, or run without the button?",
    "jaws not locked": "Is it about to be towed, or are the legs off the ground, with the hitch jaws not seen closed?",
    "support taken away": "Is a leg, its bolts or the truck about to go, or gone already, with nothing solid under the nose?",
    "person under it": "Is somebody, or an animal, under the nose now, or about to reach in there?",
}
_LOOK = "Look first, from the side and with nothing pressed. If it is so, say that at once."
LOOK_ON = "If it turns out that somebody is in danger, say that at once."


def asks_back(state: State, meaning: Meaning) -> bool:
    """Whether the line is answered with the question: a danger in doubt that was not asked about yet."""
    answers = bool(meaning.answer) and len(meaning.line) <= _AN_ANSWER
    return meaning.doubtful not in ("", *state.doubted) and state.stage in _ASKED_AT and not answers


def raised_unasked(state: State, meaning: Meaning) -> bool:
    """Whether a likely danger is raised at once, because it cannot be asked about: in a repair, or a second time."""
    asked_about = state.doubt is None and asks_back(state, meaning)
    return meaning.likely and meaning.answer not in ("yes", "no") and not asked_about


def put(state: State, told: State, text: str, kind: str, knowledge: Knowledge) -> State:
    """The state with the question open.

    Parameters
    ----------
    state : as it was before the line's facts
    told : the same with them, for a screen that shows what is known
    text : the line
    kind : of the danger in doubt
    knowledge : for the search, where the line is the complaint
    """
    words = (state.words + " " + text).strip()[-400:]
    documents = told.documents or knowledge.search(words, 5)
    return replace(
        told, sum=None, stage=Stage.ASKING, asking=Asking(IN_DANGER, "yes_no", "", ("yes", "no")), reason=(), words=words,
        documents=documents, doubt=Doubt(kind, text, state), doubted=(*state.doubted, kind),
    )  # fmt: skip


def question_lines(state: State) -> tuple[Line, ...]:
    """The question, and that nothing is lost."""
    kind = state.doubt.kind if state.doubt else state.doubted[-1]
    return (
        Line("ask", f"Before anything else: {_first_lower(_QUESTIONS[kind])}"),
        Line("choices", "Say yes or no. What you told me is kept."),
    )


def why_in_danger() -> Line:
    """Why it asks."""
    return Line(
        "say",
        "Because your words can be meant two ways, and one of them is a thing to act on this minute. I would rather ask.",
    )


def goes_on(state: State, doubt: Doubt) -> State:
    """The state before the line in doubt, as if it had not been asked about: the kind is not asked about again."""
    return replace(
        doubt.asked, turn=state.turn, log=state.log, before=state.before, doubt=None,
        doubted=tuple(dict.fromkeys((*doubt.asked.doubted, doubt.kind))),
    )  # fmt: skip


def answered_note(meaning: Meaning) -> tuple[Line, ...]:
    """What is said to an answer that is no yes."""
    if meaning.answer == "no":
        return ()
    return (Line("note", _LOOK if meaning.wants("dont know", "skip") else LOOK_ON),)


def _first_lower(text: str) -> str:
    return text[0].lower() + text[1:]
