"""What the tests of panels share: a boat on the workbench, and a panel in a window."""

from __future__ import annotations

from typing import Any

from rigfit.desk.kit.base import Area
from rigfit.desk.settings import Settings
from rigfit.desk.workbench import Change, Workbench
from rigfit.records.profiles import load_catalogue
from tests.desk.harness import settle


def demo_bench(folder: Any, engine: int = 1, lengths: str = "mm") -> Workbench:
    """Return a workbench with the demo boat on it, one of her engines shown."""
    bench = Workbench(load_catalogue(), Settings(), folder)
    bench.begin_demo()
    if lengths != "mm":
        bench.set_units(lengths=lengths)
    bench.show_engine(engine)
    return bench


def shown_panel(root: Any, kind: Any, bench: Workbench) -> Any:
    """Return a panel that fills its window."""
    sheet = Area(root, "panel")
    sheet.pack(fill="both", expand=True)
    panel = kind(sheet, bench)
    panel.pack(fill="both", expand=True)
    settle(root)
    return panel


def count_widgets(widget: Any) -> int:
    """Return how many widgets there are inside one."""
    return 1 + sum(count_widgets(child) for child in widget.winfo_children())


def with_old_holes(bench: Workbench) -> None:
    """Give the boat old holes that serve engine B in two places, at unlike cost, as one step.

    8 mm to starboard three of them take a bolt and a new hole would break into the fourth; on the
    centreline two take one and nothing is harmed.
    """
    draft = bench.draft
    while draft.rows("hole"):
        draft = draft.remove_row("hole", 0)
    spots = ((-155.5, 60.0), (171.5, 60.0), (-117.5, 263.0), (139.5, 263.0))
    for across, below in (*spots, (-163.5, 105.0), (163.5, 105.0)):
        draft = draft.add_row(
            "hole",
            across=f"{across} mm ± 0.2 mm",
            below_top=f"{below} mm ± 0.2 mm",
            diameter="13.5 mm ± 0.1 mm",
        )
    bench._apply(draft, "other old holes", Change.ENGINES)
