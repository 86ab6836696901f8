"""Wire sizes: American wire gauge and its area by the gauge law, and SAE gauge by its table."""

import math

#: Diameter of gauge 36 [in] and the ratio over 39 sizes. Source: ASTM B258, the law that defines AWG.
_D36_IN = 0.005
_RATIO = 92.0
_SIZES = 39.0
_MM2_PER_CMIL = math.pi / 4 * (25.4 / 1000) ** 2

#: SAE gauge -> least copper [circular mil]. Source: marine wire appendix, page 70 at delzer.com; same list at
#: genuinedealz.com. The numbers run 5 to 11 % under AWG of the same number.
SAE_CMIL: dict[float, int] = {18: 1537, 16: 2336, 14: 3702, 12: 5833, 10: 9343, 8: 14810, 6: 24538, 4: 37360}


def awg_mm2(awg: float) -> float:
    """Copper area of an AWG size [mm2]; 1/0 is 0, 2/0 is -1, 4/0 is -3. Between sizes the law is followed.

    Source: ASTM B258: diameter = 0.005 in times 92 to the power (36 - n) / 39.

    >>> round(awg_mm2(10), 3), round(awg_mm2(-3), 1)
    (5.261, 107.2)
    """
    diameter_in: float = _D36_IN * _RATIO ** ((36.0 - awg) / _SIZES)
    return math.pi / 4 * (diameter_in * 25.4) ** 2


def mm2_awg(area_mm2: float) -> float:
    """The AWG number of a copper area above 0 [mm2], with decimals where it falls between sizes.

    >>> round(mm2_awg(4.0), 2)
    11.18
    """
    diameter_in = math.sqrt(area_mm2 * 4 / math.pi) / 25.4
    return 36.0 - _SIZES * math.log(diameter_in / _D36_IN) / math.log(_RATIO)


def sae_mm2(sae: float) -> float | None:
    """Least copper area of an SAE gauge [mm2], or None for a size outside the table."""
    cmil = SAE_CMIL.get(sae)
    return None if cmil is None else cmil * _MM2_PER_CMIL


def awg_text(awg: float) -> str:
    """A gauge number as printed on wire: 10, 2/0, or 11.2 between sizes.

    >>> awg_text(10), awg_text(-1), awg_text(11.19)
    ('10', '2/0', '11.2')
    """
    if -3 <= awg <= 0 and awg == int(awg):
        return f"{1 - int(awg)}/0"
    return f"{awg:.1f}".removesuffix(".0")
