"""Asking for files: the desktop's own program where there is one, else Tk's dialog."""

import tkinter as tk
from pathlib import Path

import pytest

from rigfit.desk.kit import dialogs, file_dialogs
from rigfit.desk.kit.base import Area
from tests.desk.harness import settle, take_keyboard

KINDS = [("rigfit jobs", "*.rigfit.toml"), ("all files", "*")]


@pytest.fixture
def program(tmp_path, monkeypatch):
    """Put a dialog program on the path, the only one there, with an answer and an exit status."""
    programs = tmp_path / "programs"
    programs.mkdir()
    monkeypatch.setenv("PATH", str(programs))
    monkeypatch.delenv("XDG_CURRENT_DESKTOP", raising=False)

    def make(name, answer="", status=0, more=""):
        path = programs / name
        lines = f'printf "%s\\n" "$@" > "$0.told"\n{more}\n'
        lines += f"printf '%s\\n' '{answer}'\n" if answer else ""
        path.write_text(f"#!/bin/sh\n{lines}exit {status}\n")
        path.chmod(0o755)
        return programs / f"{name}.told"

    return make


@pytest.fixture
def tk_asked(monkeypatch):
    asked = []
    for name, answer in (
        ("askopenfilename", "/tk/open.toml"),
        ("asksaveasfilename", ""),
        ("askdirectory", "/tk/folder"),
    ):

        def ask(answer=answer, name=name, **how):
            asked.append((name, how))
            return answer

        monkeypatch.setattr(f"tkinter.filedialog.{name}", ask)
    return asked


def ask(root, wanted, start=Path("/boats/skiff.toml")):
    asks = dialogs.questions()
    if wanted == "open":
        return asks.open_path(root, "Open a boat", KINDS)
    if wanted == "save":
        return asks.save_path(root, "Save a boat", KINDS, suggestion=start)
    return asks.folder_path(root, "Choose a folder", suggestion=start)


def test_zenity_is_asked_with_title_kinds_and_place(root, program, tk_asked):
    told = program("zenity", "/boats/my dunlin.toml")
    assert ask(root, "save") == Path("/boats/my dunlin.toml")
    words = told.read_text().splitlines()
    assert {"--file-selection", "--save", "--confirm-overwrite"} <= set(words)
    assert "--title=Save a boat" in words
    assert "--filename=/boats/skiff.toml" in words
    assert "--file-filter=rigfit jobs | *.rigfit.toml" in words
    assert tk_asked == []


def test_a_folder_begins_inside_the_one_proposed(root, program):
    told = program("zenity", "/boats")
    assert ask(root, "folder", Path("/boats/old")) == Path("/boats")
    words = told.read_text().splitlines()
    assert "--directory" in words
    assert "--filename=/boats/old/" in words


@pytest.mark.parametrize(
    ("wanted", "option"),
    [
        ("open", "--getopenfilename"),
        ("save", "--getsavefilename"),
        ("folder", "--getexistingdirectory"),
    ],
)
def test_kdialog_is_asked_where_there_is_only_that(root, program, tk_asked, wanted, option):
    told = program("kdialog", "/boats/a")
    assert ask(root, wanted) == Path("/boats/a")
    words = told.read_text().splitlines()
    assert words[0] == "--title"
    assert words[2] == option
    filters = ["rigfit jobs (*.rigfit.toml)|all files (*)"] if wanted != "folder" else []
    assert words[4:] == filters
    assert tk_asked == []


@pytest.mark.parametrize(("desktop", "first"), [("KDE", "kdialog"), ("GNOME", "zenity")])
def test_the_desktop_decides_which_comes_first(root, program, monkeypatch, desktop, first):
    program("zenity", "/zenity")
    program("kdialog", "/kdialog")
    monkeypatch.setenv("XDG_CURRENT_DESKTOP", f"X-other:{desktop}")
    assert ask(root, "open") == Path(f"/{first}")


def test_cancelling_there_is_an_answer(root, program, tk_asked):
    program("zenity", "", status=1)
    assert ask(root, "open") is None
    assert tk_asked == []


@pytest.mark.parametrize(
    ("status", "complaint"), [(255, "it broke"), (1, "Unable to open display: no such thing")]
)
def test_a_program_that_fails_leaves_it_to_tk(root, program, tk_asked, status, complaint):
    program("zenity", "", status=status, more=f"echo '{complaint}' >&2")
    assert ask(root, "open") == Path("/tk/open.toml")
    assert tk_asked[0][1]["title"] == "Open a boat"


def test_what_is_no_program_leaves_it_to_tk(root, program, tk_asked):
    told = program("zenity")
    told.with_name("zenity").write_bytes(b"\x7fELF no program at all")
    assert ask(root, "folder", Path("/boats")) == Path("/tk/folder")
    assert tk_asked[0][1]["initialdir"] == "/boats"


def test_without_any_program_tk_asks(root, program, tk_asked):
    assert ask(root, "open") == Path("/tk/open.toml")
    assert ask(root, "save") is None
    assert (tk_asked[1][1]["initialdir"], tk_asked[1][1]["initialfile"]) == ("/boats", "skiff.toml")


def test_the_window_lives_on_but_takes_no_keys(root, program, tmp_path):
    entry = tk.Entry(root)
    entry.pack()
    take_keyboard(root)
    entry.focus_set()
    settle(root)
    go, seen = tmp_path / "go", []
    program("zenity", "/boats/a", more=f'while [ ! -e "{go}" ]; do :; done')

    def look():
        seen.append((root.focus_get() is entry, root.grab_current() is not None))
        go.write_text("")

    root.after(100, look)
    assert ask(root, "open") == Path("/boats/a")
    settle(root)
    assert seen == [(False, True)]
    assert root.focus_get() is entry
    assert root.grab_current() is None


def test_a_window_closed_meanwhile_ends_the_program(make_root, program):
    root = make_root()
    area = Area(root)
    program("zenity", more="while :; do :; done")
    root.after(100, root.close)
    root.close = lambda: None  # the fixture closes what is still open
    assert file_dialogs.ask_path(area, "save", "Save", KINDS, Path("/a/b")) is None
