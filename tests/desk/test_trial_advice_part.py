"""What to do next after a sea trial, beside the findings: said, unfolded, and put down."""

from __future__ import annotations

import pytest

from rigfit.desk.draft import Address
from rigfit.desk.findings_panel import FindingsPanel
from rigfit.desk.trial_rows import SAFETY
from rigfit.rigging.trial_advice import Step
from tests.desk.harness import faults, press_key, screenshot, settle, tab_stops, take_keyboard
from tests.desk.panels import demo_bench, shown_panel
from tests.desk.trial_boat import trial_bench


@pytest.fixture
def bench(tmp_path):
    return trial_bench(tmp_path)


def shown(root, bench):
    panel = shown_panel(root, FindingsPanel, bench)
    take_keyboard(root)
    return panel


def set_all(bench, field, text, trial="T2"):
    """Type something into a field of every run of a trial."""
    for row in range(len(bench.draft.rows("run"))):
        if bench.draft.text(Address("run", "trial", row)) == trial:
            bench.type(Address("run", field, row), text)
    bench.catch_up()


def test_without_a_trial_there_is_no_advice(root, tmp_path):
    bench = demo_bench(tmp_path)
    draft = bench.draft
    for table in ("trial", "run"):
        while draft.rows(table):
            draft = draft.remove_row(table, 0)
    bench.take(draft, "no trials")
    panel = shown(root, bench)
    assert not panel.advice.winfo_manager()
    assert panel.advice.text == ""


def test_the_next_thing_stands_above_the_findings_and_follows_the_runs(root, bench):
    panel = shown(root, bench)
    part = panel.advice
    assert part.winfo_viewable()
    assert part.winfo_rooty() < panel.shown_rows[0].winfo_rooty()
    assert [item.step for item in part.advice] == [Step.KEEP]
    assert "Leave it" in part.text
    set_all(bench, "plate", "buried")
    settle(root)
    assert part.advice[0].step is Step.HEIGHT
    assert "Raise the engine one row" in part.text


@pytest.mark.parametrize(
    ("field", "text", "said"),
    [
        ("ventilates", "in turns", "Lower the engine one row"),
        ("overheats", "yes", "Do not run it again"),
        ("porpoises", "yes", "Ease off and trim in"),
    ],
)
def test_danger_comes_first_and_in_the_colour_of_errors(root, bench, field, text, said):
    panel = shown(root, bench)
    set_all(bench, field, text)
    settle(root)
    assert said in panel.advice.text
    assert "safety first" in panel.advice.text
    assert panel.advice.heading.role == "error"


def test_why_what_to_expect_and_what_would_contradict_it_unfold_by_keyboard(root, bench):
    panel = shown(root, bench)
    set_all(bench, "plate", "buried")
    bench.type(Address("run", "rpm", 7), "4900 rpm")
    bench.catch_up()
    settle(root)
    part = panel.advice
    assert "Expected" not in part.text
    link = part.flow.links[0]
    assert link in tab_stops(root)
    link.focus_set()
    press_key(root, "Return")
    settle(root)
    for words in ("Why: ", "Expected: ", "Against it would speak: ", "Source: ", *SAFETY):
        assert words in part.text
    assert "kn" in part.text  # an effect has its range
    # Newest against the one before, from the means of both ways: 25.8 - 24.9, 19.3 - 18.5.
    assert "Trial T2 against T1: " in part.text
    assert "+0.9 ± " in part.text and "+0.8 ± " in part.text
    assert "2. " in part.text
    part.flow.links[0].focus_set()
    press_key(root, "Return")
    settle(root)
    assert "Expected" not in part.text


def test_the_next_trial_is_put_down_as_one_step_with_what_is_reckoned_for_it(root, bench):
    panel = shown(root, bench)
    set_all(bench, "plate", "buried")
    before = bench.draft
    panel.advice.plan()
    row = len(bench.draft.rows("trial")) - 1
    text = {
        name: bench.draft.text(Address("trial", name, row))
        for name in ("id", "engine", "row", "pitch", "change", "mass_aboard", "expected_speed",
                     "expected_rpm", "date")
    }  # fmt: skip
    assert (text["id"], text["engine"], text["pitch"]) == ("T3", "B", "17 in")
    assert text["change"].startswith("Raise the engine one row")
    assert text["row"] == ""
    assert text["date"] == ""
    assert text["mass_aboard"] == "245 kg"
    assert text["expected_speed"].endswith("kn") and "±" in text["expected_speed"]
    assert text["expected_rpm"].endswith("rpm")
    assert bench.derived.messages == {}
    assert bench.wanted == Address("trial", "date", row)
    bench.undo()
    assert bench.draft == before


def test_advice_does_not_change_while_a_trial_is_only_planned(root, bench):
    panel = shown(root, bench)
    said = panel.advice.text
    panel.advice.plan()
    settle(root)
    assert panel.advice.text == said


@pytest.mark.parametrize(
    ("code", "need", "wanted"),
    [
        (621, "run.full_throttle", Address("run", "full_throttle", 7)),
        (622, "trial.pitch", Address("trial", "pitch", 1)),
        (622, "run.rpm", Address("run", "rpm", 7)),
        (627, "run.porpoises", Address("run", "porpoises", 7)),
    ],
)
def test_findings_lead_to_the_newest_trial_of_the_engine(root, bench, code, need, wanted):
    panel = shown(root, bench)
    finding = panel.row(code).finding
    assert need in finding.needs
    panel.go_to_need(need, finding)
    assert bench.wanted == wanted


def test_a_finding_leads_to_the_run_that_lacks_the_field(root, bench):
    panel = shown(root, bench)
    bench.type(Address("run", "speed_back", 5), "")
    bench.catch_up()
    settle(root)
    finding = panel.row(624).finding
    panel.go_to_need("run.speed_back", finding)
    assert bench.wanted == Address("run", "speed_back", 5)


def test_what_of_the_log_cannot_be_used_is_led_to(root, bench):
    panel = shown(root, bench)
    bench.take(bench.draft.add_row("run", trial="T9", rpm="3000 rpm"), "a run")
    bench.catch_up()
    settle(root)
    finding = panel.row(620).finding
    panel.go_to_need("run.trial", finding)
    assert bench.wanted == Address("run", "trial", 8)


@pytest.mark.parametrize(
    ("appearance", "scale", "width", "lengths"),
    [("light", 1.0, 304, "mm"), ("dark", 2.0, 336, "in"), ("dark", 1.5, 440, "mm"),
     ("light", 1.0, 640, "in")],
)  # fmt: skip
def test_nothing_is_cut_off(make_root, tmp_path, appearance, scale, width, lengths):
    bench = trial_bench(tmp_path, lengths, "mph")
    root = make_root(appearance, scale, f"{round(width * scale)}x{round(700 * scale)}")
    panel = shown(root, bench)
    for field, text in (("ventilates", "in turns"), ("plate", "buried"), ("porpoises", "yes")):
        set_all(bench, field, text)
    settle(root)
    assert faults(root) == []
    screenshot(root, f"advice-{appearance}-{scale}-{width}", tmp_path)
    panel.advice.toggle()
    settle(root)
    assert faults(root) == []
    screenshot(root, f"advice-{appearance}-{scale}-{width}-open", tmp_path)


def test_every_need_of_a_finding_under_way_or_on_the_trial_is_a_field_that_is_led_to(root, bench):
    panel = shown(root, bench)
    found = [item for item in bench.report.findings if 600 <= item.code < 630]
    assert {item.code for item in found} >= {601, 602, 603, 604, 605, 620, 621, 622, 624, 625, 627}
    for finding in found:
        for need in finding.needs:
            panel.go_to_need(need, finding)
            table, field = need.split(".")
            assert (bench.wanted.table, bench.wanted.field) == (table, field)
            bench.draft.text(bench.wanted)
