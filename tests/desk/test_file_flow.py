"""Files: nothing is lost without being asked about, and every failure is a sentence."""

from __future__ import annotations

import errno
import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from rigfit.desk.banner import Banner
from rigfit.desk.draft import Address
from rigfit.desk.file_flow import FileFlow
from rigfit.desk.kit.dialogs import Questions, ask_through
from rigfit.desk.settings import Settings
from rigfit.desk.workbench import Workbench
from rigfit.errors import OutputError
from rigfit.records import saving
from rigfit.records.profiles import load_catalogue

RAKE = Address("transom", "rake")


class Scripted(Questions):
    """Answers what it was told to, in order, and keeps what was asked."""

    def __init__(self) -> None:
        self.answers: list[str] = []
        self.paths: list[Path | None] = []
        self.asked: list[str] = []
        self.offered: list[list[str]] = []

    def ask(self, parent: Any, title: str, text: str, choices: Any) -> str:
        self.asked.append(f"{title} {text}")
        self.offered.append(list(choices))
        answer = self.answers.pop(0)
        assert answer in {*choices, ""}
        return answer

    def open_path(self, *given: Any, **named: Any) -> Path | None:
        return self.paths.pop(0)

    def save_path(self, *given: Any, **named: Any) -> Path | None:
        self.suggestion = named["suggestion"]
        return self.paths.pop(0)


class Desk:
    """A workbench with its file flow, and what was said."""

    def __init__(self, root: Any, folder: Path) -> None:
        self.folder = folder
        self.bench = Workbench(load_catalogue(), Settings(), folder / "unsaved")
        self.banner = Banner(root)
        self.said: list[tuple[str, str]] = []
        self.settled = 0
        self.flow = FileFlow(root, self.bench, self.banner, self.say, self.settle)
        self.questions = Scripted()

    def say(self, text: str, kind: str = "note") -> None:
        self.said.append((text, kind))

    def settle(self) -> None:
        self.settled += 1

    def saved(self, name: str = "dunlin.toml") -> Path:
        path = self.folder / name
        self.bench.save_as(path)
        return path

    def edit(self, text: str = "15 deg") -> None:
        self.bench.type(RAKE, text)


@pytest.fixture
def desk(root: Any, tmp_path: Path) -> Iterator[Desk]:
    made = Desk(root, tmp_path)
    undo = ask_through(made.questions)
    made.flow.demo()
    yield made
    undo()
    assert not made.questions.answers, "a question was not asked"


def full_disk(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_given: Any) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(saving.os, "fsync", fail)


# ---------------------------------------------------------------- leaving a boat


def test_a_saved_boat_is_left_without_a_question(desk):
    desk.flow.new()
    assert desk.questions.asked == []
    assert desk.bench.boat_name == "Unnamed boat"
    assert desk.settled == 2


@pytest.mark.parametrize("answer", ["stay", ""])
@pytest.mark.parametrize("leave", ["new", "demo"])
def test_going_back_keeps_everything(desk, answer, leave):
    desk.edit()
    before = desk.bench.draft
    desk.questions.answers = [answer]
    getattr(desk.flow, leave)()
    assert desk.bench.draft is before
    assert not desk.bench.is_saved


def test_not_saving_leaves_nothing_on_the_disk(desk):
    path = desk.saved()
    held = path.read_bytes()
    desk.edit()
    desk.bench.autosave()
    desk.questions.answers = ["discard"]
    desk.flow.new()
    assert path.read_bytes() == held
    assert desk.bench.document.recoverable([path]) == ()


def test_saving_on_the_way_out_saves_first(desk):
    path = desk.saved()
    desk.edit()
    desk.questions.answers = ["save"]
    desk.flow.new()
    assert "15 deg" in path.read_text()
    assert not desk.bench.draft.text(RAKE)


def test_a_save_given_up_on_the_way_out_stays(desk):
    desk.edit()
    desk.questions.answers, desk.questions.paths = ["save"], [None]
    desk.flow.new()
    assert desk.bench.boat_name == "Dunlin"


# ---------------------------------------------------------------- opening


def test_a_file_is_opened_and_remembered(desk):
    path = desk.saved()
    desk.flow.new()
    desk.questions.paths = [path]
    desk.flow.ask_open()
    assert desk.bench.boat_name == "Dunlin"
    assert desk.bench.settings.recent == (str(path),)


def test_no_file_chosen_is_no_change(desk):
    before = desk.bench.draft
    desk.questions.paths = [None]
    desk.flow.ask_open()
    assert desk.bench.draft is before


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"not = [a job",
        b"\xff\xfe\x00",
        b"format = 99\n",
        b"x" * 3_000_000,
        b"[boat]\nhull = 1\n",
    ],
)
def test_a_bad_file_is_a_sentence_and_the_boat_stays(desk, content):
    path = desk.folder / "bad.toml"
    path.write_bytes(content)
    desk.edit()
    desk.questions.answers = ["save"]
    desk.questions.paths = [desk.folder / "kept.toml"]
    before = desk.bench.draft
    assert not desk.flow.open(path)
    assert desk.bench.draft is before
    assert desk.banner.key == "open"


def test_changes_given_up_for_a_file_that_cannot_be_opened_stay_with_their_own(desk):
    path = desk.saved()
    desk.edit()
    (desk.folder / "bad.toml").write_text("not = [a job")
    desk.questions.answers = ["discard"]
    assert not desk.flow.open(desk.folder / "bad.toml")
    assert desk.bench.draft.text(RAKE) == "15 deg"
    assert desk.bench.document.path == path
    assert desk.flow.save()
    assert "15 deg" in path.read_text()


def test_a_recent_file_that_is_gone_is_dropped(desk):
    path = desk.saved()
    path.unlink()
    assert not desk.flow.open(path)
    assert desk.bench.settings.recent == ()
    assert desk.banner.key == "open"


# ---------------------------------------------------------------- saving


def test_a_new_boat_gets_a_name_with_an_ending(desk):
    desk.edit()
    desk.questions.paths = [desk.folder / "my dunlin"]
    assert desk.flow.save()
    assert (desk.folder / "my dunlin.toml").exists()
    assert desk.questions.suggestion.name == "dunlin.toml"
    assert desk.said[-1][1] == "ok"


def test_an_ending_that_meets_a_file_is_asked_about(desk):
    path = desk.saved()
    held = path.read_bytes()
    desk.edit()
    desk.questions.paths, desk.questions.answers = [desk.folder / "dunlin"], ["keep"]
    assert not desk.flow.save_as()
    assert path.read_bytes() == held


def test_a_full_disk_is_a_sentence_and_the_work_stays(desk, monkeypatch):
    path = desk.saved()
    held = path.read_bytes()
    desk.edit()
    full_disk(monkeypatch)
    desk.questions.answers = [""]
    assert not desk.flow.save()
    assert path.read_bytes() == held
    assert desk.bench.draft.text(RAKE) == "15 deg"
    assert "still in the form" in desk.questions.asked[0]
    assert desk.said[-1][1] == "error"


def test_from_a_folder_that_cannot_be_written_one_saves_elsewhere(desk, monkeypatch):
    desk.saved()
    desk.edit()
    real = saving.write_whole
    other = desk.folder / "elsewhere.toml"

    def guarded(path: Path, data: bytes) -> None:
        if path != other:
            raise OutputError("the folder cannot be written", where=str(path))
        real(path, data)

    for module in ("rigfit.desk.document", "rigfit.records.job_file"):
        monkeypatch.setattr(f"{module}.write_whole", guarded)
    desk.questions.answers, desk.questions.paths = ["as"], [other]
    assert desk.flow.save()
    assert "15 deg" in other.read_text()


@pytest.mark.parametrize(
    ("answer", "on_disk", "in_form", "saved"),
    [("over", "15 deg", "15 deg", True), ("load", "14 deg", "14 deg", False),
     ("", "14 deg", "15 deg", False)],
)  # fmt: skip
def test_a_file_changed_by_somebody_else_is_asked_about(desk, answer, on_disk, in_form, saved):
    path = desk.saved()
    path.write_text(path.read_text().replace("13° ± 0.5°", "14 deg"))
    desk.edit()
    desk.questions.answers = [answer]
    assert desk.flow.save() is saved
    assert f'rake = "{on_disk}"' in path.read_text()
    assert desk.bench.draft.text(RAKE) == in_form


def test_a_changed_file_is_noticed_once(desk):
    path = desk.saved()
    desk.flow.look_at_disk()
    assert desk.banner.key == ""
    path.write_text(path.read_text().replace("13° ± 0.5°", "14 deg"))
    desk.flow.look_at_disk()
    assert desk.banner.key == "disk"
    desk.banner.hide("disk")
    desk.flow.look_at_disk()
    assert desk.banner.key == ""


def test_loading_again_can_be_taken_back(desk):
    path = desk.saved()
    desk.edit()
    path.write_text(path.read_text().replace("13° ± 0.5°", "14 deg"))
    desk.flow.reload()
    assert desk.bench.draft.text(RAKE) == "14 deg"
    desk.bench.undo()
    assert desk.bench.draft.text(RAKE) == "15 deg"


# ---------------------------------------------------------------- after a crash


def crashed(desk: Desk) -> Desk:
    """Leave unsaved work behind, as a program that was killed does."""
    desk.edit("about fifteen")
    desk.bench.autosave()
    return desk


@pytest.mark.parametrize("has_file", [True, False])
def test_unsaved_work_is_offered_and_taken_up(desk, root, tmp_path, has_file):
    path = desk.saved() if has_file else None
    crashed(desk)
    again = Desk(root, tmp_path)
    if path:
        again.bench.settings = again.bench.settings.with_recent(path)
    again.flow.offer_recovery()
    key = again.banner.key
    assert key.startswith("recover")
    assert "Dunlin" in again.banner.text
    again.banner.answer("recover")
    assert again.bench.draft.text(RAKE) == "about fifteen"
    assert not again.bench.is_saved
    assert again.bench.document.path == path


def test_unsaved_work_can_be_thrown_away(desk, root, tmp_path):
    crashed(desk)
    again = Desk(root, tmp_path)
    again.flow.offer_recovery()
    again.banner.answer("discard")
    assert again.bench.document.recoverable() == ()
    assert not again.bench.has_boat


def test_later_keeps_it(desk, root, tmp_path):
    crashed(desk)
    again = Desk(root, tmp_path)
    again.flow.offer_recovery()
    again.banner.answer("later")
    assert len(again.bench.document.recoverable()) == 1


def test_opening_a_file_offers_what_was_left_beside_it(desk, root, tmp_path):
    path = desk.saved()
    crashed(desk)
    again = Desk(root, tmp_path)
    assert again.flow.open(path)
    assert again.banner.key.startswith("recover")


def test_damaged_work_is_named_and_can_go(desk, root, tmp_path):
    crashed(desk)
    (work,) = [item for item in (tmp_path / "unsaved").iterdir() if item.is_file()]
    work.write_bytes(b"{ broken")
    again = Desk(root, tmp_path)
    again.flow.offer_recovery()
    assert again.banner.key.startswith("recover")
    again.banner.answer("discard")
    assert not work.exists()
