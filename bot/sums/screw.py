"""The screw sum: effort, efficiency, whether the leg's screw holds by itself, crank force and turns."""

from bot.problems import NotEnough
from bot.sums import screws as s
from bot.sums import tables_parts as p
from bot.sums.convert import LB_IN_N_M, LBF_N, figure
from bot.sums.limits import limits
from bot.sums.result import Result, bar_row, valued
from bot.sums.spans import Known, Span, exact, span, spread

#: Friction of a greased leg screw where nothing is known of its nut: the widest of the greased bands.
ASSUMED_FRICTION = Span(0.10, 0.15, 0.19)
#: One pair of straight bevels under the cap, where the gear was not described.
BEVEL = Span(p.MESH_EFFICIENCY["straight bevel"][0], 0.95, p.MESH_EFFICIENCY["straight bevel"][1])

SOURCES = (
    "square-thread and Acme formula of the machine-design texts",
    "friction: supplier table and textbook range; bevel mesh 93 to 97 %",
    "sustained crank effort 130 N at 0.4 m: engineering table of human force",
)
HOLD_NOTE = (
    "Vibration on the road lowers friction: a screw that only just holds can creep. Legs up and"
    " pinned to tow."
)
DRY_NOTE = "A dry thrust washer can nearly double the effort. Grease what the maker's manual says to grease."


@limits(
    load_lb=(0, 60_000, "lb"),
    starts=(1, 6, ""),
    friction=(0, 1.2, ""),
    collar_dia_in=(0, 10, "in"),
    collar_friction=(0, 1.2, ""),
    major_in=(0.2, 4, "in"),
    threads_per_inch=(1, 40, "1/in"),
    crank_in=(2, 30, "in"),
    ratio=(0.1, 60, ""),
)
def screw(
    load_lb: Known | None = None,
    major_in: float | None = None,
    threads_per_inch: float | None = None,
    *,
    starts: int = 1,
    form: str = "acme",
    friction: Known | None = None,
    lubrication: str | None = None,
    collar_dia_in: float | None = None,
    collar_friction: Known | None = None,
    crank_in: float | None = None,
    ratio: float = 1.0,
) -> Result:
    """Torque to raise and lower a leg, efficiency, whether it holds, crank force and turns an inch.

    Parameters
    ----------
    load_lb : on this leg [lb], 0 to 60000
    major_in : outside diameter of the screw [in], 0.2 to 4
    threads_per_inch : threads counted along an inch [1/in], 1 to 40
    starts : threads side by side, 1 to 6
    form : "square", "acme", "trapezoidal" or "v"
    friction : coefficient, 0 to 1.2; or lubrication, one of the names in SCREW_FRICTION
    collar_dia_in : mean diameter of a plain thrust washer [in], 0 to 10; none for a ball bearing
    collar_friction : of that washer, 0 to 1.2
    crank_in : crank arm [in], 2 to 30
    ratio : crank turns for one turn of the screw, 0.1 to 60

    Returns a Result; first value the torque that raises [lb-in]. Verdict "holds", "runs down" or
    "can't be told" by the range of friction. Raises OutOfRange, NotEnough.
    Source: power-screw formula.

    >>> r = screw(1820, 1.0, 5, friction=0.15)
    >>> round(r.value("torque to raise"), 1), r.verdict
    (186.9, 'holds')
    """
    if load_lb is None or major_in is None or threads_per_inch is None:
        raise NotEnough("screw", "the load on the leg, the screw's outside diameter and its threads an inch")
    if form not in p.HALF_ANGLE_DEG:
        raise NotEnough("screw", f"the form of the thread: {', '.join(p.HALF_ANGLE_DEG)}")
    load = span(load_lb)
    pitch = 1 / threads_per_inch
    lead, mean = starts * pitch, major_in - pitch / 2
    angle = p.HALF_ANGLE_DEG[form]
    assumed = [f"{form} thread, {starts} start, mean diameter {figure(mean)} in"]
    if friction is not None:
        rub = span(friction)
    elif lubrication is not None:
        if lubrication not in p.SCREW_FRICTION:
            raise NotEnough("screw", f"the nut: {', '.join(p.SCREW_FRICTION)}")
        low, high = p.SCREW_FRICTION[lubrication]
        rub = Span(low, (low + high) / 2, high)
    else:
        rub = ASSUMED_FRICTION
        assumed.append("greased, friction 0.15, from 0.10 to 0.19: the nut was not named")
    collar = exact(0)
    if collar_dia_in:
        washer = Span(0.06, 0.12, 0.15) if collar_friction is None else span(collar_friction)
        if collar_friction is None:
            assumed.append("thrust washer friction 0.12, from 0.06 to 0.15 (textbook examples)")
        collar = spread(lambda f, mu: s.collar_torque(f, mu, collar_dia_in / 2), load, washer)
    else:
        assumed.append("thrust bearing counted as free of friction")
    up_thread = spread(lambda f, mu: s.raise_torque(f, mean, lead, mu, angle), load, rub)
    down_thread = spread(lambda f, mu: s.lower_torque(f, mean, lead, mu, angle), load, rub)
    up = Span(*(a + b for a, b in zip(up_thread, collar, strict=True)))
    down = Span(*(a + b for a, b in zip(down_thread, collar, strict=True)))
    shares = (
        sorted(
            (
                s.efficiency(load.value, lead, s.raise_torque(load.value, mean, lead, mu, angle) + c)
                for mu, c in ((rub.low, collar.low), (rub.value, collar.value), (rub.high, collar.high))
            ),
        )
        if load.value
        else [0.0, 0.0, 0.0]
    )
    values = [
        valued("torque to raise", up, "lb-in"),
        valued("torque to lower", down, "lb-in"),
        valued("efficiency", Span(*(100 * one for one in shares)), "%"),
        valued("friction that still holds", s.holding_friction(mean, lead, angle), ""),
        valued("crank turns an inch", ratio / lead, "turns"),
    ]
    working = [
        f"T raise = F dm/2 (l + pi f dm sec a) / (pi dm - f l sec a) with F {figure(load.value)} lb, dm"
        f" {figure(mean)} in, l {figure(lead)} in, f {figure(rub.value)}, a {figure(angle)} deg"
        f" = {figure(up_thread.value)} lb-in"
        + (f", washer {figure(collar.value)} lb-in" if collar_dia_in else ""),
        f"T lower = {figure(down.value)} lb-in; efficiency = F l / (2 pi T) = {figure(100 * shares[1])} %",
        f"turns an inch = {figure(ratio)} / {figure(lead)} in = {figure(ratio / lead)}",
    ]
    rows = []
    if crank_in is not None:
        force = spread(lambda torque, mesh: s.crank_force(torque, crank_in, mesh, ratio), up, BEVEL)
        steady = p.CRANK_N / LBF_N
        values.append(valued("crank force", force, "lbf"))
        working.append(
            f"crank force = T / (mesh x ratio x arm) = {figure(up.value)} / (0.95 x {figure(ratio)} x"
            f" {figure(crank_in)} in) = {figure(force.value)} lbf; {figure(steady)} lbf can be kept up"
        )
        rows.append(bar_row("crank force, against what can be kept up", force, steady, "lbf"))
        assumed.append("one pair of straight bevels, 93 to 97 %")
    verdict = "holds" if down.low > 0 else "runs down" if down.high < 0 else "can't be told"
    return Result(
        "screw",
        tuple(values),
        (*working, f"at the crank or motor shaft that is {figure(up.value * LB_IN_N_M)} N.m"),
        tuple(assumed),
        SOURCES,
        up.low,
        up.high,
        verdict,
        "" if friction is not None else "what the nut is made of, and whether the screw is greased",
        tuple(rows),
        (HOLD_NOTE, DRY_NOTE),
    )
