"""Tasks: open a job, check it, draw it, make its template. Calls the storeys below, sums nothing.

Both shells, the command line and the form, do their work through these functions.
"""

from __future__ import annotations

import json
import re
import zlib
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from rigfit.errors import NotMeasuredError, OutputError, UsageError
from rigfit.plain_holes import hole_rows
from rigfit.plain_report import report_lines
from rigfit.records.field_values import bare_units, value_of
from rigfit.records.job_reading import parse_job, read_job
from rigfit.records.profiles import DRILLED_DEMO, demo_job_text, load_catalogue
from rigfit.records.saving import make_folder, write_together, write_whole
from rigfit.rigging.fit_check import default_engine, fit_check, fit_check_all
from rigfit.rigging.job import Job, Mounting
from rigfit.rigging.readings import Origin, specs
from rigfit.rigging.report import EngineReport
from rigfit.sheets import DRAWING_KINDS as DRAWING_KINDS
from rigfit.sheets import PNG_DPI as PNG_DPI
from rigfit.sheets import SHEETS as SHEETS
from rigfit.sheets import Theme as Theme
from rigfit.sheets import drawing_bytes as drawing_bytes
from rigfit.sheets import profile_scene as profile_scene
from rigfit.sheets import sheet_scene as sheet_scene
from rigfit.wording import report_data, shown

if TYPE_CHECKING:
    from rigfit.drawing.tiles import Drawing
    from rigfit.records.hole_paste import HoleRow
    from rigfit.records.outline_import import GivenUnit

Release = Literal["R2000", "R12"]


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


def drilled_demo_job() -> Job:
    """Return the second demo job: the same boat when it comes to holes, bolts and the dash."""
    return parse_job(demo_job_text(DRILLED_DEMO), DRILLED_DEMO, load_catalogue())


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


def write_drawing(
    report: EngineReport,
    path: Path,
    *,
    sheet: str = "profile",
    paper: str = "A3",
    theme: Theme = "light",
    date: str = "",
) -> Written:
    """Write one of ``SHEETS``; the ending of the path says how.

    :raises UsageError: for an ending rigfit does not write, or an unknown sheet.
    :raises NotMeasuredError: when what the sheet shows is not measured or chosen.
    :raises OutputError: when it cannot be written; what stood there is untouched.
    """
    kind = path.suffix.lower().removeprefix(".")
    write_whole(path, drawing_bytes(sheet_scene(report, sheet, paper, date), kind, theme))
    return Written(path, f"{SHEETS[sheet]}, {kind.upper()}")


def write_template(
    report: EngineReport, folder: Path, *, release: Release = "R2000"
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
    sides = ("outside", "inside") if side == "both" else (side,)
    drawings = [
        (f"template-{name}", paper_template(report, inside=name == "inside")) for name in sides
    ]
    return _write_tiled(report, folder, drawings, paper, corrected=corrected, date=date)


def paper_template(report: EngineReport, *, inside: bool = False) -> Drawing:
    """Return the drilling template as it goes on paper; raises ``NotMeasuredError``."""
    from rigfit.drawing.template_view import paper_drawing
    from rigfit.rigging.template import drilling_template

    template = drilling_template(report.case)
    return paper_drawing(template, shown(report.case.job.units), inside=inside)


def write_jig(
    report: EngineReport,
    folder: Path,
    *,
    release: Release = "R2000",
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
        written = _write_tiled(
            report, folder, [("jig", drawing)], paper, corrected=corrected, date=date
        )
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


def write_plates(
    report: EngineReport, folder: Path, *, release: Release = "R2000"
) -> tuple[Written, ...]:
    """Write the backing plates and setback plates that can be made, each as a DXF cut file.

    :raises NotMeasuredError: when none can be made, with the reason of the backing plates.
    :raises OutputError: when a plate is too small for its bolts, or cannot be written.
    """
    from rigfit.drawing.plates import Plate, backing_plates, cut_bytes, plate_scene, setback_plates
    from rigfit.rigging.template import drilling_template

    case = report.case
    plates: list[Plate] = []
    reasons: list[NotMeasuredError] = []
    makers: tuple[Callable[[], Sequence[Plate]], ...] = (
        lambda: backing_plates(drilling_template(case).features, case.job.bolting),
        lambda: setback_plates(case),
    )
    for make in makers:
        try:
            plates += make()
        except NotMeasuredError as reason:
            reasons.append(reason)
    if not plates:
        raise reasons[0]
    stem, ending = file_stem(report), "_mm" if release == "R12" else ""
    return _written(
        [
            (
                folder / f"{stem}-{re.sub(r'[^a-z0-9]+', '-', plate.name.lower())}{ending}.dxf",
                f"cut file, {plate.name}",
                cut_bytes(plate_scene(plate), release),
            )
            for plate in plates
        ]
    )


def write_pieces(
    report: EngineReport, folder: Path, *, release: Release = "R2000", paper: str | None = None
) -> tuple[tuple[Written, ...], tuple[NotMeasuredError, ...]]:
    """Write plates and dash, what can be made; return the files, and why the rest cannot be.

    :param paper: as for ``write_dash``.
    :raises NotMeasuredError: when none of them can be made.
    :raises OutputError: as ``write_plates`` and ``write_dash``.
    """
    written: tuple[Written, ...] = ()
    reasons: list[NotMeasuredError] = []
    for write in (write_plates, partial(write_dash, paper=paper)):
        try:
            written += write(report, folder, release=release)
        except NotMeasuredError as reason:
            reasons.append(reason)
    if not written:
        raise reasons[0]
    return written, tuple(reasons)


def write_dash(
    report: EngineReport,
    folder: Path,
    *,
    release: Release = "R2000",
    paper: str | None = None,
    corrected: bool = False,
    date: str = "",
) -> tuple[Written, ...]:
    """Write the dash as DXF at full size: template, and what is to be cut if anything is.

    :param paper: as for ``write_paper_template``, to have it on sheets of paper too; None for none.
    :raises NotMeasuredError: when no cut-out has a place and an opening.
    :raises OutputError: when it cannot be written, or fails the drawing library's audit.
    """
    from rigfit.drawing.dash_view import dash_cut_scene, dash_drawing
    from rigfit.drawing.plates import cut_bytes
    from rigfit.drawing.to_dxf import to_dxf
    from rigfit.rigging.dash import dash_fits

    stem, ending = file_stem(report), "_mm" if release == "R12" else ""
    job = report.case.job
    scene, fits = sheet_scene(report, "dash"), dash_fits(job.dash)
    printed: tuple[Written, ...] = ()
    if paper is not None:
        # The paper first: it can be refused, and then nothing is left half written.
        drawing = dash_drawing(fits, shown(job.units))
        printed = _write_tiled(
            report, folder, [("dash", drawing)], paper, corrected=corrected, date=date
        )
    files = [
        (folder / f"{stem}-dash{ending}.dxf", "dash cut-outs with measures and notes",
         to_dxf(scene, release=release))
    ]  # fmt: skip
    try:
        cut = cut_bytes(dash_cut_scene(fits), release)
    except NotMeasuredError:
        return printed + _written(files)  # every old opening takes its instrument as it is
    return printed + _written(
        [*files, (folder / f"{stem}-dash-cut{ending}.dxf", "cut file of the dash", cut)]
    )


def outline_holes(
    path: Path,
    *,
    unit: GivenUnit | None = None,
    layer: str | None = None,
    centre_x_mm: float = 0.0,
    top_y_mm: float = 0.0,
) -> tuple[dict[str, str], ...]:
    """Return the circles of a DXF file as rows of old holes, texts by the field's name.

    :param unit: what a unit of the file is; None to believe the file.
    :param layer: the only layer to read; None for all.
    :param centre_x_mm: where the boat's centreline is in the file, which is seen from astern.
    :param top_y_mm: where the transom top is in the file.
    :raises OutlineFileError: for a file that cannot be used; it asks for the unit where needed.
    """
    from rigfit.records.outline_import import holes_texts, read_outline

    return holes_texts(read_outline(path, unit, layer), centre_x_mm, top_y_mm)


def with_engine_outline(
    job: Job,
    engine_id: str,
    path: Path,
    *,
    unit: GivenUnit | None,
    layer: str | None,
    axis_mm: tuple[float, float],
    bow_right: bool = False,
) -> tuple[Job, str]:
    """Return the job with an engine's side view from a DXF file, and what was put in.

    :param axis_mm: where the tilt axis is in the file.
    :raises OutlineFileError: for a file that cannot be used; it asks for the unit where needed.
    :raises RigfitError: as ``outline_entry.with_outline``.
    """
    from rigfit.records.outline_entry import with_outline
    from rigfit.records.outline_import import read_outline

    chosen = engine_id or default_engine(job)
    imported = read_outline(path, unit, layer)
    return with_outline(job, chosen, imported, axis_mm, bow_right=bow_right)


def pasted_holes(text: str, job: Job, where: str) -> tuple[HoleRow, ...]:
    """Return the old holes in rows of text from a spreadsheet.

    :param where: how the text is called in errors.
    :raises EntryError: for the first row that cannot be read.
    """
    from rigfit.records.hole_paste import parse

    pasted = parse(text, job.units.entries)
    for problem in pasted.problems:
        raise problem.at(where)
    return pasted.rows


def pattern_holes(
    pattern: str, upper_below_top_mm: float, centre_mm: float = 0.0
) -> tuple[HoleRow, ...]:
    """Return the holes that an engine of a known pattern left, as rows of texts.

    :raises ProfileError: when there is no such pattern.
    :raises UsageError: for a pattern without bolt rows.
    """
    from rigfit.records.hole_paste import holes_from_pattern

    known = load_catalogue().hole_pattern(pattern)
    if not known.is_bolted:
        raise UsageError(
            f'an engine of pattern "{pattern}" clamps on and leaves no holes that are known',
            cure="measure its holes one by one",
        )
    return holes_from_pattern(known, upper_below_top_mm, centre_mm)


def with_offsets(job: Job, text: str, where: str) -> tuple[Job, tuple[str, ...]]:
    """Return the job with offsets added, and what to look at; see ``offset_entry``."""
    from rigfit.records.offset_entry import with_offsets as added

    return added(job, text, where)


def save(path: str | Path, job: Job) -> None:
    """Write a job to its file, keeping remarks; raises the errors of ``job_file.save_job``."""
    from rigfit.records.job_file import save_job

    save_job(path, job)


def holes_csv(report: EngineReport) -> str:
    """Return the table of new holes for a spreadsheet, which shows and never runs its cells."""
    from rigfit.records.tables import to_csv

    headings, *rows = hole_rows(report)
    return to_csv([str(item) for item in headings], rows)


def _write_tiled(
    report: EngineReport,
    folder: Path,
    drawings: Sequence[tuple[str, Drawing]],
    paper: str,
    *,
    corrected: bool,
    date: str,
) -> tuple[Written, ...]:
    """Write drawings as sheets of paper whose words say what the job's check bars prove."""
    from rigfit.drawing.tile_pages import tiled_sheets
    from rigfit.drawing.to_tiled_pdf import to_tiled_pdf

    files = []
    for kind, drawing in drawings:
        sheets = tiled_sheets(report, drawing, paper, corrected=corrected, date=date)
        name = sheets.grid.sheet.name
        ending = f"{name}-corrected" if corrected else name
        path = folder / f"{file_stem(report)}-{kind}-{ending}.pdf"
        what = f"{drawing.title.lower()}, {drawing.view.split(',')[0].lower()}"
        how = "corrected for the printer" if corrected else "at full size"
        said = f"{what}, {sheets.grid.count} sheets of {name} {how}"
        files.append((path, said, to_tiled_pdf(sheets)))
    return _written(files)


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
    """Write both demo jobs and their outputs into a folder.

    :raises OutputError: when the folder or a file cannot be written.
    """
    make_folder(folder)
    jobs = _written(
        (
            (folder / "dunlin.toml", "the demo job, to read and to play with",
             demo_job_text().encode("utf-8")),
            (folder / DRILLED_DEMO, "the same boat when it comes to holes, bolts and dash",
             demo_job_text(DRILLED_DEMO).encode("utf-8")),
        )
    )  # fmt: skip
    report = check(demo_job())
    scene, stem = profile_scene(report), file_stem(report)
    profiles = _written(
        [
            (folder / f"{stem}-profile.{kind}", f"side profile, {kind.upper()}",
             drawing_bytes(scene, kind))
            for kind in DRAWING_KINDS
        ]
    )  # fmt: skip
    return (
        *jobs,
        *profiles,
        *write_template(report, folder),
        *write_report(report, folder),
        *_drilled_demo(folder),
    )


_DRILLED_SHEETS = (
    ("face", "A3"),
    ("face-inside", "A3"),
    ("section", "A4"),
    ("swing", "A3"),
    ("swing-plan", "A4"),
    ("swing-worst", "A4"),
    ("afloat", "A3"),
    ("float-test", "A4"),
    ("underway", "A4"),
    ("trial", "A4"),
    ("trial-form", "A4"),
)


def _drilled_demo(folder: Path) -> tuple[Written, ...]:
    """Write what the second demo job adds: a file of each kind, no more."""
    report = check(drilled_demo_job())
    stem = file_stem(report)
    sheets = [
        write_drawing(report, folder / f"{stem}-{sheet}.pdf", sheet=sheet, paper=paper)
        for sheet, paper in _DRILLED_SHEETS
    ]
    return (
        *sheets,
        *write_paper_template(report, folder),
        *write_jig(report, folder),
        *write_plates(report, folder),
        *write_dash(report, folder),
    )
