"""Conductors and cables as plain data."""

from __future__ import annotations

from rigfit.rigging.checks_runs import (
    cables_of,
    drop_of,
    feet_of,
    most_a,
    thinnest,
    volts_of,
    way_of,
    wires_of,
)
from rigfit.rigging.readings import Reading
from rigfit.rigging.report import EngineReport
from rigfit.rigging.runs_fields import CRANKING, NOT_CHOSEN, Wire


def runs_data(report: EngineReport) -> dict[str, object] | None:
    """Return conductors and cables; mm, A, drops as a share of the voltage, stocked lengths in ft.

    None while none is listed.
    """
    wires, cables = wires_of(report.case), cables_of(report.case)
    if not wires and not cables:
        return None
    found = []
    for name, cable in cables:
        way, feet = way_of(cable), feet_of(cable)
        found.append(
            {
                "name": name,
                "kind": cable.kind,
                "way_mm": round(way[0], 1) if way else None,
                "tolerance_mm": round(way[1], 1) if way else None,
                "stocked_ft": list(feet) if feet else [],
                "to_buy_ft": cable.feet,
            }
        )
    return {"conductors": [_wire(name, wire) for name, wire in wires], "cables": found}


def _wire(name: str, wire: Wire) -> dict[str, object]:
    dropped = drop_of(wire)
    cranks = wire.use == CRANKING
    most = None if cranks else most_a(wire)
    return {
        "name": name,
        "supplies": wire.use,
        "way_mm": _value(wire.length),
        "current_a": _value(wire.current),
        "voltage_v": volts_of(wire),
        "gauge_awg": None if wire.gauge == NOT_CHOSEN else wire.gauge,
        "drop": round(dropped[0], 4) if dropped else None,
        "drop_tolerance": round(dropped[1], 4) if dropped else None,
        "thinnest_by_drop_awg": None if cranks else thinnest(wire),
        "listed_a": None if most is None else round(most, 1),
    }


def _value(reading: Reading | None) -> float | None:
    return None if reading is None else round(reading.value, 2)
