"""Units: reading what a user types, turning it into base units, and showing it again.

Everything inside rigfit is kept in base units (mm, deg, kg, kW, kn, N·m, litre, rpm, L/h, bar, or a
pure number). This module is the only place where another unit is known. All factors are exact by
definition, or products of exact factors. Reading is deliberately strict: text that could mean
two things is refused with advice, because a wrong guess would drill holes in the wrong place.
"""

from __future__ import annotations

import enum
import math
import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

from rigfit.errors import EntryError

INCH_MM: Final = 25.4
FOOT_MM: Final = 304.8
POUND_KG: Final = 0.45359237
GRAVITY: Final = 9.80665  # m/s², standard gravity, which defines the pound-force and the kgf
POUND_FOOT_NM: Final = 0.3048 * POUND_KG * GRAVITY
HORSEPOWER_KW: Final = 550 * POUND_FOOT_NM / 1000  # mechanical: 550 ft·lbf/s
METRIC_HORSEPOWER_KW: Final = 75 * GRAVITY / 1000  # PS, cv, ch: 75 kgf·m/s
KNOT_M_S: Final = 1852 / 3600
MILE_M: Final = 1609.344
US_GALLON_L: Final = 231 * INCH_MM**3 / 1e6  # 231 cubic inches
IMPERIAL_GALLON_L: Final = 4.54609
CIRCULAR_MIL_MM2: Final = math.pi / 4 * (INCH_MM / 1000) ** 2
PSI_BAR: Final = POUND_KG * GRAVITY / (INCH_MM / 1000) ** 2 / 1e5
RADIAN_DEG: Final = 180 / math.pi
LONGEST_TEXT: Final = 80  # characters; longer text is refused unread, so reading stays fast


class Kind(enum.Enum):
    """What a measurement measures; the value is the word for it in plain English."""

    LENGTH = "length"
    ANGLE = "angle"
    MASS = "mass"
    POWER = "power"
    SPEED = "speed"
    TORQUE = "torque"
    VOLUME = "volume"
    ROTATION = "rotation"
    RATIO = "ratio"
    COUNT = "count"
    FRACTION = "percentage"
    FLOW = "flow"
    PRESSURE = "pressure"
    CURRENT = "current"


_EXAMPLE: Final[Mapping[Kind, str]] = {
    Kind.LENGTH: "508 mm, 50.8 cm, 20 3/8 in or 508 ± 3 mm",
    Kind.ANGLE: "13 deg or 13° ± 0.5°",
    Kind.MASS: "163 kg or 359 lb",
    Kind.POWER: "80 hp or 59 kW",
    Kind.SPEED: "27 kn or 50 km/h",
    Kind.TORQUE: "75 N·m or 55 lb·ft",
    Kind.VOLUME: "90 L or 24 US gal",
    Kind.ROTATION: "5500 rpm",
    Kind.RATIO: "2.15 or 28/13",
    Kind.COUNT: "4",
    Kind.FRACTION: "15 % or 0.15",
    Kind.FLOW: "18 L/h or 4.8 US gal/h",
    Kind.PRESSURE: "0.9 bar or 13 psi",
    Kind.CURRENT: "30 A",
}

# Sizes in base units, by accepted spellings: the first spelling is the one offered to users, the
# first unit of a kind is its base unit, and an empty spelling is a pure number.
# fmt: off
_UNITS: Final[Mapping[Kind, Mapping[str, float]]] = {
    Kind.LENGTH: {"mm": 1.0, "cm": 10.0, "m": 1000.0,
                  "in|inch|inches|\"|”|″|''|’’|′′": INCH_MM, "ft|foot|feet|'|’|′": FOOT_MM},
    Kind.ANGLE: {"deg|degree|degrees|°": 1.0, "rad": RADIAN_DEG},
    Kind.MASS: {"kg": 1.0, "g": 0.001, "t": 1000.0, "lb|lbs": POUND_KG},
    Kind.POWER: {"kW": 1.0, "W": 0.001, "hp|bhp": HORSEPOWER_KW, "PS|cv|ch": METRIC_HORSEPOWER_KW},
    Kind.SPEED: {"kn|kt|kts|knot|knots": 1.0, "km/h|kmh|kph": 1 / 1.852,
                 "mph": MILE_M / 1852, "m/s": 1 / KNOT_M_S, "ft/s": 0.3048 / KNOT_M_S},
    Kind.TORQUE: {"N·m|Nm|N m|N-m": 1.0, "kgf·m|kgf m|kgf-m|kgfm": GRAVITY,
                  "lb·ft|lb ft|lb-ft|lbft|lbf·ft|ft·lb|ft lb|ft-lb|ftlb|ft·lbf": POUND_FOOT_NM},
    Kind.VOLUME: {"L|litre|litres|liter|liters": 1.0, "ml": 0.001, "US gal|gal": US_GALLON_L,
                  "imp gal": IMPERIAL_GALLON_L, "m3|m³": 1000.0},
    Kind.ROTATION: {"rpm|r/min|1/min": 1.0},
    Kind.RATIO: {"|:1|: 1": 1.0},
    Kind.COUNT: {"": 1.0},
    Kind.FRACTION: {"": 1.0, "%|percent": 0.01},
    Kind.FLOW: {"L/h|l/hr|lph|litres/h|liters/h": 1.0, "US gal/h|gal/h|gal/hr|gph": US_GALLON_L,
                "imp gal/h": IMPERIAL_GALLON_L},
    Kind.PRESSURE: {"bar": 1.0, "psi|lbf/in²|lbf/in2": PSI_BAR, "kPa": 0.01},
    Kind.CURRENT: {"A|amp|amps|ampere|amperes": 1.0, "mA": 0.001},
}
# fmt: on
BASE_UNIT: Mapping[Kind, str] = {k: next(iter(u)).split("|")[0] for k, u in _UNITS.items()}


def _key(name: str) -> str:
    """Return the spelling a unit is looked up by: case, product dots and spaces evened out."""
    evened = re.sub(r"\s*[·⋅∙•*]\s*", "·", " ".join(name.split()))
    return evened.removesuffix(".").casefold()


_FACTORS: Final = {
    kind: {_key(name): size for names, size in units.items() for name in names.split("|")}
    for kind, units in _UNITS.items()
}
# Spaces keep a fraction sign apart from digits that touch it: 20⅜ is 20 3/8.
_IN_ASCII: Final = str.maketrans(
    {sign: f" {unicodedata.normalize('NFKC', sign)} " for sign in "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒"} | {"−": "-"}
)
# Patterns are text, so that they are compiled when first needed and not when this is imported.
# In all of them \d means 0 to 9, because other digits are refused before.
_THOUSANDS: Final = r"(?<![\d.,/])\d{1,3}(?:[\u00a0\u2009\u202f]\d{3})+(?!\d|\s*/)"
_NUMBER: Final = (
    r"([+-]?)\s*(?:(?:(?P<whole>\d+)(?:-\s?|\s+))?(?P<over>\d+)\s*/\s*(?P<under>\d+)"
    r"|(?P<decimal>[\d.,]+)(?P<power>(?:[eE][+-]?\d+)?))(?P<unit>.*)"
)
_FEET: Final = (
    r"(?i)([+-]?)\s*(?P<feet>\d+)\s*(?:['’′]|ft\.?|foot|feet)(?:-|\s*)"
    r"(?P<inches>[\d.,].*?)\s*(?:\"|”|″|''|’’|′′|in\.?|inch|inches)?"
)


@dataclass(frozen=True, slots=True)
class BareUnits:
    """The unit, spelled as typed, that a number without a unit is taken in, by kind."""

    length: str
    mass: str
    torque: str
    volume: str
    angle: str = "deg"
    power: str = "hp"
    speed: str = "kn"
    rotation: str = "rpm"
    flow: str = "L/h"
    pressure: str = "bar"
    current: str = "A"

    def of(self, kind: Kind) -> str:
        """Return the unit name for ``kind``; "" (a pure number) for the kinds without units."""
        return str(getattr(self, kind.value, ""))


@dataclass(frozen=True, slots=True)
class Entry:
    """One measurement as typed and as understood.

    :param typed: the text as the user typed it, without spaces around it.
    :param kind: what it measures.
    :param value: finite, in the base unit of ``kind``.
    :param tolerance: half-width a of ± a, >= 0, in the base unit; None if none was typed.
    """

    typed: str
    kind: Kind
    value: float
    tolerance: float | None


@dataclass(frozen=True, slots=True)
class Shown:
    """How measurements are shown: "in" adds inches, pounds and gallons before the metric value."""

    lengths: Literal["mm", "in"] = "mm"
    speeds: Literal["kn", "km/h", "mph"] = "kn"


IN_METRIC: Final = Shown()
METRIC: Final = BareUnits(length="mm", mass="kg", torque="N·m", volume="L")
INCH: Final = BareUnits(
    length="in", mass="lb", torque="lb·ft", volume="US gal", flow="US gal/h", pressure="psi"
)


def unit_names(kind: Kind) -> tuple[str, ...]:
    """Return every accepted spelling of the units of ``kind``; "" stands for a pure number."""
    return tuple(name for names in _UNITS[kind] for name in names.split("|"))


def convert(value: float, unit_name: str, kind: Kind) -> float:
    """Return ``value``, given in ``unit_name``, in the base unit of ``kind``.

    :raises EntryError: for a unit that is not one of ``kind``, or a result that is not finite.
    """
    return _finite(value * _factor(unit_name, kind, unit_name), f"{value} {unit_name}")


def from_base(value: float, unit_name: str, kind: Kind) -> float:
    """Return ``value``, given in the base unit of ``kind``, in ``unit_name``.

    :raises EntryError: for a unit that is not one of ``kind``, or a result that is not finite.
    """
    return _finite(value / _factor(unit_name, kind, unit_name), f"{value} {BASE_UNIT[kind]}")


def inch_fraction(value_mm: float, denominator: int = 16) -> str:
    """Return ``value_mm`` as inches like ``20 3/8``, ``-3/8`` or ``0`` (the sign is for all of it).

    Rounded to the nearest 1/``denominator`` (>= 1), halves away from zero, and reduced.

    :raises EntryError: if the value is not finite or the denominator is less than 1.
    """
    if denominator < 1:
        raise _bad(str(denominator), "is no denominator", "it is at least 1", "choose 16")
    steps = _nearest(abs(value_mm) / INCH_MM * denominator)
    whole, over = divmod(steps, denominator)
    shared = math.gcd(over, denominator)
    fraction = f"{over // shared}/{denominator // shared}" if over else ""
    text = f"{whole or ''} {fraction}".strip() or "0"
    return f"-{text}" if value_mm < 0 and steps else text


def show(value: float, kind: Kind, shown: Shown = IN_METRIC, *, signed: bool = False) -> str:
    """Return ``value`` (base unit of ``kind``) with its unit, rounded for a reader.

    Inches go to the nearest 1/16; lengths, masses, torques and volumes to 0.1 below 10 and to
    whole numbers from there; halves go away from zero. Never "-0".

    :param signed: put "+" before positive values.
    :raises EntryError: if the value is not finite.
    """
    units: tuple[str, ...] = (BASE_UNIT[kind],)
    imperial = {
        Kind.LENGTH: "in", Kind.MASS: "lb", Kind.TORQUE: "lb·ft", Kind.VOLUME: "US gal",
        Kind.FLOW: "US gal/h", Kind.PRESSURE: "psi",
    }  # fmt: skip
    if shown.lengths == "in" and kind in imperial:
        units = (imperial[kind], BASE_UNIT[kind])
    special = {Kind.POWER: ("kW", "hp"), Kind.SPEED: (shown.speeds,), Kind.FRACTION: ("%",)}
    first, *more = (_in_unit(value, unit, kind, plus=signed) for unit in special.get(kind, units))
    return f"{first} ({more[0]})" if more else first


def compact(
    value_mm: float, shown: Shown = IN_METRIC, *, tolerance_mm: float = 0.0, signed: bool = False
) -> str:
    """Return a length for a narrow place, without unit: ``+12``, or ``+1/2 (+12)`` in inches.

    A tolerance above zero stands behind the millimetres: ``518 ± 3``, ``20 3/8 (518 ± 3)``.
    """
    metric = show(value_mm, Kind.LENGTH, signed=signed).removesuffix(" mm")
    if tolerance_mm > 0.0:
        metric += f" ± {compact(tolerance_mm)}"
    if shown.lengths == "mm":
        return metric
    return f"{_in_unit(value_mm, 'in', Kind.LENGTH, plus=signed).removesuffix(' in')} ({metric})"


def brief(said: str) -> str:
    """Return what ``show`` or ``compact`` said without the metric value in brackets behind it."""
    return said.partition(" (")[0]


def mile_unit(shown: Shown) -> str:
    """Return the unit of fuel for a distance: L/nmi, L/km, L/mi or gal/..., as speeds are shown."""
    fuel = "gal" if shown.lengths == "in" else "L"
    return f"{fuel}/{ {'kn': 'nmi', 'km/h': 'km', 'mph': 'mi'}[shown.speeds] }"


def per_mile(litres: float, shown: Shown) -> float:
    """Return litres a nautical mile in the unit that ``mile_unit`` names."""
    fuel = from_base(litres, "US gal" if shown.lengths == "in" else "L", Kind.VOLUME)
    # A mile of the speed's own hour: litres an hour over miles an hour.
    return fuel / from_base(1.0, shown.speeds, Kind.SPEED)


def _in_unit(value: float, unit: str, kind: Kind, *, plus: bool) -> str:
    number = inch_fraction(value) if unit == "in" else _rounded(from_base(value, unit, kind), kind)
    sign = "+" if plus and number != "0" and not number.startswith("-") else ""
    return f"{sign}{number}°" if unit == "deg" else f"{sign}{number} {unit}".rstrip()


def _rounded(number: float, kind: Kind) -> str:
    tenths = abs(number) < 10 or kind in (Kind.ANGLE, Kind.POWER, Kind.SPEED, Kind.FRACTION)
    fixed = {Kind.RATIO: 3, Kind.ROTATION: 0, Kind.COUNT: 0, Kind.PRESSURE: 2, Kind.FLOW: 1}
    decimals = fixed.get(kind, int(tenths))
    steps = _nearest(abs(number) * 10**decimals)
    text = f"{steps / 10**decimals:.15g}"
    return f"-{text}" if number < 0 and steps else text


def _nearest(size: float) -> int:
    """Round ``size`` >= 0 with halves up; noise of unit conversion must not turn a half down."""
    cleaned = round(_finite(size, f"{size}"), 9)
    return math.floor(cleaned) + (cleaned % 1 >= 0.5)


def parse_entry(
    typed: str | int | float, kind: Kind, *, bare: BareUnits = METRIC, where: str = ""
) -> Entry:
    """Read one measurement, with or without unit and tolerance, into base units.

    :param typed: text such as ``50.8 cm``, ``20 3/8"``, ``1' 8"`` or ``508 ± 3 mm``, at most
        ``LONGEST_TEXT`` characters; a number is read like its text.
    :param kind: a count must be whole, >= 0 and without tolerance; a percentage typed without
        "%" is a fraction of one, at most 1.
    :param bare: the units of numbers without one.
    :param where: the form field or file place to name in an error.
    :raises EntryError: if this is not exactly one such measurement, or could mean two things.
    """
    try:
        return _parsed(_text_of(typed), kind, bare)
    except EntryError as error:
        raise (error.at(where) if where else error) from None


def _parsed(text: str, kind: Kind, bare: BareUnits) -> Entry:
    sides = [side.strip() for side in re.split(r"±|\+/-|\+-", _plain(text, kind))]
    if len(sides) > 2 or "" in sides:
        raise _unreadable(text, kind)
    read = [(side, *_read(side, kind)) for side in sides]
    # A unit typed on one side of the ± counts for both sides.
    typed_unit = next((unit for _, _, unit in read if unit), "")
    value, *rest = (_in_base(side, n, unit or typed_unit, kind, bare) for side, n, unit in read)
    if rest and rest[0] < 0:
        raise _bad(text, "has a negative tolerance", "a tolerance is 0 or more", "drop its minus")
    if kind is Kind.COUNT and (rest or value < 0 or not value.is_integer()):
        allowed = "a count is a whole number, 0 or more, without a tolerance"
        raise _bad(text, "is not a count", allowed, f"write for example {_EXAMPLE[kind]}")
    return Entry(text, kind, value, rest[0] if rest else None)


def _text_of(typed: object) -> str:
    if isinstance(typed, str):
        if len(typed) <= LONGEST_TEXT:
            return typed.strip()
        allowed = f"at most {LONGEST_TEXT} characters are read"
        raise _bad(typed, f"is {len(typed)} characters long", allowed, "type one measurement only")
    if isinstance(typed, bool) or not isinstance(typed, int | float):
        raise _bad(type(typed).__name__, "is no measurement", cure="give a number or a text")
    if isinstance(typed, float):
        return float.__repr__(typed).removesuffix(".0")
    if abs(typed) >= 10 ** (LONGEST_TEXT - 1):  # Python refuses even to print very long ones
        raise EntryError("a number this long is too large", cure="give the measured number")
    return int.__repr__(typed)


def _plain(text: str, kind: Kind) -> str:
    """Return ``text`` with fractions, minus signs and spaces in their ASCII spelling."""
    if not text:
        raise EntryError(f"no {kind.value} was typed", cure=f"type for example {_EXAMPLE[kind]}")
    for char in text:
        if not char.isprintable() and unicodedata.category(char) != "Zs":
            problem = f"holds a character that cannot be seen (U+{ord(char):04X})"
            raise _bad(text, problem, cure="delete it all and type it again by hand")
        if char.isdecimal() and not char.isascii():
            allowed, meant = "only the digits 0 to 9 are read", unicodedata.decimal(char)
            raise _bad(text, f"holds the digit {char}", allowed, f"write {meant} for it")
    joined = re.sub(_THOUSANDS, lambda group: re.sub(r"\D", "", group[0]), text.replace("⁄", "/"))
    return " ".join(joined.translate(_IN_ASCII).split()).replace("⁄", "/")


def _read(text: str, kind: Kind) -> tuple[float, str]:
    """Split one side of the ± into its number and the unit behind it, "" if there is none."""
    feet = re.fullmatch(_FEET, text)
    if feet is not None:
        inches, unit = _read(feet["inches"], kind)
        if unit or inches >= 12:
            allowed = "after whole feet come less than 12 inches"
            raise _bad(text, "is not read as feet and inches", allowed, "write for example 1' 8\"")
        total = 12 * float(feet["feet"]) + inches
        return -total if feet[1] == "-" else total, "in"
    match = re.fullmatch(_NUMBER, text)
    if match is None:
        problem, cure = "does not begin with a number", f"type for example {_EXAMPLE[kind]}"
        raise _bad(text, problem, "a number in the digits 0 to 9 comes first", cure)
    number = _decimal(match) if match["decimal"] else _fraction(match)
    return -number if match[1] == "-" else number, match["unit"].strip()


def _fraction(match: re.Match[str]) -> float:
    whole, over, under = int(match["whole"] or 0), int(match["over"]), int(match["under"])
    if under == 0:
        raise _bad(match[0], "divides by zero", cure="write a fraction such as 3/8")
    if match["whole"] and over >= under:
        rest = f" {over % under}/{under}" if over % under else ""
        cure = f"write {_short(f'{whole + over // under}{rest}')} if that is meant"
        raise _bad(match[0], "has a fraction of one or more behind a whole number", cure=cure)
    return whole + over / under


def _decimal(match: re.Match[str]) -> float:
    """Read a number with a decimal point, or a decimal comma where it can mean nothing else."""
    digits = match["decimal"]
    if not re.fullmatch(r"\d+\.?|\d*(?:[.,]\d+)+", digits):
        raise _bad(match[0], "has a comma or point without digits", cure="write it like 50.8")
    *groups, last = re.split("[.,]", digits)
    whole, marks = "".join(groups), set(digits) & {".", ","}
    if re.fullmatch(r"(?!0,)\d{1,3},\d{3}", digits):
        problem, cure = "can be read in two ways", f"write {whole}.{last} or {whole}{last}"
        raise _bad(match[0], problem, "thousands marks are not read", cure)
    if len(groups) > 1:
        cure = f"write {_short(f'{whole}.{last}' if len(marks) == 2 else f'{whole}{last}')}"
        raise _bad(match[0], "has thousands marks", "thousands marks are not read", cure)
    return float(digits.replace(",", ".") + match["power"])


def _in_base(text: str, number: float, unit: str, kind: Kind, bare: BareUnits) -> float:
    factor = _factor(unit or bare.of(kind), kind, text)
    # Numbers without a unit that are almost surely not meant in the unit they would get.
    if kind is Kind.LENGTH and not unit and "/" in text and factor != INCH_MM:
        cure = f"write {_short(text)} in, or millimetres as a decimal number"
        raise _bad(text, "is a fraction without a unit", "fractions are for inches", cure)
    if kind is Kind.FRACTION and not unit and abs(number) > 1:
        raise _bad(text, "is more than 1, which is 100 %", cure=f"write {_short(text)} %")
    return _finite(number * factor, text)


def _factor(name: str, kind: Kind, text: str) -> float:
    """Return the size of the unit ``name`` in base units; ``text`` is what an error shows."""
    key = _key(name)
    if key in _FACTORS[kind]:
        return _FACTORS[kind][key]
    offered = ", ".join(names.split("|")[0] for names in _UNITS[kind] if names)
    allowed = f"units of {kind.value}: {offered or 'none, only a number'}"
    cure = f"write for example {_EXAMPLE[kind]}"
    other = next((other for other in Kind if key and key in _FACTORS[other]), None)
    if other is not None:
        raise _bad(text, f"measures {other.value}, not {kind.value}", allowed, cure)
    if re.search(r"\d|^[+/-]", key):
        raise _unreadable(text, kind)
    import difflib  # only here, because it is slow to load and seldom needed

    near = difflib.get_close_matches(key, _FACTORS[kind], 3, 0.5)
    spelled = [spelling for spelling in unit_names(kind) if _key(spelling) in near]
    cure = f"perhaps {' or '.join(spelled)} is meant" if spelled else cure
    raise _bad(name, f"in “{_short(text)}” is not a known unit", allowed, cure)


def _finite(number: float, text: str) -> float:
    if not math.isfinite(number):
        raise _bad(text, "is too large or not a number", cure="give the measured number")
    return number + 0.0  # turns -0.0 into 0.0


def _unreadable(text: str, kind: Kind) -> EntryError:
    allowed, cure = f"such forms are read: {_EXAMPLE[kind]}", "type one value in plain digits"
    return _bad(text, "is not one number with one unit", allowed, cure)


def _bad(text: str, problem: str, allowed: str = "", cure: str = "") -> EntryError:
    return EntryError(f"“{_short(text)}” {problem}", allowed=allowed, cure=cure)


def _short(text: str) -> str:
    """Return ``text`` cut to what fits an error, without characters that upset a terminal."""
    start = text if len(text) <= 40 else f"{text[:39]}…"
    return "".join(c if c.isprintable() else " " if c.isspace() else "\ufffd" for c in start)
