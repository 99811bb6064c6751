"""Power rules: what a country's text gives for a hull, as data and small functions.

A result says what the rule gives. It is not a rating: the builder's capacity plate wins over it,
and where the text leaves a question open the result spans every reading of it and says so. To add
a country, write a function from ``RuleInputs`` to ``PowerAnswer`` and name it in its
``CountryRule``.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from rigfit.rigging.readings import Reading
from rigfit.rigging.tolerance import Estimate, estimate
from rigfit.units import FOOT_MM, HORSEPOWER_KW, INCH_MM

LONGEST_MM = 20.0 * FOOT_MM
"""33 CFR 183.51: boats under 20 ft; at 20 ft and over there is no rule of power."""

LEAST_KW = 2.0 * HORSEPOWER_KW
"""33 CFR 183.51: boats meant for more than 2 hp."""

TRANSOM_MM = 20.0 * INCH_MM
"""33 CFR 183.53: transom height from which, with remote steering, the higher line counts."""

FULL_TRANSOM = 0.5
"""33 CFR 183.3: a full transom is wider than this share of the greatest beam."""

STEPS_HP: tuple[tuple[int, float], ...] = (
    (35, 3.0), (39, 5.0), (42, 7.5), (45, 10.0), (52, 15.0),
)  # fmt: skip
"""Table 183.53: horsepower up to a factor, sq ft, rounded to the nearest integer."""

LINE_FROM = 52.5
"""Factor above which the table gives way to a line."""

_NOISE = 1e-9


@dataclass(frozen=True, slots=True)
class PowerLine:
    """A straight line of Table 183.53: ``slope * factor - offset``, factor in sq ft, result hp."""

    slope: float
    offset: float

    def hp(self, factor_ft2: float) -> float:
        """Return the horsepower for a factor, not raised to a multiple of 5."""
        return self.slope * factor_ft2 - self.offset

    @property
    def slope_kw_m2(self) -> float:
        """The same slope in kW for each square metre."""
        return self.slope * HORSEPOWER_KW / (FOOT_MM / 1000.0) ** 2

    @property
    def offset_kw(self) -> float:
        """The same offset in kW."""
        return self.offset * HORSEPOWER_KW


REMOTE = PowerLine(2.0, 90.0)
"""Remote steering and a transom of at least 20 in."""
PLAIN = PowerLine(0.8, 25.0)
"""No remote steering, or a lower transom."""
FLAT = PowerLine(0.5, 15.0)
"""The same with a flat bottom and hard chines."""

HALF_FACTOR = (
    "The factor lies half-way between two integers; the text says nearest integer and does not "
    "settle which. Both are shown."
)
EDGE_FACTOR = (
    "The factor is 52.5: over 52 for the table and not over 52.5 for the lines. The text does not "
    "settle this; both are shown."
)
LOWEST_BAND = (
    "A flat bottom with hard chines drops one step of the table, but there is none below 3 hp. The "
    "text does not settle this; ask the builder."
)


@dataclass(frozen=True, slots=True)
class RuleResult:
    """What 33 CFR 183.53(a) gives for one factor.

    :param low_hp: the least reading of the text; equal to ``high_hp`` where it settles the case,
        0 where it leaves open whether any engine is meant.
    :param high_hp: the greatest reading of it.
    :param raw_hp: the line's own figure before it is raised; None inside the table.
    :param unsettled: what the text does not settle, as sentences.
    """

    low_hp: float
    high_hp: float
    raw_hp: float | None = None
    unsettled: tuple[str, ...] = ()

    @property
    def is_settled(self) -> bool:
        """True where the text gives one figure."""
        return not self.unsettled


def factor_ft2(length_mm: float, width_mm: float) -> float:
    """Return the factor of 183.53(a)(1): length times transom width, in square feet."""
    return length_mm * width_mm / FOOT_MM**2


def raised_hp(hp: float) -> float:
    """Return 183.53(a)(3): the next exact multiple of 5, or the same where it is one already."""
    return 5.0 * math.ceil(hp / 5.0 - _NOISE)


def horsepower_183_53(
    factor: float, *, is_remote: bool, transom_mm: float, is_flat: bool
) -> RuleResult:
    """Return what 33 CFR 183.53(a) gives.

    :param factor: length times width, sq ft, 0 or more.
    :param is_remote: True with remote steering as 183.3 defines it.
    :param transom_mm: transom height as 183.3 defines it.
    :param is_flat: True for a flat bottom with hard chines.
    """
    if abs(factor - LINE_FROM) < _NOISE:
        table = _table(52, is_flat=is_flat)
        line = _line(factor, is_remote=is_remote, transom_mm=transom_mm, is_flat=is_flat)
        ends = (table.low_hp, line.high_hp)
        return RuleResult(min(ends), max(ends), line.raw_hp, (EDGE_FACTOR, *table.unsettled))
    if factor > LINE_FROM:
        return _line(factor, is_remote=is_remote, transom_mm=transom_mm, is_flat=is_flat)
    below = math.floor(factor + _NOISE)
    if abs(factor - below - 0.5) >= _NOISE:
        return _table(math.floor(factor + 0.5), is_flat=is_flat)
    low, high = _table(below, is_flat=is_flat), _table(below + 1, is_flat=is_flat)
    if low == high:
        return low
    notes = dict.fromkeys((HALF_FACTOR, *low.unsettled, *high.unsettled))
    return RuleResult(low.low_hp, high.high_hp, None, tuple(notes))


def _line(factor: float, *, is_remote: bool, transom_mm: float, is_flat: bool) -> RuleResult:
    is_high = is_remote and transom_mm >= TRANSOM_MM - _NOISE
    line = REMOTE if is_high else FLAT if is_flat else PLAIN
    raw = line.hp(factor)
    return RuleResult(raised_hp(raw), raised_hp(raw), raw)


def _table(nearest: int, *, is_flat: bool) -> RuleResult:
    step = next(index for index, (top, _) in enumerate(STEPS_HP) if nearest <= top)
    hp = STEPS_HP[step][1]
    if not is_flat:
        return RuleResult(hp, hp)
    if step == 0:
        return RuleResult(0.0, hp, None, (LOWEST_BAND,))
    return RuleResult(STEPS_HP[step - 1][1], STEPS_HP[step - 1][1])


@dataclass(frozen=True, slots=True)
class RuleInputs:
    """What is known of a boat for a power rule; None or "" where nobody said.

    :param length: as 183.3 defines it, mm.
    :param transom_width: greatest width, mm.
    :param beam: greatest beam, mm.
    :param aft_quarter_beam: broadest beam in the aftermost quarter, mm.
    :param transom_height: as 183.3 defines it, mm.
    :param height_fields: the fields that height comes from; others where it is stood in for.
    :param motorwell_height: as 183.3 defines it, mm.
    :param is_remote: remote steering, None where not said.
    :param is_flat: flat bottom with hard chines, None where not said.
    :param craft: one of ``load_fields.CRAFT``, "" where not known.
    :param persons: persons capacity, None where not known.
    :param power_kw: of the engine in question, None where not known.
    """

    length: Reading | None = None
    transom_width: Reading | None = None
    beam: Reading | None = None
    aft_quarter_beam: Reading | None = None
    transom_height: Reading | None = None
    height_fields: tuple[str, ...] = ("rules.transom_height",)
    motorwell_height: Reading | None = None
    is_remote: bool | None = None
    is_flat: bool | None = None
    craft: str = ""
    persons: int | None = None
    power_kw: float | None = None


@dataclass(frozen=True, slots=True)
class PowerAnswer:
    """What a country's power rule gives for a boat, over its tolerances and open questions.

    :param low_kw: the least it can give; None where it gives nothing.
    :param high_kw: the most it can give.
    :param factor: length times width, sq ft, with its tolerance.
    :param raw_kw: the line's figure before it is raised, at the middle of the readings.
    :param out_of_scope: why the rule does not apply; "" where it does.
    :param missing: fields without which nothing is given.
    :param open_fields: fields whose answer would narrow the result.
    :param used: fields the result rests on.
    :param unsettled: what the text itself does not settle.
    :param notes: what was taken in place of a reading, as sentences.
    """

    low_kw: float | None = None
    high_kw: float | None = None
    factor: Estimate | None = None
    raw_kw: float | None = None
    out_of_scope: str = ""
    missing: tuple[str, ...] = ()
    open_fields: tuple[str, ...] = ()
    used: tuple[str, ...] = ()
    unsettled: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def is_known(self) -> bool:
        """True where the rule gives a figure or a range."""
        return self.high_kw is not None


def us_power(boat: RuleInputs) -> PowerAnswer:
    """Return what 33 CFR 183.53(a) gives, over the tolerance of the tape and open answers."""
    out = _us_scope(boat)
    if out:
        return PowerAnswer(out_of_scope=out)
    width, width_field, missing, notes = _us_width(boat)
    if boat.length is None:
        missing = ("boat.length", *missing)
    if boat.length is None or width is None:
        return PowerAnswer(missing=missing, notes=notes)
    factor = estimate(
        lambda values: factor_ft2(values["length"], values["width"]),
        {"length": boat.length, "width": width},
    )
    middle = [
        horsepower_183_53(factor.value, is_remote=remote, transom_mm=height, is_flat=flat)
        for remote, height, flat in _branches(boat)
    ]
    everything = [
        horsepower_183_53(max(0.0, at), is_remote=remote, transom_mm=height, is_flat=flat)
        for at in (factor.value - factor.tolerance, factor.value + factor.tolerance)
        for remote, height, flat in _branches(boat)
    ] + middle
    used, asked = _us_fields(boat, factor)
    raw = {result.raw_hp for result in middle}
    only = raw.pop() if len(raw) == 1 else None
    return PowerAnswer(
        low_kw=min(result.low_hp for result in everything) * HORSEPOWER_KW,
        high_kw=max(result.high_hp for result in everything) * HORSEPOWER_KW,
        factor=factor,
        raw_kw=None if only is None else only * HORSEPOWER_KW,
        open_fields=asked,
        used=("boat.length", width_field, *used),
        unsettled=tuple(dict.fromkeys(text for result in middle for text in result.unsettled)),
        notes=(*notes, *_us_notes(boat, used)),
    )


def _us_scope(boat: RuleInputs) -> str:
    if boat.craft not in ("", "monohull"):
        return f"33 CFR 183.53 is for monohull outboard boats, not for this craft: {boat.craft}"
    if boat.length is not None and boat.length.value >= LONGEST_MM:
        return "33 CFR 183.53 ends at 20 ft; for longer boats the builder's plate alone counts"
    if boat.power_kw is not None and boat.power_kw <= LEAST_KW + _NOISE:
        return "33 CFR 183.53 is for boats meant for more than 2 hp"
    return ""


def _us_width(
    boat: RuleInputs,
) -> tuple[Reading | None, str, tuple[str, ...], tuple[str, ...]]:
    """Return the width of 183.53(a)(1), its field, what is missing and what was assumed."""
    width, beam = boat.transom_width, boat.beam
    if width is None:
        return None, "", ("rules.transom_width",), ()
    if beam is None:
        note = (
            "Taken as a full transom, wider than half the beam, which no beam was entered to prove."
        )
        return width, "rules.transom_width", (), (note,)
    if width.value > FULL_TRANSOM * beam.value:
        return width, "rules.transom_width", (), ()
    aft = boat.aft_quarter_beam
    note = "The transom is no wider than half the beam: the aftermost quarter's beam counts."
    if aft is None:
        return None, "", ("rules.aft_quarter_beam",), (note,)
    return aft, "rules.aft_quarter_beam", (), (note,)


def _branches(boat: RuleInputs) -> Iterator[tuple[bool, float, bool]]:
    """Yield every reading of steering, transom height and bottom that is still possible."""
    for remote in (True, False) if boat.is_remote is None else (boat.is_remote,):
        for height in _heights_mm(boat):
            for flat in (True, False) if boat.is_flat is None else (boat.is_flat,):
                yield remote, height, flat


def _heights_mm(boat: RuleInputs) -> tuple[float, ...]:
    height = boat.transom_height
    if height is None:
        return (0.0, TRANSOM_MM)
    return (height.value - height.tolerance, height.value + height.tolerance)


def _us_fields(boat: RuleInputs, factor: Estimate) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the fields that were used beside the factor, and those that would narrow it."""
    used: list[str] = []
    asked: list[str] = []
    may_be_line = factor.value + factor.tolerance >= LINE_FROM
    if may_be_line and boat.is_remote is not False:
        height = boat.transom_height
        low, high = _heights_mm(boat)
        (asked if boat.is_remote is None else used).append("rules.remote_steering")
        if height is None or low < TRANSOM_MM <= high:
            asked.append("rules.transom_height")
        else:
            used.extend(boat.height_fields)
    elif may_be_line:
        used.append("rules.remote_steering")
    is_high = may_be_line and boat.is_remote is True and _heights_mm(boat)[0] >= TRANSOM_MM
    if not is_high or factor.value - factor.tolerance <= LINE_FROM:
        (asked if boat.is_flat is None else used).append("rules.flat_bottom_hard_chine")
    return tuple(used), tuple(asked)


def _us_notes(boat: RuleInputs, used: tuple[str, ...]) -> tuple[str, ...]:
    notes = []
    if set(boat.height_fields) & set(used) - {"rules.transom_height"}:
        notes.append(
            "The height square to the keel line stands in for the upright one to the lowest place "
            "where water comes in."
        )
    length = boat.length
    if length is not None and length.value + length.tolerance >= LONGEST_MM:
        notes.append("The rule ends at 20 ft, which is within the tolerance of the length.")
    if not boat.craft:
        notes.append("Taken as a monohull that is no sailboat, canoe, kayak or inflatable.")
    return tuple(notes)


@dataclass(frozen=True, slots=True)
class TrialRoute:
    """Whether the performance test of 33 CFR 183.53(b) is open to a boat.

    :param is_open: True or False where all conditions are known, None while one is not.
    :param fails: the conditions that are not met, in words.
    :param asks: fields still missing.
    """

    is_open: bool | None
    fails: tuple[str, ...] = ()
    asks: tuple[str, ...] = ()


TEST_CEILING_HP = 40
"""33 CFR 183.53(b): the test gives no more (read in a secondary source)."""


def trial_route(boat: RuleInputs) -> TrialRoute:
    """Return whether 183.53(b) is open: 13 ft or less, a wheel, 19 in of transom, two persons."""
    height, well = boat.transom_height, boat.motorwell_height
    inches_19, inches_15 = 19.0 * INCH_MM, 15.0 * INCH_MM
    is_tall = None if height is None else height.value >= inches_19
    if is_tall is False and height is not None:
        low = height.value < inches_15
        is_tall = False if low else None if well is None else well.value >= inches_19
    conditions: tuple[tuple[str, bool | None, str], ...] = (
        (
            "13 ft or less",
            None if boat.length is None else boat.length.value <= 13.0 * FOOT_MM,
            "boat.length",
        ),
        ("a wheel for remote steering", boat.is_remote, "rules.remote_steering"),
        (
            "a transom of 19 in, or of 15 in with a motor well of 19 in",
            is_tall,
            "rules.transom_height" if height is None else "rules.motorwell_height",
        ),
        (
            "no more than two persons",
            None if boat.persons is None else boat.persons <= 2,
            "plate.max_persons",
        ),
    )
    fails = tuple(words for words, met, _ in conditions if met is False)
    asks = tuple(name for _, met, name in conditions if met is None)
    return TrialRoute(False if fails else None if asks else True, fails, asks)


@dataclass(frozen=True, slots=True)
class CountryRule:
    """What rigfit knows of one country's power rule.

    :param country: as in ``load_fields.COUNTRIES``.
    :param name: how the country is called in a sentence.
    :param title: the document.
    :param edition: what edition or year was meant.
    :param scope: which boats it is for.
    :param source: key into ``rigfit.sources.SOURCES``.
    :param ask: whom to ask, as a sentence.
    :param over: what is known about going over the plate, as a sentence, "" for nothing.
    :param gives: the rule as a function, None where its numbers could not be read.
    """

    country: str
    name: str
    title: str
    edition: str
    scope: str
    source: str
    ask: str
    over: str = ""
    gives: Callable[[RuleInputs], PowerAnswer] | None = field(default=None, compare=False)


_RULES = (
    CountryRule(
        "US",
        "the United States",
        "33 CFR 183.53",
        "text revised 1 July 2001, no later change found",
        "monohull outboard boats under 20 ft and over 2 hp; no sailboats, canoes, kayaks, "
        "inflatables or multihulls",
        "cfr-183.53",
        "Ask the boat's builder; the rule binds the builder's plate, and states add their own.",
        "Federal law binds the builder's plate; some states make going over it an offence.",
        us_power,
    ),
    CountryRule(
        "EU",
        "the European Union",
        "ISO 11592-1",
        "2016",
        "craft under 8 m, except most inflatables: found by a manoeuvring test",
        "iso-11592",
        "Ask the boat's builder for the power in the declaration of conformity.",
    ),
    CountryRule(
        "UK",
        "the United Kingdom",
        "ISO 11592-1",
        "2016",
        "craft under 8 m, except most inflatables: found by a manoeuvring test",
        "iso-11592",
        "Ask the boat's builder for the power in the declaration of conformity.",
    ),
    CountryRule(
        "CA",
        "Canada",
        "TP 1332",
        "edition not read",
        "outboard boats up to 6 m carry a compliance notice with their power and load",
        "tp-1332",
        "Read the compliance notice, or ask the builder for one.",
    ),
    CountryRule(
        "AU",
        "Australia",
        "AS 1799.1, clause 2.6",
        "2009, named by New South Wales for boats without a plate",
        "where no builder's rating exists; going over it is an offence there",
        "as-1799",
        "Ask the builder, or a surveyor who has AS 1799.1.",
        "In New South Wales owner and master commit an offence by going over it.",
    ),
    CountryRule(
        "NZ",
        "New Zealand",
        "no text was found",
        "none",
        "not known",
        "no-power-rule",
        "Ask the builder and the insurer.",
    ),
    CountryRule(
        "other",
        "that country",
        "no text was found",
        "none",
        "not known",
        "no-power-rule",
        "Ask the builder, the insurer and the authority for small craft.",
    ),
)

COUNTRY_RULES: Mapping[str, CountryRule] = MappingProxyType({rule.country: rule for rule in _RULES})
"""Every country a job can name, with its rule or whom to ask."""
