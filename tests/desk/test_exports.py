"""Exports of the form: the files the tasks write, all or none, nothing after a cancel."""

import csv
import errno
import io
import os
from functools import partial

import ezdxf
import pytest

from rigfit import tasks
from rigfit.desk import exports
from rigfit.desk.exports import (
    Printing,
    export_drawing,
    export_paper_template,
    export_pieces,
    export_report,
    export_template,
    heights_csv,
    heights_text,
)
from rigfit.errors import NotMeasuredError, OutputError, UsageError
from rigfit.plain_report import heights_lines
from rigfit.records import saving
from tests.demo_reports import report_on

both_sides = partial(export_paper_template, printing=Printing(side="both"))
FOLDER_EXPORTS = [export_template, export_report, both_sides]


@pytest.fixture(scope="module")
def demo():
    return report_on("B-mm")


@pytest.fixture(scope="module")
def drilled():
    return tasks.check(tasks.drilled_demo_job())


def names(folder):
    return sorted(item.name for item in folder.iterdir())


def cancel_at(step):
    """Return progress and cancelled functions that cancel once ``step`` reports were made."""
    said = []
    return (lambda share, doing: said.append(share)), (lambda: len(said) >= step)


@pytest.mark.parametrize("kind", tasks.DRAWING_KINDS)
def test_a_drawing_is_what_the_task_writes(tmp_path, kind, demo):
    path = tmp_path / f"Dunlin side.{kind.upper()}"
    written = export_drawing(demo, path, "dark", "A4")
    assert written == (tasks.Written(path, f"side profile, {kind.upper()}"),)
    direct = tmp_path / f"direct.{kind}"
    tasks.write_drawing(demo, direct, theme="dark", paper="A4")
    assert path.read_bytes() == direct.read_bytes()


def test_theme_paper_and_date_reach_the_drawing(tmp_path, demo):
    def drawn(**choice):
        export_drawing(demo, tmp_path / "a.svg", **choice)
        return (tmp_path / "a.svg").read_bytes()

    plain = drawn()
    assert len({plain, drawn(theme="dark"), drawn(paper="A4"), drawn(date="2024-05-01")}) == 4


def test_a_template_is_two_files(tmp_path, demo):
    folder = tmp_path / "new" / "folder"
    written = export_template(demo, folder)
    assert [item.path for item in written] == [
        folder / "dunlin-B-template.dxf",
        folder / "dunlin-B-cut.dxf",
    ]
    assert len(names(folder)) == 2


def test_a_template_for_old_programs_has_other_names(tmp_path, demo):
    written = export_template(demo, tmp_path, release="R12")
    assert [item.path.name for item in written] == [
        "dunlin-B-template_mm.dxf",
        "dunlin-B-cut_mm.dxf",
    ]


def test_a_report_is_text_and_data(tmp_path, demo):
    written = export_report(demo, tmp_path)
    assert [item.path.name for item in written] == ["dunlin-B-report.txt", "dunlin-B-report.json"]
    assert all(item.path.stat().st_size > 1000 for item in written)


@pytest.mark.parametrize("sheet", sorted(tasks.SHEETS))
@pytest.mark.parametrize("kind", ["pdf", "dxf"])
def test_every_sheet_is_what_the_task_writes(tmp_path, sheet, kind, drilled):
    path, direct = tmp_path / f"a.{kind}", tmp_path / f"b.{kind}"
    (written,) = export_drawing(drilled, path, sheet=sheet, date="3 May")
    tasks.write_drawing(drilled, direct, sheet=sheet, date="3 May")
    assert path.read_bytes() == direct.read_bytes()
    assert tasks.SHEETS[sheet] in written.what


def test_the_jig_is_in_the_files_of_the_template(tmp_path, demo):
    written = export_template(demo, tmp_path, jig=True)
    assert [item.path.name.removeprefix("dunlin-B-") for item in written] == [
        "template.dxf", "cut.dxf", "jig.dxf", "jig-cut.dxf"
    ]  # fmt: skip


def test_paper_side_and_date_reach_the_sheets(tmp_path, demo):
    how = Printing("Legal", "inside", date="3 May")
    (written,) = export_paper_template(demo, tmp_path / "a", printing=how)
    (direct,) = tasks.write_paper_template(
        demo, tmp_path / "b", paper="Legal", side="inside", date="3 May"
    )
    assert written.path.name == direct.path.name == "dunlin-B-template-inside-Legal.pdf"
    assert written.path.read_bytes() == direct.path.read_bytes()


def test_a_correction_that_cannot_be_is_refused_with_the_jig_and_all(tmp_path, demo):
    with pytest.raises(OutputError, match="no corrected edition"):
        export_paper_template(demo, tmp_path, printing=Printing(corrected=True, jig=True))
    assert names(tmp_path) == []


@pytest.mark.parametrize("release", ["R2000", "R12"])
def test_plates_and_dash_are_written_together(tmp_path, release, drilled):
    written = export_pieces(drilled, tmp_path, release=release)
    assert names(tmp_path) == sorted(item.path.name for item in written)
    assert {"plate", "dash"} <= {word for name in names(tmp_path) for word in name.split("-")}
    for item in written:
        assert item.path.stem.endswith("_mm") == (release == "R12")
        assert len(ezdxf.readfile(item.path).modelspace()) > 0


def test_without_plates_and_dash_the_reason_is_said(tmp_path, demo):
    with pytest.raises(NotMeasuredError, match="backing plate"):
        export_pieces(demo, tmp_path)
    assert names(tmp_path) == []


@pytest.mark.parametrize("step", [1, 2])
@pytest.mark.parametrize("export", FOLDER_EXPORTS)
def test_a_cancelled_export_leaves_nothing_behind(tmp_path, export, step, demo):
    assert export(demo, tmp_path / "out", *cancel_at(step)) == ()
    assert names(tmp_path) == []


@pytest.mark.parametrize("step", [1, 2])
def test_a_cancelled_drawing_leaves_the_old_one(tmp_path, step, demo):
    path = tmp_path / "a.svg"
    path.write_text("old")
    progress, cancelled = cancel_at(step)
    assert export_drawing(demo, path, progress=progress, cancelled=cancelled) == ()
    assert path.read_text() == "old"
    assert names(tmp_path) == ["a.svg"]


def test_progress_rises_to_the_end(tmp_path, demo):
    said = []
    export_report(demo, tmp_path, lambda share, doing: said.append((share, doing)))
    shares = [share for share, _ in said]
    assert shares == sorted(shares)
    assert (shares[0], shares[-1]) == (0.0, 1.0)
    assert all(doing for _, doing in said)


def test_nothing_stays_in_the_folder_for_temporary_files(tmp_path, monkeypatch, demo):
    monkeypatch.setattr(exports.tempfile, "tempdir", str(tmp_path))
    with pytest.raises(UsageError, match=r"\.bmp"):
        export_drawing(demo, tmp_path / "a.bmp")
    export_drawing(demo, tmp_path / "a.svg")
    assert names(tmp_path) == ["a.svg"]


def test_no_room_for_temporary_files_is_said(tmp_path, monkeypatch, demo):
    monkeypatch.setattr(exports.tempfile, "tempdir", str(tmp_path / "gone"))
    with pytest.raises(OutputError, match="no room for temporary files"):
        export_report(demo, tmp_path / "out")
    assert names(tmp_path) == []


def test_a_template_nobody_measured_for_is_refused(tmp_path):
    with pytest.raises(NotMeasuredError, match="leg is not measured"):
        export_template(report_on("A-mm"), tmp_path / "out")
    assert names(tmp_path) == []


def full_after(count, monkeypatch, folder):
    """Let the disk be full once ``count`` files were put into place in a folder."""
    real, placed = saving.write_whole, []

    def write(path, data):
        if path.is_relative_to(folder):
            if len(placed) == count:
                monkeypatch.setattr(os, "fsync", refuse)
            placed.append(path)
        real(path, data)

    def refuse(*_):
        raise OSError(errno.ENOSPC, "no space")

    monkeypatch.setattr(saving, "write_whole", write)


@pytest.mark.parametrize("export", FOLDER_EXPORTS)
@pytest.mark.parametrize("count", [0, 1])
def test_a_full_disk_leaves_no_part_of_an_export(tmp_path, monkeypatch, export, count, demo):
    full_after(count, monkeypatch, tmp_path)
    with pytest.raises(OutputError, match="disk is full"):
        export(demo, tmp_path)
    assert names(tmp_path) == []


def test_a_full_disk_does_not_take_away_what_stood_there(tmp_path, monkeypatch, demo):
    (tmp_path / "dunlin-B-report.txt").write_text("old")
    full_after(1, monkeypatch, tmp_path)
    with pytest.raises(OutputError):
        export_report(demo, tmp_path)
    assert names(tmp_path) == ["dunlin-B-report.txt"]


@pytest.mark.parametrize("export", FOLDER_EXPORTS)
def test_files_that_belong_together_are_never_of_two_exports(tmp_path, export, demo):
    first, second = (item.path for item in export(demo, tmp_path))
    first.write_text("old")
    second.unlink()
    second.mkdir()
    with pytest.raises(OutputError, match="it is a folder"):
        export(demo, tmp_path)
    assert first.read_text() == "old"
    assert names(tmp_path) == sorted([first.name, second.name])


def test_heights_as_text_are_those_of_the_report(demo):
    text = heights_text(demo)
    assert text.splitlines() == heights_lines(demo)
    assert text.endswith("\n")


@pytest.mark.parametrize("case", ["B-mm", "B-in", "plate-stepped-mm", "A-mm", "portable-mm"])
def test_heights_for_a_spreadsheet_have_a_row_for_each(case):
    report = report_on(case)
    rows = list(csv.DictReader(io.StringIO(heights_csv(report))))
    assert len(rows) == len(report.options)
    for row, option in zip(rows, report.options, strict=True):
        assert int(row["row"]) == option.row
        assert float(row["lift (mm)"]) == pytest.approx(option.lift.value, abs=0.001)
        assert row["verdict"] == option.verdict.value
        plate = row["plate above keel line (mm)"]
        assert (plate == "") == (option.plate is None)
        if option.plate is not None:
            assert float(plate) == pytest.approx(option.plate.value, abs=0.001)
