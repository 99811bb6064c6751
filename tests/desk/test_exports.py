"""Exports of the form: the files the tasks write, all or none, nothing after a cancel."""

import csv
import errno
import io
import os

import pytest

from rigfit import tasks
from rigfit.desk import exports
from rigfit.desk.exports import (
    export_drawing,
    export_report,
    export_template,
    heights_csv,
    heights_text,
)
from rigfit.errors import NotMeasuredError, OutputError, UsageError
from rigfit.plain_report import heights_lines
from rigfit.records import saving
from tests.demo_reports import report_on

FOLDER_EXPORTS = [export_template, export_report]


@pytest.fixture(scope="module")
def demo():
    return report_on("B-mm")


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
