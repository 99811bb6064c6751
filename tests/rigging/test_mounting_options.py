"""Every height an engine can hang at, and where a bare transom may be drilled."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from rigfit.errors import JobError
from rigfit.rigging.case import Case
from rigfit.rigging.drilling import DrillingChoice, drilling_choices
from rigfit.rigging.findings import Limits, Verdict
from rigfit.rigging.fit_check import fit_check
from rigfit.rigging.job import Job
from rigfit.rigging.mounting_options import (
    REASON_LOW,
    REASON_MAKER,
    best_option,
    height_options,
    lift_of,
    option_at,
    plate_ranges,
)
from rigfit.rigging.outboard import LEG_CLASSES
from rigfit.rigging.readings import Origin
from tests.builders import (
    CATALOGUE,
    CLAMPED,
    NO_BAND,
    PLATE,
    POD,
    STEPPED,
    bracket_job,
    case_of,
    changed,
    jobs,
    reading,
    sample_job,
    without,
)

firsts = st.floats(20.0, 200.0)
pitches = st.floats(10.0, 60.0)
holes = st.floats(20.0, 120.0)
legs = st.floats(381.0, 780.0)
BARE_PATTERN = ("engine.first_row", "engine.row_pitch")
UNDRILLED = "mounting.upper_holes_below_top"


def hooked(depth_mm: float) -> Job:
    return sample_job(keel_line__gap_300=reading(depth_mm, 1.0))


# ----------------------------------------------------------------------------- lifts


@given(firsts, pitches, holes)
def test_a_row_lifts_the_seat_by_its_hole_less_that_of_the_transom(
    first: float, pitch: float, below: float
) -> None:
    case = case_of(
        sample_job(
            engine__first_row=reading(first, 1.0),
            engine__row_pitch=reading(pitch, 0.25),
            mounting__upper_holes_below_top=reading(below, 1.0),
        )
    )
    lifts = [lift_of(case, row, 0.0).value for row in (1, 2, 3, 4)]
    assert lifts == pytest.approx([first + index * pitch - below for index in range(4)], abs=1e-9)


# Check values C-holes-up-1, -3 and -4: an owners' forum's definition of mounting-height steps,
# 3/4 in a hole, four or five holes. Mark: read, common practice.
@pytest.mark.parametrize(("holes_up", "rise_in", "rise_mm"), [(1, 0.75, 19.05), (3, 2.25, 57.15)])
def test_the_rows_of_the_trade_rise_three_quarters_of_an_inch_a_hole(
    holes_up: int, rise_in: float, rise_mm: float
) -> None:
    case = case_of(without(sample_job(), *BARE_PATTERN))
    risen = lift_of(case, 1 + holes_up, 0.0).value - lift_of(case, 1, 0.0).value
    assert risen == pytest.approx(rise_mm, abs=0.001)
    assert risen / 25.4 == pytest.approx(rise_in, abs=0.001)


def test_a_fifth_row_rises_three_inches() -> None:
    # Check value C-holes-up-4, same source and mark.
    five = replace(
        CATALOGUE.hole_pattern("four-bolt"), upper_rows_mm=(50.8, 69.85, 88.9, 107.95, 127.0)
    )
    catalogue = replace(CATALOGUE, hole_patterns={**CATALOGUE.hole_patterns, "four-bolt": five})
    bare = without(sample_job(), *BARE_PATTERN)
    case = Case(bare, catalogue, bare.engines[0])
    risen = lift_of(case, 5, 0.0).value - lift_of(case, 1, 0.0).value
    assert risen == pytest.approx(76.2, abs=0.001)


@given(jobs())
def test_heights_are_listed_from_the_lowest_engine_up(job: Job) -> None:
    lifts = [option.lift.value for option in height_options(case_of(job))]
    assert lifts == sorted(lifts)


@pytest.mark.parametrize(("kind", "settings"), [(PLATE, 11), (STEPPED, 5), (POD, 1)])
def test_a_bracket_multiplies_the_rows_by_its_settings(kind: str, settings: int) -> None:
    # 125 mm of stepless travel: ten steps of 12.7 mm from the lowest, and the highest itself.
    assert len(height_options(case_of(bracket_job(kind)))) == 4 * settings


@given(st.floats(0.0, 76.2), st.integers(1, 4))
def test_a_bracket_setting_lifts_the_seat_by_as_much(setting: float, row: int) -> None:
    case = case_of(bracket_job(STEPPED))
    risen = lift_of(case, row, setting).value - lift_of(case, row, 0.0).value
    assert risen == pytest.approx(setting, abs=1e-9)


def test_an_engine_that_clamps_on_hangs_at_one_height_only() -> None:
    options = height_options(case_of(sample_job(engine__engine_class=CLAMPED)))
    assert [(option.row, option.lift.value) for option in options] == [(0, 0.0)]


# ----------------------------------------------------------------------------- refusals


@given(firsts, holes)
def test_a_row_whose_hook_would_clearly_be_below_the_top_is_refused(
    first: float, below: float
) -> None:
    job = sample_job(
        engine__first_row=reading(first, 1.0), mounting__upper_holes_below_top=reading(below, 1.0)
    )
    for option in height_options(case_of(job)):
        if option.lift.value < -option.lift.tolerance:
            assert (option.verdict, option.reason) == (Verdict.STOPS, REASON_LOW)
            assert not option.is_possible


# A millimetre below, with the plate where it belongs: the tolerance alone must not let it pass.
@example(52.0, 489.0)
@given(holes, st.floats(400.0, 640.0))
def test_a_height_with_the_hook_below_the_top_never_fits(below: float, leg: float) -> None:
    job = sample_job(
        mounting__upper_holes_below_top=reading(below, 1.0), engine__leg_measured=reading(leg, 1.0)
    )
    low = [option for option in height_options(case_of(job)) if option.lift.value < 0.0]
    assert Verdict.FITS not in {option.verdict for option in low}


@pytest.mark.parametrize("setting", [0.0, 19.05, 76.2])
def test_raising_a_bracket_does_not_lift_the_hook_off_its_edge(setting: float) -> None:
    """The engine's holes stay as far below the bracket's edge at every setting of it."""
    job = bracket_job(STEPPED, engine__first_row=reading(30.0, 1.0))
    assert option_at(case_of(job), 1, setting).reason == REASON_LOW


@given(st.floats(0.0, 120.0))
def test_a_row_higher_than_the_maker_allows_is_refused(most: float) -> None:
    job = sample_job(engine__max_lift=reading(most, 0.0, Origin.STATED))
    for option in height_options(case_of(job)):
        assert (option.reason == REASON_MAKER) is (option.lift.value > most)
        assert (option.verdict is Verdict.STOPS) or option.lift.value <= most


def test_a_setting_of_a_bracket_that_is_not_there_is_refused() -> None:
    job = sample_job(mounting__row=2, mounting__bracket_setting=reading(20.0, 1.0))
    with pytest.raises(JobError, match="no setback bracket"):
        fit_check(job, CATALOGUE)


def test_a_setting_beyond_the_travel_of_the_bracket_is_not_to_be_had() -> None:
    job = bracket_job(
        STEPPED,
        mounting__row=1,
        mounting__bracket_setting=reading(150.0, 1.0),
        engine__max_lift=None,
        engine__leg_measured=reading(610.0, 5.0),
    )
    with pytest.raises(JobError, match=r"0 to 76\.2 mm"):
        fit_check(job, CATALOGUE)


# ----------------------------------------------------------------------------- verdicts


@given(legs, st.floats(480.0, 560.0))
def test_a_leg_known_from_an_advert_only_never_fits(leg: float, height: float) -> None:
    job = without(
        sample_job(
            engine__leg_stated=reading(leg, 0.0, Origin.STATED),
            transom__height_along_face=reading(height, 3.0),
        ),
        "engine.leg_measured",
        "transom.height_square",
    )
    verdicts = {option.verdict for option in height_options(case_of(job))}
    assert verdicts <= {Verdict.UNKNOWN, Verdict.STOPS}


def test_a_stated_leg_that_is_hopeless_at_both_ends_of_its_spread_stops() -> None:
    job = without(
        sample_job(engine__leg_stated=reading(762.0, 0.0, Origin.STATED)), "engine.leg_measured"
    )
    assert {option.verdict for option in height_options(case_of(job))} == {Verdict.STOPS}


def test_a_stated_leg_whose_spread_reaches_past_both_ends_of_the_target_is_unknown() -> None:
    """Too long at one end and too short at the other: the tape may well find it right."""
    job = without(
        sample_job(
            target__low=reading(-20.0, 0.0, Origin.CHOSEN),
            target__high=reading(-18.0, 0.0, Origin.CHOSEN),
        ),
        "engine.leg_measured",
    )
    assert option_at(case_of(job), 2).verdict is Verdict.UNKNOWN


@pytest.mark.parametrize("depth", [8.0, 12.0, 30.0])
def test_a_hook_past_the_limit_stops_all_advice_on_heights(depth: float) -> None:
    options = height_options(case_of(hooked(depth)))
    assert {option.verdict for option in options} <= {Verdict.UNKNOWN, Verdict.STOPS}


def test_a_rocker_past_the_limit_stops_all_advice_on_heights_too() -> None:
    rocker = sample_job(keel_line__gap_0=reading(9.0, 1.0), keel_line__gap_900=reading(9.0, 1.0))
    verdicts = {option.verdict for option in height_options(case_of(rocker))}
    assert verdicts <= {Verdict.UNKNOWN, Verdict.STOPS}


@pytest.mark.parametrize(
    "missing",
    [
        "transom.rake",
        "engine.leg_measured",
        "engine.first_row",
        "mounting.upper_holes_below_top",
        "keel_line.gap_0",
    ],
)
def test_no_height_fits_without_a_reading_it_needs(missing: str) -> None:
    options = height_options(case_of(without(sample_job(), missing)))
    assert Verdict.FITS not in {option.verdict for option in options}


def test_no_height_fits_on_a_row_whose_place_is_the_classs() -> None:
    """Rows of 18 and of 19 mm are both met: 3 mm over three rows, more than 0.5 mm a row."""
    job = without(sample_job(engine__leg_measured=reading(550.0, 5.0)), "engine.row_pitch")
    option = option_at(case_of(job), 4)
    assert option.plate is not None
    assert option.off_target_mm == 0.0
    assert option.verdict is not Verdict.FITS


@given(jobs())
def test_a_class_figure_that_decides_never_fits(job: Job) -> None:
    deciding = {"height", "rake", "leg", "row", "upper_holes", "setback", "bracket"}
    for option in height_options(case_of(job)):
        if option.plate is not None and not option.plate.is_firm(*deciding):
            assert option.verdict is not Verdict.FITS


@given(jobs())
def test_a_height_fits_only_inside_the_band_by_more_than_its_tolerance(job: Job) -> None:
    case = case_of(job)
    for option in height_options(case):
        if option.verdict is Verdict.FITS:
            assert case.band is not None
            assert option.plate is not None
            margin = Limits(case.band.low_mm, case.band.high_mm).margin(option.plate.value)
            assert margin >= option.plate.tolerance


@pytest.mark.parametrize("deadrise", [12.0, 22.0])
@given(off=st.floats(250.0, 400.0), leg=st.floats(380.0, 500.0))
def test_the_tolerance_of_the_deadrise_counts_where_it_moves_the_target(
    deadrise: float, off: float, leg: float
) -> None:
    """Off the centreline the deadrise sets the target, so its +/- 1 deg belongs to the verdict."""
    case = case_of(
        sample_job(
            mounting__off_centre=reading(off, 0.0),
            boat__deadrise=reading(deadrise, 1.0),
            engine__leg_measured=reading(leg, 5.0),
        )
    )
    # 1 deg more or less by the rule of the trade, as a rectangular distribution with k = 2.
    turn = [off * math.tan(math.radians(deadrise + by)) for by in (-1.0, 1.0)]
    raise_tolerance = 2.0 / math.sqrt(3.0) * (turn[1] - turn[0]) / 2.0
    for option in height_options(case):
        if option.verdict is Verdict.FITS:
            assert option.plate is not None
            assert case.band is not None
            combined = math.hypot(option.plate.tolerance, raise_tolerance)
            assert case.band.limits.margin(option.plate.value) >= combined


@given(jobs())
def test_the_reason_is_left_out_exactly_where_a_height_fits(job: Job) -> None:
    for option in height_options(case_of(job)):
        assert (option.reason == "") is (option.verdict is Verdict.FITS)


@given(jobs())
def test_the_best_height_is_possible_and_no_other_has_a_better_verdict(job: Job) -> None:
    case = case_of(job)
    options = height_options(case)
    best = best_option(case, options)
    assume(best is not None)
    assert best is not None
    assert best.is_possible
    assert best.verdict.rank == min(
        option.verdict.rank for option in options if option.is_possible and option.plate
    )


# ----------------------------------------------------------------------------- the core picture


@given(jobs())
def test_the_range_of_the_plate_holds_the_plate_of_every_possible_height(job: Job) -> None:
    case = case_of(job)
    options = height_options(case)
    ranges = plate_ranges(case, options)
    assume(ranges and case.leg is not None)
    plates = [o.plate.value for o in options if o.is_possible and o.plate is not None]
    assert (min(plates), max(plates)) == pytest.approx(
        (ranges[0].low_mm, ranges[0].high_mm), abs=1e-9
    )


@given(jobs(most_missing=2))
def test_each_leg_class_has_a_range_as_long_and_as_much_lower_as_it_is_longer(job: Job) -> None:
    case = case_of(job)
    ranges = plate_ranges(case, height_options(case))
    assume(len(ranges) > len(LEG_CLASSES))
    own = ranges[0]
    for entry in ranges[1:]:
        down = own.leg_mm - entry.leg_mm
        assert (entry.low_mm, entry.high_mm) == pytest.approx(
            (own.low_mm + down, own.high_mm + down), abs=1e-8
        )


@pytest.mark.parametrize("missing", ["transom.rake", "transom.height_along_face"])
def test_there_is_no_core_picture_without_the_transom(missing: str) -> None:
    case = case_of(without(sample_job(), missing, "transom.height_square"))
    assert plate_ranges(case, height_options(case)) == ()


# ----------------------------------------------------------------------------- drilling


def choices(job: Job) -> dict[str, DrillingChoice]:
    return {choice.label: choice for choice in drilling_choices(case_of(without(job, UNDRILLED)))}


@given(st.floats(480.0, 560.0), st.floats(440.0, 520.0), st.floats(0.0, 22.0))
def test_a_target_on_a_row_puts_the_plate_in_the_middle_of_the_band(
    height: float, leg: float, rake: float
) -> None:
    job = without(
        sample_job(
            transom__height_along_face=reading(height, 3.0),
            transom__rake=reading(rake, 1.0),
            engine__leg_measured=reading(leg, 5.0),
        ),
        "transom.height_square",
    )
    case = case_of(job)
    assert case.band is not None
    for row in range(1, 5):
        choice = choices(job).get(f"target on row {row}")
        # A hook below the top is not to be had, whatever the target asks for.
        if choice is not None and choice.row == row:
            assert choice.plate_mm == pytest.approx(case.band.middle_mm, abs=1e-6)


@pytest.mark.parametrize("row", [1, 2, 3, 4])
def test_the_drilled_transom_then_has_its_plate_where_the_choice_said(row: int) -> None:
    job = sample_job()
    choice = choices(job)[f"target on row {row}"]
    drilled = changed(job, mounting__upper_holes_below_top=reading(choice.upper_below_top_mm, 1.0))
    plate = option_at(case_of(drilled), row).plate
    assert plate is not None
    assert plate.value == pytest.approx(choice.plate_mm, abs=1e-6)


def test_the_trades_figure_is_offered_beside_the_targets() -> None:
    # Upper holes 1 7/8 in below the transom top: the trade's layout, read.
    choice = choices(sample_job())["trade figure"]
    assert choice.upper_below_top_mm == 47.625
    assert choice.lower_below_top_mm == pytest.approx(47.625 + 203.0, abs=1e-9)


@given(st.floats(480.0, 560.0), legs, st.floats(200.0, 400.0))
def test_a_choice_fits_only_with_a_row_to_spare_each_way_in_the_sound_zone(
    height: float, leg: float, lowest: float
) -> None:
    job = without(
        sample_job(
            transom__height_along_face=reading(height, 3.0),
            engine__leg_measured=reading(leg, 5.0),
            transom__lowest_bolt=reading(lowest, 3.0),
        ),
        "transom.height_square",
    )
    for choice in choices(job).values():
        if choice.verdict is Verdict.FITS:
            assert min(choice.rows_below, choice.rows_above) >= 1
            assert choice.upper_below_top_mm >= 44.45  # 1 3/4 in, trade figure, read
            assert choice.lower_below_top_mm <= lowest


@given(st.floats(480.0, 560.0), legs)
def test_a_choice_counts_every_usable_row_once(height: float, leg: float) -> None:
    job = without(
        sample_job(
            transom__height_along_face=reading(height, 3.0), engine__leg_measured=reading(leg, 5.0)
        ),
        "transom.height_square",
    )
    rows = case_of(job).pattern.upper_rows_mm
    for choice in choices(job).values():
        usable = sum(1 for row in rows if row - choice.upper_below_top_mm >= -1e-9)
        assert choice.rows_below + 1 + choice.rows_above == max(1, usable)


def test_a_fully_measured_bare_transom_has_a_choice_that_fits() -> None:
    assert Verdict.FITS in {choice.verdict for choice in choices(sample_job()).values()}


@pytest.mark.parametrize(
    "change",
    [
        pytest.param({"engine__leg_measured": None}, id="leg only stated"),
        pytest.param({"transom__lowest_bolt": None}, id="sound zone not measured"),
        pytest.param({"keel_line__gap_300": reading(20.0, 1.0)}, id="hook past the limit"),
        pytest.param({"keel_line__gap_0": None}, id="keel line not checked"),
        pytest.param({"engine__first_row": None}, id="first row of the class"),
        pytest.param({"engine__upper_to_lower": None}, id="lower row of the class"),
        pytest.param(
            {"mounting__off_centre": reading(60.0, 3.0), "boat__deadrise": None},
            id="off the centreline of unknown deadrise",
        ),
    ],
)
def test_no_choice_fits_while_something_it_rests_on_is_not_measured(
    change: dict[str, object],
) -> None:
    found = choices(sample_job(**change))
    assert Verdict.FITS not in {choice.verdict for choice in found.values()}


def test_no_choice_fits_whose_lower_holes_may_be_outside_the_sound_zone() -> None:
    """The sound zone is measured to +/- 3 mm: less than that in hand is never "fits"."""
    job = sample_job()
    lower = choices(job)["target on row 2"].lower_below_top_mm
    edge = changed(job, transom__lowest_bolt=reading(lower + 0.5, 3.0))
    assert choices(edge)["target on row 2"].verdict is not Verdict.FITS


@pytest.mark.parametrize(
    "job",
    [
        pytest.param(sample_job(engine__engine_class=CLAMPED), id="clamps on"),
        pytest.param(bracket_job(PLATE), id="hangs on a bracket"),
        pytest.param(sample_job(boat__hull_kind=NO_BAND), id="no target"),
        pytest.param(without(sample_job(), "transom.rake"), id="no rake"),
        pytest.param(
            without(sample_job(), "engine.leg_measured", "engine.leg_stated"), id="no leg at all"
        ),
    ],
)
def test_nothing_is_offered_for_drilling_where_nothing_can_be_said(job: Job) -> None:
    assert choices(job) == {}


def test_a_drilled_transom_is_not_offered_new_holes() -> None:
    assert fit_check(sample_job(), CATALOGUE).drilling == ()
    assert fit_check(without(sample_job(), UNDRILLED), CATALOGUE).drilling != ()
