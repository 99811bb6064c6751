"""The whole check: THE RULE of unknowns, and what every finding owes its reader.

THE RULE: a finding that needs a reading never says "fits" while that reading is missing.
"""

from __future__ import annotations

import json
import math
from dataclasses import fields, replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigfit.errors import JobError, ProfileError
from rigfit.rigging.findings import Verdict
from rigfit.rigging.fit_check import fit_check, fit_check_all
from rigfit.rigging.job import Job
from rigfit.rigging.readings import Origin
from rigfit.rigging.report import EngineReport
from rigfit.sources import SOURCES
from rigfit.units import BASE_UNIT
from rigfit.wording import report_data, say, shown
from tests.builders import (
    CATALOGUE,
    CLAMPED,
    MEASURED,
    PLATE,
    POD,
    STEPPED,
    bracket_job,
    changed,
    holds,
    jobs,
    measured_fields,
    reading,
    records,
    sample_engine,
    sample_job,
    without,
)

PLATE_CODES = (220, 221)
JOBS = {
    "on the transom": sample_job(),
    "on a bracket": bracket_job(STEPPED),
    "clamped on": sample_job(engine__engine_class=CLAMPED),
}
FIELD_NAMES = {
    f"{group}.{item.name}" for group, record in records().items() for item in fields(record)
}

# Keys that a program reading `rigfit check --json` may count on.
TOP_KEYS = {"format", "verdict", "plate", "heights", "findings"}
PLATE_KEYS = {
    "height_mm",
    "tolerance_mm",
    "target_low_mm",
    "target_high_mm",
    "setback_rise_mm",
}
HEIGHT_KEYS = {"row", "lift_mm", "plate_height_mm", "tolerance_mm", "off_target_mm", "verdict"}
FINDING_KEYS = {
    "code",
    "subject",
    "verdict",
    "value",
    "limit",
    "unit",
    "margin",
    "tolerance",
    "sentence",
    "source",
}


def check(job: Job) -> EngineReport:
    return fit_check(job, CATALOGUE)


def overconfident(job: Job) -> list[str]:
    """Return every finding that fits although a measured field it names is not filled in."""
    return [
        f"{finding.code} {finding.title}: {name}"
        for finding in check(job).findings
        if finding.verdict is Verdict.FITS
        for name in finding.needs
        if name in MEASURED and not holds(job, name)
    ]


# ----------------------------------------------------------------------------- THE RULE


def test_a_fully_measured_job_fits_throughout() -> None:
    report = check(sample_job())
    assert [finding.code for finding in report.findings if finding.verdict.rank] == []
    assert report.verdict is Verdict.FITS
    assert report.mounted is not None
    assert report.mounted.row == 2


@pytest.mark.parametrize("name", measured_fields("transom", "keel_line", "mounting", "engine"))
def test_without_a_reading_nothing_that_needs_it_fits(name: str) -> None:
    assert overconfident(without(sample_job(), name)) == []


@pytest.mark.parametrize(
    "name", measured_fields("transom", "keel_line", "bracket", "mounting", "engine")
)
def test_without_a_reading_nothing_that_needs_it_fits_behind_a_bracket(name: str) -> None:
    assert overconfident(without(bracket_job(STEPPED), name)) == []


@pytest.mark.parametrize("name", measured_fields("transom", "keel_line", "mounting", "engine"))
def test_without_a_reading_nothing_that_needs_it_fits_for_a_clamped_engine(name: str) -> None:
    job = sample_job(engine__engine_class=CLAMPED, engine__leg_measured=reading(490.0, 5.0))
    assert overconfident(without(job, name)) == []


@pytest.mark.parametrize("code", PLATE_CODES)
@pytest.mark.parametrize(
    "name",
    [
        name
        for name in check(sample_job()).finding(220).needs
        # Either transom height gives the other, so only both together can be missing.
        if name in MEASURED and "height" not in name
    ],
)
def test_without_a_reading_of_its_own_the_plate_never_fits(name: str, code: int) -> None:
    found = [f for f in check(without(sample_job(), name)).findings if f.code == code]
    assert [finding for finding in found if finding.verdict is Verdict.FITS] == []


@pytest.mark.parametrize("code", PLATE_CODES)
def test_without_any_transom_height_the_plate_never_fits(code: int) -> None:
    job = without(without(sample_job(), "transom.height_along_face"), "transom.height_square")
    found = [f for f in check(job).findings if f.code == code]
    assert [finding for finding in found if finding.verdict is Verdict.FITS] == []


def test_without_a_hull_kind_the_plate_never_fits() -> None:
    finding = check(sample_job(boat__hull_kind="")).finding(220)
    assert finding.verdict is Verdict.UNKNOWN
    assert finding.needs == ("boat.hull_kind",)


def test_a_setback_to_nobody_knows_what_settles_nothing_that_needs_it() -> None:
    job = bracket_job(PLATE, bracket__measured_to="not said")
    fits = [
        finding.code
        for finding in check(job).findings
        if finding.verdict is Verdict.FITS and "bracket.measured_to" in finding.needs
    ]
    assert fits == []


@settings(max_examples=200)
@given(jobs())
def test_the_rule_holds_whatever_is_missing(job: Job) -> None:
    assert overconfident(job) == []


@given(st.sets(st.sampled_from(MEASURED)))
def test_the_plate_fits_only_if_all_it_is_computed_from_was_measured(missing: set[str]) -> None:
    report = check(without(sample_job(), *missing))
    if report.finding(220).verdict is Verdict.FITS:
        assert report.mounted is not None
        assert report.mounted.plate is not None
        soft = {share.name for share in report.mounted.plate.stand_ins}
        # The tilt axis is the class's always; it shifts the plate within its tolerance only.
        assert soft <= {"axis_out", "axis_up"}


@pytest.mark.parametrize(
    ("name", "origin"),
    [
        ("engine__leg_measured", Origin.CLASS),
        ("engine__leg_measured", Origin.DEFAULT),
        ("transom__height_along_face", Origin.CLASS),
        ("transom__rake", Origin.DEFAULT),
        ("mounting__upper_holes_below_top", Origin.DEFAULT),
    ],
)
def test_a_figure_of_the_class_or_of_custom_never_fits_the_plate(name: str, origin: Origin) -> None:
    group, _, key = name.partition("__")
    job = sample_job()
    record = job.engines[0] if group == "engine" else getattr(job, group)
    soft = replace(getattr(record, key), origin=origin)
    assert check(changed(job, **{name: soft})).finding(220).verdict is not Verdict.FITS


def test_an_empty_job_is_unknown_and_not_wrong() -> None:
    job = Job(engines=(sample_engine(leg_measured=None, leg_stated=None),))
    report = check(job)
    assert Verdict.FITS not in {f.verdict for f in report.findings if f.code != 303}
    assert report.verdict is Verdict.UNKNOWN


# ------------------------------------------------------------------- what a finding owes


@pytest.mark.parametrize("job", JOBS.values(), ids=JOBS)
def test_every_finding_needs_fields_that_exist(job: Job) -> None:
    asked = {name for finding in check(job).findings for name in finding.needs}
    assert asked - FIELD_NAMES == set()


@given(jobs())
def test_every_finding_names_fields_and_a_source_that_exist(job: Job) -> None:
    for finding in check(job).findings:
        assert finding.source in SOURCES
        assert set(finding.needs) <= FIELD_NAMES
        assert finding.title


@given(jobs())
def test_the_worst_findings_come_first_and_set_the_verdict(job: Job) -> None:
    report = check(job)
    ranks = [finding.verdict.rank for finding in report.findings]
    assert ranks == sorted(ranks, reverse=True)
    assert report.verdict.rank == ranks[0]


@given(jobs())
def test_no_question_is_answered_twice(job: Job) -> None:
    keys = [(finding.subject, finding.code) for finding in check(job).findings]
    assert len(keys) == len(set(keys))


@given(jobs())
def test_a_finding_is_about_the_boat_or_the_engine(job: Job) -> None:
    subjects = {finding.subject for finding in check(job).findings}
    assert subjects <= {"boat", job.engines[0].id}


@given(jobs())
def test_what_is_unknown_says_how_to_settle_it(job: Job) -> None:
    helpless = [
        finding.code
        for finding in check(job).findings
        if finding.verdict is Verdict.UNKNOWN
        and finding.settle is None
        # A hull that is not straight has no reading that would settle the height of the plate.
        and finding.code not in PLATE_CODES
    ]
    assert helpless == []


@pytest.mark.parametrize(
    "code", [f.code for f in check(sample_job()).findings if f.margin is not None]
)
def test_what_fits_has_a_margin_of_at_least_its_tolerance(code: int) -> None:
    """A verdict whose margin is smaller than its tolerance is "tight", never "fits"."""
    finding = check(sample_job()).finding(code)
    assert finding.margin is not None
    assert finding.tolerance is not None
    assert finding.verdict is not Verdict.FITS or finding.margin >= finding.tolerance


@pytest.mark.parametrize(
    ("code", "group", "name"),
    [
        (120, "transom", "rake"),
        (200, "engine", "leg_measured"),
        (231, "bracket", "setback"),
        (301, "mounting", "upper_holes_below_top"),
    ],
)
def test_the_tolerance_of_a_single_reading_is_reported_with_k_of_two(
    code: int, group: str, name: str
) -> None:
    job = bracket_job(PLATE)
    record = job.engines[0] if group == "engine" else getattr(job, group)
    expanded = 2.0 * getattr(record, name).tolerance / math.sqrt(3.0)
    assert check(job).finding(code).tolerance == pytest.approx(expanded, rel=1e-9)


def test_behind_a_bracket_nobody_is_sent_to_measure_what_the_job_holds_already() -> None:
    job = bracket_job(PLATE)
    settle = check(job).finding(220).settle
    assert job.mounting.upper_holes_below_top is not None
    assert settle is None or "upper holes below the transom top" not in settle.text


def test_with_a_hook_nobody_is_sent_to_measure_the_engine_again() -> None:
    """The height waits for the hull; a closer tape on leg or transom would settle nothing."""
    finding = check(sample_job(keel_line__gap_300=reading(20.0, 1.0))).finding(220)
    assert finding.verdict is Verdict.UNKNOWN
    assert finding.settle is None or "again, more closely" not in finding.settle.text


def test_a_target_turned_upside_down_is_not_blamed_on_the_hull_kind() -> None:
    job = sample_job(
        target__low=reading(30.0, 0.0, Origin.CHOSEN),
        target__high=reading(10.0, 0.0, Origin.CHOSEN),
    )
    finding = check(job).finding(220)
    assert finding.verdict is Verdict.UNKNOWN
    assert "boat.hull_kind" not in finding.needs


# ------------------------------------------------------------------- single questions

LONG_LEG = reading(640.0, 5.0)


@pytest.mark.parametrize(
    ("change", "code", "verdict"),
    [
        ({"transom__height_square": None}, 101, Verdict.TIGHT),
        ({"transom__height_square": reading(518.0, 3.0)}, 101, Verdict.UNKNOWN),
        ({"keel_line__gap_300": reading(4.5, 1.0)}, 110, Verdict.TIGHT),
        ({"keel_line__gap_300": reading(20.0, 1.0)}, 110, Verdict.STOPS),
        ({"transom__rake": reading(11.0, 1.0)}, 120, Verdict.TIGHT),
        ({"transom__rake": reading(30.0, 1.0)}, 120, Verdict.STOPS),
        ({"engine__leg_stated": reading(635.0, 0.0, Origin.STATED)}, 200, Verdict.TIGHT),
        ({"engine__leg_stated": None}, 200, Verdict.FITS),
        ({"engine__leg_measured": None, "engine__leg_stated": None}, 200, Verdict.UNKNOWN),
        ({"engine__leg_measured": LONG_LEG}, 210, Verdict.STOPS),
        ({"engine__leg_measured": LONG_LEG}, 220, Verdict.STOPS),
        ({"engine__leg_measured": LONG_LEG}, 221, Verdict.STOPS),
        ({"mounting__off_centre": reading(30.0, 3.0)}, 232, Verdict.FITS),
        (
            {"mounting__off_centre": reading(30.0, 3.0), "boat__deadrise": None},
            232,
            Verdict.UNKNOWN,
        ),
        ({"mounting__upper_holes_below_top": reading(44.0, 1.0)}, 301, Verdict.TIGHT),
        ({"mounting__upper_holes_below_top": reading(40.0, 1.0)}, 301, Verdict.STOPS),
        ({"engine__engine_class": CLAMPED}, 301, Verdict.UNKNOWN),
        ({"transom__lowest_bolt": reading(252.0, 3.0)}, 302, Verdict.TIGHT),
        ({"transom__lowest_bolt": reading(240.0, 3.0)}, 302, Verdict.STOPS),
        ({"engine__upper_to_lower": None}, 302, Verdict.TIGHT),
        ({"engine__upper_to_lower": None}, 303, Verdict.TIGHT),
    ],
)
def test_one_change_to_a_sound_job_changes_that_answer(
    change: dict[str, object], code: int, verdict: Verdict
) -> None:
    assert check(sample_job(**change)).finding(code).verdict is verdict


# ------------------------------------------------------------------- choosing


@pytest.mark.parametrize("row", [1, 2, 3, 4])
def test_the_chosen_row_is_the_one_judged(row: int) -> None:
    report = check(sample_job(mounting__row=row))
    assert report.is_chosen
    assert report.mounted is not None
    assert (report.mounted.row, report.finding(220).verdict) == (row, report.mounted.verdict)


def test_a_row_the_bracket_lacks_is_refused() -> None:
    with pytest.raises(JobError, match="4 rows"):
        check(sample_job(mounting__row=5))


def test_every_candidate_gets_a_report_in_the_order_of_the_job() -> None:
    job = sample_job(engines=(sample_engine(id="B"), sample_engine(id="A")))
    reports = fit_check_all(job, CATALOGUE)
    assert [report.case.candidate.id for report in reports] == ["B", "A"]


def test_a_row_chosen_for_one_engine_does_not_bind_another() -> None:
    job = sample_job(engines=(sample_engine(id="B"), sample_engine(id="A")), mounting__row=4)
    chosen = [report.is_chosen for report in fit_check_all(job, CATALOGUE)]
    named = changed(job, mounting__engine="A")
    assert chosen == [False, False]
    assert [report.is_chosen for report in fit_check_all(named, CATALOGUE)] == [False, True]


@pytest.mark.parametrize(
    "change",
    [{"engine__engine_class": "mediun"}, {"boat__hull_kind": "foul"}, {"bracket__kind": "plat"}],
)
def test_a_profile_that_does_not_exist_is_named_with_the_nearest(change: dict[str, str]) -> None:
    with pytest.raises(ProfileError, match="did you mean"):
        check(changed(bracket_job(PLATE), **change))


def test_a_check_that_did_not_apply_has_no_finding() -> None:
    with pytest.raises(KeyError):
        check(sample_job()).finding(230)


# ------------------------------------------------------------------- as data and as words


@settings(max_examples=150)
@given(jobs(most_missing=12))
def test_every_report_is_strict_json_and_comes_back_the_same(job: Job) -> None:
    data = report_data(check(job))
    assert json.loads(json.dumps(data, allow_nan=False)) == data


@given(jobs(most_missing=12))
def test_the_keys_that_programs_read_are_there(job: Job) -> None:
    data = report_data(check(job))
    assert data.keys() >= TOP_KEYS
    assert data["plate"].keys() >= PLATE_KEYS  # type: ignore[attr-defined]
    for item, keys in ((data["heights"], HEIGHT_KEYS), (data["findings"], FINDING_KEYS)):
        assert all(row.keys() >= keys for row in item)  # type: ignore[attr-defined]


def test_the_numbers_of_the_data_are_those_of_the_report() -> None:
    report = check(sample_job())
    plate = report_data(report)["plate"]
    finding = report.finding(220)
    assert isinstance(plate, dict)
    assert plate["height_mm"] == pytest.approx(finding.value, abs=5e-4)
    assert plate["tolerance_mm"] == pytest.approx(finding.tolerance, abs=5e-4)
    assert (plate["target_low_mm"], plate["target_high_mm"]) == (0.0, 25.0)


@given(jobs())
def test_each_finding_in_the_data_names_the_unit_of_its_kind(job: Job) -> None:
    report = check(job)
    found = [item["unit"] for item in report_data(report)["findings"]]  # type: ignore[attr-defined]
    assert found == [BASE_UNIT[finding.kind] for finding in report.findings]


@pytest.mark.parametrize("lengths", ["mm", "in"])
@given(job=jobs(most_missing=10))
def test_every_sentence_can_be_said_without_a_brace_left(lengths: str, job: Job) -> None:
    style = shown(replace(job.units, lengths=lengths))
    for finding in check(job).findings:
        for words in (finding.sentence, finding.settle, *finding.working):
            spoken = say(words, style) if words else ""
            assert not set("{}") & set(spoken)


@pytest.mark.parametrize("kind", [PLATE, STEPPED, POD])
def test_a_bracket_of_any_kind_can_be_checked_bare(kind: str) -> None:
    job = without(bracket_job(kind), *MEASURED)
    report = check(job)
    assert report.verdict is not Verdict.FITS
    assert json.dumps(report_data(report), allow_nan=False)
