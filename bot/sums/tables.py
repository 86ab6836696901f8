"""Electrical tables: wire, fuses, battery, allowed losses. Each with unit, source, edition and standing.

Standing: "read" means the source was read when the table was made, "memory" that it was not.
"""

import itertools
from collections.abc import Mapping

INF = float("inf")

# --- copper -------------------------------------------------------------------------------------------

#: Annealed copper at 20 C [ohm mm2/m] and [ohm cmil/ft], 100 % IACS. Copper association physical
#: properties table (2001); 1/58 in IEC wording. Read.
COPPER_OHM_MM2_PER_M = 1 / 58
COPPER_OHM_CMIL_PER_FT = 10.371
#: Change of resistance per kelvin, referred to 20 C. Industrial Power Engineering Handbook p. 970. Read.
COPPER_PER_K = 0.00393
#: Specific heat [J/(kg K)] and density [kg/m3]. Copper association physical properties table (2001). Read.
COPPER_J_PER_KG_K = 386.0
COPPER_KG_PER_M3 = 8890.0
#: Coefficient of the building-code rule, referred to 75 C. NEC chapter 9 table 8, note. Read in a reprint.
CODE_PER_K_75C = 0.00323
#: Coefficient of IEC 60228's correction to 20 C. Read in a reprint. Not to be mixed with COPPER_PER_K.
IEC_PER_K = 0.004
#: Resistance of stranded against solid: ASTM B496-04 lay increment 2 % (read); 7-strand coated wire in a
#: printed resistance table goes to 3.9 % (read). Low, usual, high.
STRANDED = (1.0, 1.02, 1.04)
#: Constant of the two-wire rule V = K I L / CM [ohm cmil/ft], copper at about 25 to 30 C. Memory; it
#: reproduces a printed 3 % table (read) in 37 of 39 places.
DROP_K = 10.75

#: SAE-gauge wire, least copper area [cmil]; smaller than AWG of the same number. Marine wire appendix. Read
#: from 18 to 4; 2 is from memory, and a printed loss table that names it (read) agrees.
SAE_CMIL = {18: 1537, 16: 2336, 14: 3702, 12: 5833, 10: 9343, 8: 14810, 6: 24538, 4: 37360, 2: 62450}

#: Largest resistance at 20 C [ohm/km], plain copper, by area [mm2]. IEC 60228, three reprints. Read.
IEC_FLEXIBLE_OHM_PER_KM = {
    0.75: 26.0,
    1.0: 19.5,
    1.5: 13.3,
    2.5: 7.98,
    4.0: 4.95,
    6.0: 3.3,
    10.0: 1.91,
    16.0: 1.21,
    25.0: 0.78,
}
#: The same for solid and plain stranded wire (classes 1 and 2). IEC 60228 tables A.1, A.2. Read.
IEC_SOLID_OHM_PER_KM = {
    0.75: 24.5,
    1.0: 18.1,
    1.5: 12.1,
    2.5: 7.41,
    4.0: 4.61,
    6.0: 3.08,
    10.0: 1.83,
    16.0: 1.15,
    25.0: 0.727,
}

#: Current allowed in boats [A] by insulation rating [C] and AWG. 33 CFR 183.425 table 5. Read.
ALLOWED_A = {
    75: {18: 10, 16: 15, 14: 20, 12: 25, 10: 40, 8: 65, 6: 95, 4: 125},
    105: {18: 20, 16: 25, 14: 35, 12: 45, 10: 60, 8: 80, 6: 120, 4: 160},
}
#: Share of the allowed current left in a hot space and in a bundle. Marine cable table. Read.
PLACE_FACTOR = {"open": 1.0, "hot": 0.85, "three bundled": 0.70, "four to six": 0.60, "seven to 24": 0.50}
#: Largest fuse on a wire as a share of its allowed current, below 50 V. 33 CFR 183.455(c)(1). Read.
FUSE_SHARE_OF_WIRE = 1.5
#: Distance of the fuse from the source along the wire [in]; the second where the wire is sheathed or in an
#: enclosure. 33 CFR 183.455(b). Read.
FUSE_FROM_SOURCE_IN = (7, 40)
#: Largest fuse on small building wire and RV 120 V wiring [A]. NEC 240.4(D). Read.
BUILDING_FUSE_A = {14: 15, 12: 20, 10: 30}
#: Largest fuse on RV low-voltage wire in older code editions [A]. NEC 551.10(E)(1). Memory: shown, never
#: decided upon alone.
OLDER_RV_FUSE_A = {18: 6, 16: 8, 14: 15, 12: 20, 10: 30}
#: Least battery-to-frame bond [AWG copper]. NEC 2008 552.10(C)(4). Read.
BOND_AWG = 8

#: Share of 12 V that may be lost: 3 % where it matters, 10 % otherwise. Boat wiring catalogues 2021, 2022,
#: after the boat builders' voluntary standard. Read.
LOSS_SHARE = (0.03, 0.10)
#: Volts a sound part may lose under load. SAE guidance quoted in a car repair manual. Read; advisory.
SOUND_LOSS_V = {
    "small connection": 0.0,
    "high-current connection": 0.1,
    "high-current cable": 0.2,
    "switch or solenoid contact": 0.3,
    "ground": 0.1,
}
#: The plus and the minus side of a starter circuit may lose [V]. Starter test sheet. Read; advisory.
STARTER_SIDE_LOSS_V = {"supply": 0.5, "ground": 0.3}

# --- fuses and breakers -------------------------------------------------------------------------------

#: Opening windows: percent of rating -> (shortest, longest) [s].
FUSE_WINDOWS: dict[str, dict[float, tuple[float, float]]] = {
    # Common blade fuse, 3 to 40 A, after SAE J1284 and ISO 8820-3 type C. Memory.
    "blade": {
        110: (360_000, INF),
        135: (0.75, 600),
        160: (0.25, 50),
        200: (0.15, 5),
        350: (0.04, 0.5),
        600: (0.02, 0.1),
    },
    # Large blade fuse, 20 to 80 A (form E). DIN 72581-3 extract. Read.
    "large blade": {100: (360_000, INF), 135: (60, 1800), 200: (2, 60), 350: (0.2, 7)},
    # General supplementary fuse to 30 A. UL 248-14 in a fuse selection guide p. 12. Read (110 %: reprint).
    "supplementary": {110: (14_400, INF), 135: (0, 3600), 200: (0, 120)},
}
#: Kinds whose times were read in their source. A verdict from another kind says that it is from memory.
FUSE_WINDOWS_READ = frozenset({"large blade", "supplementary"})
#: Least and greatest opening time over the whole of ISO 8820-3 [s]. Read; advisory.
ISO_8820_SPAN_S = (0.75, 1800.0)
#: Kinds of breaker by how they reset. SAE J553, summary of the 2022 edition. Read.
BREAKERS = {
    "breaker 1": "automatic",
    "breaker 2": "modified: stays open while voltage is present",
    "breaker 3": "manual, trip-free",
}
#: Share of its rating that a fuse should carry steadily at 25 C. Fuse maker's engineering note. Read.
FUSE_STEADY_SHARE = 0.75
#: Share of the melting I2t that a fuse survives, by number of pulses 10 s apart. Fuse guide chart 2. Read.
PULSE_SHARE = {100: 0.48, 1000: 0.38, 10_000: 0.29, 100_000: 0.22}
#: I2t of one pulse as a share of peak2 x time. Fuse guide chart 1. Read.
PULSE_SHAPE = {"square": 1.0, "triangle": 1 / 3, "half sine": 0.5}
#: Largest drop across a sound form-E blade fuse at rated current [V]: to 20 A, and above. DIN 72581-3
#: extract. Read.
FUSE_DROP_V = (0.125, 0.100)

# --- battery ------------------------------------------------------------------------------------------

#: Charge [%] -> rested volts, 12 V flooded lead-acid at 80 F. Battery Council table, reprint. Read.
LEAD_V = {100: 12.65, 75: 12.45, 50: 12.24, 25: 12.06, 0: 11.89}
#: Two other printed lead-acid tables; the gap to the first is the honest uncertainty. Read.
LEAD_V_OTHERS = (
    {100: 12.66, 75: 12.45, 50: 12.30, 25: 12.15},
    {100: 12.60, 75: 12.40, 50: 12.20, 25: 12.00},
)
#: Charge [%] -> specific gravity, and freezing point of the acid [F]. Same Battery Council table. Read.
LEAD_GRAVITY = {100: 1.265, 75: 1.225, 50: 1.190, 25: 1.155, 0: 1.120}
LEAD_FREEZES_F = {100: -75, 75: -55, 50: -34, 25: -16, 0: -10}
#: Rested volts change with temperature [V/F], six cells: 12.65 V at 75 F, 12.52 V at 0 F. Magazine
#: measurement, 2011. Read. A rule of 0.0024 V/F is also in circulation.
LEAD_V_PER_F = (12.65 - 12.52) / 75
#: Charge [%] -> rested volts, LiFePO4, four cells. Two printed charts; each figure 0.2 V either way. Read.
#: The printed 14.6 V for "100 %" is a charging value and is left out.
LITHIUM_V = {99: 13.6, 90: 13.4, 70: 13.3, 40: 13.2, 30: 13.0, 20: 12.8, 10: 12.0, 0: 10.0}
LITHIUM_V_PLUS_MINUS = 0.2
#: Load test, 15 s at half the cold cranking amps: temperature [C] -> least volts. Service manuals. Read.
LOAD_TEST_V = {20: 9.6, 16: 9.5, 10: 9.4, 4: 9.3, -1: 9.1, -7: 8.9, -12: 8.7, -18: 8.5}
#: Cold cranking amps: volts that must be left after 30 s at -18 C. Service manual. Read.
COLD_CRANK_V = 7.2
#: Reserve capacity: minutes at this current [A] down to these volts, at 80 F. Service manual. Read.
RESERVE_A, RESERVE_END_V = 25.0, 10.5
#: Charge below which a lead-acid battery is not run on purpose [%]. Common practice, no source.
LEAD_FLOOR_PERCENT = 50.0
LITHIUM_FLOOR_PERCENT = 10.0

# --- how far a reading may be off, where the person did not say ----------------------------------------

#: Share or absolute tolerance of a reading. Common practice, no source.
READ_OFF = {
    "weight share": 0.01,
    "distance ft": 0.1,
    "length in": 0.0625,
    "volts": 0.05,
    "amps share": 0.03,
}
READ_OFF_NOTE = "readings are taken to be off by no more than {} (common practice, no source)"


def between(table: Mapping[int, float], at: float) -> float:
    """The table's value at a place between its rows, on a straight line; the end value beyond either end.

    >>> round(between(LEAD_V, 62.5), 3)
    12.345
    """
    keys = sorted(table)
    if at <= keys[0]:
        return table[keys[0]]
    for low, high in itertools.pairwise(keys):
        if at <= high:
            return table[low] + (table[high] - table[low]) * (at - low) / (high - low)
    return table[keys[-1]]


def back(table: Mapping[int, float], value: float) -> float:
    """The place at which a rising table has this value; the end place beyond either end.

    >>> back(LEAD_V, 12.345)
    62.5
    """
    keys = sorted(table)
    if value <= table[keys[0]]:
        return float(keys[0])
    for low, high in itertools.pairwise(keys):
        if value <= table[high]:
            return round(low + (high - low) * (value - table[low]) / (table[high] - table[low]), 9)
    return float(keys[-1])
