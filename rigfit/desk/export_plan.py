"""What is to be exported, where it goes, and how it will look. No Tk.

The export page fills in a ``Wish``; everything that hangs on it is worked out here, so that the
preview and the files are made from the same drawing.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Literal, TypeVar

from rigfit import tasks
from rigfit.desk import exports
from rigfit.desk.worker import Cancelled, Progress
from rigfit.errors import UsageError
from rigfit.plain_report import report_lines
from rigfit.records.plain_words import shown_path
from rigfit.rigging.report import EngineReport
from rigfit.tasks import DRAWING_KINDS, Theme, Written
from rigfit.wording import shown

if TYPE_CHECKING:
    from rigfit.drawing.scene import Scene

What = Literal["drawing", "template", "report", "view"]
"""The side profile, the drilling template, the report, or what is shown in the form."""

Release = Literal["R2000", "R12"]

Part = TypeVar("Part")

Task = Callable[[Progress, Cancelled], tuple[Written, ...]]

LONGEST_DATE = 24
"""Signs of a date that the title block has room for."""

_MM_PER_INCH = 25.4
_NO_PREVIEW_PX = 16


@dataclass(frozen=True, slots=True)
class Wish:
    """What is to be exported.

    :param what: which of the outputs.
    :param place: the file of a drawing or view; the folder of a template or report.
    :param kind: ending of a drawing or view, one of ``tasks.DRAWING_KINDS``.
    :param release: of the template's DXF files.
    :param paper: of a drawing, by name.
    :param theme: colours of a drawing or view; a DXF file has none.
    :param date: printed on a drawing; "" for none.
    """

    what: What
    place: Path
    kind: str = "pdf"
    release: Release = "R2000"
    paper: str = "A3"
    theme: Theme = "light"
    date: str = ""

    @property
    def is_file(self) -> bool:
        """True when ``place`` is one file, False when it is a folder."""
        return self.what in ("drawing", "view")


@dataclass(frozen=True, slots=True)
class Preview:
    """How an output will look: a picture, or a text to read.

    :param png: the picture, "" bytes for a text.
    :param text: the text, "" for a picture.
    """

    png: bytes = b""
    text: str = ""


def default_folder(job_file: Path | None) -> Path:
    """Return where exports go at first: beside the job file, else to the documents or home."""
    if job_file is not None:
        return job_file.absolute().parent
    home = _at_home("~")
    documents = home / "Documents"
    return documents if is_folder(documents) else home


def suggested_name(what: What, kind: str, stem: str) -> str:
    """Return the file name proposed for a drawing or view; "" for what fills a folder."""
    names = {"drawing": f"{stem}-profile.{kind}", "view": f"{stem}-view.{kind}"}
    return names.get(what, "")


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
    is_file = what in ("drawing", "view")
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
    """Return the files an export will write, in their order."""
    if wish.is_file:
        return (wish.place,)
    if report is None:
        return ()
    stem = tasks.file_stem(report)
    if wish.what == "report":
        return tuple(wish.place / f"{stem}-report.{ending}" for ending in ("txt", "json"))
    ending = "_mm" if wish.release == "R12" else ""
    return tuple(wish.place / f"{stem}-{part}{ending}.dxf" for part in ("template", "cut"))


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
    if wish.what == "template":
        return lambda progress, cancelled: exports.export_template(
            known, place, progress, cancelled, release=wish.release
        )
    if wish.what == "report":
        return lambda progress, cancelled: exports.export_report(known, place, progress, cancelled)
    return lambda progress, cancelled: exports.export_drawing(
        known, place, wish.theme, wish.paper, progress, cancelled, date=wish.date
    )


def preview(
    wish: Wish, report: EngineReport | None, view: Scene | None, room: tuple[int, int]
) -> Preview:
    """Return how an export will look, as large as fits into a room of screen pixels.

    :raises NotMeasuredError: when what the template needs is not measured or decided.
    :raises OutputError: when the paper is unknown or too small.
    :raises UsageError: when what it needs is not there.
    """
    if wish.what == "report":
        return Preview(text="\n".join(report_lines(_needed(report), working=True)))
    from rigfit.drawing.palette import DARK, LIGHT
    from rigfit.drawing.strokes import on_sheet
    from rigfit.drawing.to_axes import to_png

    scene = on_sheet(_scene(wish, report, view))
    if wish.what != "template" and wish.kind != "dxf" and wish.theme == "dark":
        palette = DARK
    else:
        palette = LIGHT
    return Preview(png=to_png(scene, palette, _dots_per_inch(scene, room)))


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
        scene = tasks.profile_scene(_needed(report), wish.paper, wish.date)
    if wish.kind == "dxf":
        from rigfit.drawing.hidden import without_hidden_lines

        return without_hidden_lines(scene)
    return scene


def _dots_per_inch(scene: Scene, room: tuple[int, int]) -> float:
    from rigfit.drawing.strokes import placed

    paper = placed(scene).paper
    wide, high = (max(size, _NO_PREVIEW_PX) for size in room)
    return min(wide / paper.width_mm, high / paper.height_mm) * _MM_PER_INCH


def _needed(part: Part | None) -> Part:
    if part is None:
        raise UsageError("there is nothing to export yet", cure="fill in what is marked as needed")
    return part


def _at_home(words: str) -> Path:
    try:
        return Path(words).expanduser()
    except RuntimeError:  # nobody of that name has a home
        return Path(words)
