"""What is to be exported, where it goes, and how it will look. No Tk.

The export page fills in a ``Wish``; everything that hangs on it is worked out here, so that the
preview and the files are made from the same drawing.
"""

from __future__ import annotations

import glob
import os
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Literal, TypeVar

from rigfit import tasks
from rigfit.desk import export_preview, exports
from rigfit.desk.export_preview import Preview
from rigfit.desk.exports import Printing, Release
from rigfit.desk.worker import Cancelled, Progress
from rigfit.drawing.sheet import PAPERS_MM
from rigfit.errors import RigfitError, UsageError
from rigfit.plain_report import report_lines
from rigfit.records.plain_words import shown_path
from rigfit.rigging.printer import bars_of
from rigfit.rigging.report import EngineReport
from rigfit.tasks import DRAWING_KINDS, Side, Theme, Written
from rigfit.wording import shown

if TYPE_CHECKING:
    from rigfit.drawing.scene import Scene

What = Literal[
    "drawing", "face", "section", "swing", "afloat", "curve", "underway", "trial", "template",
    "plates", "report", "view",
]  # fmt: skip
"""Side profile, transom face, bolt section, swing of the engine, the boat afloat, heights against
mass, plate and water at speed, the sea trials, drilling template, plates and dash, the report, or
what is shown in the form."""

Medium = Literal["dxf", "paper"]
"""What a template is written as."""

ONE_FILE: frozenset[What] = frozenset(
    {"drawing", "face", "section", "swing", "afloat", "curve", "underway", "trial", "view"}
)
"""What is one file; the others fill a folder."""

_SHEETS: dict[str, str] = {
    "section": "section", "curve": "scupper-curve", "underway": "underway"
}  # fmt: skip

PAPERS = tuple(PAPERS_MM)
"""Names of the papers a template can be printed on."""

Part = TypeVar("Part")

Task = Callable[[Progress, Cancelled], tuple[Written, ...]]

LONGEST_DATE = 24
"""Signs of a date that the title block has room for."""


@dataclass(frozen=True, slots=True)
class Wish:
    """What is to be exported.

    :param what: which of the outputs.
    :param place: the file of a drawing or view; the folder of a template or report.
    :param kind: ending of a drawing or view, one of ``tasks.DRAWING_KINDS``.
    :param release: of DXF files that fill a folder.
    :param paper: of a drawing, or of the sheets of a template, by name.
    :param theme: colours of a drawing or view; a DXF file has none.
    :param date: printed on a drawing and on sheets of paper; "" for none.
    :param medium: of a template.
    :param side: of a face or of a paper template; "both" for a template only.
    :param swing: which sheet of the swing: "swing", "swing-plan" or "swing-worst".
    :param afloat: which sheet of the boat afloat: "afloat" or "float-test".
    :param trial: which sheet of the sea trials: "trial" or "trial-form".
    :param corrected: True to stretch a paper template by what the check bars are off.
    :param jig: True to write the drill-guide jig with a template.
    """

    what: What
    place: Path
    kind: str = "pdf"
    release: Release = "R2000"
    paper: str = "A3"
    theme: Theme = "light"
    date: str = ""
    medium: Medium = "dxf"
    side: Side = "outside"
    swing: str = "swing"
    afloat: str = "afloat"
    trial: str = "trial"
    corrected: bool = False
    jig: bool = False

    @property
    def is_file(self) -> bool:
        """True when ``place`` is one file, False when it is a folder."""
        return self.what in ONE_FILE

    @property
    def sheet(self) -> str:
        """The sheet of ``tasks.SHEETS`` that is wished, of what is one file."""
        if self.what == "face":
            return "face-inside" if self.side == "inside" else "face"
        several = {"swing": self.swing, "afloat": self.afloat, "trial": self.trial}
        return several.get(self.what) or _SHEETS.get(self.what, "profile")

    @property
    def is_paper(self) -> bool:
        """True for a template on sheets of paper."""
        return self.what == "template" and self.medium == "paper"

    @property
    def printing(self) -> Printing:
        """How a template goes on paper."""
        return Printing(self.paper, self.side, self.corrected, self.jig, self.date)


def default_folder(job_file: Path | None) -> Path:
    """Return where exports go at first: beside the job file, else to the documents or home."""
    if job_file is not None:
        return job_file.absolute().parent
    home = _at_home("~")
    documents = home / "Documents"
    return documents if is_folder(documents) else home


def suggested_name(
    what: What, kind: str, stem: str, side: str = "outside", sheet: str = "swing"
) -> str:
    """Return the file name proposed for a drawing or view; "" for what fills a folder.

    :param sheet: which sheet, of what has several.
    """
    names = {
        "drawing": "profile",
        "face": "face-inside" if side == "inside" else "face",
        "section": "bolt-section",
        "swing": sheet,
        "afloat": sheet,
        "curve": "scupper-curve",
        "underway": "underway",
        "trial": sheet,
        "view": "view",
    }
    return f"{stem}-{names[what]}.{kind}" if what in names else ""


def kind_named(typed: str) -> str:
    """Return the kind of drawing that a typed file name ends in, "" for none of them."""
    ending = Path(typed.strip()).suffix.lower().removeprefix(".")
    return ending if ending in DRAWING_KINDS else ""


def is_folder(path: Path) -> bool:
    """True for a folder that can be seen; never raises."""
    try:
        return path.is_dir()
    except (OSError, ValueError):  # closed to us, or a name too long: writing will tell
        return False


def is_there(path: Path) -> bool:
    """True for a file or folder that can be seen; never raises."""
    try:
        return path.exists()
    except (OSError, ValueError):
        return False


def with_kind(typed: str, kind: str) -> str:
    """Return a typed file name with the ending of another kind of drawing, if it had one."""
    words = typed.rstrip()
    return f"{words[: -len(Path(words).suffix)]}.{kind}" if kind_named(words) else typed


def place_of(typed: str, what: What, kind: str, folder: Path) -> Path:
    """Return the full path that was typed; a drawing without an ending gets one.

    :param folder: what a path that does not begin at the root goes on from.
    :raises UsageError: when nothing was typed, or a name no disk can have.
    """
    is_file = what in ONE_FILE
    words = typed.strip()
    if not words:
        noun = "file" if is_file else "folder"
        raise UsageError(f"no {noun} is given", cure=f"type the {noun} to write to, or choose one")
    if "\0" in words:
        raise UsageError("the name holds a character no name can have", cure="type it anew")
    place = Path(os.path.normpath(folder / _at_home(words)))
    if is_file and (words.endswith(("/", os.sep)) or is_folder(place)):
        raise UsageError(f"{shown_path(place)} is a folder", cure="add the name of a file")
    if not is_file or kind_named(words):
        return place
    return place.with_name(f"{place.name}.{kind}")


def date_trouble(typed: str) -> str:
    """Return what is wrong with the date to be printed, "" for nothing."""
    if len(typed.strip()) <= LONGEST_DATE:
        return ""
    return f"The date has {len(typed.strip())} signs, at most {LONGEST_DATE}; shorten it."


def files_of(wish: Wish, report: EngineReport | None) -> tuple[Path, ...]:
    """Return the files an export will write, in their order; () while nobody can know them."""
    if wish.is_file:
        return (wish.place,)
    if report is None or wish.what == "plates":  # how many plates there are, only drawing tells
        return ()
    stem = tasks.file_stem(report)
    if wish.what == "report":
        return tuple(wish.place / f"{stem}-report.{ending}" for ending in ("txt", "json"))
    ending = "_mm" if wish.release == "R12" and not wish.is_paper else ""
    jig = tuple(f"{part}{ending}.dxf" for part in ("jig", "jig-cut")) if wish.jig else ()
    if not wish.is_paper:
        names = (f"template{ending}.dxf", f"cut{ending}.dxf", *jig)
    else:
        sheets = f"{wish.paper}-corrected.pdf" if wish.corrected else f"{wish.paper}.pdf"
        sides = ("outside", "inside") if wish.side == "both" else (wish.side,)
        paper_jig = (f"jig-{sheets}",) if wish.jig else ()
        names = (*(f"template-{side}-{sheets}" for side in sides), *paper_jig, *jig)
    return tuple(wish.place / f"{stem}-{name}" for name in names)


def replaced(wish: Wish, report: EngineReport | None) -> tuple[Path, ...]:
    """Return the files that are there and that an export may write anew."""
    if wish.what != "plates" or report is None:
        return tuple(item for item in files_of(wish, report) if is_there(item))
    stem = tasks.file_stem(report)
    try:
        found = sorted(wish.place.glob(f"{glob.escape(stem)}-*.dxf"))
    except (OSError, ValueError):
        return ()
    ours = ("plate", "dash")
    return tuple(item for item in found if any(word in item.name[len(stem) :] for word in ours))


def export_task(wish: Wish, report: EngineReport | None, view: Scene | None) -> Task:
    """Return the task that writes what is wished, for the worker.

    :param report: on the shown engine; not needed for a view.
    :param view: what is shown in the form; needed for a view only.
    :raises UsageError: when what it needs is not there.
    """
    place = wish.place
    if wish.what == "view":
        scene = _needed(view)
        return lambda progress, cancelled: exports.export_view(
            scene, place, wish.theme, progress, cancelled
        )
    known = _needed(report)
    if wish.is_paper:
        return lambda progress, cancelled: exports.export_paper_template(
            known, place, progress, cancelled, printing=wish.printing
        )
    if wish.what == "template":
        return lambda progress, cancelled: exports.export_template(
            known, place, progress, cancelled, release=wish.release, jig=wish.jig
        )
    if wish.what == "plates":
        return lambda progress, cancelled: exports.export_pieces(
            known, place, progress, cancelled, release=wish.release
        )
    if wish.what == "report":
        return lambda progress, cancelled: exports.export_report(known, place, progress, cancelled)
    return lambda progress, cancelled: exports.export_drawing(
        known, place, wish.theme, wish.paper, progress, cancelled, sheet=wish.sheet, date=wish.date
    )


def sheets_words(wish: Wish, report: EngineReport | None) -> str:
    """Return how many sheets a paper template takes, "" where there is none to be had."""
    if report is None or not wish.is_paper:
        return ""
    factors = bars_of(report.case.job.printer, wish.paper).factors if wish.corrected else None
    try:
        return export_preview.grid_words(report, wish.paper, factors=factors or (1.0, 1.0))
    except RigfitError:  # the preview says why
        return ""


def preview(
    wish: Wish, report: EngineReport | None, view: Scene | None, room: tuple[int, int]
) -> Preview:
    """Return how an export will look, as large as fits into a room of screen pixels.

    :raises NotMeasuredError: when what the output needs is not measured or decided.
    :raises OutputError: when the paper is unknown or too small.
    :raises UsageError: when what it needs is not there.
    """
    if wish.what == "report":
        return Preview(text="\n".join(report_lines(_needed(report), working=True)))
    from rigfit.drawing.palette import DARK, LIGHT

    if wish.is_paper:
        sheets = export_preview.tiled_template(
            _needed(report), wish.paper, inside=wish.side == "inside",
            corrected=wish.corrected, date=wish.date,
        )  # fmt: skip
        made = export_preview.sheets_preview(sheets, LIGHT, room)
        return (
            replace(made, note=f"{made.note}; the inside is its mirror image")
            if (wish.side == "both")
            else made
        )
    if wish.what == "plates":
        return export_preview.pieces_preview(_needed(report), LIGHT, room)
    is_dark = wish.what in ONE_FILE and wish.kind != "dxf" and wish.theme == "dark"
    scene = _scene(wish, report, view)
    return Preview(png=export_preview.sheet_png(scene, DARK if is_dark else LIGHT, room))


def _scene(wish: Wish, report: EngineReport | None, view: Scene | None) -> Scene:
    """Return the drawing that will be written."""
    if wish.what == "template":
        from rigfit.drawing.template_view import template_scene
        from rigfit.rigging.template import drilling_template

        case = _needed(report).case
        return template_scene(drilling_template(case), shown(case.job.units))
    if wish.what == "view":
        scene = _needed(view)
    else:
        scene = tasks.sheet_scene(_needed(report), wish.sheet, wish.paper, wish.date)
    if wish.kind == "dxf":
        from rigfit.drawing.hidden import without_hidden_lines

        return without_hidden_lines(scene)
    return scene


def _needed(part: Part | None) -> Part:
    if part is None:
        raise UsageError("there is nothing to export yet", cure="fill in what is marked as needed")
    return part


def _at_home(words: str) -> Path:
    try:
        return Path(words).expanduser()
    except RuntimeError:  # nobody of that name has a home
        return Path(words)
