"""The export page: each kind written and read back, what goes wrong, preview, keys, geometry."""

import errno
import io
import json
import os
import sys
import threading
import tkinter as tk

import ezdxf
import pytest
from PIL import Image, ImageChops, ImageStat

from rigfit import tasks
from rigfit.desk import export_page, export_plan, exports, system
from rigfit.desk.draft import Address
from rigfit.desk.export_page import ExportPage
from rigfit.desk.kit import dialogs, theme
from rigfit.desk.settings import Settings
from rigfit.desk.workbench import Change, Workbench
from rigfit.desk.worker import Worker
from rigfit.drawing.sheet import PAPERS_MM
from rigfit.records import saving
from rigfit.records.profiles import load_catalogue
from tests.desk.afloat_boat import float_her
from tests.desk.drilled_boat import fill_in
from tests.desk.harness import (
    click,
    faults,
    press_key,
    screenshot,
    settle,
    tab_stops,
    take_keyboard,
    wait_for,
    walk,
)
from tests.pdf_pages import MM, opened

OFF = {"paper": "A4", "bar_across": "98.5 mm", "bar_along": "99 mm"}
"""What the bars of a printer measured that shrinks a little."""


class Answers(dialogs.Questions):
    """Answers for the person at the screen, and keeps what was asked."""

    def __init__(self):
        self.answer, self.path, self.asked = "", None, []

    def ask(self, parent, title, text, choices):
        self.asked.append((title, text, dict(choices)))
        return self.answer

    def save_path(self, parent, title, kinds, *, suggestion):
        self.asked.append((title, kinds, suggestion))
        return self.path

    def folder_path(self, parent, title, *, suggestion):
        self.asked.append((title, suggestion))
        return self.path


class Desk:
    """A bench with the demo boat, a worker pumped as the window does, and the page over it all."""

    def __init__(self, root, folder, *, saved=True):
        self.root = root
        self.bench = Workbench(load_catalogue(), Settings(), folder / "unsaved")
        self.bench.begin_demo()
        if saved:
            self.bench.save_as(folder / "boat.rigfit.toml")
        self.worker = Worker()
        self.closed, self.said, self.pumps = [], [], 0
        self.page = ExportPage(root, self.bench, self.worker, self._close, self._say)
        self.page.on_busy = self._busy
        self.folder = folder

    def show(self, what="drawing", scene=None):
        self.page.pack(fill="both", expand=True)
        self.page.show(what, scene)
        settle(self.root)

    def _busy(self):
        self.pumps += 1

    def _close(self):
        self.closed.append(self.page.outcome.text)
        self.page.pack_forget()

    def _say(self, text, kind="note", *, link="", on_link=None):
        self.said.append((text, kind, link, on_link))

    def wait(self, answer):
        def pumped():
            self.worker.pump()
            return answer()

        wait_for(self.root, pumped)

    def wait_preview(self):
        page = self.page
        self.wait(lambda: page._drawn == page._key() and page._drawn != ())
        settle(self.root)

    def export(self):
        self.page.export()
        self.wait(lambda: not self.page.is_exporting)
        settle(self.root)

    @property
    def outcome(self):
        return self.page.outcome.text

    def names(self):
        return sorted(item.name for item in self.folder.iterdir() if item.is_file())


@pytest.fixture
def make_desk(tmp_path):
    made = []

    def make(root, **more):
        made.append(Desk(root, tmp_path, **more))
        return made[-1]

    yield make
    for desk in made:
        assert desk.worker.close()


@pytest.fixture
def desk(make_desk, root):
    return make_desk(root)


@pytest.fixture
def answers():
    stand_in = Answers()
    undo = dialogs.ask_through(stand_in)
    yield stand_in
    undo()


def picture_size(page):
    return page.preview.picture.width(), page.preview.picture.height()


# Each kind, written and read back -----------------------------------------------------------------


@pytest.mark.parametrize("kind", tasks.DRAWING_KINDS)
def test_a_drawing_is_written_beside_the_job_file(desk, kind):
    desk.show("drawing")
    desk.page.kind.pick.choose(kind)
    desk.export()
    path = desk.folder / f"dunlin-B-profile.{kind}"
    direct = desk.folder / f"direct.{kind}"
    today = desk.page.date.text
    tasks.write_drawing(desk.bench.report, direct, date=today)
    assert path.read_bytes() == direct.read_bytes()
    assert path.name in desk.outcome
    assert desk.said[-1][:3] == (f"Exported {path.name}.", "ok", "Open the folder")


def test_paper_colours_and_date_reach_the_file(desk):
    desk.show("drawing")
    page = desk.page
    page.kind.pick.choose("svg")
    page.paper.choice.choose("Letter")
    page.theme.pick.choose("dark")
    page.date.set_text("3 May")
    desk.export()
    tasks.write_drawing(
        desk.bench.report, desk.folder / "a.svg", paper="Letter", theme="dark", date="3 May"
    )
    written = (desk.folder / "dunlin-B-profile.svg").read_bytes()
    assert written == (desk.folder / "a.svg").read_bytes()


@pytest.mark.parametrize(("release", "ending"), [("R2000", ""), ("R12", "_mm")])
def test_a_template_is_two_files_in_a_folder(desk, release, ending):
    desk.show("template")
    desk.page.release.pick.choose(release)
    promised = desk.page.destination.message
    desk.export()
    for part in ("template", "cut"):
        path = desk.folder / f"dunlin-B-{part}{ending}.dxf"
        assert len(ezdxf.readfile(path).modelspace()) > 0
        assert path.name in promised
        assert path.name in desk.outcome


def test_a_report_is_text_and_data(desk):
    desk.show("report")
    desk.export()
    text = (desk.folder / "dunlin-B-report.txt").read_text("utf-8")
    data = json.loads((desk.folder / "dunlin-B-report.json").read_text("utf-8"))
    assert "Dunlin" in text
    assert data["boat"] == "Dunlin" or "Dunlin" in json.dumps(data)


def test_what_is_shown_is_written_as_it_is_shown(desk):
    scene = tasks.profile_scene(desk.bench.report, "A4")
    desk.show("view", scene)
    desk.page.kind.pick.choose("svg")
    desk.export()
    assert (desk.folder / "dunlin-B-view.svg").read_bytes() == tasks.drawing_bytes(scene, "svg")


def test_without_a_view_it_is_not_offered(desk):
    desk.show("view")
    assert desk.page.what == "drawing"
    assert "view" not in desk.page.pick._choices
    desk.show("view", tasks.profile_scene(desk.bench.report, "A4"))
    assert list(desk.page.pick._choices) == list(export_page.WHATS)


@pytest.mark.parametrize("what", ["drawing", "face", "template", "report", "view"])
@pytest.mark.parametrize("release", ["R2000", "R12"])
def test_the_files_foretold_are_the_files_written(desk, what, release):
    scene = tasks.profile_scene(desk.bench.report, "A4")
    place = desk.folder / "out"
    wish = export_plan.Wish(what, place / "a.png" if what in export_plan.ONE_FILE else place)
    wish = export_plan.Wish(what, wish.place, "png", release)
    report = desk.bench.report
    written = export_plan.export_task(wish, report, scene)(lambda *_: None, lambda: False)
    assert tuple(item.path for item in written) == export_plan.files_of(wish, report)


@pytest.mark.parametrize(
    ("what", "side", "sheet", "name"),
    [
        ("face", "outside", "face", "dunlin-B-face.pdf"),
        ("face", "inside", "face-inside", "dunlin-B-face-inside.pdf"),
        ("section", "outside", "section", "dunlin-B-bolt-section.pdf"),
        ("afloat", "outside", "afloat", "dunlin-B-afloat.pdf"),
        ("curve", "outside", "scupper-curve", "dunlin-B-scupper-curve.pdf"),
    ],
)
def test_other_sheets_are_written_as_the_task_writes_them(desk, what, side, sheet, name):
    fill_in(desk.bench)
    float_her(desk.bench)
    desk.show(what)
    page = desk.page
    page.rows.side.pick.choose(side)
    paper = "A3" if what in ("afloat", "curve") else "A4"
    (page.rows.sheets if what == "afloat" else page.paper).choice.choose(paper)
    page.date.set_text("3 May")
    desk.export()
    direct = desk.folder / "direct.pdf"
    tasks.write_drawing(desk.bench.report, direct, sheet=sheet, paper=paper, date="3 May")
    assert (desk.folder / name).read_bytes() == direct.read_bytes()
    assert tasks.SHEETS[sheet] in desk.outcome


@pytest.mark.parametrize("sheet", ["swing", "swing-plan", "swing-worst"])
def test_each_view_of_the_swing_is_a_sheet_and_a_file_of_its_own(desk, sheet):
    desk.show("swing")
    page = desk.page
    page.rows.swing.pick.choose(sheet)
    wish = page.wish()
    assert wish.sheet == sheet
    assert wish.place == desk.folder / f"dunlin-B-{sheet}.pdf"
    assert export_plan.files_of(wish, desk.bench.report) == (wish.place,)
    page.kind.pick.choose("dxf")
    assert page.wish().place.name == f"dunlin-B-{sheet}.dxf"
    settle(desk.root)
    assert faults(desk.root) == []


@pytest.mark.parametrize("paper", ["A4", "A3", "Letter", "Legal", "Tabloid"])
@pytest.mark.parametrize("side", ["outside", "inside", "both"])
def test_a_template_on_paper_is_a_file_for_each_side(desk, paper, side):
    desk.show("template")
    rows = desk.page.rows
    rows.medium.pick.choose("paper")
    rows.sheets.choice.choose(paper)
    rows.edition.choice.choose(side)
    foretold = export_plan.files_of(desk.page.wish(), desk.bench.report)
    assert len(foretold) == (2 if side == "both" else 1)
    desk.export()
    assert [item.path for item in desk.page._written] == list(foretold)
    words = rows.sheets.message
    for path in foretold:
        with opened(path.read_bytes()) as document:
            sizes = [tuple(part / MM for part in page.get_size()) for page in document]
        short, long = sorted(PAPERS_MM[paper])
        assert words.startswith(f"{len(sizes) - 1} sheet")
        assert f"of {paper}" in words
        assert ("landscape" if sizes[1][0] > sizes[1][1] else "upright") in words
        for size in sizes:
            assert sorted(size) == pytest.approx([short, long], abs=0.5)
    assert "measure both bars" in desk.outcome


@pytest.mark.parametrize("medium", ["dxf", "paper"])
@pytest.mark.parametrize("release", ["R2000", "R12"])
def test_the_jig_comes_with_the_template(desk, medium, release):
    desk.show("template")
    rows = desk.page.rows
    rows.release.pick.choose(release)
    rows.medium.pick.choose(medium)
    click(rows.jig)
    assert desk.page.wish().jig
    foretold = export_plan.files_of(desk.page.wish(), desk.bench.report)
    desk.export()
    assert [item.path for item in desk.page._written] == list(foretold)
    assert sum("-jig" in path.name for path in foretold) == (3 if medium == "paper" else 2)
    for path in foretold:
        if path.suffix == ".dxf":
            assert len(ezdxf.readfile(path).modelspace()) > 0


def test_a_corrected_edition_is_offered_while_the_bars_are_off_and_only_then(desk):
    desk.show("template")
    rows = desk.page.rows
    rows.medium.pick.choose("paper")
    settle(desk.root)
    assert not rows.corrected.winfo_viewable()
    for name, text in OFF.items():
        desk.bench.type(Address("printer", name), text)
    settle(desk.root)
    assert rows.corrected.winfo_viewable()
    click(rows.corrected)
    assert desk.page.wish().corrected
    desk.export()
    assert [item.path.name for item in desk.page._written] == [
        "dunlin-B-template-outside-A4-corrected.pdf"
    ]
    rows.sheets.choice.choose("Letter")  # the bars were those of another paper
    settle(desk.root)
    assert not rows.corrected.winfo_viewable()
    assert not desk.page.wish().corrected


def test_plates_and_dash_are_what_can_be_made(desk):
    fill_in(desk.bench)
    desk.show("plates")
    desk.wait_preview()
    assert desk.page.preview.note == ""
    desk.export()
    names = [item.path.name for item in desk.page._written]
    assert sum("backing-plate" in name for name in names) == 2
    assert sum("dash" in name for name in names) == 2
    for item in desk.page._written:
        assert len(ezdxf.readfile(item.path).modelspace()) > 0


def test_of_plates_and_dash_one_may_be_missing(desk):
    fill_in(desk.bench)
    desk.bench.type(Address("bolting", "plate_width"), "")
    desk.show("plates")
    desk.wait_preview()
    assert "width" in desk.page.preview.note
    assert "_" not in desk.page.preview.note
    desk.export()
    assert all("dash" in item.path.name for item in desk.page._written)
    for item in desk.page._written:
        item.path.unlink()
    for index in (1, 0):
        desk.bench.remove_row("dash", index)
    desk.export()
    assert desk.page.outcome.kind == "error"
    assert "_" not in desk.outcome


def test_plates_that_are_there_are_asked_about(desk, answers):
    fill_in(desk.bench)
    desk.show("plates")
    desk.export()
    written = [item.path for item in desk.page._written]
    assert answers.asked == []
    answers.answer = "keep"
    written[0].write_text("mine")
    desk.export()
    assert f"{len(written)} files" in answers.asked[0][0]
    assert written[0].read_text() == "mine"


def test_every_sheet_says_its_own_error_without_a_name_of_a_file(desk):
    for what in ("section", "plates", "afloat", "curve"):
        desk.show(what)
        desk.wait(lambda: desk.outcome != "")
        assert desk.page.outcome.kind == "error"
        assert "_" not in desk.outcome
        assert desk.outcome.endswith(".")
        assert desk.outcome[0].isupper()


# The printer --------------------------------------------------------------------------------------


@pytest.fixture
def printers(tmp_path, monkeypatch):
    """Put programs of a printing system on the path; lp writes down what it is given."""
    programs = tmp_path / "programs"
    programs.mkdir()
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setenv("PATH", str(programs))

    def make(queues, lp='printf "%s\\n" "$@" >> "$0.told"'):
        for name, lines in (("lpstat", f'printf "{queues}"'), ("lp", lp)):
            path = programs / name
            path.write_text(f"#!/bin/sh\n{lines}\n")
            path.chmod(0o755)
        return programs / "lp.told"

    return make


def printed_out(desk):
    """Export a paper template, ask for the printers and wait for what is said."""
    desk.show("template")
    desk.page.rows.medium.pick.choose("paper")
    desk.export()
    click(desk.page.print_button)
    desk.wait(lambda: not desk.page.printing.is_busy)


@pytest.fixture
def menus(monkeypatch):
    """Keep menus closed, and tell where they were to open."""
    opened = []
    monkeypatch.setattr(tk.Menu, "tk_popup", lambda menu, x, y, entry="": opened.append(menu))
    return opened


def test_a_printed_template_goes_to_the_printer_that_is_chosen(desk, printers, menus):
    told = printers("Office_A3\\nhome\\n")
    printed_out(desk)
    menu = desk.page.printing.menu
    assert menus == [menu]
    assert [menu.entrycget(index, "label").strip() for index in (0, 1)] == ["Office_A3", "home"]
    menu.invoke(1)
    desk.wait(lambda: desk.page.outcome.kind == "ok" and "home" in desk.outcome)
    path = desk.folder / "dunlin-B-template-outside-A4.pdf"
    assert told.read_text().splitlines() == [
        "-d", "home", "-o", "media=A4", "-o", "print-scaling=none", str(path)
    ]  # fmt: skip
    assert "Measure both bars" in desk.outcome


def test_both_sides_are_printed(desk, printers, menus):
    told = printers("home\\n")
    desk.page.rows.edition.set("both")
    printed_out(desk)
    desk.page.printing.menu.invoke(0)
    desk.wait(lambda: "Sent 2 files" in desk.outcome)
    sent = told.read_text().splitlines()
    assert [line.rpartition("/")[2] for line in sent if line.endswith(".pdf")] == [
        "dunlin-B-template-outside-A4.pdf", "dunlin-B-template-inside-A4.pdf"
    ]  # fmt: skip


def test_without_a_printer_that_is_said(desk, printers, menus):
    printers("")
    printed_out(desk)
    assert "No printer is set up" in desk.outcome
    assert menus == []


def test_a_printer_that_refuses_is_said(desk, printers, menus):
    printers("home\\n", 'echo "lp: out of paper" >&2; exit 1')
    printed_out(desk)
    desk.page.printing.menu.invoke(0)
    desk.wait(lambda: desk.page.outcome.kind == "error")
    assert "out of paper" in desk.outcome


def test_the_window_does_not_wait_for_the_printers(desk, printers, menus, tmp_path):
    go = tmp_path / "go"
    printers("home\\n")
    lpstat = tmp_path / "programs" / "lpstat"
    lpstat.write_text(f'#!/bin/sh\nwhile [ ! -e "{go}" ]; do :; done\necho home\n')
    desk.show("template")
    desk.page.rows.medium.pick.choose("paper")
    desk.export()
    click(desk.page.print_button)
    assert desk.page.printing.is_busy
    desk.page.choose("report")  # the page goes on, and the answer is dropped
    go.write_text("")
    settle(desk.root)
    assert menus == []
    assert not desk.page.printing.is_busy


@pytest.mark.parametrize("what", ["report", "dxf"])
def test_nothing_else_is_printed(desk, printers, what):
    printers("home\\n")
    desk.show("report" if what == "report" else "template")
    desk.export()
    assert not desk.page.print_button.winfo_viewable()
    assert desk.page.file_button.words == "Open the file"


def test_without_a_program_to_print_there_is_only_the_viewer(desk, monkeypatch):
    monkeypatch.setattr(system, "can_print", lambda: False)
    desk.show("template")
    desk.page.rows.medium.pick.choose("paper")
    desk.export()
    assert not desk.page.print_button.winfo_viewable()
    assert desk.page.file_button.words == "Open in the viewer"


def test_the_link_leads_to_what_the_bars_measured(desk):
    asked = []
    desk.bench.listen(lambda change: asked.append((change, bool(desk.closed))))
    desk.show("template")
    rows = desk.page.rows
    rows.medium.pick.choose("paper")
    settle(desk.root)
    assert "Neither check bar is measured yet." in rows.advice.lines
    rows.advice.link.focus_set()
    press_key(desk.root, "Return")
    assert (Change.GOTO, True) in asked  # the page is gone when the field is asked for
    assert desk.bench.wanted == Address("printer", "bar_across")
    assert not desk.page.is_shown


def test_the_advice_names_the_paper_and_the_three_things_to_do(desk):
    desk.show("template")
    rows = desk.page.rows
    rows.medium.pick.choose("paper")
    rows.sheets.choice.choose("Legal")
    said = " ".join(rows.advice.lines)
    for words in ("100 %", "actual size", "Legal paper", "both 100 mm bars"):
        assert words in said


def test_the_paper_is_that_of_the_boats_printer(desk):
    desk.bench.type(Address("printer", "paper"), "Letter")
    desk.show("template")
    assert desk.page.rows.sheets.chosen == "Letter"


# Where it goes ------------------------------------------------------------------------------------


def test_a_boat_without_a_file_goes_to_the_documents_or_home(make_desk, root, monkeypatch):
    desk = make_desk(root, saved=False)
    monkeypatch.setenv("HOME", str(desk.folder))
    monkeypatch.setenv("USERPROFILE", str(desk.folder))
    desk.show("report")
    assert desk.page.destination.text == str(desk.folder)
    (desk.folder / "Documents").mkdir()
    desk.show("report")
    assert desk.page.destination.text == str(desk.folder / "Documents")


def test_the_ending_follows_the_format_and_the_format_the_ending(desk):
    desk.show("drawing")
    page = desk.page
    page.kind.pick.choose("png")
    assert page.destination.text.endswith("dunlin-B-profile.png")
    click(page.destination)
    page.destination.focus_field()
    page.destination._text.set(str(desk.folder / "side.SVG"))
    press_key(desk.root, "Return")
    assert page.kind.chosen == "svg"
    page.kind.pick.choose("dxf")
    assert page.destination.text == str(desk.folder / "side.dxf")


def test_a_name_without_an_ending_gets_one(desk):
    desk.show("drawing")
    desk.page.destination._text.set("by hand")
    desk.export()
    assert (desk.folder / "by hand.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize(
    ("typed", "words"),
    [("", "no file is given"), ("  ", "no file is given"), ("a\0b", "character"), (".", "folder")],
)
def test_a_place_that_cannot_be_is_said_under_the_field(desk, typed, words):
    desk.show("drawing")
    with pytest.raises(export_plan.UsageError, match=words):
        export_plan.place_of(typed, "drawing", "pdf", desk.folder)
    if "\0" not in typed:
        desk.page.destination._text.set(typed)
        assert words in desk.page.destination.message
        desk.page.export()
        assert words in desk.outcome
        assert not desk.page.is_exporting


@pytest.mark.parametrize("what", ["drawing", "report"])
def test_a_name_too_long_for_the_disk_is_said(desk, what):
    desk.show(what)
    desk.page.destination._text.set("a" * 300)
    desk.export()
    assert desk.page.outcome.kind == "error"
    assert "too long" in desk.outcome


def test_a_place_is_chosen_in_a_dialog(desk, answers):
    desk.show("drawing")
    answers.path = desk.folder / "chosen.png"
    click(desk.page.destination.button)
    _, kinds, suggestion = answers.asked[0]
    assert suggestion == desk.folder / "dunlin-B-profile.pdf"
    assert kinds[0][1] == "*.pdf"
    assert (desk.page.destination.text, desk.page.kind.chosen) == (str(answers.path), "png")
    desk.page.choose("report")
    answers.path = desk.folder / "other"
    click(desk.page.destination.button)
    assert desk.page.destination.text == str(answers.path)
    answers.path = None
    click(desk.page.destination.button)
    assert desk.page.destination.text == str(desk.folder / "other")


def test_too_long_a_date_is_said_and_not_exported(desk):
    desk.show("drawing")
    desk.page.date._text.set("in the spring of the year 2024")
    assert "24" in desk.page.date.message
    assert not desk.page.export_button.is_enabled
    desk.page.date._text.set("")
    assert desk.page.date.message == ""
    assert desk.page.export_button.is_enabled


# What stands in the way ---------------------------------------------------------------------------


def test_one_question_before_files_are_written_over(desk, answers):
    desk.show("report")
    for name in ("dunlin-B-report.txt", "dunlin-B-report.json"):
        (desk.folder / name).write_text("mine")
    answers.answer = "keep"
    desk.export()
    assert len(answers.asked) == 1
    assert "2 files" in answers.asked[0][0]
    assert (desk.folder / "dunlin-B-report.txt").read_text() == "mine"
    answers.answer = "replace"
    desk.export()
    assert (desk.folder / "dunlin-B-report.txt").read_text() != "mine"


def test_what_the_dialog_asked_is_not_asked_again(desk, answers):
    desk.show("drawing")
    answers.path = desk.folder / "mine.svg"
    answers.path.write_text("mine")
    desk.page.choose_place()
    answers.asked.clear()
    desk.export()
    assert answers.asked == []
    assert answers.path.read_bytes().startswith(b"<?xml")


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may write")
def test_a_folder_closed_to_writing_is_said(desk):
    closed = desk.folder / "closed"
    closed.mkdir(mode=0o500)
    desk.show("report")
    desk.page.destination._text.set(str(closed))
    desk.export()
    assert "not permitted" in desk.outcome
    assert "choose" in desk.outcome


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EACCES, errno.EROFS])
def test_a_disk_that_refuses_loses_nothing(desk, monkeypatch, answers, number):
    answers.answer = "replace"
    path = desk.folder / "dunlin-B-profile.pdf"
    path.write_text("mine")
    before = desk.names()
    desk.show("drawing")

    def refuses(*_given):
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(saving, "_write_beside", refuses)
    desk.export()
    assert desk.page.outcome.kind == "error"
    assert desk.outcome.endswith(".")
    assert ("free some space" in desk.outcome) == (number == errno.ENOSPC)
    assert (path.read_text(), desk.names()) == ("mine", before)
    assert desk.page.destination.text == str(path)
    assert desk.page.export_button.is_enabled


def test_what_is_not_measured_is_said_with_its_cure(desk):
    desk.show("template")
    index = desk.bench.engine_index
    for field in ("first_row", "row_pitch", "upper_spacing"):
        desk.bench.type(export_page_address("engine", field, index), "")
    for field in ("upper_holes_below_top",):
        desk.bench.type(export_page_address("mounting", field), "")
    desk.export()
    assert desk.page.outcome.kind == "error"
    assert desk.outcome
    assert [name for name in desk.names() if name.endswith(".dxf")] == []


def export_page_address(table, field, index=0):
    return Address(table, field, index)


def test_an_error_nobody_foresaw_is_a_sentence(desk, monkeypatch):
    desk.show("report")
    monkeypatch.setattr(exports, "export_report", lambda *_given, **_more: 1 / 0)
    desk.export()
    assert "did not foresee" in desk.outcome


def test_without_a_report_the_reason_is_said(desk):
    desk.show("drawing")
    while desk.bench.draft.engines:
        desk.bench.remove_engine()
    desk.wait(lambda: desk.outcome != "")
    assert desk.bench.report is None
    assert not desk.page.export_button.is_enabled
    assert desk.page.preview.picture is None


# Cancelling and closing ---------------------------------------------------------------------------


@pytest.fixture
def held(monkeypatch):
    """Hold every export once its files are made, until told to go on."""
    reached, go = threading.Event(), threading.Event()
    original = tasks.write_report

    def slow(report, folder):
        made = original(report, folder)
        reached.set()
        assert go.wait(5)
        return made

    monkeypatch.setattr(tasks, "write_report", slow)
    yield reached, go
    go.set()


def test_cancelling_leaves_nothing_behind(desk, held):
    reached, go = held
    desk.show("report")
    before = desk.names()
    desk.page.export()
    desk.wait(reached.is_set)
    settle(desk.root)
    assert desk.page.cancel_button.winfo_viewable()
    assert not desk.page.export_button.is_enabled
    assert faults(desk.root) == []
    press_key(desk.root, "space")  # Cancel has the keyboard
    go.set()
    assert "Cancelled" in desk.outcome
    desk.wait_preview()  # the worker has gone on to the next work, so the export has ended
    assert desk.names() == before
    assert desk.said == []
    assert desk.page.export_button.is_enabled


def test_closing_cancels(desk, held):
    reached, go = held
    desk.show("report")
    before = desk.names()
    desk.page.export()
    desk.wait(reached.is_set)
    desk.page.close()
    assert not desk.worker.is_busy
    go.set()
    assert desk.worker.close()
    assert (desk.names(), len(desk.closed)) == (before, 1)


def test_a_page_taken_away_by_its_window_cancels_too(desk, held):
    reached, _ = held
    desk.show("report")
    desk.page.export()
    desk.wait(reached.is_set)
    desk.page.pack_forget()
    settle(desk.root)
    assert not desk.worker.is_busy
    assert not desk.page.is_shown


def test_escape_closes_from_every_stop(desk):
    desk.show("drawing")
    desk.wait_preview()
    for stop in tab_stops(desk.root):
        desk.show("drawing")
        stop.focus_set()
        press_key(desk.root, "Escape")
        assert not desk.page.is_shown
        assert not desk.worker.is_busy
    assert len(desk.closed) > 6


def test_a_closed_page_does_not_listen(desk):
    desk.show("drawing")
    desk.wait_preview()
    desk.page.close()
    started = desk.pumps
    desk.bench.show_beside(1)
    settle(desk.root)
    wait_for(desk.root, lambda: True)
    assert (desk.pumps, desk.page._job) == (started, "")


# The preview --------------------------------------------------------------------------------------


@pytest.mark.parametrize("paper", ["A4", "Tabloid"])
def test_the_preview_has_the_shape_of_the_paper_and_fits(desk, paper):
    desk.show("drawing")
    desk.page.paper.choice.choose(paper)
    desk.wait_preview()
    wide, high = picture_size(desk.page)
    room = desk.page.preview.room()
    short, long = sorted(PAPERS_MM[paper])
    assert max(wide, high) / min(wide, high) == pytest.approx(long / short, rel=0.01)
    assert wide <= room[0]
    assert high <= room[1]
    assert wide == pytest.approx(room[0], abs=2) or high == pytest.approx(room[1], abs=2)


@pytest.mark.parametrize("kind", ["pdf", "dxf"])
def test_the_preview_is_the_drawing_that_is_written(desk, kind):
    wish = export_plan.Wish("drawing", desk.folder / "a", kind, paper="A4", theme="dark")
    made = export_plan.preview(wish, desk.bench.report, None, (700, 500))
    picture = Image.open(io.BytesIO(made.png))
    whole = tasks.drawing_bytes(tasks.profile_scene(desk.bench.report, "A4"), "png", "dark")
    small = Image.open(io.BytesIO(whole)).convert("L").resize(picture.size)
    difference = ImageStat.Stat(ImageChops.difference(small, picture.convert("L"))).mean[0]
    # A DXF file has no colours of its own: its lines are shown on paper.
    assert (difference < 8) == (kind == "pdf")
    assert (ImageStat.Stat(picture.convert("L")).mean[0] < 128) == (kind == "pdf")


def test_the_preview_follows_a_choice_and_the_boat(desk):
    desk.show("drawing")
    desk.wait_preview()
    first = desk.page.preview.picture
    desk.page.theme.pick.choose("dark")
    desk.wait_preview()
    second = desk.page.preview.picture
    assert second is not first
    desk.bench.show_beside(1)
    assert desk.page.destination.text.endswith(f"{tasks.file_stem(desk.bench.report)}-profile.pdf")
    desk.wait_preview()
    assert desk.page.preview.picture is not second


def test_choices_in_quick_succession_draw_once(desk):
    desk.show("drawing")
    desk.wait_preview()
    started = desk.pumps
    for paper in ("A4", "Letter", "Legal"):
        desk.page.paper.choice.choose(paper)
    desk.wait_preview()
    assert desk.pumps == started + 1


def test_while_it_is_drawn_that_is_said(desk):
    desk.show("template")
    desk.wait(lambda: desk.pumps > 0)
    assert desk.page.preview.note == "drawing the preview"
    desk.wait_preview()
    assert desk.page.preview.note == ""
    assert desk.page.preview.picture is not None


def test_the_report_is_previewed_as_the_text_that_is_written(desk):
    desk.show("report")
    desk.wait_preview()
    shown = desk.page.preview.page.text
    desk.export()
    assert (desk.folder / "dunlin-B-report.txt").read_text("utf-8").strip() == shown.strip()


def test_a_preview_that_fails_says_why(desk, monkeypatch):
    from rigfit.errors import OutputError

    def refuses(*_given):
        raise OutputError("it does not go on this sheet", cure="choose a larger paper")

    monkeypatch.setattr(tasks, "sheet_scene", refuses)
    desk.show("drawing")
    desk.wait(lambda: desk.outcome != "")
    assert desk.outcome == "it does not go on this sheet; choose a larger paper."
    assert desk.page.preview.note == "no preview"


def test_the_preview_is_never_drawn_in_the_main_thread(desk, monkeypatch):
    threads = []
    original = export_plan.preview

    def watched(*given):
        threads.append(threading.current_thread())
        return original(*given)

    monkeypatch.setattr(export_plan, "preview", watched)
    desk.show("drawing")
    desk.wait_preview()
    assert threads
    assert threading.main_thread() not in threads


# Afterwards ---------------------------------------------------------------------------------------


def test_folder_and_file_are_offered_afterwards(desk, monkeypatch):
    opened = []
    monkeypatch.setattr(system, "open_folder", lambda path: opened.append(path) or "")
    monkeypatch.setattr(system, "open_file", lambda path: opened.append(path) or "No opener.")
    desk.show("report")
    assert not desk.page.folder_button.winfo_viewable()
    desk.export()
    click(desk.page.folder_button)
    assert desk.page.outcome.kind == "ok"
    click(desk.page.file_button)
    assert opened == [desk.folder, desk.folder / "dunlin-B-report.txt"]
    assert (desk.outcome, desk.page.outcome.kind) == ("No opener.", "error")
    desk.page.choose("drawing")
    settle(desk.root)
    assert not desk.page.folder_button.winfo_viewable()
    desk.said[-1][3]()  # the link of the status bar outlives the page
    assert opened[-1] == desk.folder


# Keyboard and geometry ----------------------------------------------------------------------------


def test_all_of_it_by_keyboard(desk):
    desk.show("drawing")
    take_keyboard(desk.root)
    desk.page.focus_set()
    press_key(desk.root, *["Down"] * list(export_page.WHATS).index("template"))
    assert desk.page.what == "template"
    press_key(desk.root, "Tab", "Tab", "Right")
    assert desk.page.release.chosen == "R12"
    while desk.root.focus_get() is not desk.page.export_button.keys_to:
        press_key(desk.root, "Tab")
    press_key(desk.root, "Return")
    desk.wait(lambda: not desk.page.is_exporting and desk.outcome.startswith("Written"))
    assert (desk.folder / "dunlin-B-cut_mm.dxf").exists()
    settle(desk.root)
    assert desk.root.focus_get() is desk.page.folder_button.keys_to


@pytest.mark.parametrize(
    ("appearance", "scale", "size"),
    [
        ("light", 1.0, "640x300"),
        ("light", 1.0, "1280x640"),
        ("dark", 1.0, "1900x1000"),
        ("dark", 1.5, "1366x700"),
        ("light", 2.0, "1280x600"),
        ("dark", 2.0, "1600x1800"),
        ("light", 2.0, "3800x2000"),
    ],
)
def test_nothing_is_cut_off(make_root, make_desk, tmp_path, monkeypatch, appearance, scale, size):
    root = make_root(appearance, scale, size)
    desk = make_desk(root)
    scene = tasks.profile_scene(desk.bench.report, "A4")
    fill_in(desk.bench)
    for name, text in OFF.items():
        desk.bench.type(Address("printer", name), text)
    for what in (
        "drawing",
        "face",
        "section",
        "afloat",
        "curve",
        "template",
        "paper",
        "plates",
        "report",
        "view",
    ):
        desk.show("template" if what == "paper" else what, scene)
        if what in ("template", "paper"):
            desk.page.rows.medium.pick.choose("paper" if what == "paper" else "dxf")
            settle(root)
        if desk.page._key():
            desk.wait_preview()
        screenshot(root, f"export-{what}-{appearance}-{scale}-{size}", tmp_path)
        assert faults(root) == []
    monkeypatch.setattr(system, "can_print", lambda: True)
    desk.page.choose("template")
    desk.export()
    assert desk.page.print_button.winfo_viewable()
    screenshot(root, f"export-done-{appearance}-{scale}-{size}", tmp_path)
    assert faults(root) == []


def test_it_follows_scale_and_appearance(make_root, make_desk):
    desk = make_desk(make_root(size="1900x1000"))
    desk.show("drawing")
    desk.wait_preview()
    theme.apply("dark", 1.5)
    settle(desk.root)
    desk.wait_preview()
    assert faults(desk.root) == []
    desk.root.wm_geometry("640x300")
    settle(desk.root)
    assert faults(desk.root) == []


def test_only_one_button_is_filled(desk):
    from rigfit.desk.kit.buttons import Button

    desk.show("drawing")
    filled = [
        part for part in walk(desk.page) if isinstance(part, Button) and part._style == "primary"
    ]
    assert filled == [desk.page.export_button]


def test_it_is_the_debounce_that_waits():
    assert 0 < export_page.DEBOUNCE_MS <= 300
