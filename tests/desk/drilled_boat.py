"""The demo boat after deciding on an engine: face, openings, places inside, bolts and dash."""

from __future__ import annotations

from pathlib import Path

from rigfit.desk.draft import Address
from rigfit.desk.settings import Settings
from rigfit.desk.workbench import Workbench
from rigfit.records.profiles import load_catalogue

ENGINE = 1

_SINGLE = {
    "face": {"chine_width": "1580 mm", "chine_below_top": "370 mm"},
    "bolting": {
        "bolt": "M12",
        "grade": "A4-70",
        "flange": "12 mm",
        "backing": "plate and washers",
        "washer": "M12-wide",
        "plate_thickness": "6 mm",
        "plate_width": "400 mm",
        "plate_height": "80 mm",
        "core": "plywood",
        "torque": "75 N·m",
    },
}
_ROWS = (
    ("opening", {"name": "drain", "kind": "drain", "across": "0 mm", "below_top": "455 mm",
                 "width": "32 mm"}),
    ("opening", {"name": "cables", "kind": "cable opening", "across": "250 mm",
                 "below_top": "100 mm", "width": "60 mm", "height": "40 mm"}),
    ("no_go", {"name": "well floor", "kind": "well floor", "across_from": "-300 mm",
               "across_to": "300 mm", "below_from": "345 mm", "below_to": "400 mm",
               "corner_radius": "30 mm"}),
    ("no_go", {"name": "knee", "kind": "knee", "across_from": "-260 mm", "across_to": "-205 mm",
               "below_from": "120 mm", "below_to": "500 mm"}),
    ("dash", {"name": "rev counter", "across": "120 mm", "down": "90 mm", "old_width": "85 mm",
              "new_width": "86 mm", "bezel_width": "98 mm"}),
    ("dash", {"name": "fuel", "across": "260 mm", "down": "90 mm", "old_width": "60 mm",
              "new_width": "52 mm", "bezel_width": "62 mm"}),
)  # fmt: skip


def fill_in(bench: Workbench) -> None:
    """Type all that the sheets besides the profile need into the demo boat."""
    bench.show_engine(ENGINE)
    for table, fields in _SINGLE.items():
        for name, text in fields.items():
            bench.type(Address(table, name), text)
    for table, texts in _ROWS:
        bench.add_row(table, **texts)


def drilled_bench(folder: Path, lengths: str = "mm") -> Workbench:
    """Return a workbench with the drilled boat on it.

    :param folder: where unsaved work is kept.
    :param lengths: "mm" or "in".
    """
    bench = Workbench(load_catalogue(), Settings(), folder)
    bench.begin_demo()
    fill_in(bench)
    if lengths != "mm":
        bench.set_units(lengths=lengths)
    return bench
