"""Every value of ``power_load_flotation.toml`` against rigfit, each within its own tolerance.

The file names source and mark of every case. A case whose kind nobody reckons here fails.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from rigfit.rigging.flotation import (
    DENSITY_KG_L,
    Floating,
    Load,
    Plane,
    PointMass,
    displaced,
    equilibrium,
)
from rigfit.rigging.hull_form import HullForm
from rigfit.rigging.load_rules import (
    engine_weights,
    list_test_capacity,
    persons_by_size,
    persons_of_gross_load,
    persons_quotient,
    weight_capacity,
    whole_persons,
)
from rigfit.rigging.power_rules import (
    FLAT,
    PLAIN,
    REMOTE,
    factor_ft2,
    horsepower_183_53,
    raised_hp,
)
from rigfit.units import FOOT_MM, HORSEPOWER_KW, INCH_MM, POUND_KG

Values = dict[str, Any]

with (Path(__file__).with_name("power_load_flotation.toml")).open("rb") as _file:
    CASES: list[Values] = tomllib.load(_file)["case"]

SALT = DENSITY_KG_L["salt"]
LONG_TON_KG = 2240.0 * POUND_KG


def power(given: Values) -> Values:
    factor = given.get("factor_ft2")
    if factor is None:
        factor = factor_ft2(given["length_ft"] * FOOT_MM, given["transom_width_ft"] * FOOT_MM)
    result = horsepower_183_53(
        factor, is_remote=given["remote_steering"], is_flat=given["flat_bottom_hard_chine"],
        transom_mm=given["transom_height_in"] * INCH_MM,
    )  # fmt: skip
    assert result.is_settled
    assert result.low_hp == result.high_hp
    return {"factor_ft2": factor, "raw_hp": result.raw_hp, "max_power_hp": result.high_hp}


def metric_lines(_: Values) -> Values:
    found: Values = {}
    for name, line in (("remote", REMOTE), ("other", PLAIN), ("flat", FLAT)):
        unit = ("_kW_per_m2", "_kW") if name == "remote" else ("", "")
        found[f"{name}_slope{unit[0]}"] = line.slope_kw_m2
        found[f"{name}_offset{unit[1]}"] = line.offset_kw
    return found


def persons(given: Values) -> Values:
    capacity = given["persons_capacity_lb"]
    return {"quotient": persons_quotient(capacity), "persons": whole_persons(capacity)}


def weights(given: Values) -> Values:
    rows = {engine_weights(given[end] * HORSEPOWER_KW) for end in ("hp_from", "hp_to")}
    ((row,),) = rows
    return {
        "dry_lb": row.dry, "running_lb": row.running, "swamped_lb": row.swamped,
        "controls_rigging_lb": row.controls, "battery_dry_lb": row.battery,
        "battery_submerged_lb": row.battery_submerged, "portable_fuel_lb": row.fuel,
        "total_lb": row.total,
    }  # fmt: skip


def box(length: float, beam: float, depth: float) -> HullForm:
    return HullForm(length, (((beam / 2.0, 0.0), (beam / 2.0, depth)),) * 21)


def moved(form: HullForm, state: Floating, kg: float, way: float, density: float) -> Plane:
    """Return the water after a mass low in the middle of a box went aft by some mm."""
    middle, above = form.length_mm / 2.0, state.load.above_mm
    here = PointMass("w", kg, middle + way / 2.0, above)
    there = PointMass("w", kg, middle - way / 2.0, above)
    return equilibrium(form, state.load.changed((there,), (here,)), density).plane


def box_mctc(given: Values) -> Values:
    length, beam, draught = (given[key] * 1000.0 for key in ("L_m", "B_m", "T_m"))
    form = box(length, beam, 2.0 * draught)
    mass_t = given["rho"] * given["L_m"] * given["B_m"] * given["T_m"]
    load = Load(mass_t * 1000.0, length / 2.0, given["KG_m"] * 1000.0)
    state = equilibrium(form, load, given["rho"])
    assert state.plane.height_mm == pytest.approx(draught)
    gml = state.gml_mm / 1000.0
    plane = moved(form, state, given["weight_t"] * 1000.0, given["shift_m"] * 1000.0, given["rho"])
    return {
        "W_t": state.wet.litres * given["rho"] / 1000.0,
        "TPC": given["rho"] * state.wet.area / 1e6 / 100.0,
        "BML_m": gml + given["KG_m"] - state.wet.centre_mm[2] / 1000.0,
        "GML_m": gml,
        "MCTC": mass_t * gml / (100.0 * given["L_m"]),
        "trim_cm": -plane.slope_ahead * length / 10.0,
    }


def box_bm(given: Values) -> Values:
    """A box of any length has these."""
    beam, draught = given["B_ft"] * FOOT_MM, given["T_ft"] * FOOT_MM
    length = 6.0 * beam
    volume_l = length * beam * draught / 1e6
    state = equilibrium(
        box(length, beam, 2.0 * draught), Load(volume_l, length / 2.0, draught / 2.0), 1.0
    )
    kb = state.wet.centre_mm[2]
    km = state.gm_mm + draught / 2.0
    return {"BM_ft": (km - kb) / FOOT_MM, "KM_ft": km / FOOT_MM}


def inch_trim(given: Values) -> Values:
    """A box whose moment to change trim one inch is the one given: W GML = ITM 12 L."""
    length, draught = 200.0 * FOOT_MM, 8.0 * FOOT_MM
    gml = length**2 / (12.0 * draught)
    mass_kg = given["ITM"] * 12.0 * length / gml * LONG_TON_KG
    beam = mass_kg * 1e6 / (length * draught)
    form = box(length, beam, 20.0 * FOOT_MM)
    # The centre of gravity in that of buoyancy makes GML the BML.
    state = equilibrium(form, Load(mass_kg, length / 2.0, draught / 2.0), 1.0)
    plane = moved(form, state, given["weight_tons"] * LONG_TON_KG, given["shift_ft"] * FOOT_MM, 1.0)
    aft, fore = ((plane.at(x) - draught) / INCH_MM for x in (0.0, length))
    return {"trim_in": aft - fore, "change_each_end_in": aft}


def rise(given: Values) -> Values:
    """A box of that TPC and MCTC; the textbook's rule is linear, so a hundredth is discharged."""
    length, draught = 120_000.0, 7_000.0
    area_m2 = given["TPC"] * 100.0 / SALT
    form = box(length, area_m2 * 1e6 / length, 2.0 * draught)
    mass_t = SALT * area_m2 * draught / 1000.0
    gml = given["MCTC"] * 100.0 * length / mass_t
    bml = length**2 / (12.0 * draught)
    load = Load(mass_t * 1000.0, length / 2.0, draught / 2.0 - (gml - bml))
    assert displaced(form, Plane(draught)).area == pytest.approx(area_m2 * 1e6)
    kg = given["weight_t"] * 1000.0
    out = PointMass("cargo", kg / 100.0, length / 2.0 + given["lever_m"] * 1000.0, load.above_mm)
    plane = equilibrium(form, load.changed((), (out,)), SALT).plane
    return {
        "rise_cm": 100.0 * (draught - plane.at(length / 2.0)) / 10.0,
        "trim_cm": -100.0 * plane.slope_ahead * length / 10.0,
    }


KINDS: dict[str, Callable[[Values], Values]] = {
    "A-hp-table-": power,
    "A-hp-formula-": power,
    "A-hp-round-": lambda given: {"rounded_hp": raised_hp(given["raw_hp"])},
    "A-metric-conversion": metric_lines,
    "A-persons-test-": lambda given: {
        "A_over_0p6_lb": list_test_capacity(given["test_weight_A_lb"])
    },
    "A-persons-": persons,
    "A-weightcap": lambda given: {
        "max_weight_capacity_lb": weight_capacity(
            given["max_displacement_lb"], given["boat_weight_lb"]
        )
    },
    "A-canada-persons": lambda given: {
        "persons": persons_of_gross_load(
            given["max_gross_load_kg"], given["engine_kg"], given["equipment_kg"]
        )
    },
    "A-owner-rule": lambda given: {
        "persons": persons_by_size(given["length_ft"] * FOOT_MM, given["beam_ft"] * FOOT_MM)
    },
    "A-engine-weights-": weights,
    "F-derrett-rise": rise,
    "F-nicholls-BM": box_bm,
    "F-nicholls-trim": inch_trim,
    "F-box-MCTC": box_mctc,
}


@pytest.mark.parametrize("case", CASES, ids=[case["id"] for case in CASES])
def test_a_published_value_is_met(case: Values) -> None:
    reckon = next(kind for prefix, kind in KINDS.items() if case["id"].startswith(prefix))
    found = reckon(case["inputs"])
    allowed = case["tolerance"]
    assert case["expected"]
    for name, value in case["expected"].items():
        assert found[name] == pytest.approx(
            value, abs=allowed.get("abs", 0.0), rel=allowed.get("rel", 0.0)
        ), name


def test_every_kind_of_case_is_there_and_every_case_names_its_source() -> None:
    ids = [case["id"] for case in CASES]
    assert len(ids) == len(set(ids)) == 41
    assert all(any(one.startswith(prefix) for one in ids) for prefix in KINDS)
    assert all(case["source"] and case["mark"] for case in CASES)


def test_a_wrong_value_would_be_seen() -> None:
    """The comparison itself: a value off by twice the tolerance fails."""
    (case,) = [one for one in CASES if one["id"] == "F-box-MCTC"]
    found = box_mctc(case["inputs"])
    for name, value in case["expected"].items():
        assert found[name] != pytest.approx(1.002 * value, rel=case["tolerance"]["rel"])
