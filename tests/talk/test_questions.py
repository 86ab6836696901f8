"""General questions, guesses and tales of another trailer tell of no finding; questions about what is seen here do.

The lines were invented for this test, by classes of wording.
"""

from __future__ import annotations

from zlib import crc32

import pytest

from bot.corpus.learned import packed, parsed
from bot.corpus.patterns import tokens
from bot.frozen import replace
from bot.talk.knowledge import Knowledge
from bot.talk.state import Asking
from bot.talk.supposed import supposed
from bot.talk.understand import understand

ONLY_ASKED = """
would a weak battery make the motor run slow
Would I hear clicking at the motor if the gears were stripped?
should both legs move when I press up?
should I hear a hum when I hold the button
could the shear pin be missing
what if the right leg is bent
what would happen if the shaft pin sheared
is the leg meant to wobble when it hangs free
are the legs supposed to come up uneven
what am I supposed to hear, a click?
how do I tell whether the fuse is blown
how would you know if the motor is running slow
does a corroded ground make the lights go dim
so would tapping the motor get it going
ok, would wiggling the switch help at all
the man at the shop guessed the gears could be grinding
my brother in law suspects the fuse is blown
the fuse could be blown
might be a bent leg
the legs on our previous trailer came down uneven
our other camper had a blown fuse
we had a bent leg, but that was our last fifth wheel
Maybe the foot sank?
I wonder if the breaker trips
if the motor was stuck, would I hear a hum?
would the motor get slow when the wires are hot
will it hum if the motor is jammed
do they normally squeal when they come up
would the crank turn freely if the shaft was parted
wouldn't the breaker trip if the motor was locked up?
suppose the leg was bent, what would I see
could it be the ground is corroded
the dealer thinks it may be a bent leg
is the breaker supposed to trip when I hold it at the top
should the inner tube show rust
would a fresh battery cure a slow motor
if it squeals should I stop?
is some grinding normal?
I'd be worried about the kingpin not being locked
I'm going to check whether the fuse is blown
somebody wrote that the motor hums when the gears are stripped
our neighbour's trailer has two motors
my cousin drove off with his legs down
the legs came up uneven two years ago
last summer it went slow
the rear stabilizers go up and down
the slide motor hums
what makes a breaker trip on these
how much is a new motor
""".strip().splitlines()

# what is told -> the finding it has to bring
TOLD = """
would you believe it, the leg is bent => leg_visibly_bent=yes
why does it hum when I press it => button_response=hums
can you tell me why the left leg wont move => legs_moving=right
could you explain why the motor hums but nothing moves => button_response=hums
what should I do, the fuse is blown => fuse_ok=no
what do I do if it hums and nothing moves => button_response=hums
would tapping help, it hums when I press => button_response=hums
would a new battery help because the motor is slow => motor_slow=yes
could that be why the lights go dim when I press => lights_dim_when_button_pressed=yes
how come it clicks when I press the button => button_response=clicks
is it safe to drive with a bent leg => leg_visibly_bent=yes
could hear it hum when I pressed => button_response=hums
would only hum when I pressed it => button_response=hums
wouldn't move when I pressed, just hums => button_response=hums
the crank could be turned easily with one hand => crank_turns_freely=yes
I could have sworn it clicked, and the leg is bent => leg_visibly_bent=yes
should I keep pressing? the motor hums => button_response=hums
why would it hum when I press it => button_response=hums
what would make the left leg stop while the right one moves => legs_moving=right
what could make the lights go dim when I press => lights_dim_when_button_pressed=yes
do I need a new motor? it hums => button_response=hums
the leg is bent, would that make it slow => leg_visibly_bent=yes
Should it do that? The breaker trips every time => breaker_trips=yes
it hums, could it be the ground => button_response=hums
the fuse is blown so the motor could be bad => fuse_ok=no
the new trailer has a bent leg => leg_visibly_bent=yes
unlike our last trailer, this one has a bent leg => leg_visibly_bent=yes
will you help me, the leg is bent => leg_visibly_bent=yes
how do I fix a bent leg => leg_visibly_bent=yes
does it matter that the left leg is bent => leg_visibly_bent=yes
is there a reason it hums when I press up => button_response=hums
it has been slow since last summer => motor_slow=yes
the motor is slower than last year => motor_slow=yes
I hit a kerb with the left leg two years ago => leg_knocked=yes
we got a new motor last year => new_motor=yes
I'll be honest, the motor hums => button_response=hums
if I press up it hums => button_response=hums
the slide works, but the motor of the legs hums => button_response=hums
could have heard a pin drop, the motor hums => button_response=hums
""".strip().splitlines()


@pytest.mark.parametrize("line", ONLY_ASKED)
def test_a_general_question_or_a_guess_tells_of_nothing(line: str, knowledge: Knowledge) -> None:
    assert not understand(line, None, knowledge.reader).findings


#: Heard once, and no longer since a line that seems to tell nothing gives no finding: each is asked for instead.
MISSED = {
    "what do I do if it hums and nothing moves => button_response=hums",
    "could that be why the lights go dim when I press => lights_dim_when_button_pressed=yes",
    "why would it hum when I press it => button_response=hums",
    "what would make the left leg stop while the right one moves => legs_moving=right",
    "what could make the lights go dim when I press => lights_dim_when_button_pressed=yes",
    "the new trailer has a bent leg => leg_visibly_bent=yes",
}


@pytest.mark.parametrize(
    "row",
    [
        pytest.param(r, marks=pytest.mark.xfail(strict=True, reason="seems to tell nothing"))
        if r in MISSED
        else r
        for r in TOLD
    ],
)
def test_a_question_about_what_is_seen_still_tells(row: str, knowledge: Knowledge) -> None:
    line, _, wanted = row.rpartition(" => ")
    name, value = wanted.split("=")
    assert understand(line, None, knowledge.reader).findings.get(name, ("", ""))[0] == value


@pytest.mark.parametrize(
    ("line", "whole"),
    [
        ("would tapping on the motor help", True),
        ("ok, would tapping on the motor help", True),
        ("it hums, would tapping on the motor help", False),
        ("would tapping help? I never tried it on this one", False),
        ("the legs are slow", False),
        ("", False),
    ],
)
def test_a_line_is_left_out_whole_only_where_nothing_else_is_said(line: str, whole: bool) -> None:
    assert supposed(tokens(line), line).whole is whole


def test_only_the_words_of_the_question_are_left_out() -> None:
    line = "it hums, would tapping on the motor help"
    only = supposed(tokens(line), line)
    words = [t.text for t in tokens(line)]
    assert [w for i, w in enumerate(words) if i in only.words] == words[2:]
    assert not only.covers(0, 2)
    assert only.covers(2, len(words))


def test_a_guess_covers_what_follows_and_leaves_what_went_before() -> None:
    line = "it clicks at the motor so the gears could be stripped"
    words = [t.text for t in tokens(line)]
    only = supposed(tokens(line), line)
    assert not only.covers(0, words.index("motor") + 1)
    assert only.covers(words.index("gears"), len(words))


def test_weights_leave_a_whole_question_alone(knowledge: Knowledge) -> None:
    """A table that is sure of a finding whatever is said: the statement brings it, the question does not."""
    labels = ["danger", "danger: person hurt", "leg_knocked=yes"]
    table = parsed(packed(labels, [-5.0, -5.0, 5.0], [0.01] * 3, {}, "mark", {crc32(b"1never"): [(0, 1)]}))
    reader = replace(knowledge.reader, learned=lambda: table)
    assert "leg_knocked" in understand("well the thing up front is as it was", None, reader).findings
    assert "leg_knocked" not in understand("would the thing up front be as it was", None, reader).findings


def test_asking_back_is_no_answer(knowledge: Knowledge) -> None:
    asking = Asking("lights_dim_when_button_pressed", "yes_no", choices=("yes", "no"))
    asked = understand("should the lights go dim when I press the button?", asking, knowledge.reader)
    told = understand("the lights go dim when I press the button", asking, knowledge.reader)
    assert asked.answer == ""
    assert told.answer == "yes"


def test_what_lasts_is_kept_of_times_past() -> None:
    line = "two years ago the motor was slow"
    end = len(tokens(line))
    only = supposed(tokens(line), line)
    assert only.leaves_out("motor_slow", 0, end)
    assert not only.leaves_out("new_motor", 0, end)
    assert not only.whole
