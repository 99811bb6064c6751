"""The demo boat with a motor well and things round it that the engine could touch."""

from __future__ import annotations

from pathlib import Path

from rigfit.desk.draft import Address
from rigfit.desk.workbench import Workbench
from tests.desk.panels import demo_bench

WELL = {
    "length": "460 mm",
    "width": "840 mm",
    "floor_below_top": "230 mm",
    "front_top": "120 mm",
    "corner_radius": "60 mm",
}
SEAT = {
    "name": "stern seat",
    "kind": "seat back",
    "ahead_from": "420 mm",
    "ahead_to": "560 mm",
    "above_from": "-50 mm",
    "above_to": "310 mm",
    "across_from": "-600 mm",
    "across_to": "600 mm",
}
RAIL = {
    "name": "rail",
    "kind": "rail",
    "ahead_from": "700 mm",
    "ahead_to": "730 mm",
    "above_from": "500 mm",
    "above_to": "530 mm",
}


def swinging_bench(folder: Path, lengths: str = "mm") -> Workbench:
    """Return a workbench with the demo boat on it, her well and two obstacles filled in.

    :param folder: where unsaved work is kept.
    :param lengths: "mm" or "in".
    """
    bench = demo_bench(folder, lengths=lengths)
    for name, text in WELL.items():
        bench.type(Address("well", name), text)
    bench.add_rows("obstacle", (SEAT, RAIL))
    return bench
