"""Findings on swing, power, load and flotation lead to the fields that decide them."""

from __future__ import annotations

import pytest

from rigfit.desk.body import Body
from rigfit.desk.draft import LIST_FIELDS, Address
from rigfit.desk.row_names import named_row
from rigfit.desk.workbench import Change
from tests.desk.full_boat import full_bench
from tests.desk.harness import settle, take_keyboard, wait_for
from tests.desk.swinging_boat import RAIL, SEAT

SWING, LOADS = range(401, 408), range(501, 516)


@pytest.fixture
def bench(tmp_path):
    made = full_bench(tmp_path)
    assert made.derived.messages == {}
    return made


@pytest.fixture
def body(make_root, bench):
    root = make_root(size="1920x1080")
    made = Body(root, bench, bool)
    made.pack(fill="both", expand=True)
    take_keyboard(root)
    wait_for(root, lambda: made.drawing.is_painted and not made.measurements.is_opening)
    return made


def of_bands(bench):
    return [item for item in bench.report.findings if item.code in (*SWING, *LOADS)]


def test_every_field_that_decides_is_one_of_the_form(bench):
    codes = {finding.code for finding in of_bands(bench)}
    assert codes >= {401, 402, 403, 404, 405, 406, 501, 502, 503, 504, 505, 506, 511, 512, 513}
    for finding in of_bands(bench):
        assert finding.needs, finding.code
        for need in finding.needs:
            Address.of_need(need, bench.engine_index)


def test_every_link_puts_the_cursor_into_its_field(body, bench):
    panel, measurements = body.findings, body.measurements
    needs = {need: finding for finding in of_bands(bench) for need in finding.needs}
    assert len(needs) > 40
    for need, finding in needs.items():
        panel.go_to_need(need, finding)
        wanted = bench.wanted
        assert f"{wanted.table}.{wanted.field}" == need
        if wanted.table in LIST_FIELDS and not bench.draft.rows(wanted.table):
            continue
        settle(body)
        assert bench.focus == wanted, need
        assert measurements.groups[wanted.table].section.is_open


def test_a_finding_on_the_second_obstacle_leads_to_the_second(body, bench):
    for table in ("obstacle", "mark"):
        while bench.draft.rows(table):
            bench.remove_row(table, 0)
    bench.add_rows("obstacle", (RAIL, SEAT))
    bench.add_rows(
        "mark",
        ({"name": "sole", "kind": "sole", "height": "360 mm"},
         {"name": "drain", "kind": "scupper", "height": "250 mm"}),
    )  # fmt: skip
    tilt = bench.report.finding(401)
    assert "stern seat" in tilt.sentence.text.format_map(tilt.sentence.amounts)
    body.findings.go_to_need("obstacle.ahead_from", tilt)
    assert bench.wanted == Address("obstacle", "ahead_from", 1)
    drain = next(item for item in bench.report.findings if item.title.startswith("drain"))
    body.findings.go_to_need("mark.height", drain)
    assert bench.wanted == Address("mark", "height", 1)


@pytest.mark.parametrize(
    ("words", "row"),
    [
        ("touches the rail", 0),
        ("touches the grab rail", 1),
        ("TOUCHES THE GRAB RAIL", 1),
        ("touches ladder 3", 2),
        ("nothing of the kind", 0),
        ("touches swim step", 4),
    ],
)
def test_the_row_that_words_speak_of_is_found_by_its_name(bench, words, row):
    draft = bench.draft
    while draft.rows("obstacle"):
        draft = draft.remove_row("obstacle", 0)
    for texts in ({"name": "rail"}, {"name": "grab rail"}, {"kind": "ladder"}, {},
                  {"kind": "swim step"}):  # fmt: skip
        draft = draft.add_row("obstacle", **texts)
    bench._apply(draft, "obstacles", Change.ENGINES)
    assert named_row(bench.draft, "obstacle", words) == row


def test_a_table_without_names_leads_to_its_first_row(bench):
    assert named_row(bench.draft, "station", "section 2 of the hull") == 0
    assert named_row(bench.draft, "hole", "") == 0
