"""What is slow to find waits while somebody types, and comes out as if it had not."""

from __future__ import annotations

import pytest

from rigfit.desk.draft import Address
from rigfit.desk.heights_panel import HeightsPanel
from rigfit.desk.settings import Settings
from rigfit.desk.window import Window
from rigfit.desk.workbench import Change
from rigfit.rigging import fit_check as checks
from rigfit.rigging.fit_check import completed, fit_check, slow_findings
from tests.desk.afloat_boat import float_her
from tests.desk.harness import take_keyboard, wait_for
from tests.desk.panels import demo_bench, shown_panel
from tests.desk.swinging_boat import swinging_bench

RAKE = Address("transom", "rake")


@pytest.fixture
def bench(tmp_path):
    made = swinging_bench(tmp_path)
    float_her(made)
    assert made.derived.messages == {}
    return made


@pytest.fixture
def asked(bench):
    """Have slow findings wait; every time they do is noted."""
    notes = []
    bench.on_wait = lambda: notes.append(bench.draft.text(RAKE))
    return notes


def test_completed_is_what_is_found_without_waiting(bench):
    before = bench.report
    bench.type(RAKE, "9°")
    job, catalogue = bench.derived.job, bench.catalogue
    whole = fit_check(job, catalogue, bench.derived.engine_id)
    quick = fit_check(job, catalogue, bench.derived.engine_id, before=before)
    assert slow_findings(quick) == slow_findings(before) != slow_findings(whole)
    assert {item.code for item in slow_findings(whole)} >= {401, 404, 511, 512}
    assert completed(quick) == whole


def test_the_slow_findings_are_those_of_the_slow_checks(bench):
    for check in checks.CHECKS:
        for finding in check(bench.report.case):
            assert (finding in slow_findings(bench.report)) is (check in checks.SLOW)


def test_nothing_waits_where_nobody_sees_to_it(bench):
    bench.type(RAKE, "9°")
    assert not bench.derived.waits
    assert bench.report == fit_check(bench.derived.job, bench.catalogue, bench.derived.engine_id)


def test_typing_runs_no_slow_check_and_catching_up_runs_each_once(bench, asked, monkeypatch):
    ran = []

    def counted(check):
        def run(case):
            ran.append(check.__name__)
            return check(case)

        return run

    was_slow = checks.SLOW
    slow = tuple(counted(check) for check in checks.SLOW)
    kept = tuple(check for check in checks.CHECKS if check not in checks.SLOW)
    monkeypatch.setattr(checks, "SLOW", slow)
    monkeypatch.setattr(checks, "CHECKS", (*kept, *slow))
    heard = []
    bench.listen(heard.append)
    for text in ("9°", "9.5°", "10°"):
        bench.type(RAKE, text)
    assert (ran, asked) == ([], ["9°", "9.5°", "10°"])
    assert bench.derived.waits
    bench.catch_up()
    assert ran == [check.__name__ for check in was_slow]
    assert {"check_flotation", "check_swing"} <= set(ran)
    assert heard == [Change.TEXTS] * 3 + [Change.FINDINGS]
    bench.catch_up()
    assert len(heard) == 4


def test_what_is_quick_to_find_does_not_wait(bench, asked):
    def plate(report):
        return next(item for item in report.findings if item.code == 101)

    before = plate(bench.report)
    bench.type(RAKE, "25°")
    assert bench.derived.waits
    assert plate(bench.report) != before


@pytest.mark.parametrize("do", ["undo", "raise", "other engine", "units"])
def test_only_typing_puts_anything_off(bench, asked, do):
    bench.type(RAKE, "9°")
    {
        "undo": bench.undo,
        "raise": lambda: bench.step_height(1),
        "other engine": lambda: bench.show_beside(1),
        "units": lambda: bench.set_units(lengths="in"),
    }[do]()
    assert not bench.derived.waits
    whole = fit_check(bench.derived.job, bench.catalogue, bench.derived.engine_id)
    assert bench.report == whole


def test_a_boat_with_nothing_slow_to_find_never_waits(tmp_path):
    bench = demo_bench(tmp_path)
    assert slow_findings(bench.report) == ()
    bench.on_wait = lambda: pytest.fail("it waits")
    bench.type(RAKE, "9°")


def test_all_reports_are_complete(bench, asked):
    bench.type(RAKE, "9°")
    job = bench.derived.job
    assert bench.derived.reports == tuple(
        fit_check(job, bench.catalogue, item.id) for item in job.engines
    )


def test_a_slow_check_that_fails_leaves_what_was_known(bench, asked, monkeypatch, caplog):
    def broken(case):
        raise ZeroDivisionError

    bench.type(RAKE, "9°")
    known = bench.report
    monkeypatch.setattr(checks, "SLOW", (broken,))
    bench.catch_up()
    assert bench.report == known
    assert "a slow check failed" in caplog.text


def test_the_table_keeps_its_clearances_until_the_new_ones_are_there(make_root, bench, asked):
    root = make_root()
    panel = shown_panel(root, HeightsPanel, bench)

    def clear():
        return {key: gap.clear_mm for key, gap in panel._known[1].items()}

    first = clear()
    assert first
    bench.type(RAKE, "9°")
    wait_for(root, lambda: not panel._update.is_waiting)
    assert clear() == first
    bench.catch_up()
    wait_for(root, lambda: not panel._update.is_waiting)
    assert clear() != first


def test_in_the_window_the_rest_is_found_by_itself(make_root, bench, tmp_path):
    root = make_root()
    bench.settings = Settings()
    window = Window(root, bench, tmp_path / "settings")
    take_keyboard(root)
    wait_for(root, lambda: window.body.drawing.is_painted)
    bench.type(RAKE, "9°")
    assert bench.derived.waits
    wait_for(root, lambda: not bench.derived.waits)
    row = window.body.findings.row(401)
    assert row.finding == next(item for item in bench.report.findings if item.code == 401)
    bench.type(RAKE, "11°")
    assert bench.derived.waits
    window.run("go-findings")  # whatever is done next knows everything
    assert not bench.derived.waits
