"""The leg-fit sum: stroke wanted, drop-leg hole to use, clearance on the road, and whether a leg fits."""

from typing import NamedTuple

from bot.problems import Contradiction, NotEnough
from bot.sums import tables as t
from bot.sums.convert import figure
from bot.sums.limits import limits
from bot.sums.result import Result, Value, valued

NOTE = (
    "Measure old and new with the same tape, and compare label to label: rating, shaft, gear ratio,"
    " hand of the leg."
)
BIND_NOTE = (
    "Both legs of one cross shaft need the same lead and ratio, or they run out of step: else change"
    " the pair."
)


class Leg(NamedTuple):
    """What a tape takes off one leg [in]; 0 where it was not measured."""

    outer_in: float = 0.0
    inner_in: float = 0.0
    stroke_in: float = 0.0
    retracted_in: float = 0.0
    shaft_in: float = 0.0
    bolt_spacing_in: float = 0.0


@limits(lowest_in=(0, 90, "in"), highest_in=(0, 90, "in"))
def stroke_wanted_in(lowest_in: float, highest_in: float) -> float:
    """Screw travel that covers the heights the nose has to reach.

    stroke = highest - lowest

    Parameters
    ----------
    lowest_in : ground to the end of the outer tube, nose at its lowest on the legs [in], 0 to 90
    highest_in : the same at its highest [in], 0 to 90

    Returns [in]. Raises Contradiction where they are swapped. Source: geometry.

    >>> stroke_wanted_in(14, 26)
    12
    """
    if highest_in < lowest_in:
        raise Contradiction("leg-fit", "the highest nose stands lower than the lowest. Swap the two heights.")
    return highest_in - lowest_in


def hole_for(
    lowest_in: float, highest_in: float, stroke_in: float, hole_spacing_in: float, holes: int, foot_in: float
) -> int | None:
    """The drop-leg hole, counted from the one with the leg pushed in (1), that covers both heights.

    The first hole that does is named, so that least of the drop leg hangs out; None where no hole does.
    A foot of ``foot_in`` stands out of the outer tube with screw in and drop leg up.

    >>> hole_for(14, 26, 13, 3, 5, 2), hole_for(14, 40, 13, 3, 5, 2)
    (5, None)
    """
    for hole in range(1, holes + 1):
        least = foot_in + (hole - 1) * hole_spacing_in
        if least <= lowest_in and least + stroke_in >= highest_in:
            return hole
    return None


@limits(
    lowest_in=(0, 90, "in"),
    highest_in=(0, 90, "in"),
    stroke_in=(0, 60, "in"),
    holes=(1, 30, ""),
    hole_spacing_in=(0, 12, "in"),
    foot_in=(0, 40, "in"),
    tow_height_in=(0, 90, "in"),
)
def leg_fit(
    lowest_in: float | None = None,
    highest_in: float | None = None,
    stroke_in: float | None = None,
    *,
    hole_spacing_in: float = 0.0,
    holes: int = 1,
    foot_in: float | None = None,
    tow_height_in: float | None = None,
    old: Leg | None = None,
    new: Leg | None = None,
) -> Result:
    """Stroke wanted, hole to use, clearance when retracted; old and new leg compared point by point.

    Parameters
    ----------
    lowest_in : ground to the end of the outer tube, nose at its lowest [in], 0 to 90
    highest_in : the same, nose at its highest [in], 0 to 90
    stroke_in : screw travel of the leg [in], 0 to 60
    hole_spacing_in : between drop-leg holes [in], 0 to 12
    holes : number of them, 1 to 30
    foot_in : foot to the end of the outer tube, all the way in [in], 0 to 40
    tow_height_in : ground to the end of the outer tube when hitched [in], 0 to 90
    old, new : measured legs

    Returns a Result. Verdict "fits", "close" or "does not fit". Raises OutOfRange, NotEnough, Contradiction.
    Leaves out: rating, which lift-margin judges. Source: geometry.

    >>> leg_fit(14, 26, 13, hole_spacing_in=3, holes=5, foot_in=2).value("hole to use")
    5
    """
    values: list[Value] = []
    working: list[str] = []
    assumed: list[str] = [t.READ_OFF_NOTE.format("1/16 in")]
    words: list[str] = []
    if lowest_in is not None and highest_in is not None:
        wanted = stroke_wanted_in(lowest_in, highest_in)
        values.append(valued("stroke wanted", wanted, "in"))
        working.append(f"stroke = {figure(highest_in)} in - {figure(lowest_in)} in = {figure(wanted)} in")
        travel = stroke_in if stroke_in is not None else (new.stroke_in or None) if new else None
        if travel is not None:
            words.append(_word(travel - wanted))
            working.append(f"stroke of the leg {figure(travel)} in: {figure(travel - wanted)} in to spare")
            if foot_in is not None:
                hole = hole_for(lowest_in, highest_in, travel, hole_spacing_in, holes, foot_in)
                if hole is None:
                    words.append("does not fit")
                    working.append("no hole of the drop leg covers both heights")
                else:
                    values.append(valued("hole to use", hole, ""))
                    working.append(f"hole {hole}, counted from the leg pushed in: reaches both heights")
    if tow_height_in is not None and foot_in is not None:
        clear = tow_height_in - foot_in
        values.append(valued("clearance on the road", clear, "in"))
        working.append(f"clearance = {figure(tow_height_in)} in - {figure(foot_in)} in = {figure(clear)} in")
        if clear <= 0:
            words.append("does not fit")
    if old is not None and new is not None:
        words += _compare(old, new, values, working)
    if not values:
        raise NotEnough(
            "leg-fit", "the lowest and highest height of the nose, or both legs measured with a tape"
        )
    worst = max(words, key=["fits", "close", "does not fit"].index) if words else "nothing to compare with"
    return Result(
        "leg-fit",
        tuple(values),
        tuple(working),
        tuple(assumed),
        ("geometry",),
        values[0].low,
        values[0].high,
        worst,
        ""
        if old is not None
        else "outer tube, inner tube, stroke and bolt spacing of the old leg, with a tape",
        (),
        (NOTE, BIND_NOTE),
    )


def _word(spare_in: float) -> str:
    off = 2 * t.READ_OFF["length in"]
    return "fits" if spare_in >= off else "does not fit" if spare_in < -off else "close"


def _compare(old: Leg, new: Leg, values: list[Value], working: list[str]) -> list[str]:
    """One line a measured point; a stroke may be longer, everything else has to be the same."""
    off = 2 * t.READ_OFF["length in"]
    words = []
    for name, was, now in zip(Leg._fields, old, new, strict=True):
        if not was or not now:
            continue
        label = name.removesuffix("_in").replace("_", " ")
        differs = now - was
        if name == "stroke_in":
            word = "fits" if differs >= 0 else "close" if differs >= -off else "does not fit"
        elif name == "retracted_in":
            word = "fits" if differs <= off else "does not fit"
        else:
            word = "fits" if abs(differs) <= off / 2 else "close" if abs(differs) <= off else "does not fit"
        words.append(word)
        values.append(valued(f"{label}, new less old", differs, "in"))
        working.append(f"{label}: {figure(was)} in old, {figure(now)} in new: {word}")
    return words
