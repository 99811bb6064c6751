"""Checks 811 to 813: conductors and cables, and what each says while a reading is missing."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigfit.rigging.checks_runs import check_runs
from rigfit.rigging.findings import Finding, Verdict
from rigfit.rigging.runs import TABLE_5
from rigfit.rigging.runs_fields import AWG, CRANKING, THROUGH_TUBE, USES, Cable, Wire
from rigfit.units import Kind
from rigfit.wording import say, shown
from tests.builders import case_of, reading, sample_job

WIRE = Wire(
    "sounder", "electronics", reading(3200.4, 50.0), reading(10.0, 0.0), "12 V", "10", "105", "no"
)
CABLE = Cable(
    "steering", "steering cable", reading(508.0, 0.0), reading(2540.0, 0.0), reading(711.2, 0.0),
    2, THROUGH_TUBE, 13,
)  # fmt: skip


def found(code: int, wire: Wire | None = None, cable: Cable | None = None) -> Finding:
    job = sample_job(wires=(wire,) if wire else (), cables=(cable,) if cable else ())
    return next(item for item in check_runs(case_of(job)) if item.code == code)


def words(finding: Finding) -> str:
    parts = [finding.sentence, *finding.working, *([finding.settle] if finding.settle else [])]
    return " ".join(say(part, shown(sample_job().units)) for part in parts)


def test_nothing_listed_says_nothing() -> None:
    assert check_runs(case_of(sample_job())) == ()


def test_a_conductor_within_the_drop() -> None:
    finding = found(811, WIRE)
    assert finding.verdict is Verdict.FITS
    # 10 A, 10.5 ft, SAE 10 of 9343 CM: 10.75 x 10 x 21 / 9343 / 12.
    assert finding.value == pytest.approx(10.75 * 10 * 21 / 9343 / 12, rel=1e-3)
    assert finding.kind is Kind.FRACTION
    assert "Fuse" in words(finding)


@pytest.mark.parametrize(
    ("changes", "verdict"),
    [
        ({"gauge": "12"}, Verdict.TIGHT),  # AWG 12 does, boat cable of 5,833 CM does not
        ({"gauge": "14"}, Verdict.STOPS),
        ({"gauge": "14", "use": "other"}, Verdict.FITS),
        ({"gauge": "14", "voltage": "24 V"}, Verdict.FITS),
        ({"gauge": "not chosen"}, Verdict.UNKNOWN),
        ({"use": "not said"}, Verdict.UNKNOWN),
        ({"length": None}, Verdict.UNKNOWN),
        ({"current": None}, Verdict.UNKNOWN),
    ],
)
def test_drops(changes: dict[str, Any], verdict: Verdict) -> None:
    assert found(811, replace(WIRE, **changes)).verdict is verdict


def test_without_a_gauge_the_thinnest_is_named() -> None:
    assert "AWG 10 is the thinnest" in words(found(811, replace(WIRE, gauge="not chosen")))
    long = replace(WIRE, gauge="not chosen", length=reading(50_000.0, 0.0),
                   current=reading(500.0, 0.0))  # fmt: skip
    assert "No gauge" in words(found(811, long))


@pytest.mark.parametrize("gauge", AWG)
@pytest.mark.parametrize("current", [5.0, 100.0, 900.0])
def test_cranking_never_fits_and_is_not_held_against_the_table(gauge: str, current: float) -> None:
    wire = replace(WIRE, use=CRANKING, gauge=gauge, current=reading(current, 0.0))
    findings = check_runs(case_of(sample_job(wires=(wire,))))
    assert [item.code for item in findings] == [811]
    assert findings[0].verdict in (Verdict.TIGHT, Verdict.STOPS)
    assert "outside 33 CFR 183.425" in words(findings[0])
    assert "manual" in words(findings[0])


@given(
    gauge=st.sampled_from([*AWG, "not chosen"]),
    insulation=st.sampled_from(["60", "75", "80", "90", "105", "125", "200", "not said"]),
    hot=st.sampled_from(["yes", "no", "not said"]),
    current=st.one_of(st.none(), st.floats(0.1, 600.0)),
    use=st.sampled_from([use for use in USES if use != CRANKING]),
)
def test_the_table_allows_nothing(
    gauge: str, insulation: str, hot: str, current: float | None, use: str
) -> None:
    amperes = None if current is None else reading(current, 0.0)
    wire = replace(
        WIRE, gauge=gauge, insulation=insulation, hot_space=hot, current=amperes, use=use
    )
    finding = found(812, wire)
    assert finding.verdict is not Verdict.FITS
    assert "allows nothing" in words(finding)
    if finding.verdict is Verdict.TIGHT:
        assert current is not None
        assert current <= max(TABLE_5[gauge])


@pytest.mark.parametrize(
    ("current", "hot", "insulation", "verdict"),
    [
        (60.0, "no", "105", Verdict.TIGHT),
        (60.5, "no", "105", Verdict.STOPS),
        (52.0, "yes", "105", Verdict.STOPS),  # 0.85 of 60 A
        (50.0, "yes", "105", Verdict.TIGHT),
        (10.0, "yes", "75", Verdict.UNKNOWN),  # its factor was not read
        (10.0, "no", "not said", Verdict.UNKNOWN),
    ],
)
def test_listed_currents(current: float, hot: str, insulation: str, verdict: Verdict) -> None:
    wire = replace(WIRE, current=reading(current, 0.0), hot_space=hot, insulation=insulation)
    assert found(812, wire).verdict is verdict


def test_a_space_nobody_spoke_of_is_named() -> None:
    assert "51 A" in words(found(812, replace(WIRE, hot_space="not said")))


def test_a_steering_cable_by_both_rules() -> None:
    finding = found(813, cable=CABLE)
    assert finding.verdict is Verdict.FITS
    assert "13 ft" in words(finding)
    assert "13 to 14" not in words(finding)


@pytest.mark.parametrize(
    ("changes", "verdict"),
    [
        ({"feet": 12}, Verdict.STOPS),
        ({"feet": 14}, Verdict.FITS),
        ({"feet": 15}, Verdict.TIGHT),
        ({"feet": None}, Verdict.UNKNOWN),
        ({"leg_b": None}, Verdict.UNKNOWN),
        ({"leg_c": None}, Verdict.UNKNOWN),
        ({"bends": None}, Verdict.UNKNOWN),
        ({"mount": "not said"}, Verdict.UNKNOWN),
        ({"kind": "not said"}, Verdict.UNKNOWN),
        ({"bends": 5}, Verdict.TIGHT),
        ({"leg_b": reading(2540.0, 200.0)}, Verdict.TIGHT),  # 12 to 14 ft
        (
            {"kind": "control cable", "bends": None},
            Verdict.STOPS,
        ),  # the way and 600 mm is over 14 ft
        ({"kind": "control cable", "leg_c": None, "mount": "not said"}, Verdict.TIGHT),
    ],
)
def test_cables(changes: dict[str, Any], verdict: Verdict) -> None:
    assert found(813, cable=replace(CABLE, **changes)).verdict is verdict


def test_a_nameless_one_has_its_number() -> None:
    assert found(811, replace(WIRE, name="")).title == "voltage drop, conductor 1"
    assert found(813, cable=replace(CABLE, name="")).title == "length, cable 1"
