"""The retime sum: how many turns bring two legs on one cross shaft back in step, and which way."""

from bot.problems import NotEnough
from bot.sums import tables as t
from bot.sums.convert import figure
from bot.sums.limits import limits
from bot.sums.result import Result, valued
from bot.sums.spans import Known, Span, span, spread

NOTE = (
    "The cross shaft ties the legs together. Before its pin comes out: truck hitched and jaws"
    " locked; motor fuse out. Both feet off the ground while one leg is turned alone."
)


@limits(difference_in=(0, 100, "in"), turns_per_inch=(0.1, 200, "1/in"))
def turns_between(difference_in: float, turns_per_inch: float) -> float:
    """Turns of a leg's input shaft that take up a difference.

    turns = difference x turns an inch

    Parameters
    ----------
    difference_in : of the two legs, tube end to foot [in], 0 to 100
    turns_per_inch : of that shaft for an inch of travel [1/in], 0.1 to 200

    Returns turns. Source: definition.

    >>> turns_between(0.75, 6)
    4.5
    """
    return difference_in * turns_per_inch


@limits(
    left_in=(0, 90, "in"),
    right_in=(0, 90, "in"),
    turns_per_inch=(0.1, 200, "1/in"),
    turns_counted=(0, 1000, ""),
    inches_counted=(0, 90, "in"),
    difference_in=(0, 90, "in"),
)
def retime(
    left_in: Known | None = None,
    right_in: Known | None = None,
    turns_per_inch: float | None = None,
    *,
    turns_counted: float | None = None,
    inches_counted: float | None = None,
    free_leg: str = "",
    difference_in: Known | None = None,
) -> Result:
    """Turns, leg and direction that bring the legs back in step.

    Parameters
    ----------
    left_in : left foot out of its outer tube, hanging free [in], 0 to 90
    right_in : right foot, the same [in], 0 to 90
    turns_per_inch : of the leg's input shaft [1/in], 0.1 to 200; or the next two
    turns_counted : turns of that shaft, 0 to 1000
    inches_counted : over so many inches [in], 0 to 90
    free_leg : the leg that can be turned alone, "left" or "right"; else the shorter one
    difference_in : of the two legs [in], 0 to 90, where it was measured as one figure instead of left and right

    Returns a Result; first value the difference [in]. Verdict "in step" where the readings cannot tell the
    legs apart, else "out of step". Raises OutOfRange, NotEnough. Source: definition of the lead.

    >>> retime(10, 10.75, 6).working[-1]
    'turn the left leg out by 4.5 turns'
    >>> retime(difference_in=1, turns_per_inch=6).working[-1]
    'turn the shorter leg out by 6 turns'
    """
    if turns_per_inch is None and turns_counted and inches_counted:
        turns_per_inch = turns_counted / inches_counted
    off = t.READ_OFF["length in"]
    if left_in is not None and right_in is not None:
        left, right = span(left_in, plus_minus=off), span(right_in, plus_minus=off)
        signed = spread(lambda a, b: a - b, left, right)
        shorter = "left" if left.value < right.value else "right"
        longest, shortest = max(left.value, right.value), min(left.value, right.value)
        told = f"difference = {figure(longest)} in - {figure(shortest)} in = {figure(abs(signed.value))} in"
        measured = "both feet hang free and both were measured from the end of the outer tube to the foot"
    elif difference_in is not None:
        signed, shorter = span(difference_in, plus_minus=off), "shorter"
        told = f"difference = {figure(signed.value)} in, as it was told"
        measured = "both feet hang free; which leg is the shorter one was not told"
    else:
        raise NotEnough("retime", "how far each foot stands out of its outer tube, left and right")
    if turns_per_inch is None:
        raise NotEnough(
            "retime", "turns an inch: count ten turns of one leg and measure how far its foot went"
        )
    gap = abs(signed.value)
    wide = (signed.high - signed.low) / 2
    difference = Span(max(0.0, gap - wide), gap, gap + wide)
    turns = Span(*(turns_between(one, turns_per_inch) for one in difference))
    in_step = signed.low <= 0 <= signed.high
    half = round(2 * turns.value) / 2
    if shorter == "shorter" and free_leg:
        turn = f"turn the {free_leg} leg by {figure(half)} turns: out where it is the shorter one, else in"
    else:
        leg = free_leg or shorter
        turn = f"turn the {leg} leg {'out' if leg == shorter else 'in'} by {figure(half)} turns"
    working = [
        told,
        (
            f"turns = {figure(gap)} in x {figure(turns_per_inch)} = {figure(turns.value)}; a cross pin"
            " goes in at every"
            f" half turn: {figure(half)}"
        ),
        "leave them: the tape cannot tell them apart" if in_step else turn,
    ]
    return Result(
        "retime",
        (
            valued("difference", difference, "in"),
            valued("turns", turns, "turns"),
            valued("turns to the half", half, "turns"),
        ),
        tuple(working),
        (
            measured,
            t.READ_OFF_NOTE.format("1/16 in"),
            "the pin goes through, so it fits at every half turn (look at the shaft)",
        ),
        ("definition of the screw's lead",),
        difference.low,
        difference.high,
        "in step" if in_step else "out of step",
        "turns an inch, by ten turns and a tape",
        (),
        (NOTE,),
    )
