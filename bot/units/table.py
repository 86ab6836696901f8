"""The closed table: every unit this program knows, what kind it is, and every way people spell it."""

from functools import cache
from typing import NamedTuple

from bot.units.tokens import word_set


class Unit(NamedTuple):
    """One unit: its short ``name``, ``kind``, name as ``said``, and its ``twin`` in the other family."""

    name: str
    kind: str
    said: str
    twin: str = ""


def _units(*rows: tuple[str, str, str, str]) -> dict[str, Unit]:
    return {row[0]: Unit(*row) for row in rows}


UNITS: dict[str, Unit] = _units(
    ("V", "volt", "volts", ""), ("mV", "volt", "millivolts", ""), ("kV", "volt", "kilovolts", ""),
    ("A", "amp", "amps", ""), ("mA", "amp", "milliamps", ""), ("ohm", "ohm", "ohms", ""),
    ("mohm", "ohm", "milliohms", ""), ("kohm", "ohm", "kilohms", ""), ("Mohm", "ohm", "megohms", ""),
    ("in", "length", "inches", "mm"), ("ft", "length", "feet", "m"), ("yd", "length", "yards", "m"),
    ("mile", "length", "miles", "km"), ("thou", "length", "thousandths of an inch", "mm"),
    ("mm", "length", "millimetres", "in"), ("cm", "length", "centimetres", "in"),
    ("m", "length", "metres", "ft"), ("km", "length", "kilometres", "mile"),
    ("lb", "weight", "pounds", "kg"), ("oz", "weight", "ounces", "g"),
    ("short ton", "weight", "short tons", "t"), ("long ton", "weight", "long tons", "t"),
    ("kg", "weight", "kilograms", "lb"), ("g", "weight", "grams", "oz"), ("t", "weight", "tonnes", "lb"),
    ("kip", "weight", "thousands of pounds", "kg"), ("stone", "weight", "stone", "kg"), ("lbf", "force", "pounds of force", "N"),
    ("N", "force", "newtons", "lbf"), ("kN", "force", "kilonewtons", "lbf"),
    ("kgf", "force", "kilograms of force", "lbf"), ("AWG", "gauge", "wire gauge", "mm2"),
    ("SAE", "gauge", "SAE wire gauge", "mm2"), ("lb-ft", "torque", "pound-feet", "N.m"),
    ("lb-in", "torque", "pound-inches", "N.m"), ("N.m", "torque", "newton metres", "lb-ft"),
    ("kgf.m", "torque", "kilogram-force metres", "lb-ft"),
    ("psi", "pressure", "pounds per square inch", "MPa"),
    ("psf", "pressure", "pounds per square foot", "kPa"), ("Pa", "pressure", "pascals", "psi"),
    ("kPa", "pressure", "kilopascals", "psi"), ("MPa", "pressure", "megapascals", "psi"),
    ("bar", "pressure", "bar", "psi"), ("F", "temperature", "degrees Fahrenheit", "C"),
    ("C", "temperature", "degrees Celsius", "F"), ("K", "temperature", "kelvin", ""),
    ("delta_F", "temperature difference", "degrees Fahrenheit of difference", "delta_C"),
    ("delta_C", "temperature difference", "degrees Celsius of difference", "delta_F"),
    ("ms", "time", "milliseconds", ""), ("s", "time", "seconds", ""), ("min", "time", "minutes", ""),
    ("h", "time", "hours", ""), ("day", "time", "days", ""), ("week", "time", "weeks", ""),
    ("month", "time", "months", ""), ("yr", "time", "years", ""), ("%", "percent", "percent", ""),
    ("in2", "area", "square inches", "mm2"), ("ft2", "area", "square feet", "m2"),
    ("mm2", "area", "square millimetres", "in2"), ("cm2", "area", "square centimetres", "in2"),
    ("m2", "area", "square metres", "ft2"), ("cmil", "area", "circular mils", "mm2"),
    ("kcmil", "area", "thousand circular mils", "mm2"), ("rpm", "turning speed", "turns a minute", ""),
    ("mph", "speed", "miles an hour", "km/h"), ("km/h", "speed", "kilometres an hour", "mph"),
    ("in/min", "speed", "inches a minute", "mm/s"), ("in/s", "speed", "inches a second", "mm/s"),
    ("mm/s", "speed", "millimetres a second", "in/min"), ("W", "power", "watts", ""),
    ("kW", "power", "kilowatts", ""), ("hp", "power", "horsepower", "W"), ("Ah", "charge", "amp-hours", ""),
    ("CCA", "cranking", "cold cranking amps", ""), ("Hz", "frequency", "hertz", ""),
    ("gal", "volume", "US gallons", "L"), ("L", "volume", "litres", "gal"),
)  # fmt: skip

#: Units of the US family; the rest of a unit's kind is metric. Units without a twin serve both.
US = word_set(
    "in ft yd mile thou lb kip stone oz lbf lb-ft lb-in psi psf F delta_F in2 ft2 cmil kcmil mph in/min in/s hp gal"
    " AWG SAE"
) | {"short ton", "long ton"}

#: An answer in this kind, as a person would type it.
EXAMPLES = {
    "volt": "12.4 V", "amp": "33 A", "ohm": "0.5 ohm", "length": "18 ft, 2 1/4 in or 57 mm",
    "weight": "14,000 lb or 6350 kg", "force": "800 lbf or 3.6 kN", "gauge": "10 AWG, 2/0 or 4 mm2",
    "torque": "75 lb-ft or 100 N.m", "pressure": "60 psi or 400 kPa", "temperature": "68 F or 20 C",
    "time": "40 s or 2 min", "percent": "80 %", "area": "144 in2 or 4 mm2", "turning speed": "90 rpm",
    "speed": "4 in/min", "power": "300 W", "charge": "100 Ah", "frequency": "60 Hz",
    "volume": "40 gal or 150 L",
}  # fmt: skip

#: Spellings that name no single unit -> the question back. Source for the three tons: the definitions in
#: convert.py.
DOUBT = {
    "ton": "Short tons (2,000 lb), long tons (2,240 lb) or metric tonnes (1,000 kg)? Type it in lb or kg.",
    "mil": "Thousandths of an inch, or millimetres? Type it with in or mm.",
    "deg": "Degrees Fahrenheit or Celsius? Type F or C after the number.",
    "gauge": "AWG or SAE wire gauge? The jacket says which; SAE wire holds less copper.",
    "#": "A wire gauge, a screw size or just a number? Type it with its unit, like 10 AWG.",
    "Mohm": "Milliohms or megohms? Write it out to be sure.",
}


@cache
def spellings() -> dict[str, str]:
    """Spelling in small letters -> unit; made at the first use, so that a cold start stays short.

    A blank joins words, "-" stands for any of - . * between letters, "/" for itself.
    """
    table: dict[str, str] = {}

    def add(unit: str, exact: str, plural: str = "") -> None:
        for word in exact.split(",") if exact else ():
            table[word] = unit
        for word in plural.split(",") if plural else ():
            table[word] = table[word + "s"] = unit

    add("V", "v,vdc,v dc,vac,v ac,volts dc,volt dc,volts ac,volt ac,dc volts,v-dc,volts-dc", "volt,voltio")
    add("mV", "mv,mvdc,milli volts,milli-volts", "millivolt")
    add("kV", "kv", "kilovolt")
    add("A", "a,adc,a dc,amps dc,amp dc,dc amps", "amp,ampere,ampère,amperio")
    add("mA", "ma,milli amps,milli-amps", "milliamp,milliampere")
    add("ohm", "ω", "ohm")
    add("mohm", "mω,milli ohms,milli-ohms,m ohm,m ohms,m-ohm,m ω", "mohm,milliohm,milohm")
    add("kohm", "kω,k ω,kilo ohms,k ohm,k ohms,k-ohm,k-ohms", "kohm,kilohm,kiloohm")
    add("Mohm", "meg,megs,mega ohms,meg ohm,meg ohms", "megohm,megaohm")
    add("in", "in,ins,inches,inch,inchs", "pulgada,pouce")
    add("ft", "ft,fts,foot,feet,foots,pies")
    add("yd", "yd,yds", "yard")
    add("mile", "mi", "mile")
    add("thou", "thou,thousandths,thousandths of an inch")
    add("mm", "mm,mms", "millimetre,millimeter,milimeter,milimetre")
    add("cm", "cm,cms", "centimetre,centimeter")
    add("m", "m", "metre,meter,metro,mètre")
    add("km", "km,kms", "kilometre,kilometer")
    add("lb", "lb,lbs,lb's,lbm,pnds,pds", "pound,libra,livre")
    add("oz", "oz,ozs", "ounce")
    add("short ton", "us ton,us tons,u-s tons,american tons", "short ton,short-ton")
    add("long ton", "uk ton,uk tons,imperial tons,british tons", "long ton,long-ton")
    add("t", "t,te,mt", "tonne,metric ton,metric tonne,metric-ton")
    add("kg", "kg,kgs,kilos,kilo,kilogramme,kilogrammes", "kilogram")
    add("g", "g,gr,gramme,grammes", "gram")
    add("kip", "klb,klbs", "kip")
    add("stone", "stone")
    add("lbf", "lbf,pounds of force,pounds force,pound-force,lbs force")
    add("N", "n", "newton")
    add("kN", "kn", "kilonewton")
    add("kgf", "kgf,kilograms force,kilogram-force")
    add("AWG", "awg,a-w-g,gauge awg,ga awg,awg wire,awg gauge")
    add("SAE", "sae,sae gauge,sae ga,gauge sae,ga sae,sae wire,sae guage,sae gage")
    pound, foot, inch = (
        ("lb", "lbs", "pound", "pounds", "lbf"),
        ("ft", "foot", "feet"),
        ("in", "inch", "inches"),
    )
    for sep in " ", "-", "/", "":
        for lb in pound:
            for ft in foot:
                add("lb-ft", f"{ft}{sep}{lb},{lb}{sep}{ft}")
            for inch_word in inch:
                add("lb-in", f"{inch_word}{sep}{lb}")
                if sep != " " and (sep != "/" or inch_word != "in"):  # "200 lb in the bed" is no torque
                    add("lb-in", f"{lb}{sep}{inch_word}")
        for nm in "n", "newton", "newtons":
            for metre in "m", "metre", "metres", "meter", "meters":
                add("N.m", f"{nm}{sep}{metre}" if sep != "/" else f"{nm}-{metre}")
    add("kgf.m", "kgfm,kgf m,kgf-m,kgm,kg-m")
    for lb in pound:
        add("psi", f"{lb} per square inch,{lb} per sq in,{lb}/in2,{lb}/sq in,{lb} per square in")
        add(
            "psf",
            f"{lb} per square foot,{lb} per sq ft,{lb}/ft2,{lb}/sq ft,{lb} a square foot,{lb}/square foot",
        )
    add("psi", "psi,psig,psis,p-s-i")
    add("psf", "psf")
    add("Pa", "pa", "pascal")
    add("kPa", "kpa", "kilopascal")
    add("MPa", "mpa,n/mm2", "megapascal")
    add("bar", "bar,bars")
    for degree in "°", "° ", "deg", "deg ", "degs ", "deg-", "degree ", "degrees ", "degrees-":
        add("F", f"{degree}f,{degree}fahrenheit")
        add("C", f"{degree}c,{degree}celsius,{degree}centigrade,{degree}celcius")
    add("F", "f,fahrenheit")
    add("C", "c,celsius,celcius,centigrade")
    add("K", "kelvin,kelvins,°k")
    add("ms", "ms,msec", "millisecond")
    add("s", "s", "sec,second")
    add("min", "", "min,minute")
    add("h", "h", "hr,hour")
    add("day", "", "day")
    add("week", "wk,wks", "week")
    add("month", "mo,mos", "month")
    add("yr", "", "yr,year")
    add("%", "%,pct,percent,per cent,percentage")
    for unit, words in (
        ("in2", "in,inch,inches"),
        ("ft2", "ft,foot,feet"),
        ("mm2", "mm,millimetres,millimeters,millimetre,millimeter"),
        ("cm2", "cm"),
        ("m2", "m,metres,meters,metre,meter"),
    ):
        for word in words.split(","):
            add(unit, f"square {word},sq {word},sq-{word},{word} squared,{word} sq,square-{word}")
        add(unit, f"{unit},sq{unit[:-1]},{unit[:-1]}^2")
    add("mm2", "mmq,qmm")
    add("cmil", "cmil,cmils,circular mil,circular mils,circ mils")
    add("kcmil", "kcmil,mcm,thousand circular mils")
    add(
        "rpm",
        "rpm,rpms,r-p-m,turns a minute,turns per minute,turns/min,rev/min,revs per minute",
    )
    add("mph", "mph,miles an hour,miles per hour,mi/h")
    add("km/h", "km/h,kmh,kph,km per hour,kilometers per hour,kilometres per hour")
    add("in/min", "in/min,ipm,inches per minute,inches a minute,in per min,inch a minute,inch per minute")
    add("in/s", "in/s,in/sec,inches per second,inches a second,in per sec")
    add("mm/s", "mm/s,mm/sec,mm per second,mm per sec,mm a second")
    add("W", "w", "watt")
    add("kW", "kw", "kilowatt")
    add("hp", "hp,h-p,horse power,horse-power,horsepower")
    add("Ah", "ah,a-h", "amp hour,amp-hour,ampere hour,ampere-hour,amphour")
    add("CCA", "cca,ccas,cold cranking amps,cold cranking amp,cranking amps")
    add("Hz", "hz,hertz")
    add("gal", "gal,gals", "gallon,us gallon")
    add("L", "l,liter,liters", "litre")
    return table


#: Spellings where the size of a letter decides; looked at before the others.
CASED = dict.fromkeys(("Mohm", "MOhm", "Mohms", "MOhms", "M\u03a9"), "Mohm")

#: Spelling -> (unit it is taken as until answered, key of DOUBT).
DOUBTFUL: dict[str, tuple[str, str]] = {
    **dict.fromkeys(("ton", "tons"), ("ton", "ton")),
    **dict.fromkeys(("mil", "mils"), ("mil", "mil")),
    **dict.fromkeys(("°", "deg", "degs", "degree", "degrees"), ("deg", "deg")),
    **dict.fromkeys(
        (
            "ga",
            "gauge",
            "guage",
            "gage",
            "gua",
            "guag",
            "gaug",
            "gauges",
            "guages",
            "gages",
            "g wire",
            "g wires",
            "g cable",
        ),
        ("AWG", "gauge"),
    ),
    **dict.fromkeys(("MOHM", "MOHMS"), ("ohm", "Mohm")),
}
#: Kind of the units that stay doubtful until a person has answered.
DOUBTFUL_KIND = {"ton": "weight", "mil": "length", "deg": "temperature"}


@cache
def openers() -> frozenset[str]:
    """All words a unit can begin with, for a quick no."""
    return frozenset(
        key.replace("-", " ").replace("/", " ").split(" ")[0] for key in (*spellings(), *DOUBTFUL)
    )


def canonical(unit: str) -> str | None:
    """The short name of a unit, from that name or any spelling of it; None when the table has no such unit.

    >>> canonical("percent"), canonical("ft"), canonical("ft-lb"), canonical("parsec")
    ('%', 'ft', 'lb-ft', None)
    """
    return unit if unit in UNITS else spellings().get(unit.strip().lower())


def kind_of(unit: str) -> str:
    """The kind of a unit that stands in the table or waits for an answer (ton, mil, deg).

    >>> kind_of("lb"), kind_of("ton")
    ('weight', 'weight')
    """
    return UNITS[unit].kind if unit in UNITS else DOUBTFUL_KIND[unit]
