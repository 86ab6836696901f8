"""Bolts: stress area, clamp load, torque with its scatter, shear; and the bolts sum."""

from fractions import Fraction
from math import pi

from bot.problems import NotEnough
from bot.sums import tables_parts as p
from bot.sums.convert import figure
from bot.sums.limits import limits
from bot.sums.result import Result, bar_row, valued
from bot.sums.spans import Known, Span, against, exact, span

SOURCES = (
    "stress area: ASME B1.1; grades: SAE J429; T = K D F at 75 % of proof: the common torque tables",
    "shear strength 0.60 of tensile: from memory, divided by 3 here",
)
LABEL_NOTE = (
    "The torque on the maker's own sheet goes first. A bolt that was yielded or is rusted through is"
    " not used again."
)
SCATTER_NOTE = (
    "One torque gives clamp loads that differ by about 30 % either way; oil on the thread changes it"
    " by as much."
)


#: Coarse threads an inch by diameter [in]. Source: ASME B1.1 UNC, as in the printed torque tables (1/4, 3/8 to
#: 1 in); 5/16 and 9/16 from memory.
COARSE = {
    0.25: 20, 0.3125: 18, 0.375: 16, 0.4375: 14, 0.5: 13, 0.5625: 12, 0.625: 11, 0.75: 10, 0.875: 9, 1.0: 8,
}  # fmt: skip


def with_thread(size: str) -> tuple[str, str]:
    """The size with its coarse thread where none was written, and what was assumed ("" where nothing was).

    >>> with_thread("1/2"), with_thread("1/2-20")
    (('1/2-13', 'coarse thread, 13 an inch: the pitch was not told'), ('1/2-20', ''))
    """
    plain = (
        size.lower().replace('"', " ").replace("inches", " ").replace("inch", " ").replace(" in", " ").strip()
    )
    if "-" in plain:
        return size, ""
    try:
        threads = COARSE.get(float(sum(Fraction(word) for word in plain.split())))
    except (ValueError, ZeroDivisionError):
        threads = None
    if threads is None:
        return size, ""
    return f"{plain}-{threads}", f"coarse thread, {threads} an inch: the pitch was not told"


def read_thread(text: str) -> tuple[float, float, float | None]:
    """Diameter [in], threads an inch and length [in] of a US bolt as it is written.

    Raises NotEnough where it is not written so.

    >>> read_thread("1/2-13 x 2")
    (0.5, 13.0, 2.0)
    >>> read_thread("1-8")
    (1.0, 8.0, None)
    """
    head, _, tail = text.lower().replace(" in", "").replace('"', "").partition("x")
    size, _, threads = head.strip().partition("-")
    try:
        words = size.split()
        diameter = float(sum(Fraction(word) for word in words))
        length = float(sum(Fraction(word) for word in tail.split())) if tail.strip() else None
        return diameter, float(threads), length
    except (ValueError, ZeroDivisionError):
        raise NotEnough("bolts", "the size as it is written on a box, like 1/2-13 or 3/8-16 x 2") from None


@limits(diameter_in=(0.1, 4, "in"), threads_per_inch=(3, 80, "1/in"))
def stress_area_in2(diameter_in: float, threads_per_inch: float) -> float:
    """Tensile stress area of an inch thread.

    A = pi/4 (d - 0.9743/n)^2

    Parameters
    ----------
    diameter_in : nominal [in], 0.1 to 4
    threads_per_inch : threads an inch [1/in], 3 to 80

    Returns [in2]. Source: ASME B1.1 and the torque sheets.

    >>> round(stress_area_in2(0.5, 13), 4)
    0.1419
    """
    return pi / 4 * (diameter_in - 0.9743 / threads_per_inch) ** 2


def grade_psi(grade: str, diameter_in: float) -> tuple[float, float]:
    """Proof and tensile strength of an SAE grade [psi]. Raises NotEnough for other grades or sizes.

    >>> grade_psi("5", 0.5), grade_psi("2", 1)
    ((85000, 120000), (33000, 60000))
    """
    for largest, proof, tensile in p.BOLT_GRADE.get(grade, ()):
        if diameter_in <= largest:
            return proof, tensile
    raise NotEnough("bolts", "the grade from the marks on the head (2, 5 or 8) and a size up to 1 1/2 in")


def clamp_lbf(area_in2: float, proof_psi: float) -> float:
    """Clamp load at 75 % of proof [lbf].

    >>> round(clamp_lbf(0.1419, 85000))
    9046
    """
    return p.CLAMP_SHARE * proof_psi * area_in2


def torque_lb_ft(nut_factor: float, diameter_in: float, clamp: float) -> float:
    """Tightening torque [lb-ft]: K D F / 12.

    >>> round(torque_lb_ft(0.2, 0.5, 9046))
    75
    """
    return nut_factor * diameter_in * clamp / 12


def shear_lbf(tensile_psi: float, area_in2: float, planes: int = 1) -> float:
    """Breaking load of a bolt in shear [lbf]: 0.60 of tensile x area x planes.

    >>> round(shear_lbf(120000, 0.19635))
    14137
    """
    return p.BOLT_SHEAR_SHARE * tensile_psi * area_in2 * planes


@limits(count=(1, 40, ""), side_load_lb=(0, 100_000, "lb"))
def bolts(
    size: str | None = None,
    grade: str = "5",
    finish: str = "plain",
    count: int = 1,
    side_load_lb: Known | None = None,
    *,
    threads_in_shear: bool = True,
) -> Result:
    """Torque with its scatter, clamp load, and what the bolts carry sideways.

    Parameters
    ----------
    size : as written, "1/2-13"; without its threads the coarse ones are taken
    grade : "2", "5" or "8", from the marks on the head
    finish : "plain", "zinc", "oiled" or "waxed"
    count : bolts that share the load, 1 to 40
    side_load_lb : across the bolts [lb], 0 to 100000
    threads_in_shear : the joint's plane runs through the threads

    Returns a Result; first value the torque [lb-ft]. Verdict "clear", "close", "over" of the side load,
    "no side load given" without one. Raises OutOfRange, NotEnough.
    Leaves out: bending, prying, fatigue. Source: SAE J429, ASME B1.1, T = K D F.

    >>> round(bolts("1/2-13").value("torque"))
    75
    """
    if size is None:
        raise NotEnough("bolts", "the size, like 1/2-13")
    if finish not in p.NUT_FACTOR:
        raise NotEnough("bolts", f"the finish: {', '.join(p.NUT_FACTOR)}")
    size, coarse = with_thread(size)
    diameter, threads, _ = read_thread(size)
    area = stress_area_in2(diameter, threads)
    proof, tensile = grade_psi(grade, diameter)
    clamp = clamp_lbf(area, proof)
    low_k, k, high_k = p.NUT_FACTOR[finish]
    torque = Span(*(torque_lb_ft(one, diameter, clamp) for one in (low_k, k, high_k)))
    scatter = Span(clamp * (1 - p.CLAMP_SCATTER), clamp, clamp * (1 + p.CLAMP_SCATTER))
    shank = pi / 4 * diameter**2
    breaks = shear_lbf(tensile, area if threads_in_shear else shank)
    carries = breaks * count / p.BREAKING_FACTOR
    values = [
        valued("torque", torque.value, "lb-ft"),
        valued("clamp load", scatter, "lbf"),
        valued("torque, by the finish's range of K", torque, "lb-ft"),
        valued("shear each, breaking", breaks, "lbf"),
        valued("side load they may carry", carries, "lbf"),
    ]
    working = [
        (
            f"area = pi/4 (d - 0.9743/n)^2 = {figure(area)} in2; clamp = 0.75 x {figure(proof)} psi x area ="
            f" {figure(clamp)} lbf"
        ),
        (
            f"torque = K D F / 12 = {figure(k)} x {figure(diameter)} in x {figure(clamp)} lbf / 12 ="
            f" {figure(torque.value)} lb-ft"
        ),
        (
            f"shear = 0.60 x {figure(tensile)} psi x {figure(area if threads_in_shear else shank)} in2 ="
            f" {figure(breaks)} lbf each; / {figure(p.BREAKING_FACTOR)} x {count} = {figure(carries)} lbf"
        ),
    ]
    verdict, rows = "no side load given", []
    if side_load_lb is not None:
        side = span(side_load_lb)
        verdict = against(side, exact(carries))
        rows.append(bar_row("side load on the bolts", side, carries, "lbf"))
    return Result(
        "bolts",
        tuple(values),
        tuple(working),
        (
            f"SAE grade {grade}, {finish}, nut factor {figure(k)} (from {figure(low_k)} to {figure(high_k)})",
            f"bolts share the load evenly; breaking load divided by {figure(p.BREAKING_FACTOR)}",
            "the threads lie in the joint" if threads_in_shear else "the plain shank lies in the joint",
            *([coarse] if coarse else []),
        ),
        SOURCES,
        torque.low,
        torque.high,
        verdict,
        "the marks on the bolt's head, and whether the thread is dry or oiled",
        tuple(rows),
        (LABEL_NOTE, SCATTER_NOTE),
    )
