"""Every unit spelling against two independent sources of factors.

Sources: the default unit registry of pint, and the exactly defined units in scipy.constants
(scipy takes its constants from CODATA; the units used here are exact by definition). Neither is
used by rigfit itself. The tables below are written by hand and not derived from rigfit.
"""

from __future__ import annotations

import math

import pint
import pytest
from scipy import constants

from rigfit import units
from rigfit.units import BASE_UNIT, Kind, convert, from_base, unit_names

EXACT = 1e-12

PINT_BASE = {
    Kind.LENGTH: "millimeter",
    Kind.ANGLE: "degree",
    Kind.MASS: "kilogram",
    Kind.POWER: "kilowatt",
    Kind.SPEED: "knot",
    Kind.TORQUE: "newton * meter",
    Kind.VOLUME: "liter",
    Kind.ROTATION: "revolutions_per_minute",
    Kind.RATIO: "dimensionless",
    Kind.COUNT: "dimensionless",
    Kind.FRACTION: "dimensionless",
    Kind.FLOW: "liter / hour",
    Kind.PRESSURE: "bar",
    Kind.CURRENT: "ampere",
}

# pint's expression for each group of spellings; a spelling missing here fails its test.
PINT_UNITS = {
    Kind.LENGTH: {
        "millimeter": ["mm"],
        "centimeter": ["cm"],
        "meter": ["m"],
        "inch": ["in", "inch", "inches", '"', "”", "″", "''", "’’", "′′"],
        "foot": ["ft", "foot", "feet", "'", "’", "′"],
    },
    Kind.ANGLE: {"degree": ["deg", "degree", "degrees", "°"], "radian": ["rad"]},
    Kind.MASS: {"kilogram": ["kg"], "gram": ["g"], "tonne": ["t"], "pound": ["lb", "lbs"]},
    Kind.POWER: {
        "kilowatt": ["kW"],
        "watt": ["W"],
        "horsepower": ["hp", "bhp"],
        "metric_horsepower": ["PS", "cv", "ch"],
    },
    Kind.SPEED: {
        "knot": ["kn", "kt", "kts", "knot", "knots"],
        "kilometer / hour": ["km/h", "kmh", "kph"],
        "mile / hour": ["mph"],
        "meter / second": ["m/s"],
        "foot / second": ["ft/s"],
    },
    Kind.TORQUE: {
        "newton * meter": ["N·m", "Nm", "N m", "N-m"],
        "kilogram_force * meter": ["kgf·m", "kgf m", "kgf-m", "kgfm"],
        "force_pound * foot": [
            *["lb·ft", "lb ft", "lb-ft", "lbft", "lbf·ft"],
            *["ft·lb", "ft lb", "ft-lb", "ftlb", "ft·lbf"],
        ],
    },
    Kind.VOLUME: {
        "liter": ["L", "litre", "litres", "liter", "liters"],
        "milliliter": ["ml"],
        "gallon": ["US gal", "gal"],
        "imperial_gallon": ["imp gal"],
        "meter ** 3": ["m3", "m³"],
    },
    Kind.ROTATION: {"revolution / minute": ["rpm", "r/min", "1/min"]},
    Kind.RATIO: {"dimensionless": ["", ":1", ": 1"]},
    Kind.COUNT: {"dimensionless": [""]},
    Kind.FRACTION: {"dimensionless": [""], "percent": ["%", "percent"]},
    Kind.FLOW: {
        "liter / hour": ["L/h", "l/hr", "lph", "litres/h", "liters/h"],
        "gallon / hour": ["US gal/h", "gal/h", "gal/hr", "gph"],
        "imperial_gallon / hour": ["imp gal/h"],
    },
    Kind.PRESSURE: {
        "bar": ["bar"],
        "force_pound / inch ** 2": ["psi", "lbf/in²", "lbf/in2"],
        "kilopascal": ["kPa"],
    },
    Kind.CURRENT: {
        "ampere": ["A", "amp", "amps", "ampere", "amperes"],
        "milliampere": ["mA"],
    },
}

SPELLINGS = [(kind, name) for kind in Kind for name in unit_names(kind)]


@pytest.fixture(scope="module")
def registry() -> pint.UnitRegistry:
    return pint.UnitRegistry()


@pytest.mark.parametrize(("kind", "name"), SPELLINGS)
def test_each_spelling_has_the_factor_of_pint(kind, name, registry):
    (expression,) = [unit for unit, names in PINT_UNITS[kind].items() if name in names]
    expected = registry.Quantity(1.0, expression).to(PINT_BASE[kind]).magnitude
    assert convert(1.0, name, kind) == pytest.approx(expected, rel=EXACT)
    assert from_base(7.0, name, kind) == pytest.approx(7.0 / expected, rel=EXACT)


def test_every_spelling_of_the_table_is_accepted():
    listed = {
        (kind, name) for kind, rows in PINT_UNITS.items() for row in rows.values() for name in row
    }
    assert listed == set(SPELLINGS)


@pytest.mark.parametrize("kind", list(Kind))
def test_the_base_unit_has_the_factor_one(kind):
    assert convert(3.25, BASE_UNIT[kind], kind) == 3.25


METRE_BASE = 1e3
KNOT = constants.knot

SCIPY = [
    (Kind.LENGTH, "in", constants.inch * METRE_BASE),
    (Kind.LENGTH, "ft", constants.foot * METRE_BASE),
    (Kind.ANGLE, "rad", 1 / constants.degree),
    (Kind.MASS, "lb", constants.pound),
    (Kind.MASS, "t", constants.metric_ton),
    (Kind.POWER, "hp", constants.hp / constants.kilo),
    (Kind.POWER, "PS", 75 * constants.kgf / constants.kilo),
    (Kind.SPEED, "km/h", constants.kmh / KNOT),
    (Kind.SPEED, "mph", constants.mph / KNOT),
    (Kind.SPEED, "m/s", 1 / KNOT),
    (Kind.SPEED, "ft/s", constants.foot / KNOT),
    (Kind.TORQUE, "lb·ft", constants.lbf * constants.foot),
    (Kind.TORQUE, "kgf·m", constants.kgf),
    (Kind.VOLUME, "US gal", constants.gallon_US / constants.liter),
    (Kind.FLOW, "US gal/h", constants.gallon_US / constants.liter),
    (Kind.PRESSURE, "psi", constants.psi / constants.bar),
    (Kind.VOLUME, "imp gal", constants.gallon_imp / constants.liter),
]


@pytest.mark.parametrize(("kind", "name", "expected"), SCIPY)
def test_the_factor_of_scipy(kind, name, expected):
    assert convert(1.0, name, kind) == pytest.approx(expected, rel=EXACT)


@pytest.mark.parametrize(
    ("ours", "expected"),
    [
        (units.INCH_MM, constants.inch * 1e3),
        (units.FOOT_MM, constants.foot * 1e3),
        (units.POUND_KG, constants.pound),
        (units.GRAVITY, constants.g),
        (units.POUND_FOOT_NM, constants.lbf * constants.foot),
        (units.HORSEPOWER_KW, constants.hp / 1e3),
        (units.METRIC_HORSEPOWER_KW, 75 * constants.g / 1e3),
        (units.KNOT_M_S, constants.nautical_mile / constants.hour),
        (units.MILE_M, constants.mile),
        (units.US_GALLON_L, constants.gallon_US * 1e3),
        (units.IMPERIAL_GALLON_L, constants.gallon_imp * 1e3),
        (units.RADIAN_DEG, math.degrees(1.0)),
    ],
)
def test_the_named_constants_against_scipy(ours, expected):
    assert ours == pytest.approx(expected, rel=EXACT)
