"""The drilled demo boat with everything filled in, from her profile."""

from __future__ import annotations

import shutil
from pathlib import Path

from rigfit.desk.settings import Settings
from rigfit.desk.workbench import Workbench
from rigfit.records.profiles import load_catalogue
from tests.demo_reports import ROOT

FILE = ROOT / "profiles" / "demo" / "dunlin-drilled.toml"


def full_bench(folder: Path, lengths: str = "mm") -> Workbench:
    """Return a workbench with a copy of her file open.

    :param folder: where the copy goes, and unsaved work is kept.
    :param lengths: "mm" or "in".
    """
    bench = Workbench(load_catalogue(), Settings(), folder / "unsaved")
    bench.open(shutil.copy(FILE, folder))
    if lengths != "mm":
        bench.set_units(lengths=lengths)
    return bench
