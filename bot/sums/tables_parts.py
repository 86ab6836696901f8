"""Mechanical tables: pins, bolts, soil, timber, friction, lifting. Each with unit, source and standing.

Standing: "read" means the source was read when the table was made, "memory" that it was not.
"""

# --- shafts and pins ----------------------------------------------------------------------------------

#: Slotted spring pin, heavy duty, least double shear [kN] by diameter [mm]. ISO 8752, reprints. Read.
SLOTTED_MM_KN: dict[float, float] = {
    1.5: 1.58,
    2: 2.82,
    2.5: 4.38,
    3: 6.32,
    3.5: 9.06,
    4: 11.24,
    4.5: 15.36,
    5: 17.54,
    6: 26.04,
    8: 42.76,
    10: 70.16,
    12: 104.1,
    14: 144.7,
    16: 171.0,
    18: 222.5,
    20: 280.6,
}
#: Slotted spring pin, carbon steel or 420, least double shear [lbf] by diameter [in]. ASME B18.8.2-2000 in
#: Machinery's Handbook, 31st ed., p. 1895 table 10. Read.
SLOTTED_IN_LBF: dict[float, float] = {
    1 / 16: 430,
    5 / 64: 800,
    3 / 32: 1150,
    1 / 8: 1875,
    9 / 64: 2175,
    5 / 32: 2750,
    3 / 16: 4150,
    7 / 32: 5850,
    1 / 4: 7050,
    5 / 16: 10800,
    3 / 8: 16300,
    7 / 16: 19800,
    1 / 2: 27100,
    5 / 8: 46000,
}
#: Slotted spring pin of austenitic stainless steel, double shear [kN] by diameter [mm]. Tested values. Read.
STAINLESS_MM_KN: dict[float, float] = {3: 4.07, 4: 7.25, 5: 10.75, 6: 16.17, 8: 26.46}
#: Coiled spring pin, heavy duty, least double shear [kN] by diameter [mm]. ISO 8748, reprint. Read.
COILED_MM_KN: dict[float, float] = {
    2: 3.5,
    2.5: 5.5,
    3: 7.6,
    3.5: 10,
    4: 13.5,
    5: 20,
    6: 30,
    8: 53,
    10: 84,
    12: 120,
}
#: Yield of the mildest common bar steel [psi]. Common practice, no source; the bar's own steel goes first.
MILD_BAR_YIELD_PSI = 36_000.0

# --- screws -------------------------------------------------------------------------------------------

#: Friction of a steel screw by nut: (lowest, highest) greased and dry. Greased figures span a supplier's
#: engineering table (read) and a textbook range (memory); dry ones the same two, which differ widely.
SCREW_FRICTION = {
    "greased steel": (0.11, 0.17),
    "greased bronze": (0.10, 0.16),
    "greased brass": (0.10, 0.19),
    "greased iron": (0.11, 0.17),
    "dry steel": (0.15, 0.80),
    "dry bronze": (0.15, 0.40),
    "dry brass": (0.15, 0.35),
    "dry iron": (0.15, 0.25),
}
#: Efficiency of one gear mesh, (lowest, highest). Gear comparison table. Read.
MESH_EFFICIENCY = {
    "spur": (0.94, 0.98),
    "straight bevel": (0.93, 0.97),
    "spiral bevel": (0.95, 0.99),
    "worm": (0.5, 0.9),
    "helical": (0.94, 0.98),
}
#: A worm drive holds by itself below the first efficiency, not above the second. Gear maker's note. Read.
WORM_HOLDS = (0.45, 0.55)
#: Hand crank, kept up for a while: force [N], radius [m], speed [rev/min]. Engineering table of human
#: force and power. Read.
CRANK_N, CRANK_RADIUS_M, CRANK_RPM = 130.0, 0.4, 25.0
#: Half the flank angle by thread form [degrees]. Acme 29, trapezoidal 30, V 60 in full; by definition.
HALF_ANGLE_DEG = {"square": 0.0, "acme": 14.5, "trapezoidal": 15.0, "v": 30.0}

# --- bolts --------------------------------------------------------------------------------------------

#: Grade -> [(largest size [in], proof [psi], tensile [psi])]. SAE J429, reprint. Read, but for the grade 2
#: tensile of the small sizes (memory: 74,000; a reprint says 72,000).
BOLT_GRADE = {
    "2": ((0.75, 55_000, 74_000), (1.5, 33_000, 60_000)),
    "5": ((1.0, 85_000, 120_000), (1.5, 74_000, 105_000)),
    "8": ((1.5, 120_000, 150_000),),
}
#: Nut factor K by finish: (lowest, usual, highest). Sources differ widely; the usual figures are those of
#: the common torque tables. Read. The bands of oiled and waxed are a fifth either way: common practice, no
#: source.
NUT_FACTOR = {
    "plain": (0.18, 0.20, 0.30),
    "zinc": (0.17, 0.22, 0.35),
    "oiled": (0.12, 0.15, 0.18),
    "waxed": (0.08, 0.10, 0.12),
}
#: Scatter of the clamp load at one torque, torque wrench or air tool. Torque page. Read.
CLAMP_SCATTER = 0.30
#: Clamp load as a share of proof load. The common torque tables. Read.
CLAMP_SHARE = 0.75
#: Shear strength as a share of tensile. Memory: never decided upon without the factor below.
BOLT_SHEAR_SHARE = 0.60
#: Divide a breaking load by this at least. Common practice, no source.
BREAKING_FACTOR = 3.0

# --- ground -------------------------------------------------------------------------------------------

#: Presumptive bearing [psf]. First five: IBC 2012 table 1806.2, reprint. The rest: Chicago code table
#: 13-132-060(a). Read. Mud, organic soil and loose fill carry nothing that could be counted on.
SOIL_PSF = {
    "rock": 12_000,
    "soft rock": 4_000,
    "gravel": 3_000,
    "sand": 2_000,
    "clay": 1_500,
    "soft clay": 1_500,
    "very soft clay": 500,
    "fill": 500,
    "organic": 0,
}
#: Bearing that may be taken where nothing is known of the soil [psf]. 24 CFR 3285.202(e). Read.
SOIL_UNKNOWN_PSF = 1_500
#: Sliding coefficient of the same soils. IBC 2012 table 1806.2. Read.
SLIDING = {"rock": 0.70, "soft rock": 0.35, "gravel": 0.35, "sand": 0.25}

# --- stands and cribs ---------------------------------------------------------------------------------

#: Load on one contact of two crossed softwood timbers [lb] by nominal side [in]. Fire-service pages. Read.
CRIB_CONTACT_LB = {4: 6_000.0, 6: 15_000.0}
#: The crushing stress behind those figures [psi] (memory).
CRIB_PSI = 500.0
#: Height of a crib as a multiple of its shortest width. Box-crib summary. Read; advisory. The same page
#: names 4 ft for 4x4 and 6 ft for 6x6 as the most, and a safety factor of 2.
CRIB_HEIGHT_RATIO = 3.0
CRIB_HEIGHT_FT = {4: 4.0, 6: 6.0}
CRIB_FACTOR = 2.0

# --- lifting ------------------------------------------------------------------------------------------

#: NIOSH 94-110 lifting equation, load constant [lb] and [kg]. Read.
LIFT_LB, LIFT_KG = 51.0, 23.0
#: Coupling factor, hands above or below 30 in: good, fair, poor. NIOSH 94-110. Memory, fair below 30 in read.
COUPLING = {"good": (1.0, 1.0), "fair": (0.95, 1.0), "poor": (0.90, 0.90)}

#: Share of the trailer's weight on the pin: usual band, and the figure people quote. Common practice: two
#: RV pages agree, no standard does.
PIN_SHARE = (0.15, 0.20, 0.25)
