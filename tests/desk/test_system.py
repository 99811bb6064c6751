"""Folders and files opened by the system's own program: which one, with what, and what if not."""

import os
import sys
import time

import pytest

from rigfit.desk import system

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
