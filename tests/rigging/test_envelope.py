"""The room an engine takes: what is measured, what the class stands in for, and safe growth."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import MultiPoint, Point

from rigfit.errors import EntryError
from rigfit.rigging.envelope import (
    DECIDING,
    Basis,
    engine_envelope,
    engine_travel,
    envelope_of,
    hull_in_directions,
    mounted_option,
    placed_rings,
    rig_of,
    tilt_turn,
)
from rigfit.rigging.outline import placed
from tests.builders import case_of, changed, reading, sample_job
from tests.rigging.swing_jobs import swing_job

points = st.lists(
    st.tuples(st.floats(-500.0, 500.0), st.floats(-500.0, 500.0)), min_size=3, max_size=40
)


def test_without_sizes_the_class_stands_in_and_says_so() -> None:
    envelope = engine_envelope(case_of(sample_job()))
    assert envelope.basis is Basis.CLASS
    assert not envelope.is_firm
    assert envelope.missing == tuple(f"engine.{name}" for name in DECIDING)


@pytest.mark.parametrize("name", DECIDING)
def test_one_of_the_three_tape_readings_missing_leaves_it_the_class(name) -> None:
    envelope = engine_envelope(case_of(swing_job(**{f"engine__{name}": None})))
    assert envelope.basis is Basis.CLASS
    assert envelope.missing == (f"engine.{name}",)


def test_measured_sizes_are_taken_as_a_full_box_of_those_sizes() -> None:
    envelope = engine_envelope(case_of(swing_job()))
    assert envelope.basis is Basis.SIZED
    assert envelope.missing == ()
    ring = envelope.part("cowl").ring
    xs, zs = [x for x, _ in ring], [z for _, z in ring]
    assert max(xs) - min(xs) == pytest.approx(740.0)
    assert len(ring) == 4
    # In the axis frame the seat lies below and, for an axis over the boat, aft of the axis.
    case = case_of(swing_job())
    rig = rig_of(case, mounted_option(case))
    seat_z = rig.seat()[1] - rig.axis()[1]
    assert max(zs) == pytest.approx(600.0 + seat_z, abs=1.0)


def test_the_box_holds_the_hood_of_the_same_sizes() -> None:
    rounded = engine_envelope(case_of(sample_job())).part("cowl").ring
    job = sample_job(
        engine__cowl_breadth=reading(460.0, 3.0),
        engine__cowl_top_above_seat=reading(600.0, 3.0),
        engine__cowl_front_ahead_of_seat=reading(170.0, 3.0),
    )
    box = engine_envelope(case_of(job)).part("cowl").ring
    xs, zs = [x for x, _ in box], [z for _, z in box]
    for x, z in rounded:
        assert min(xs) - 5.0 <= x <= max(xs) + 5.0
        assert min(zs) - 5.0 <= z <= max(zs) + 5.0


def test_a_drawn_outline_is_used_as_drawn() -> None:
    ring = ((-170.0, 120.0), (570.0, 120.0), (400.0, 600.0), (-100.0, 580.0))
    envelope = envelope_of(case_of(swing_job()), [ring])
    assert envelope.basis is Basis.OUTLINE
    assert envelope.is_firm
    assert len(envelope.parts[0].ring) == 4


def test_an_outline_without_a_breadth_is_not_firm() -> None:
    ring = ((-170.0, 120.0), (570.0, 120.0), (400.0, 600.0))
    envelope = envelope_of(case_of(swing_job(engine__cowl_breadth=None)), [ring])
    assert not envelope.is_firm
    assert envelope.missing == ("engine.cowl_breadth",)


@pytest.mark.parametrize(
    "rings", [[], [((0.0, 0.0), (9.0, 9.0), (9.0, 0.0), (0.0, 9.0))], [((0.0, 0.0), (1.0, 1.0))]]
)
def test_an_outline_that_is_none_is_refused_in_words(rings) -> None:
    with pytest.raises(EntryError, match="outline"):
        envelope_of(case_of(swing_job()), rings)


def test_placed_on_the_axis_the_class_is_where_the_drawing_puts_it() -> None:
    case = case_of(sample_job())
    option = mounted_option(case)
    rig = rig_of(case, option)
    ours = placed_rings(engine_envelope(case), rig.axis(), ("leg",))[0]
    drawn = placed(case.engine, rig).parts["leg"]
    for one, two in zip(ours, drawn, strict=True):
        assert math.dist(one, two) < 1e-9


def test_measured_angles_are_taken_from_square_to_the_face() -> None:
    travel = engine_travel(case_of(swing_job()))
    assert travel.trim_in_deg == pytest.approx(8.0 - 14.0)
    assert travel.full_tilt_deg == pytest.approx(80.0 - 14.0)
    assert travel.missing == ()


def test_a_classs_angles_move_with_the_rake() -> None:
    travel = engine_travel(case_of(sample_job(transom__rake=reading(20.0, 1.0))))
    assert travel.trim_in_deg == pytest.approx(-4.0 - 8.0)
    assert travel.full_tilt_deg == pytest.approx(68.0 - 8.0)
    assert set(travel.missing) == {"engine.trim_in", "engine.full_tilt", "engine.lock_angle"}


def test_a_tilt_below_the_trim_is_no_fault_of_the_turn() -> None:
    job = swing_job(engine__full_tilt=reading(20.0, 1.0), engine__trim_in=reading(30.0, 1.0))
    case = case_of(job)
    turn = tilt_turn(case, mounted_option(case))
    assert turn.low_deg == turn.high_deg


def test_a_row_up_carries_the_axis_up_the_face() -> None:
    job = swing_job()
    axes = []
    for row in (1, 2):
        case = case_of(changed(job, mounting__row=row, mounting__engine="A"))
        axes.append(rig_of(case, mounted_option(case)).axis())
    assert math.dist(*axes) == pytest.approx(19.0)
    assert axes[1][1] > axes[0][1]


@given(points, st.sampled_from((4, 8, 12)))
def test_the_hull_holds_every_point(cloud, count) -> None:
    ring = hull_in_directions(cloud, count)
    held = MultiPoint(ring).convex_hull.buffer(1e-3)  # a cloud on one line makes no polygon
    assert all(held.covers(Point(x, z)) for x, z in cloud)


def test_one_case_is_worked_out_once_and_a_changed_one_anew():
    case = case_of(swing_job())
    assert engine_envelope(case) is engine_envelope(case)
    wider = case_of(swing_job(engine__cowl_breadth=reading(999.0)))
    assert engine_envelope(wider).cowl_half_breadth_mm == 499.5
    assert engine_envelope(case).cowl_half_breadth_mm != 499.5
    assert case == case_of(swing_job())
