"""Wire: area, resistance, the loss along a run, what a wire and its fuse may carry."""

from bot.problems import NotEnough
from bot.sums import tables as t
from bot.sums.limits import limits

AWG_SIZES = (18, 16, 14, 12, 10, 8, 6, 4, 2, 1, 0, -1, -2, -3)


def gauge_number(text: str | float) -> int:
    """The gauge as the number the diameter law uses: 10 for "10", 0 for "1/0", -3 for "4/0".

    >>> gauge_number("4/0"), gauge_number(10.0), gauge_number("#8")
    (-3, 10, 8)
    """
    if not isinstance(text, str):
        return round(text)
    word = text.strip().lower().lstrip("#").removesuffix("awg").strip()
    if word.endswith("/0"):
        return 1 - int(word[:-2])
    if word and set(word) == {"0"}:
        return 1 - len(word)
    return int(float(word))


def gauge_name(number: int) -> str:
    """The gauge as it is written: "10", "1/0", "4/0".

    >>> gauge_name(10), gauge_name(0), gauge_name(-3)
    ('10', '1/0', '4/0')
    """
    return str(number) if number > 0 else f"{1 - number}/0"


@limits(awg=(-3, 40, "AWG"))
def awg_diameter_in(awg: float) -> float:
    """Diameter of a solid wire of American gauge.

    d = 0.005 in x 92^((36 - n) / 39)

    Parameters
    ----------
    awg : gauge number [AWG], -3 to 40; 4/0 enters as -3

    Returns [in]. Raises OutOfRange outside the limits above.
    Source: ASTM B258-02.

    >>> round(awg_diameter_in(10), 6)
    0.101897
    """
    return float(0.005 * 92 ** ((36 - awg) / 39))


@limits(diameter_in=(0.001, 2, "in"))
def circular_mils(diameter_in: float) -> float:
    """Area of a round wire in circular mils: the square of its diameter in thousandths of an inch.

    Parameters
    ----------
    diameter_in : wire diameter [in], 0.001 to 2

    Returns [cmil]. Source: definition.

    >>> round(circular_mils(0.101897), 0)
    10383.0
    """
    return (diameter_in * 1000) ** 2


def awg_cmil(awg: float) -> float:
    """Area of an American gauge [cmil].

    >>> round(awg_cmil(10), 1)
    10383.0
    """
    return circular_mils(awg_diameter_in(awg))


@limits(cmil=(1, 4e6, "cmil"))
def solid_ohm_per_ft(cmil: float) -> float:
    """Resistance of one foot of solid copper at 20 C.

    R = 10.371 ohm cmil/ft / area

    Parameters
    ----------
    cmil : copper area [cmil], 1 to 4e+06

    Returns [ohm/ft]. Source: annealed copper, 100 % IACS.

    >>> round(solid_ohm_per_ft(10383) * 1000, 4)
    0.9988
    """
    return t.COPPER_OHM_CMIL_PER_FT / cmil


@limits(temp_c=(-60, 250, "C"))
def hot_factor(temp_c: float) -> float:
    """Resistance of copper at a temperature, as a multiple of that at 20 C.

    R / R20 = 1 + 0.00393 (t - 20)

    Parameters
    ----------
    temp_c : temperature of the copper itself [C], -60 to 250

    Returns a plain number. Source: temperature coefficient of annealed copper at 20 C.

    >>> round(0.9989 * hot_factor(75), 4)
    1.2148
    """
    return 1 + t.COPPER_PER_K * (temp_c - 20)


@limits(temp_c=(-60, 250, "C"))
def code_factor(temp_c: float) -> float:
    """Resistance at a temperature as a multiple of the building-code figure at 75 C.

    R / R75 = 1 + 0.00323 (t - 75)

    Parameters
    ----------
    temp_c : temperature of the copper [C], -60 to 250

    Returns a plain number. Source: NEC chapter 9 table 8, note.

    >>> round(code_factor(20), 5)
    0.82235
    """
    return 1 + t.CODE_PER_K_75C * (temp_c - 75)


@limits(temp_c=(-60, 250, "C"))
def iec_to_20c(temp_c: float) -> float:
    """Factor that brings a resistance measured at a temperature to 20 C.

    Kt = 1 / (1 + 0.004 (t - 20))

    Parameters
    ----------
    temp_c : temperature at the measurement [C], -60 to 250

    Returns a plain number. Source: IEC 60228, correction table.

    >>> round(iec_to_20c(75), 3)
    0.82
    """
    return 1 / (1 + t.IEC_PER_K * (temp_c - 20))


@limits(amps=(0, 1000, "A"), ohm=(0, 100, "ohm"))
def drop_v(amps: float, ohm: float) -> float:
    """Voltage lost in a resistance.

    U = I R

    Parameters
    ----------
    amps : current [A], 0 to 1000
    ohm : resistance, both wires where both carry the current [ohm], 0 to 100

    Returns [V]. Source: Ohm's law; worked in tests/sums/by_hand/drop.md.

    >>> round(drop_v(30, 2 * 0.01797916), 4)
    1.0787
    """
    return amps * ohm


@limits(amps=(0, 1000, "A"), one_way_ft=(0, 500, "ft"), cmil=(1, 4e6, "cmil"))
def rule_drop_v(amps: float, one_way_ft: float, cmil: float, k: float = t.DROP_K) -> float:
    """Voltage lost along both wires by the electrician's rule.

    U = 2 K I L / CM

    Parameters
    ----------
    amps : current [A], 0 to 1000
    one_way_ft : length one way [ft], 0 to 500
    cmil : copper area [cmil], 1 to 4e+06
    k : constant [ohm cmil/ft]; 10.75 stands for copper at about 25 to 30 C (memory)

    Returns [V]. Leaves out contacts. Source: two-wire rule of the trade.

    >>> round(rule_drop_v(30, 18, 10383), 3)
    1.118
    """
    return 2 * k * amps * one_way_ft / cmil


@limits(amps=(0, 1000, "A"), round_trip_ft=(0, 1000, "ft"), volts_lost=(0.01, 50, "V"))
def cmil_wanted(amps: float, round_trip_ft: float, volts_lost: float, k: float = t.DROP_K) -> float:
    """Copper area that loses no more than a given voltage.

    CM = K I (there and back) / U

    Parameters
    ----------
    amps : current [A], 0 to 1000
    round_trip_ft : both wires together [ft], 0 to 1000
    volts_lost : loss allowed [V], 0.01 to 50
    k : as in rule_drop_v

    Returns [cmil]. Source: two-wire rule of the trade, solved for the area.

    >>> round(cmil_wanted(30, 36, 0.36))
    32250
    """
    return k * amps * round_trip_ft / volts_lost


def cmil_of(gauge: int, family: str) -> float:
    """Copper area of a gauge [cmil]; ``family`` is "awg" or "sae". NotEnough for an SAE size not listed.

    >>> cmil_of(10, "sae"), round(cmil_of(10, "awg"))
    (9343, 10383)
    """
    if family == "sae":
        if gauge not in t.SAE_CMIL:
            raise NotEnough("harness", "an SAE gauge from 18 to 2, even numbers")
        return t.SAE_CMIL[gauge]
    return awg_cmil(gauge)


def gauge_for(cmil: float, family: str = "awg") -> int | None:
    """The thinnest gauge with at least this copper area, None where the list ends.

    >>> gauge_for(6271, "sae"), gauge_for(1881, "awg"), gauge_for(9e9)
    (10, 16, None)
    """
    sizes = sorted(t.SAE_CMIL, reverse=True) if family == "sae" else AWG_SIZES
    return next((size for size in sizes if cmil_of(size, family) >= cmil), None)


def printed_gauge(amps: float, round_trip_ft: float, volts_lost: float) -> int | None:
    """The gauge a printed loss table names: SAE areas, thinnest size that is enough.

    >>> printed_gauge(30, 15, 0.36)
    8
    """
    return gauge_for(cmil_wanted(amps, round_trip_ft, volts_lost), "sae")


def allowed_a(gauge: int, insulation_c: int = 75, place: str = "open") -> float | None:
    """Current a wire may carry [A] by the boat rules, None for a size the table does not list.

    ``insulation_c`` is 75 or 105, ``place`` one of PLACE_FACTOR. 33 CFR 183.425 table 5; marine cable table.

    >>> allowed_a(10, 105, "hot"), allowed_a(10), allowed_a(9)
    (51.0, 40.0, None)
    """
    if insulation_c not in t.ALLOWED_A:
        raise NotEnough("harness", "the insulation's rating printed on the wire: 75 or 105 C")
    amps = t.ALLOWED_A[insulation_c].get(gauge)
    return None if amps is None else amps * t.PLACE_FACTOR[place]


def fuse_ceiling_a(gauge: int, insulation_c: int = 75) -> float | None:
    """Largest fuse on a wire [A]: 150 % of its allowed current, below 50 V. 33 CFR 183.455(c)(1).

    An upper bound from the boat rules. The label on the gear and the wire's own code go first.

    >>> fuse_ceiling_a(10), fuse_ceiling_a(10, 105)
    (60.0, 90.0)
    """
    amps = allowed_a(gauge, insulation_c)
    return None if amps is None else amps * t.FUSE_SHARE_OF_WIRE


def mm2_ohm_per_m(area_mm2: float, flexible: bool = True) -> float:
    """Largest resistance of a metric wire at 20 C [ohm/m]. IEC 60228; sizes between are not made.

    >>> mm2_ohm_per_m(4.0)
    0.00495
    """
    table = t.IEC_FLEXIBLE_OHM_PER_KM if flexible else t.IEC_SOLID_OHM_PER_KM
    if area_mm2 not in table:
        raise NotEnough(
            "harness", f"a metric size that is made: {', '.join(f'{size:g}' for size in table)} mm2"
        )
    return table[area_mm2] / 1000
