"""The demo boat with her hull, the heights read afloat, loads and marks typed in."""

from __future__ import annotations

from pathlib import Path

from rigfit.desk.draft import Address
from rigfit.desk.settings import Settings
from rigfit.desk.workbench import Change, Workbench
from rigfit.records.profiles import load_catalogue

_SINGLE = {
    "boat": {"length": "5.2 m", "deadrise": "19°"},
    "hull": {
        "chine_beam": "1.65 m",
        "sheer_beam": "1.95 m",
        "chine_height_aft": "230 mm",
        "deadrise_amidships": "19°",
        "depth_aft": "620 mm",
        "depth_amidships": "700 mm",
        "depth_bow": "980 mm",
    },
    "afloat": {
        "transom_top": "300 mm",
        "bow": "730 mm",
        "scupper": "140 mm",
        "engine_mass": "118 kg",
    },
}
ROWS = (
    ("mark", {"name": "cable opening", "kind": "rigging opening", "below_top": "100 mm"}),
    ("mark", {"name": "sole", "kind": "sole", "height": "360 mm", "ahead": "800 mm"}),
    ("mass", {"name": "old battery", "kind": "battery", "mass": "24 kg", "when": "before",
              "ahead_of_transom": "300 mm", "above_keel": "300 mm"}),
    ("mass", {"name": "new battery", "kind": "battery", "mass": "28 kg", "when": "after",
              "ahead_of_transom": "1505 mm", "above_keel": "350 mm"}),
    ("mass", {"name": "locker", "kind": "gear", "mass": "15 kg"}),
)  # fmt: skip
"""Rows typed, table by table; the last load has no place."""


def float_her(bench: Workbench) -> None:
    """Type hull, heights afloat, loads and marks into the demo boat, as one step."""
    draft = bench.draft
    for table in ("mark", "mass", "station", "offset"):
        while draft.rows(table):
            draft = draft.remove_row(table, 0)
    for table, fields in _SINGLE.items():
        for name, text in fields.items():
            draft = draft.with_text(Address(table, name), text)
    for table, texts in ROWS:
        draft = draft.add_row(table, **texts)
    bench._apply(draft, "hull and loads", Change.ENGINES)


def afloat_bench(folder: Path, lengths: str = "mm") -> Workbench:
    """Return a workbench with such a boat on it, her second engine shown.

    :param folder: where unsaved work is kept.
    :param lengths: "mm" or "in".
    """
    bench = Workbench(load_catalogue(), Settings(), folder)
    bench.begin_demo()
    float_her(bench)
    if lengths != "mm":
        bench.set_units(lengths=lengths)
    bench.show_engine(1)
    return bench
