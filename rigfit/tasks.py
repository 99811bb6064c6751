"""Tasks: open a job, check it, draw it, make its template. Calls the storeys below, sums nothing.

Both shells, the command line and the form, do their work through these functions.
"""

from __future__ import annotations

import json
import re
import zlib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from rigfit.errors import OutputError, UsageError
from rigfit.plain_report import report_lines
from rigfit.records.field_values import bare_units, value_of
from rigfit.records.job_reading import parse_job, read_job
from rigfit.records.profiles import demo_job_text, load_catalogue
from rigfit.records.saving import make_folder, write_together, write_whole
from rigfit.rigging.fit_check import fit_check, fit_check_all
from rigfit.rigging.job import Job, Mounting
from rigfit.rigging.readings import Origin, specs
from rigfit.rigging.report import EngineReport
from rigfit.version import VERSION
from rigfit.wording import CAUTIONS, report_data, shown, verdict_line

if TYPE_CHECKING:
    from rigfit.drawing.scene import Scene
    from rigfit.drawing.tiles import Drawing
    from rigfit.rigging.printer import Bars

Theme = Literal["light", "dark"]
DRAWING_KINDS = ("svg", "png", "pdf", "dxf")
"""Endings a drawing can be written with."""

PNG_DPI = 150.0


@dataclass(frozen=True, slots=True)
class Written:
    """One file that was written.

    :param path: where.
    :param what: what it is, in a few words.
    """

    path: Path
    what: str


def open_job(path: str | Path) -> Job:
    """Return the job in a file; raises the errors of ``rigfit.records.job_reading``."""
    return read_job(path, load_catalogue())


def demo_job() -> Job:
    """Return the demo job that ships with rigfit."""
    return parse_job(demo_job_text(), "dunlin.toml", load_catalogue())


def check(job: Job, engine_id: str = "") -> EngineReport:
    """Return the report on one engine; "" for the chosen one, or the first."""
    return fit_check(job, load_catalogue(), engine_id)


def check_all(job: Job) -> tuple[EngineReport, ...]:
    """Return a report on every engine of the job."""
    return fit_check_all(job, load_catalogue())


def with_upper_holes(job: Job, typed: str) -> Job:
    """Return the job with another decision on how far below the top the upper holes go.

    :param typed: as it would stand in the job file.
    :raises EntryError: when it cannot be read or lies outside the field's limits.
    """
    spec = specs(Mounting)["upper_holes_below_top"]
    read = value_of(typed, spec, bare_units(job.units.entries), load_catalogue())
    decided = replace(read, tolerance=0.0, origin=Origin.CHOSEN)
    return replace(job, mounting=replace(job.mounting, upper_holes_below_top=decided))


def profile_scene(report: EngineReport, paper: str = "A3", date: str = "") -> Scene:
    """Return the side profile of a report on a sheet; raises ``OutputError`` for a bad paper."""
    from rigfit.drawing.profile_sheet import SheetWords, profile_sheet

    words = SheetWords(verdict_line(report), CAUTIONS, VERSION, date)
    return profile_sheet(report, shown(report.case.job.units), words, paper)


def drawing_bytes(scene: Scene, kind: str, theme: Theme = "light") -> bytes:
    """Return a scene in one of ``DRAWING_KINDS``.

    :raises UsageError: for another kind.
    """
    if kind not in DRAWING_KINDS:
        named = f'the ending ".{kind[:20]}"' if kind else "a name without an ending"
        raise UsageError(
            f"rigfit cannot tell what to draw from {named}",
            allowed="drawings end in " + ", ".join(f".{name}" for name in DRAWING_KINDS),
            cure="give the file one of these endings",
        )
    from rigfit.drawing.palette import DARK, LIGHT

    palette = DARK if theme == "dark" else LIGHT
    if kind == "dxf":
        from rigfit.drawing.hidden import without_hidden_lines
        from rigfit.drawing.to_dxf import to_dxf

        return to_dxf(without_hidden_lines(scene))
    if kind == "pdf":
        from rigfit.drawing.to_pdf import to_pdf

        return to_pdf(scene, palette)
    from rigfit.drawing.to_axes import to_png, to_svg

    return to_png(scene, palette, PNG_DPI) if kind == "png" else to_svg(scene, palette)


def write_drawing(
    report: EngineReport, path: Path, *, paper: str = "A3", theme: Theme = "light", date: str = ""
) -> Written:
    """Write the side profile; the ending of the path says how.

    :raises UsageError: for an ending rigfit does not write.
    :raises OutputError: when it cannot be written; what stood there is untouched.
    """
    kind = path.suffix.lower().removeprefix(".")
    write_whole(path, drawing_bytes(profile_scene(report, paper, date), kind, theme))
    return Written(path, f"side profile, {kind.upper()}")


def write_template(
    report: EngineReport, folder: Path, *, release: Literal["R2000", "R12"] = "R2000"
) -> tuple[Written, ...]:
    """Write the drilling template and the cut file as DXF, true scale, into a folder.

    :raises NotMeasuredError: when what the template needs is not measured or decided.
    :raises OutputError: when it cannot be written, or fails the drawing library's audit.
    """
    from rigfit.drawing.template_view import cut_scene, template_scene
    from rigfit.drawing.to_dxf import audit, to_dxf
    from rigfit.rigging.template import drilling_template

    template = drilling_template(report.case)
    stem = file_stem(report)
    ending = "_mm" if release == "R12" else ""
    files = (
        (
            folder / f"{stem}-template{ending}.dxf",
            "drilling template with dimensions and notes",
            to_dxf(template_scene(template, shown(report.case.job.units)), release=release),
        ),
        (
            folder / f"{stem}-cut{ending}.dxf",
            "cut file: holes and outline only",
            to_dxf(cut_scene(template), release=release, linetypes=False),
        ),
    )
    for path, _, data in files:
        if faults := audit(data):
            raise OutputError(f"the template is faulty: {faults[0]}", where=path.name)
    return _written(files)


Side = Literal["outside", "inside", "both"]
"""Which editions of a paper template: as seen from astern, mirrored for the inner face, or both."""


def write_paper_template(
    report: EngineReport,
    folder: Path,
    *,
    paper: str = "",
    side: Side = "outside",
    corrected: bool = False,
    date: str = "",
) -> tuple[Written, ...]:
    """Write the drilling template as true-scale sheets of paper, a PDF for each side.

    :param paper: A4, A3, Letter, Legal or Tabloid; "" for the job's own, else A4.
    :param corrected: True to stretch the drawing by what the job's check bars are off.
    :raises NotMeasuredError: when what the template needs is not measured or decided.
    :raises OutputError: for an unknown paper, a drawing too large for it, bars that leave nothing
        to correct, or when it cannot be written.
    """
    from rigfit.drawing.template_view import paper_drawing
    from rigfit.rigging.template import drilling_template

    template, style = drilling_template(report.case), shown(report.case.job.units)
    sides = ("outside", "inside") if side == "both" else (side,)
    drawings = [
        (f"template-{name}", paper_drawing(template, style, inside=name == "inside"))
        for name in sides
    ]
    return _write_tiled(report, folder, drawings, _Print(paper, date, corrected=corrected))


def write_jig(
    report: EngineReport,
    folder: Path,
    *,
    release: Literal["R2000", "R12"] = "R2000",
    paper: str | None = None,
    corrected: bool = False,
    date: str = "",
) -> tuple[Written, ...]:
    """Write the drill-guide jig: drawing and cut file as DXF, and on paper if a size is given.

    :param paper: as for ``write_paper_template``; None for no paper.
    :raises NotMeasuredError: as ``write_template``.
    :raises OutputError: as ``write_paper_template``.
    """
    from rigfit.drawing.jig import jig_cut_scene, jig_drawing, jig_scene
    from rigfit.drawing.to_dxf import to_dxf
    from rigfit.rigging.template import drilling_template

    template, style = drilling_template(report.case), shown(report.case.job.units)
    thick = report.case.job.transom.thickness
    deep = thick.value if thick else 0.0
    stem, ending = file_stem(report), "_mm" if release == "R12" else ""
    scene = jig_scene(template, style, transom_mm=deep)
    written: tuple[Written, ...] = ()
    if paper is not None:
        # The paper first: it can be refused, and then nothing is left half written.
        drawing = jig_drawing(template, style, transom_mm=deep)
        printing = _Print(paper, date, corrected=corrected)
        written = _write_tiled(report, folder, [("jig", drawing)], printing)
    cut = to_dxf(jig_cut_scene(template), release=release, linetypes=False)
    return written + _written(
        (
            (
                folder / f"{stem}-jig{ending}.dxf",
                "drill-guide jig with measures and notes",
                to_dxf(scene, release=release),
            ),
            (folder / f"{stem}-jig-cut{ending}.dxf", "cut file of the jig: board and lip", cut),
        )
    )


@dataclass(frozen=True, slots=True)
class _Print:
    """How a drawing is to be printed: paper, date on the sheets, corrected or not."""

    paper: str
    date: str
    corrected: bool


def _write_tiled(
    report: EngineReport, folder: Path, drawings: Sequence[tuple[str, Drawing]], printing: _Print
) -> tuple[Written, ...]:
    """Write drawings as sheets of paper whose words say what the job's check bars prove."""
    from rigfit.drawing.sheet import paper as paper_of
    from rigfit.drawing.tile_pages import tiled
    from rigfit.drawing.tiles import SheetWords, sheet_status
    from rigfit.drawing.to_tiled_pdf import to_tiled_pdf
    from rigfit.rigging.printer import bars_of

    job, candidate = report.case.job, report.case.candidate
    name = paper_of(printing.paper or job.printer.paper or "A4", landscape=False).name
    bars = bars_of(job.printer, name)
    factors = _correction(bars) if printing.corrected else (1.0, 1.0)
    status, ink, refused = sheet_status(bars, corrected=printing.corrected)
    engine = f"{candidate.id} ({candidate.name})" if candidate.name else candidate.id
    words = SheetWords(job.boat.name, engine, printing.date, status, ink, refused)
    ending = f"{name}-corrected" if printing.corrected else name
    files = []
    for kind, drawing in drawings:
        sheets = tiled(drawing, name, words, factors)
        path = folder / f"{file_stem(report)}-{kind}-{ending}.pdf"
        what = f"{drawing.title.lower()}, {drawing.view.split(',')[0].lower()}"
        how = "corrected for the printer" if printing.corrected else "at full size"
        said = f"{what}, {sheets.grid.count} sheets of {name} {how}"
        files.append((path, said, to_tiled_pdf(sheets)))
    return _written(files)


def _correction(bars: Bars) -> tuple[float, float]:
    """Return the factors of a corrected edition; raises ``OutputError`` when there are none."""
    if bars.factors is not None:
        return bars.factors
    from rigfit.rigging.printer import FACTOR_HIGH, FACTOR_LOW, BarState

    cures = {
        BarState.MISSING: "measure both bars on a printed sheet and enter them first",
        BarState.MISTAKEN: "measure the bars again",
        BarState.CONFIRMED: "use the ordinary edition",
        BarState.OFF: "measure both bars, and print at 100 %",
    }
    raise OutputError(
        f"there is no corrected edition to make: {bars.sentence.rstrip('.')}",
        allowed=f"bars that are off can be corrected by {FACTOR_LOW:g} to {FACTOR_HIGH:g}",
        cure=cures[bars.state],
        where="printer",
    )


def _written(files: Sequence[tuple[Path, str, bytes]]) -> tuple[Written, ...]:
    """Write files that belong together, each with what it is, and say what was written."""
    write_together([(path, data) for path, _, data in files])
    return tuple(Written(path, what) for path, what, _ in files)


def file_stem(report: EngineReport) -> str:
    """Return a plain file name for a boat and engine: letters, digits and hyphens.

    No two engines of a job share one: where an id had to be changed, a short checksum of the id is
    added.
    """
    job, engine_id = report.case.job, report.case.candidate.id
    boat = re.sub(r"[^a-z0-9]+", "-", job.boat.name.lower()).strip("-") or "boat"
    engine = re.sub(r"[^A-Za-z0-9]+", "-", engine_id).strip("-")[:20] or "engine"
    if engine != engine_id or _is_shared(engine_id, job):
        engine += f"-{zlib.crc32(engine_id.encode('utf-8')):08x}"[:6]
    return f"{boat[:34]}-{engine}"


def _is_shared(engine_id: str, job: Job) -> bool:
    """True when another id differs by capitals only, which some file systems do not tell apart."""
    return sum(item.id.casefold() == engine_id.casefold() for item in job.engines) > 1


def write_report(report: EngineReport, folder: Path) -> tuple[Written, ...]:
    """Write the report as plain text and as JSON into a folder."""
    stem = file_stem(report)
    text = "\n".join(report_lines(report, working=True)) + "\n"
    data = json.dumps(report_data(report), indent=2, ensure_ascii=False, allow_nan=False) + "\n"
    return _written(
        (
            (folder / f"{stem}-report.txt", "report with all working", text.encode("utf-8")),
            (folder / f"{stem}-report.json", "the same as data", data.encode("utf-8")),
        )
    )


def write_demo(folder: Path) -> tuple[Written, ...]:
    """Write the demo job and all its outputs into a folder.

    :raises OutputError: when the folder or a file cannot be written.
    """
    make_folder(folder)
    job_path = folder / "dunlin.toml"
    write_whole(job_path, demo_job_text().encode("utf-8"))
    report = check(demo_job())
    written: list[Written] = [Written(job_path, "the demo job, to read and to play with")]
    scene, stem = profile_scene(report), file_stem(report)
    for kind in DRAWING_KINDS:
        path = folder / f"{stem}-profile.{kind}"
        write_whole(path, drawing_bytes(scene, kind))
        written.append(Written(path, f"side profile, {kind.upper()}"))
    written += write_template(report, folder)
    written += write_report(report, folder)
    return tuple(written)
