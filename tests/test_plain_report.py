"""The report as plain text: 80 columns, sign and word for every verdict, cautions at the end."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigfit.plain_report import (
    WIDTH,
    caution_lines,
    drilling_lines,
    finding_lines,
    heading,
    heights_lines,
    range_lines,
    report_lines,
)
from rigfit.plain_tables import table
from rigfit.rigging.findings import Verdict
from rigfit.rigging.fit_check import fit_check
from rigfit.rigging.job import Job
from rigfit.rigging.readings import Origin
from rigfit.rigging.report import EngineReport
from rigfit.wording import CAUTIONS, MARKS, shown
from tests.builders import (
    CATALOGUE,
    CLAMPED,
    PLATE,
    STEPPED,
    bracket_job,
    changed,
    jobs,
    reading,
    sample_job,
    without,
)

UNDRILLED = "mounting.upper_holes_below_top"
LONG = {
    "one long word": "x" * 40,
    "many words": "a name of exactly forty characters, no m",
    "accents": "é" * 40,
}
styles = pytest.mark.parametrize("lengths", ["mm", "in"])


def check(job: Job, **changes: object) -> EngineReport:
    return fit_check(changed(job, **changes), CATALOGUE)


def too_long(lines: list[str]) -> list[str]:
    return [line for line in lines if len(line) > WIDTH]


def heights_table(report: EngineReport) -> list[str]:
    """Return the rows of the height table, without title, headings and what stands below."""
    return heights_lines(report)[3 : 3 + len(report.options)]


# ----------------------------------------------------------------------------- width


@settings(max_examples=150)
@given(jobs(most_missing=10), st.booleans())
def test_no_line_is_longer_than_80_columns(job: Job, working: bool) -> None:
    assert too_long(report_lines(fit_check(job, CATALOGUE), working=working)) == []


@styles
@pytest.mark.parametrize("name", LONG.values(), ids=LONG)
def test_names_of_forty_characters_stay_within_80_columns(name: str, lengths: str) -> None:
    report = check(sample_job(), units__lengths=lengths, boat__name=name, engine__name=name)
    assert len(name) == 40
    assert too_long(report_lines(report, working=True)) == []


@styles
def test_a_stated_leg_stays_within_80_columns(lengths: str) -> None:
    job = without(sample_job(units__lengths=lengths), "engine.leg_measured")
    assert too_long(range_lines(fit_check(job, CATALOGUE))) == []


@styles
def test_the_drilling_choices_stay_within_80_columns(lengths: str) -> None:
    job = without(sample_job(units__lengths=lengths), UNDRILLED)
    assert too_long(drilling_lines(fit_check(job, CATALOGUE))) == []


@styles
@pytest.mark.parametrize("kind", [PLATE, STEPPED])
def test_the_heights_of_a_bracket_stay_within_80_columns(kind: str, lengths: str) -> None:
    report = check(bracket_job(kind), units__lengths=lengths)
    assert too_long(heights_lines(report)) == []


# ----------------------------------------------------------------------------- what it says


@pytest.mark.parametrize(
    ("job", "verdict"),
    [
        (sample_job(), Verdict.FITS),
        (without(sample_job(), "transom.height_square"), Verdict.TIGHT),
        (without(sample_job(), "transom.rake"), Verdict.UNKNOWN),
        (sample_job(transom__rake=reading(30.0, 1.0)), Verdict.STOPS),
    ],
)
def test_the_report_opens_with_the_sign_and_the_word_of_its_verdict(
    job: Job, verdict: Verdict
) -> None:
    lines = heading(fit_check(job, CATALOGUE))
    assert lines[-1].startswith(f"{MARKS[verdict]} {verdict.value.upper()}  ")


@given(jobs())
def test_every_finding_is_headed_by_sign_word_and_code(job: Job) -> None:
    report = fit_check(job, CATALOGUE)
    lines = report_lines(report)
    for finding in report.findings:
        start = f"{MARKS[finding.verdict]} {finding.verdict.value}"
        heads = [line for line in lines if line.startswith(start) and f" {finding.code} " in line]
        assert len(heads) == 1


@given(jobs())
def test_the_cautions_end_every_report(job: Job) -> None:
    lines = report_lines(fit_check(job, CATALOGUE))
    assert lines[-len(caution_lines()) :] == caution_lines()


@pytest.mark.parametrize("caution", CAUTIONS)
def test_no_word_of_a_caution_is_lost_in_wrapping(caution: str) -> None:
    assert caution in " ".join(" ".join(caution_lines()).split())


@styles
def test_boat_and_engine_are_named(lengths: str) -> None:
    text = " ".join(heading(check(sample_job(), units__lengths=lengths)))
    assert "Dunlin: engine A, the advert from the coast (medium engine)" in text


def test_a_boat_without_a_name_is_called_so() -> None:
    assert heading(check(sample_job(), boat__name=""))[0].startswith("Unnamed boat: engine A")


@pytest.mark.parametrize("working", [False, True])
def test_the_working_is_shown_only_when_asked_for(working: bool) -> None:
    report = fit_check(sample_job(), CATALOGUE)
    finding = report.finding(220)
    lines = finding_lines(finding, shown(report.case.job.units), working=working)
    assert any(line.startswith("    - ") for line in lines) is working


# ----------------------------------------------------------------------------- heights


@styles
@pytest.mark.parametrize("row", [None, 1, 3, 4])
def test_the_table_marks_the_mounted_row_and_no_other(row: int | None, lengths: str) -> None:
    report = check(sample_job(mounting__row=row), units__lengths=lengths)
    marked = [line for line in heights_table(report) if line.startswith(">")]
    assert len(marked) == 1
    assert marked[0].split()[1] == str(row or 2)


@pytest.mark.parametrize("setting", [0.0, 19.05, 38.1, 57.15])
def test_the_table_marks_the_chosen_setting_of_a_stepped_bracket(setting: float) -> None:
    report = check(
        bracket_job(STEPPED),
        mounting__row=2,
        mounting__bracket_setting=reading(setting, 0.0, Origin.CHOSEN),
    )
    assert [line[0] for line in heights_table(report)].count(">") == 1


@pytest.mark.parametrize("setting", [0.0, 20.0, 38.1, 125.0])
def test_the_table_marks_the_chosen_setting_of_a_stepless_bracket(setting: float) -> None:
    report = check(
        bracket_job(PLATE),
        mounting__row=2,
        mounting__bracket_setting=reading(setting, 0.0, Origin.CHOSEN),
    )
    lines = heights_lines(report)
    assert [line[:1] for line in lines].count(">") == 1


@styles
@pytest.mark.parametrize(
    "job",
    [
        sample_job(),
        bracket_job(PLATE),
        bracket_job(STEPPED),
        sample_job(engine__engine_class=CLAMPED),
        without(sample_job(), "transom.rake"),
    ],
    ids=["transom", "stepless", "stepped", "clamped", "no rake"],
)
def test_every_height_shows_its_verdict_by_sign_and_word(job: Job, lengths: str) -> None:
    report = check(job, units__lengths=lengths)
    silent = [
        line
        for line, option in zip(heights_table(report), report.options, strict=True)
        if f"{MARKS[option.verdict]} {option.verdict.value}" not in line
    ]
    assert silent == []


@given(jobs())
def test_every_reason_is_given_in_full(job: Job) -> None:
    report = fit_check(job, CATALOGUE)
    text = "\n".join(heights_lines(report))
    assert [option.reason for option in report.options if option.reason not in text] == []


@styles
@given(job=jobs(most_missing=2))
def test_the_target_is_told_to_be_checked_afloat(lengths: str, job: Job) -> None:
    report = check(job, units__lengths=lengths)
    if report.case.band is not None:
        assert "Check afloat." in " ".join(heights_lines(report))


def test_without_a_target_the_table_says_how_to_get_one() -> None:
    lines = heights_lines(check(sample_job(), boat__hull_kind=""))
    assert lines[-1] == "Target: none known for this hull; write one in the job."


# ----------------------------------------------------------------------------- colour, tables


@given(jobs())
def test_paint_changes_nothing_but_the_words_it_is_given(job: Job) -> None:
    report = fit_check(job, CATALOGUE)
    painted = report_lines(report, lambda word, _verdict: f"\x1b[1m{word}\x1b[0m")
    plain = [line.replace("\x1b[1m", "").replace("\x1b[0m", "") for line in painted]
    assert plain == report_lines(report)


@given(jobs())
def test_each_word_is_painted_with_its_own_verdict(job: Job) -> None:
    def paint(word: str, verdict: Verdict) -> str:
        assert verdict.value in word.lower()
        return word

    assert report_lines(fit_check(job, CATALOGUE), paint)


def test_a_table_aligns_its_columns() -> None:
    assert table(("row", "why"), [("1", "low"), ("12", "")], "rl") == [
        "row  why",
        "---  ---",
        "  1  low",
        " 12",
    ]


@given(st.lists(st.tuples(st.text("ab", max_size=9), st.text("ab", max_size=9)), max_size=5))
def test_no_cell_of_a_table_is_lost(rows: list[tuple[str, str]]) -> None:
    lines = table(("one", "two"), rows, "lr")
    assert len(lines) == len(rows) + 2
    for line, row in zip(lines[2:], rows, strict=True):
        assert "".join(row) == line.replace(" ", "")
