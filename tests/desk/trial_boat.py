"""The demo boat with two sea trials typed in, invented; her second engine is on her."""

from __future__ import annotations

from pathlib import Path

from rigfit.desk.draft import Address
from rigfit.desk.settings import Settings
from rigfit.desk.workbench import Workbench
from rigfit.records.profiles import load_catalogue

TRIALS = (
    {"id": "T1", "date": "2026-05-16", "engine": "B", "row": "2", "pitch": "17 in",
     "gear_ratio": "2.15", "wot_low": "5000 rpm", "wot_high": "6000 rpm", "mass_aboard": "240 kg",
     "wind": "8 kn", "water": "ripples", "speed_from": "satellite", "rpm_checked": "yes"},
    {"id": "T2", "date": "2026-05-23", "engine": "B", "row": "3", "pitch": "17 in",
     "gear_ratio": "2.15", "wot_low": "5000 rpm", "wot_high": "6000 rpm", "mass_aboard": "245 kg",
     "wind": "6 kn", "water": "ripples", "speed_from": "satellite", "rpm_checked": "yes",
     "change": "one row up"},
)  # fmt: skip
_SPEEDS = {
    "T1": ((2500, 10.2, 9.6, 8.1), (3500, 18.9, 18.1, 12.4), (4500, 25.2, 24.6, 19.8),
           (5600, 30.8, 30.2, 31.0)),
    "T2": ((2500, 10.6, 10.2, 7.9), (3500, 19.6, 19.0, 12.0), (4500, 26.1, 25.5, 19.1),
           (5750, 32.0, 31.4, 31.6)),
}  # fmt: skip


SINGLE = {
    "boat": {"length": "5.2 m", "deadrise": "19°"},
    "hull": {"chine_beam": "1.65 m"},
    "underway": {"mass": "980 kg", "centre_ahead": "1.75 m", "speed": "26 kn",
                 "hull_type": "runabout", "water": "salt"},
    "propeller": {"pitch": "17 in", "diameter": "13 1/4 in", "blades": "3"},
}  # fmt: skip
"""What is typed of the boat under way."""


def run_rows() -> list[dict[str, str]]:
    """Return the texts of all runs, slowest first in each trial."""
    rows = []
    for trial, speeds in _SPEEDS.items():
        for rpm, there, back, flow in speeds:
            is_full = rpm > 5500
            rows.append(
                {
                    "trial": trial,
                    "rpm": f"{rpm} rpm",
                    "speed_there": f"{there} kn",
                    "speed_back": f"{back} kn",
                    "fuel_flow": f"{flow} L/h",
                    "full_throttle": "yes" if is_full else "no",
                    "trim": "a little out",
                    "plate": "wetted" if trial == "T2" else "buried",
                    "ventilates": "no",
                    "porpoises": "no",
                    "overheats": "no",
                }
            )
    return rows


def try_her(bench: Workbench) -> None:
    """Type two trials and their runs into the demo boat, in place of those she has, as one step."""
    draft = bench.draft
    for table in ("trial", "run"):
        while draft.rows(table):
            draft = draft.remove_row(table, 0)
    for table, fields in SINGLE.items():
        for name, text in fields.items():
            draft = draft.with_text(Address(table, name), text)
    for texts in TRIALS:
        draft = draft.add_row("trial", **texts)
    for texts in run_rows():
        draft = draft.add_row("run", **texts)
    bench.take(draft, "two trials")


def trial_bench(folder: Path, lengths: str = "mm", speeds: str = "") -> Workbench:
    """Return a workbench with such a boat on it, her second engine shown.

    :param folder: where unsaved work is kept.
    :param lengths: "mm" or "in".
    :param speeds: "kn", "km/h" or "mph"; "" to leave it.
    """
    bench = Workbench(load_catalogue(), Settings(), folder)
    bench.begin_demo()
    try_her(bench)
    if lengths != "mm":
        bench.set_units(lengths=lengths)
    if speeds:
        bench.set_units(speeds=speeds)
    bench.show_engine(1)
    return bench
