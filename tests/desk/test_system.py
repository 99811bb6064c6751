"""Folders and files opened by the system's own program: which one, with what, and what if not."""

import os
import sys
import time

import pytest

from rigfit.desk import system
from rigfit.errors import OutputError

pytestmark = pytest.mark.skipif(os.name == "nt", reason="the openers here are shell scripts")


@pytest.fixture
def opener(tmp_path, monkeypatch):
    """Put a program of some name on the path that writes down its arguments."""
    programs = tmp_path / "programs"
    programs.mkdir()
    monkeypatch.setenv("PATH", str(programs))

    def make(name, lines='printf "%s\\n" "$@" > "$0.told.part"; /bin/mv "$0.told.part" "$0.told"'):
        path = programs / name
        path.write_text(f"#!/bin/sh\n{lines}\n")
        path.chmod(0o755)
        return programs / f"{name}.told"

    return make


def told(path):
    end = time.monotonic() + 5
    while not path.exists():
        assert time.monotonic() < end, "the opener was never started"
        time.sleep(0.005)
    return path.read_text().splitlines()


@pytest.mark.parametrize(
    ("platform", "name"), [("linux", "xdg-open"), ("freebsd14", "xdg-open"), ("darwin", "open")]
)
def test_each_system_has_its_opener(opener, monkeypatch, tmp_path, platform, name):
    monkeypatch.setattr(sys, "platform", platform)
    record = opener(name)
    assert system.open_folder(tmp_path) == ""
    assert told(record) == [str(tmp_path)]


def test_a_path_reaches_it_as_one_argument_and_through_no_shell(opener, monkeypatch, tmp_path):
    monkeypatch.setattr(sys, "platform", "linux")
    record = opener("xdg-open")
    path = tmp_path / "a b; $(touch spoilt) 'c' -x.pdf"
    path.write_text("")
    assert system.open_file(path) == ""
    assert told(record) == [str(path)]
    assert not (tmp_path / "spoilt").exists()


def test_a_relative_path_that_looks_like_an_option_is_made_whole(opener, monkeypatch, tmp_path):
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.chdir(tmp_path)
    (tmp_path / "--help").write_text("")
    record = opener("xdg-open")
    assert system.open_file("--help") == ""
    assert told(record) == [str(tmp_path / "--help")]


def test_the_folder_of_a_file_is_opened(opener, monkeypatch, tmp_path):
    monkeypatch.setattr(sys, "platform", "linux")
    record = opener("xdg-open")
    (tmp_path / "a.pdf").write_text("")
    assert system.open_folder(tmp_path / "a.pdf") == ""
    assert told(record) == [str(tmp_path)]


def test_without_an_opener_a_sentence_names_it_and_the_place(opener, monkeypatch, tmp_path):
    monkeypatch.setattr(sys, "platform", "linux")
    words = system.open_folder(tmp_path)
    assert "xdg-open" in words
    assert str(tmp_path) in words
    assert words.endswith(".")


def test_what_is_gone_is_said(opener, monkeypatch, tmp_path):
    monkeypatch.setattr(sys, "platform", "linux")
    record = opener("xdg-open")
    assert "no longer there" in system.open_file(tmp_path / "gone.pdf")
    assert "no longer there" in system.open_folder(tmp_path / "gone" / "deeper")
    assert "no longer there" in system.open_file("a\0b")
    assert not record.exists()


def test_an_opener_that_cannot_run_is_said(opener, monkeypatch, tmp_path):
    monkeypatch.setattr(sys, "platform", "linux")
    record = opener("xdg-open")
    record.with_name("xdg-open").write_bytes(b"\x7fELF no program at all")
    assert "could not be opened" in system.open_folder(tmp_path)


def test_nobody_waits_for_it(opener, monkeypatch, tmp_path):
    monkeypatch.setattr(sys, "platform", "linux")
    go = tmp_path / "go"
    record = opener("xdg-open", f'while [ ! -e "{go}" ]; do :; done; echo done > "$0.told"')
    assert system.open_folder(tmp_path) == ""
    assert not record.exists()  # it still runs, and we are here
    go.write_text("")
    assert told(record) == ["done"]


def test_programs_that_ended_are_let_go(opener, monkeypatch, tmp_path):
    monkeypatch.setattr(sys, "platform", "linux")
    record = opener("xdg-open")
    for _ in range(3):
        assert system.open_folder(tmp_path) == ""
        told(record)
        record.unlink()
        system._running[-1].wait(5)
    assert len(system._running) == 1


def test_windows_is_asked_by_path(monkeypatch, tmp_path):
    opened = []
    monkeypatch.setattr(sys, "platform", "win32")
    monkeypatch.setattr(os, "startfile", opened.append, raising=False)
    assert system.open_folder(tmp_path) == ""
    assert opened == [str(tmp_path)]


def test_windows_may_refuse(monkeypatch, tmp_path):
    def refuses(_path):
        raise OSError(1155, "No application is associated")

    monkeypatch.setattr(sys, "platform", "win32")
    monkeypatch.setattr(os, "startfile", refuses, raising=False)
    words = system.open_folder(tmp_path)
    assert "No application is associated" in words
    assert words.endswith("open it yourself.")


# Printing -----------------------------------------------------------------------------------------


@pytest.fixture
def sheet(tmp_path):
    path = tmp_path / "a b; $(touch spoilt).pdf"
    path.write_bytes(b"%PDF")
    return path


def test_printing_is_offered_where_there_is_a_program_for_it(opener, monkeypatch):
    monkeypatch.setattr(sys, "platform", "linux")
    assert not system.can_print()
    opener("lp")
    assert system.can_print()
    monkeypatch.setattr(sys, "platform", "win32")
    assert not system.can_print()


def test_the_queues_are_those_the_system_names(opener):
    opener("lpstat", '[ "$*" = "-e" ] && printf "Office_A3\\n\\n home \\n"')
    assert system.print_queues() == ("Office_A3", "home")


def test_no_queue_is_no_error(opener):
    opener("lpstat", "exit 0")
    assert system.print_queues() == ()


def test_a_file_is_sent_unscaled_on_its_paper_and_through_no_shell(opener, sheet, tmp_path):
    record = opener("lp")
    system.send_to_printer(sheet, "Office_A3", "A3")
    assert told(record) == [
        "-d", "Office_A3", "-o", "media=A3", "-o", "print-scaling=none", str(sheet)
    ]  # fmt: skip
    assert not (tmp_path / "spoilt").exists()


def test_what_the_printer_says_is_passed_on(opener, sheet):
    opener("lp", 'echo "lp: The printer is on fire." >&2; echo more >&2; exit 1')
    with pytest.raises(OutputError) as caught:
        system.send_to_printer(sheet, "home", "A4")
    words = caught.value.sentence()
    assert "The printer is on fire." in words
    assert "more" not in words
    assert "viewer" in words and "100 %" in words


def test_a_printing_system_that_never_answers_is_given_up(opener, monkeypatch):
    monkeypatch.setattr(system, "PRINTER_WAIT_S", 0.1)
    opener("lpstat", "while :; do :; done")
    with pytest.raises(OutputError, match="no answer within"):
        system.print_queues()


def test_without_the_program_that_is_said(opener, sheet):
    with pytest.raises(OutputError, match="no program lpstat"):
        system.print_queues()
    with pytest.raises(OutputError, match="no program lp"):
        system.send_to_printer(sheet, "home", "A4")


def test_a_program_that_cannot_run_is_said(opener, sheet):
    record = opener("lp")
    record.with_name("lp").write_bytes(b"\x7fELF no program at all")
    with pytest.raises(OutputError, match="did not take"):
        system.send_to_printer(sheet, "home", "A4")


def test_a_file_that_is_gone_is_not_sent(opener, sheet):
    record = opener("lp")
    sheet.unlink()
    with pytest.raises(OutputError, match="no longer there"):
        system.send_to_printer(sheet, "home", "A4")
    assert not record.exists()
