"""What the form gives away: drawings, templates and reports as files, heights for the clipboard.

Each export is a task for ``rigfit.desk.worker``. The files are made aside and put into place only
when all are ready, so that an export that is cancelled or fails leaves nothing behind.
"""

from __future__ import annotations

import contextlib
import tempfile
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from rigfit import tasks
from rigfit.desk.worker import Cancelled, Progress, never, silent
from rigfit.errors import OutputError
from rigfit.plain_report import heights_lines
from rigfit.records.saving import write_together, write_whole
from rigfit.records.tables import Cell, to_csv
from rigfit.rigging.report import EngineReport
from rigfit.tasks import Theme, Written
from rigfit.wording import heights_data

if TYPE_CHECKING:
    from rigfit.drawing.scene import Scene

Release = Literal["R2000", "R12"]


@dataclass(frozen=True, slots=True)
class Printing:
    """How a template goes on paper.

    :param paper: A4, A3, Letter, Legal or Tabloid.
    :param side: as seen from astern ("outside"), mirrored for the inner face, or "both".
    :param corrected: True to stretch the drawing by what the job's check bars are off.
    :param jig: True for the drill-guide jig as well, on paper and as DXF.
    :param date: printed on every sheet; "" for none.
    """

    paper: str = "A4"
    side: tasks.Side = "outside"
    corrected: bool = False
    jig: bool = False
    date: str = ""


_MADE = 0.8  # share of the work that is done once the files are made but not in place

_COLUMNS = {
    "row": "row",
    "bracket_setting_mm": "bracket setting (mm)",
    "lift_mm": "lift (mm)",
    "plate_height_mm": "plate above keel line (mm)",
    "tolerance_mm": "tolerance (mm)",
    "off_target_mm": "off target (mm)",
    "verdict": "verdict",
    "reason": "why",
}


def export_drawing(
    report: EngineReport,
    path: Path,
    theme: Theme = "light",
    paper: str = "A3",
    progress: Progress = silent,
    cancelled: Cancelled = never,
    *,
    sheet: str = "profile",
    date: str = "",
) -> tuple[Written, ...]:
    """Write a sheet to a file; its ending says how (see ``tasks.DRAWING_KINDS``).

    :param sheet: one of ``tasks.SHEETS``.
    :param date: printed on the sheet; "" for none.
    :returns: the file written; empty when cancelled.
    :raises UsageError: for an ending rigfit does not write.
    :raises NotMeasuredError: when what the sheet needs is not measured or decided.
    :raises OutputError: for a paper rigfit does not know, or when it cannot be written.
    """

    def make(folder: Path) -> tuple[Written, ...]:
        aside = folder / f"drawing{path.suffix}"
        return (
            tasks.write_drawing(report, aside, sheet=sheet, paper=paper, theme=theme, date=date),
        )

    return _export(make, lambda _: path, f"drawing the {tasks.SHEETS[sheet]}", progress, cancelled)


def export_view(
    scene: Scene,
    path: Path,
    theme: Theme = "light",
    progress: Progress = silent,
    cancelled: Cancelled = never,
) -> tuple[Written, ...]:
    """Write the drawing as it lies on the screen; the ending says how, as in ``export_drawing``.

    :param scene: with its sheet, as ``DrawingPane.view_scene`` gives it.
    :returns: the file written; empty when cancelled.
    :raises UsageError: for an ending rigfit does not write.
    :raises OutputError: when it cannot be written.
    """
    kind = path.suffix.lower().removeprefix(".")

    def make(folder: Path) -> tuple[Written, ...]:
        aside = folder / f"view{path.suffix}"
        write_whole(aside, tasks.drawing_bytes(scene, kind, theme))
        return (Written(aside, f"drawing as on the screen, {kind.upper()}"),)

    return _export(make, lambda _: path, "drawing what is on the screen", progress, cancelled)


def export_template(
    report: EngineReport,
    folder: Path,
    progress: Progress = silent,
    cancelled: Cancelled = never,
    *,
    release: Release = "R2000",
    jig: bool = False,
) -> tuple[Written, ...]:
    """Write the drilling template and the cut file into a folder.

    :param jig: True for the drill-guide jig and its cut file as well.
    :returns: the files written; empty when cancelled.
    :raises NotMeasuredError: when what the template needs is not measured or decided.
    :raises OutputError: when it cannot be written.
    """

    def make(aside: Path) -> tuple[Written, ...]:
        written = tasks.write_template(report, aside, release=release)
        return written + (tasks.write_jig(report, aside, release=release) if jig else ())

    return _export(
        make, lambda made: folder / made.name, "drawing the drilling template", progress, cancelled
    )


def export_paper_template(
    report: EngineReport,
    folder: Path,
    progress: Progress = silent,
    cancelled: Cancelled = never,
    *,
    printing: Printing | None = None,
) -> tuple[Written, ...]:
    """Write the drilling template as true-scale sheets of paper into a folder, one PDF a side.

    :returns: the files written; empty when cancelled.
    :raises NotMeasuredError: when what the template needs is not measured or decided.
    :raises OutputError: for a drawing too large for the paper, bars that leave nothing to correct,
        or when it cannot be written.
    """
    how = printing or Printing()
    given: dict[str, Any] = {"paper": how.paper, "corrected": how.corrected, "date": how.date}

    def make(aside: Path) -> tuple[Written, ...]:
        written = tasks.write_paper_template(report, aside, side=how.side, **given)
        return written + (tasks.write_jig(report, aside, **given) if how.jig else ())

    return _export(
        make, lambda made: folder / made.name, "drawing the sheets of paper", progress, cancelled
    )


def export_pieces(
    report: EngineReport,
    folder: Path,
    progress: Progress = silent,
    cancelled: Cancelled = never,
    *,
    release: Release = "R2000",
) -> tuple[Written, ...]:
    """Write backing plates, setback plates and the dash as DXF into a folder, what can be made.

    :returns: the files written; empty when cancelled.
    :raises NotMeasuredError: when none of them can be made.
    :raises OutputError: when it cannot be written.
    """
    return _export(
        lambda aside: tasks.write_pieces(report, aside, release=release)[0],
        lambda made: folder / made.name,
        "drawing plates and dash",
        progress,
        cancelled,
    )


def export_report(
    report: EngineReport,
    folder: Path,
    progress: Progress = silent,
    cancelled: Cancelled = never,
) -> tuple[Written, ...]:
    """Write the report as text and as data into a folder.

    :returns: the files written; empty when cancelled.
    :raises OutputError: when it cannot be written.
    """
    return _export(
        lambda aside: tasks.write_report(report, aside),
        lambda made: folder / made.name,
        "writing the report",
        progress,
        cancelled,
    )


def heights_text(report: EngineReport) -> str:
    """Return the table of heights as text, in the units of the job, for the clipboard."""
    return "\n".join(heights_lines(report)) + "\n"


def heights_csv(report: EngineReport) -> str:
    """Return the table of heights as CSV for a spreadsheet; lengths in millimetres."""
    rows = [[_cell(row[key]) for key in _COLUMNS] for row in heights_data(report)]
    return to_csv(tuple(_COLUMNS.values()), rows)


def _cell(value: object) -> Cell:
    return value if isinstance(value, str | int | float) or value is None else str(value)


def _export(
    make: Callable[[Path], Iterable[Written]],
    place: Callable[[Path], Path],
    doing: str,
    progress: Progress,
    cancelled: Cancelled,
) -> tuple[Written, ...]:
    """Make files in a folder aside, then put each where ``place`` says for it."""
    progress(0.0, doing)
    if cancelled():
        return ()
    with _folder_aside() as aside:
        made = [(item, item.path.read_bytes()) for item in make(aside)]
    progress(_MADE, "writing the files" if len(made) > 1 else "writing the file")
    if cancelled():
        return ()
    written = tuple(Written(place(item.path), item.what) for item, _ in made)
    write_together([(item.path, data) for item, (_, data) in zip(written, made, strict=True)])
    progress(1.0, "done")
    return written


@contextlib.contextmanager
def _folder_aside() -> Iterator[Path]:
    """Make a folder of the system's for temporary files, and take it away again."""
    try:
        folder = tempfile.TemporaryDirectory(prefix="rigfit-", ignore_cleanup_errors=True)
    except OSError as trouble:
        raise OutputError(
            f"there is no room for temporary files ({trouble.strerror or 'no reason given'})",
            cure="free some space and export again",
        ) from trouble
    with folder as name:
        yield Path(name)
