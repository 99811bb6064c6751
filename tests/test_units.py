"""Reading, converting and showing measurements."""

from __future__ import annotations

import math
import subprocess
import sys
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigfit.errors import EntryError
from rigfit.units import (
    BASE_UNIT,
    INCH,
    INCH_MM,
    LONGEST_TEXT,
    METRIC,
    Entry,
    Kind,
    Shown,
    convert,
    from_base,
    inch_fraction,
    parse_entry,
    show,
    unit_names,
)

IN_INCHES = Shown(lengths="in")
# A loaded machine may be slow once; that must not fail a property that holds.
unhurried = settings(deadline=None)


def refusal(typed: object, kind: Kind, **options: object) -> EntryError:
    with pytest.raises(EntryError) as caught:
        parse_entry(typed, kind, **options)  # type: ignore[arg-type]
    return caught.value


LENGTHS = [
    ("508", 508.0),
    ("508.0", 508.0),
    ("508.", 508.0),
    (".5", 0.5),
    (",5", 0.5),
    ("  508  ", 508.0),
    ("508mm", 508.0),
    ("508 MM", 508.0),
    ("508 mm.", 508.0),
    ("50.8 cm", 508.0),
    ("0.508 m", 508.0),
    ("20 in", 508.0),
    ("20 in.", 508.0),
    ("20 Inches", 508.0),
    ("20''", 508.0),
    ("20”", 508.0),
    ("20″", 508.0),
    ('20 3/8"', 517.525),
    ("20-3/8 in", 517.525),
    ("20 3 / 8 in", 517.525),
    ("20 3⁄8 in", 517.525),
    ('3/4"', 19.05),
    ("9/8 in", 28.575),
    ('20⅜"', 517.525),
    ('20 ⅜"', 517.525),
    ('20-⅜"', 517.525),
    ('½"', 12.7),
    ('-⅜"', -9.525),
    ("1' 8 3/8\"", 517.525),
    ("1' 8⅜\"", 517.525),
    ("1'-8\"", 508.0),
    ("1’8”", 508.0),
    ("1 ft 8 in", 508.0),
    ("1 ft. 8.5 in.", 520.7),
    ("1 foot 8 inches", 508.0),
    ("1' 8", 508.0),
    ("-1' 8\"", -508.0),
    ("5 ft", 1524.0),
    ("5'", 1524.0),
    ("5.5 feet", 1676.4),
    ("+10", 10.0),
    ("-10", -10.0),
    ("−10", -10.0),
    ("- 10", -10.0),
    ("50,8 cm", 508.0),
    ("13,5", 13.5),
    ("0,125", 0.125),
    ("1234,567", 1234.567),
    ("1,2345", 1.2345),
    ("1.234", 1.234),
    ("5\u202f080 mm", 5080.0),
    ("5\u2009080 mm", 5080.0),
    ("1\u00a0234\u00a0567", 1234567.0),
    ("1\u202f234,5 mm", 1234.5),
    ("508\u00a0mm", 508.0),
    ("20\u00a0125/128 in", (20 + 125 / 128) * 25.4),  # no thousands mark before a fraction
    ("1e3", 1000.0),
    ("1.5E-1 m", 150.0),
    ("5e-324", 5e-324),
    (508, 508.0),
    (508.25, 508.25),
    (1e22, 1e22),
    (-3, -3.0),
]


@pytest.mark.parametrize(("typed", "expected"), LENGTHS)
def test_lengths_as_users_type_them(typed, expected):
    entry = parse_entry(typed, Kind.LENGTH)
    assert entry.value == pytest.approx(expected, rel=1e-14)
    assert entry.tolerance is None
    assert entry.kind is Kind.LENGTH


@pytest.mark.parametrize(
    ("typed", "kind", "expected"),
    [
        ("13", Kind.ANGLE, 13.0),
        ("13°", Kind.ANGLE, 13.0),
        ("-5 deg", Kind.ANGLE, -5.0),
        ("0.5 rad", Kind.ANGLE, math.degrees(0.5)),
        ("163", Kind.MASS, 163.0),
        ("0.2 t", Kind.MASS, 200.0),
        ("100 lbs", Kind.MASS, 45.359237),
        ("80 hp", Kind.POWER, 59.6559897),
        ("80hp", Kind.POWER, 59.6559897),
        ("80", Kind.POWER, 59.6559897),
        ("80 PS", Kind.POWER, 58.83990),
        ("59 kW", Kind.POWER, 59.0),
        ("59 KW", Kind.POWER, 59.0),
        ("27", Kind.SPEED, 27.0),
        ("27 kn", Kind.SPEED, 27.0),
        ("50 km/h", Kind.SPEED, 26.9978402),
        ("5 ft/s", Kind.SPEED, 2.96241901),
        ("75", Kind.TORQUE, 75.0),
        ("75 N*m", Kind.TORQUE, 75.0),
        ("75 N ⋅ m", Kind.TORQUE, 75.0),
        ("55 ft-lb", Kind.TORQUE, 74.5699872),
        ("90", Kind.VOLUME, 90.0),
        ("24 US gal", Kind.VOLUME, 90.8498828),
        ("24 us  GAL", Kind.VOLUME, 90.8498828),
        ("0.09 m³", Kind.VOLUME, 90.0),
        ("5500", Kind.ROTATION, 5500.0),
        ("5500 1/min", Kind.ROTATION, 5500.0),
        ("5\u202f500 r/min", Kind.ROTATION, 5500.0),
        ("2.15", Kind.RATIO, 2.15),
        ("2.15:1", Kind.RATIO, 2.15),
        ("28/13", Kind.RATIO, 28 / 13),
        ("4", Kind.COUNT, 4.0),
        ("4.0", Kind.COUNT, 4.0),
        ("0", Kind.COUNT, 0.0),
        ("30 A", Kind.CURRENT, 30.0),
        ("30 amps", Kind.CURRENT, 30.0),
        ("500 mA", Kind.CURRENT, 0.5),
        ("15 %", Kind.FRACTION, 0.15),
        ("15%", Kind.FRACTION, 0.15),
        ("0.15", Kind.FRACTION, 0.15),
        ("120 %", Kind.FRACTION, 1.2),
    ],
)
def test_other_kinds(typed, kind, expected):
    assert parse_entry(typed, kind).value == pytest.approx(expected, rel=1e-8)


@pytest.mark.parametrize(
    ("typed", "value", "tolerance"),
    [
        ("508 ± 3", 508.0, 3.0),
        ("508±3", 508.0, 3.0),
        ("508 mm ± 3", 508.0, 3.0),
        ("508 ± 3 mm", 508.0, 3.0),
        ("508 mm ± 0.3 cm", 508.0, 3.0),
        ('20 3/8" ± 1/16"', 517.525, 1.5875),
        ('20 3/8 ± 1/16"', 517.525, 1.5875),
        ("20 in ± 1/2", 508.0, 12.7),
        ("1' 8\" ± 1/4", 508.0, 6.35),
        ("20 ± 1/4 in", 508.0, 6.35),
        ("508 +/- 3", 508.0, 3.0),
        ("508 +- 3", 508.0, 3.0),
        ("-5 ± 0", -5.0, 0.0),
        ("508 ± 0,5", 508.0, 0.5),
    ],
)
def test_tolerances(typed, value, tolerance):
    entry = parse_entry(typed, Kind.LENGTH)
    assert (entry.value, entry.tolerance) == pytest.approx((value, tolerance), rel=1e-14)


@pytest.mark.parametrize(
    ("kind", "metric", "inch"),
    [
        (Kind.LENGTH, "mm", "in"),
        (Kind.ANGLE, "deg", "deg"),
        (Kind.MASS, "kg", "lb"),
        (Kind.POWER, "hp", "hp"),
        (Kind.SPEED, "kn", "kn"),
        (Kind.TORQUE, "N·m", "lb·ft"),
        (Kind.VOLUME, "L", "US gal"),
        (Kind.ROTATION, "rpm", "rpm"),
        (Kind.RATIO, "", ""),
        (Kind.COUNT, "", ""),
        (Kind.FRACTION, "", ""),
        (Kind.FLOW, "L/h", "US gal/h"),
        (Kind.PRESSURE, "bar", "psi"),
        (Kind.CURRENT, "A", "A"),
    ],
)
def test_numbers_without_a_unit(kind, metric, inch):
    assert (METRIC.of(kind), INCH.of(kind)) == (metric, inch)
    assert parse_entry("1", kind, bare=METRIC).value == convert(1.0, metric, kind)
    assert parse_entry(1, kind, bare=INCH).value == convert(1.0, inch, kind)


def test_a_fraction_without_a_unit_is_read_only_where_inches_are_usual():
    assert parse_entry("20 3/8", Kind.LENGTH, bare=INCH).value == pytest.approx(517.525)
    assert "20 3/8 in" in refusal("20 3/8", Kind.LENGTH).cure


@pytest.mark.parametrize(
    ("given_", "typed"),
    [("  20 3/8 in ", "20 3/8 in"), (508.0, "508"), (508.5, "508.5"), (-0.0, "-0"), (7, "7")],
)
def test_the_typed_text_is_kept(given_, typed):
    assert parse_entry(given_, Kind.LENGTH).typed == typed


def test_minus_zero_becomes_zero():
    assert math.copysign(1.0, parse_entry("-0", Kind.LENGTH).value) == 1.0


# Typed text, kind, a part of the problem, a part of the cure.
REFUSED = [
    ("", Kind.LENGTH, "no length was typed", "508 mm"),
    ("   ", Kind.MASS, "no mass was typed", "163 kg"),
    ("1,234", Kind.LENGTH, "“1,234” can be read in two ways", "write 1.234 or 1234"),
    ("12,500 mm", Kind.LENGTH, "“12,500 mm” can be read in two ways", "write 12.500 or 12500"),
    ("508 ± 1,234", Kind.LENGTH, "“1,234”", "write 1.234 or 1234"),
    ("1.234,5", Kind.LENGTH, "“1.234,5” has thousands marks", "write 1234.5"),
    ("1,234.5", Kind.LENGTH, "“1,234.5” has thousands marks", "write 1234.5"),
    ("1,234,567", Kind.LENGTH, "“1,234,567” has thousands marks", "write 1234567"),
    ("1.234.567", Kind.LENGTH, "“1.234.567” has thousands marks", "write 1234567"),
    ("13,", Kind.LENGTH, "“13,” has a comma or point without digits", "50.8"),
    ("2..5", Kind.LENGTH, "“2..5” has a comma or point without digits", "50.8"),
    (".", Kind.LENGTH, "“.” has a comma or point without digits", "50.8"),
    ("20 kg", Kind.LENGTH, "“20 kg” measures mass, not length", "508 mm"),
    ("20 in", Kind.MASS, "“20 in” measures length, not mass", "163 kg"),
    ("1' 8\"", Kind.MASS, "measures length, not mass", "163 kg"),
    ("508 mm ± 3 %", Kind.LENGTH, "“3 %” measures percentage, not length", "508 mm"),
    ("4 mm", Kind.COUNT, "“4 mm” measures length, not count", "4"),
    ("20 inchs", Kind.LENGTH, "“inchs” in “20 inchs” is not a known unit", "inches"),
    ("20 kws", Kind.POWER, "“kws” in “20 kws” is not a known unit", "kW"),
    ("20 furlong", Kind.LENGTH, "“furlong” in “20 furlong”", "508 mm"),
    ("4 holes", Kind.COUNT, "“holes” in “4 holes”", "4"),
    ("0x1F", Kind.LENGTH, "“0x1F” is not one number", "plain digits"),
    ("1_000", Kind.LENGTH, "“1_000” is not one number", "plain digits"),
    ("٣", Kind.LENGTH, "holds the digit ٣", "write 3"),
    ("５08", Kind.LENGTH, "holds the digit ５", "write 5"),
    ("3/0", Kind.LENGTH, "“3/0” divides by zero", "3/8"),
    ("20 3/0 in", Kind.LENGTH, "“20 3/0 in” divides by zero", "3/8"),
    ("20 9/8 in", Kind.LENGTH, "“20 9/8 in” has a fraction of one or more", "write 21 1/8"),
    ("20 8/8 in", Kind.LENGTH, "“20 8/8 in” has a fraction of one or more", "write 21 if"),
    ("1' 13\"", Kind.LENGTH, "“1' 13\"” is not read as feet and inches", "1' 8\""),
    ("1.5' 8\"", Kind.LENGTH, "is not one number with one unit", "one value"),
    ("508 509", Kind.LENGTH, "“508 509” is not one number", "one value"),
    ("508 mm 509 mm", Kind.LENGTH, "“508 mm 509 mm” is not one number", "one value"),
    ("4e- 3", Kind.LENGTH, "“4e- 3” is not one number", "one value"),
    ("20 - 3/8 in", Kind.LENGTH, "is not one number", "one value"),
    ("½½ in", Kind.LENGTH, "is not one number", "one value"),
    ("3⅜8 in", Kind.LENGTH, "is not one number", "one value"),
    ("1\u00a0234\u00a05678", Kind.LENGTH, "is not one number", "one value"),
    ("508 ±", Kind.LENGTH, "“508 ±” is not one number", "one value"),
    ("± 3", Kind.LENGTH, "“± 3” is not one number", "one value"),
    ("508 ± 3 ± 3", Kind.LENGTH, "“508 ± 3 ± 3” is not one number", "one value"),
    ("508 ± -3", Kind.LENGTH, "“508 ± -3” has a negative tolerance", "minus"),
    ("508 ± 1e400", Kind.LENGTH, "“1e400” is too large", "measured"),
    ("1e400", Kind.LENGTH, "“1e400” is too large", "measured"),
    ("1e308 m", Kind.LENGTH, "“1e308 m” is too large", "measured"),
    ("nan", Kind.LENGTH, "“nan” does not begin with a number", "508 mm"),
    ("inf", Kind.LENGTH, "“inf” does not begin with a number", "508 mm"),
    ("mm", Kind.LENGTH, "“mm” does not begin with a number", "508 mm"),
    ("50\x008", Kind.LENGTH, "“50\ufffd8” holds a character that cannot be seen (U+0000)", "type"),
    ("50\t8", Kind.LENGTH, "“50 8” holds a character that cannot be seen (U+0009)", "type"),
    ("508\u200b mm", Kind.LENGTH, "(U+200B)", "type"),
    ("508\ud800", Kind.LENGTH, "“508\ufffd” holds", "type"),
    ("-1", Kind.COUNT, "“-1” is not a count", "4"),
    ("4.5", Kind.COUNT, "“4.5” is not a count", "4"),
    ("4 ± 1", Kind.COUNT, "“4 ± 1” is not a count", "4"),
    ("15", Kind.FRACTION, "“15” is more than 1", "15 %"),
    (math.nan, Kind.LENGTH, "“nan”", "508 mm"),
    (-math.inf, Kind.LENGTH, "“-inf”", "508 mm"),
    pytest.param(10**5000, Kind.LENGTH, "too large", "measured", id="huge"),
    pytest.param(-(10**5000), Kind.LENGTH, "too large", "measured", id="minus huge"),
    (True, Kind.COUNT, "“bool” is no measurement", "number or a text"),
    (None, Kind.LENGTH, "“NoneType” is no measurement", "number or a text"),
]


@pytest.mark.parametrize(("typed", "kind", "problem", "cure"), REFUSED)
def test_refusals_name_the_value_and_a_cure(typed, kind, problem, cure):
    error = refusal(typed, kind)
    assert problem in error.problem
    assert cure in error.cure


def test_a_wrong_unit_lists_the_right_ones():
    assert refusal("20 kg", Kind.LENGTH).allowed == "units of length: mm, cm, m, in, ft"
    assert refusal("4 kg", Kind.COUNT).allowed == "units of count: none, only a number"


def test_the_place_is_named_only_when_given():
    assert str(refusal("x", Kind.MASS, where="engine, mass")).startswith("engine, mass: “x”")
    assert str(refusal("x", Kind.MASS)).startswith("“x”")


def test_long_text_is_refused_with_its_length_and_not_repeated():
    error = refusal("9" * (LONGEST_TEXT + 1), Kind.LENGTH)
    assert "is 81 characters long" in error.problem
    assert "9" * 39 + "…" in error.problem
    assert "9" * 40 not in error.problem
    assert parse_entry("9" * LONGEST_TEXT, Kind.LENGTH).value == pytest.approx(1e80)


@pytest.mark.parametrize("start", ["1", " ", "1 ", "1/", "1,", "'", "±", "\u00a0"])
def test_ten_megabytes_pasted_are_refused_at_once(start):
    pasted = start * (10_000_000 // len(start))
    begun = time.perf_counter()
    assert "10000000 characters" in refusal(pasted, Kind.LENGTH).problem
    assert time.perf_counter() - begun < 0.5


@pytest.mark.parametrize("start", ["1", "1 ", "1/", "1,", "1'", "1\u00a0", "⅜", "- ", "1\u202f234"])
def test_the_longest_text_is_judged_quickly(start):
    typed = (start * LONGEST_TEXT)[: LONGEST_TEXT - 1] + "x"
    begun = time.perf_counter()
    refusal(typed, Kind.LENGTH)
    assert time.perf_counter() - begun < 0.5


@given(st.one_of(st.text(), st.text("0123456789.,/' \"+-±⅜½:%inftmk\u00a0\u202f", max_size=24)))
@unhurried
def test_any_text_is_read_or_refused(typed):
    for kind in Kind:
        try:
            entry = parse_entry(typed, kind)
        except EntryError as error:
            assert error.cure
            str(error).encode("utf-8")  # no lone surrogate slips into a message
        else:
            assert math.isfinite(entry.value)
            assert entry.tolerance is None or 0 <= entry.tolerance < math.inf


@given(st.one_of(st.integers(), st.floats(), st.integers(0, 5000).map(lambda power: 10**power)))
@unhurried
def test_any_number_is_read_as_itself_or_refused(number):
    try:
        entry = parse_entry(number, Kind.LENGTH)
    except EntryError:
        assert not math.isfinite(number) if isinstance(number, float) else abs(number) >= 1e70
    else:
        assert entry.value == float(number)
        assert parse_entry(entry.typed, Kind.LENGTH) == entry


UNITS = [(kind, name) for kind in Kind if kind is not Kind.COUNT for name in unit_names(kind)]


@given(st.sampled_from(UNITS), st.floats(-1e9, 1e9), st.sampled_from(["", " "]))
@unhurried
def test_a_number_with_a_unit_is_converted(unit, number, gap):
    kind, name = unit
    if not name and kind is Kind.FRACTION:
        number /= 1e9  # a percentage without its sign is at most one
    if name[:1].isdigit():
        gap = " "  # "0.01/min" would be a number of another size
    entry = parse_entry(f"{number!r}{gap}{name}", kind)
    assert entry == Entry(f"{number!r}{gap}{name}".strip(), kind, convert(number, name, kind), None)


@given(st.sampled_from(UNITS), st.floats(-1e12, 1e12).filter(lambda x: abs(x) > 1e-12))
@unhurried
def test_there_and_back_again(unit, number):
    kind, name = unit
    assert from_base(convert(number, name, kind), name, kind) == pytest.approx(number, rel=1e-12)


@given(st.floats(-1e5, 1e5))
@unhurried
def test_shown_inches_read_back_to_half_a_sixteenth(value):
    shown, _, metric = show(value, Kind.LENGTH, IN_INCHES, signed=True).partition(" (")
    half_step = INCH_MM / 32 * (1 + 1e-9)
    assert abs(parse_entry(shown, Kind.LENGTH).value - value) <= half_step
    assert abs(parse_entry(metric.rstrip(")"), Kind.LENGTH).value - value) <= 0.5 + 1e-9


@pytest.mark.parametrize("convert_one", [convert, from_base])
def test_conversions_refuse_wrong_units_and_endless_results(convert_one):
    with pytest.raises(EntryError, match="measures mass, not length"):
        convert_one(1.0, "kg", Kind.LENGTH)
    with pytest.raises(EntryError, match="“furlong”"):
        convert_one(1.0, "furlong", Kind.LENGTH)
    with pytest.raises(EntryError, match="not a number"):
        convert_one(math.nan, "mm", Kind.LENGTH)


@pytest.mark.parametrize(
    ("value", "kind", "shown", "text"),
    [
        (508.0, Kind.LENGTH, Shown(), "508 mm"),
        (508.5, Kind.LENGTH, Shown(), "509 mm"),
        (-508.5, Kind.LENGTH, Shown(), "-509 mm"),
        (507.49, Kind.LENGTH, Shown(), "507 mm"),
        (9.84, Kind.LENGTH, Shown(), "9.8 mm"),
        (9.97, Kind.LENGTH, Shown(), "10 mm"),
        (1.15, Kind.LENGTH, Shown(), "1.2 mm"),
        (-3.0, Kind.LENGTH, Shown(), "-3 mm"),
        (-0.04, Kind.LENGTH, Shown(), "0 mm"),
        (0.5 - 1e-16, Kind.COUNT, Shown(), "1"),
        (508.0, Kind.LENGTH, IN_INCHES, "20 in (508 mm)"),
        (517.525, Kind.LENGTH, IN_INCHES, "20 3/8 in (518 mm)"),
        (-9.525, Kind.LENGTH, IN_INCHES, "-3/8 in (-9.5 mm)"),
        (-11.1125, Kind.LENGTH, IN_INCHES, "-7/16 in (-11 mm)"),
        (507.9, Kind.LENGTH, IN_INCHES, "20 in (508 mm)"),
        (-0.5, Kind.LENGTH, IN_INCHES, "0 in (-0.5 mm)"),
        (5500.4, Kind.ROTATION, IN_INCHES, "5500 rpm"),
        (13.0, Kind.ANGLE, Shown(), "13°"),
        (13.04, Kind.ANGLE, Shown(), "13°"),
        (13.25, Kind.ANGLE, IN_INCHES, "13.3°"),
        (163.0, Kind.MASS, Shown(), "163 kg"),
        (163.0, Kind.MASS, IN_INCHES, "359 lb (163 kg)"),
        (convert(80, "hp", Kind.POWER), Kind.POWER, Shown(), "59.7 kW (80 hp)"),
        (convert(9.9, "hp", Kind.POWER), Kind.POWER, IN_INCHES, "7.4 kW (9.9 hp)"),
        (27.0, Kind.SPEED, Shown(), "27 kn"),
        (27.0, Kind.SPEED, Shown(speeds="km/h"), "50 km/h"),
        (27.0, Kind.SPEED, Shown(speeds="mph"), "31.1 mph"),
        (75.0, Kind.TORQUE, Shown(), "75 N·m"),
        (75.0, Kind.TORQUE, IN_INCHES, "55 lb·ft (75 N·m)"),
        (90.0, Kind.VOLUME, Shown(), "90 L"),
        (90.0, Kind.VOLUME, IN_INCHES, "24 US gal (90 L)"),
        (27 / 13, Kind.RATIO, Shown(), "2.077"),
        (2.0, Kind.RATIO, IN_INCHES, "2"),
        (10.0, Kind.COUNT, Shown(), "10"),
        (14.25, Kind.FLOW, Shown(), "14.3 L/h"),
        (14.25, Kind.FLOW, IN_INCHES, "3.8 US gal/h (14.3 L/h)"),
        (0.9, Kind.PRESSURE, Shown(), "0.9 bar"),
        (0.9, Kind.PRESSURE, IN_INCHES, "13.05 psi (0.9 bar)"),
        (0.15, Kind.FRACTION, Shown(), "15 %"),
        (0.1234, Kind.FRACTION, Shown(), "12.3 %"),
    ],
)
def test_showing(value, kind, shown, text):
    assert show(value, kind, shown) == text


@pytest.mark.parametrize(
    ("value", "shown", "text"),
    [
        (13.0, Shown(), "+13 mm"),
        (-13.0, Shown(), "-13 mm"),
        (0.0, Shown(), "0 mm"),
        (0.01, Shown(), "0 mm"),
        (0.5, Shown(), "+0.5 mm"),
        (9.525, IN_INCHES, "+3/8 in (+9.5 mm)"),
        (0.5, IN_INCHES, "0 in (+0.5 mm)"),
    ],
)
def test_showing_with_a_sign(value, shown, text):
    assert show(value, Kind.LENGTH, shown, signed=True) == text


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
@pytest.mark.parametrize("shown", [Shown(), IN_INCHES])
def test_what_is_not_finite_cannot_be_shown(value, shown):
    with pytest.raises(EntryError, match="not a number"):
        show(value, Kind.LENGTH, shown)


@pytest.mark.parametrize(
    ("value", "denominator", "text"),
    [
        (0.0, 16, "0"),
        (517.525, 16, "20 3/8"),
        (-517.525, 16, "-20 3/8"),
        (9.525, 16, "3/8"),
        (-0.1, 16, "0"),
        (25.3, 16, "1"),
        (INCH_MM / 32, 16, "1/16"),  # a half goes away from zero
        (-INCH_MM / 32, 16, "-1/16"),
        (INCH_MM * 3 / 32, 32, "3/32"),
        (INCH_MM * 1.4, 1, "1"),
        (INCH_MM * 0.3, 10, "3/10"),
    ],
)
def test_inch_fractions(value, denominator, text):
    assert inch_fraction(value, denominator) == text


def test_a_fraction_needs_a_denominator():
    with pytest.raises(EntryError, match="at least 1"):
        inch_fraction(10.0, 0)


def test_every_kind_has_a_base_unit_that_is_accepted():
    assert list(BASE_UNIT) == list(Kind)
    assert BASE_UNIT[Kind.TORQUE] == "N·m"
    assert all(BASE_UNIT[kind] in unit_names(kind) for kind in Kind)


def test_importing_loads_nothing_heavy():
    heavy = "{'difflib', 'decimal', 'fractions', 'numpy', 'pint', 'shapely'}"
    code = f"import sys, rigfit.units; print(*({heavy} & set(sys.modules)))"
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == ""
