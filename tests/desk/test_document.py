"""The document: what is on disk and in the form survives saves that fail, crashes and others."""

import errno
import json
import os
import subprocess
import sys
import textwrap
import time
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigfit.desk import document as module
from rigfit.desk.document import ChangedOnDiskError, Document
from rigfit.desk.draft import Address, Draft
from rigfit.desk.form_state import derive
from rigfit.desk.recovery import Recoverable
from rigfit.desk.unsaved import SUFFIX, Unsaved, names_beside, read_unsaved, unsaved_bytes
from rigfit.errors import (
    EntryError,
    JobFileError,
    NewerFormatError,
    OutputError,
    UsageError,
)
from rigfit.records.job_file import demo_job_text, read_job
from rigfit.records.profiles import load_catalogue

KNOWN = load_catalogue()
RAKE = Address("transom", "rake")
NAME = Address("boat", "name")
REMARK = "digital level, ends swapped"


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "boats" / "dunlin.toml"
    path.parent.mkdir()
    path.write_text(demo_job_text(), encoding="utf-8")
    return path


@pytest.fixture
def folder(tmp_path):
    return tmp_path / "settings" / "unsaved"


@pytest.fixture
def document(folder):
    return Document(KNOWN, folder)


@pytest.fixture
def draft(document, path):
    """The demo boat, opened from a file."""
    return document.open(path)


def names(folder):
    return sorted(item.name for item in folder.iterdir()) if folder.exists() else []


def saved_draft(path):
    return Draft.from_job(read_job(path, KNOWN, engines_needed=False))


def refuse(number, monkeypatch, where=None):
    """Let every write fail; with ``where`` only those into that folder."""
    real = os.open

    def fail(name, *args, **kwargs):
        if where is None or Path(name).parent == where:
            raise OSError(number, os.strerror(number))
        return real(name, *args, **kwargs)

    monkeypatch.setattr(os, "open", fail)


# -- opening and saving --------------------------------------------------------------------------


def test_opening_gives_the_texts_and_the_path(document, draft, path):
    assert document.path == path
    assert draft.text(RAKE) == "13° ± 0.5°"
    assert not document.changed_on_disk()


def test_a_file_that_cannot_be_opened_leaves_the_document_as_it_was(document, draft, path):
    bad = path.with_name("bad.toml")
    bad.write_text("format = 1\n[transom]\nrake = '99'\n")
    with pytest.raises(EntryError, match="too large"):
        document.open(bad)
    with pytest.raises(JobFileError, match="no such file"):
        document.open(path.with_name("gone.toml"))
    assert document.path == path
    assert document.save(draft.with_text(RAKE, "14°")).path == path


def test_saving_keeps_remarks_and_says_so(document, draft, path):
    saved = document.save(draft.with_text(RAKE, "14°"))
    assert (saved.path, saved.left_out, saved.note) == (path, (), "")
    assert saved.sentence == "Saved dunlin.toml."
    assert saved_draft(path) == draft.with_text(RAKE, "14°")
    assert REMARK in path.read_text(encoding="utf-8")


def test_saving_again_and_again_is_no_change_by_others(document, draft, path):
    for number in range(3):
        document.save(draft.with_text(RAKE, f"13.{number}°"))
    assert saved_draft(path).text(RAKE) == "13.2°"


def test_a_boat_without_a_file_asks_for_a_name(document):
    document.begin(Draft.new("Sandpiper"))
    with pytest.raises(UsageError, match="no file yet"):
        document.save(Draft.new("Sandpiper"))


def test_a_half_filled_boat_is_saved_and_opened_again(document, path):
    draft = Draft.new("Sandpiper").remove_engine(0).with_text(RAKE, "13")
    document.begin(draft)
    target = path.with_name("sandpiper.toml")
    assert document.save_as(draft, target).left_out == ()
    again = Document(KNOWN).open(target)
    assert again.text(RAKE) == "13"
    assert derive(again, KNOWN).job == derive(draft, KNOWN).job


def test_saving_under_another_name_takes_the_remarks_along(document, draft, path):
    target = path.with_name("copy.toml")
    document.save_as(draft.with_text(RAKE, "14°"), target)
    assert document.path == target
    assert REMARK in target.read_text(encoding="utf-8")
    assert saved_draft(target).text(RAKE) == "14°"
    assert saved_draft(path) == draft


def test_another_boats_file_is_written_over_with_its_remarks(document, draft, path):
    other = path.with_name("other.toml")
    other.write_text("# a remark on another boat\nformat = 1\n[boat]\nname = 'Knot'\n")
    document.save_as(draft, other)
    assert "another boat" not in other.read_text(encoding="utf-8")
    assert saved_draft(other) == draft


@pytest.mark.parametrize(
    ("content", "error"),
    [(b"shopping", OutputError), (b"\x89PNG\x00", OutputError), (b"format = 2", NewerFormatError)],
)
def test_what_is_no_job_is_not_written_over(document, draft, path, content, error):
    other = path.with_name("list.txt")
    other.write_bytes(content)
    with pytest.raises(error):
        document.save_as(draft, other)
    assert other.read_bytes() == content
    assert document.path == path


def test_saving_under_its_own_name_is_saving(document, draft, path):
    path.write_text(demo_job_text() + "\n# by another window\n", encoding="utf-8")
    with pytest.raises(ChangedOnDiskError):
        document.save_as(draft.with_text(RAKE, "14°"), path)


def test_a_file_that_is_gone_is_made_again_with_its_remarks(document, draft, path):
    path.unlink()
    assert not document.changed_on_disk()
    document.save(draft.with_text(RAKE, "14°"))
    assert saved_draft(path).text(RAKE) == "14°"
    assert REMARK in path.read_text(encoding="utf-8")


def test_more_engines_than_a_file_may_hold_are_not_saved(document, draft, path):
    before = path.read_bytes()
    many = draft
    for _ in range(200):
        many = many.duplicate_engine(1)
    with pytest.raises(OutputError, match="could not be read back"):
        document.save(many)
    assert path.read_bytes() == before


# -- what a file cannot hold ---------------------------------------------------------------------


def test_entries_that_cannot_be_read_are_named_and_kept_beside_the_file(document, draft, path):
    typed = draft.with_text(RAKE, "steep").add_row("hole", name="drain", across="0")
    saved = document.save(typed)
    assert [item.address for item in saved.left_out] == [RAKE, Address("hole", "", 4)]
    assert saved.sentence == (
        "Saved dunlin.toml without 2 entries that it cannot hold. "
        "They stay in the form and beside the file."
    )
    assert saved_draft(path) == draft.with_text(RAKE, "")
    document.close()
    (item,) = Document(KNOWN).recoverable([path])
    assert not item.file_changed
    assert Document(KNOWN).recover(item) == typed


def test_one_entry_left_out_is_one_entry(document, draft):
    saved = document.save(draft.with_text(RAKE, "steep"))
    assert "without 1 entry that" in saved.sentence


def test_an_engine_without_a_class_does_not_spoil_the_file(document, draft, path):
    typed = draft.add_engine("E", mass="120 kg").with_text(Address("mounting", "engine"), "E")
    saved = document.save(typed)
    assert {item.address for item in saved.left_out} == {
        Address("engine", "", 4),
        Address("mounting", "engine"),
    }
    assert 'engine "E" is left out: it lacks the engine class.' in {
        item.sentence for item in saved.left_out
    }
    assert saved_draft(path).engine_ids == ("A", "B", "C", "D")


def test_once_it_is_mended_nothing_is_kept_beside_the_file(document, draft, path):
    document.save(draft.with_text(RAKE, "steep"))
    assert names(path.parent) == ["dunlin.toml", f"dunlin.toml{SUFFIX}"]
    document.save(draft.with_text(RAKE, "14°"))
    document.close()
    assert names(path.parent) == ["dunlin.toml"]


def test_autosave_does_not_drop_what_the_file_could_not_hold(document, draft, path):
    typed = draft.with_text(RAKE, "steep")
    document.save(typed)
    kept = document.autosave(typed)
    assert read_unsaved(kept).draft == typed


def test_what_is_kept_follows_when_a_later_change_is_taken_back(document, draft, path):
    typed = draft.with_text(RAKE, "steep")
    document.save(typed)
    assert read_unsaved(document.autosave(typed.with_text(RAKE, "x"))).draft.text(RAKE) == "x"
    assert read_unsaved(document.autosave(typed)).draft == typed


@pytest.mark.parametrize("is_full", [False, True])
def test_closing_keeps_what_the_last_save_left_out(document, draft, path, monkeypatch, is_full):
    typed = draft.with_text(RAKE, "steep")
    document.save(typed)
    later = typed.with_text(NAME, "not wanted")
    document.autosave(later)
    with monkeypatch.context() as patched:
        if is_full:
            refuse(errno.ENOSPC, patched)
        document.close()
    (item,) = Document(KNOWN).recoverable([path])
    assert Document(KNOWN).recover(item) == (later if is_full else typed)


def test_unsaved_work_that_somebody_removed_is_written_again(document, draft):
    mine = draft.with_text(RAKE, "14°")
    document.autosave(mine).unlink()
    assert read_unsaved(document.autosave(mine)).draft == mine


def test_unsaved_work_that_has_not_changed_is_not_written_again(document, draft):
    mine = draft.with_text(RAKE, "14°")
    kept = document.autosave(mine)
    os.utime(kept, (1, 1))
    assert document.autosave(mine) == kept
    assert kept.stat().st_mtime == 1


def test_it_is_said_when_left_out_entries_cannot_be_kept(document, draft, path, monkeypatch):
    real = module.write_whole

    def only_jobs(target, data):
        if SUFFIX in str(target):
            raise OutputError("the disk is full")
        real(target, data)

    monkeypatch.setattr(module, "write_whole", only_jobs)
    saved = document.save(draft.with_text(RAKE, "steep"))
    assert saved.sentence.endswith("They stay in the form only, and could not be kept on the disk.")


# -- two windows ---------------------------------------------------------------------------------


def test_a_file_changed_by_another_window_is_not_written_over(document, draft, path):
    other = Document(KNOWN)
    other.save(other.open(path).with_text(NAME, "Dunlin two"))
    before = path.read_bytes()
    assert document.changed_on_disk()
    with pytest.raises(ChangedOnDiskError) as caught:
        document.save(draft.with_text(RAKE, "14°"))
    assert "changed by another program or window" in caught.value.sentence()
    assert path.read_bytes() == before


def test_the_owner_may_overwrite_reload_or_save_elsewhere(document, draft, path):
    mine = draft.with_text(RAKE, "14°")
    path.write_text(demo_job_text().replace('"Dunlin"', '"Knot"'), encoding="utf-8")
    document.save_as(mine, path.with_name("mine.toml"))
    assert saved_draft(path).text(NAME) == "Knot"
    assert document.open(path).text(NAME) == "Knot"
    path.write_text(demo_job_text().replace('"Dunlin"', '"Ruff"'), encoding="utf-8")
    document.save(mine, overwrite=True)
    assert saved_draft(path) == mine
    assert not document.changed_on_disk()


def test_a_change_of_equal_size_and_time_is_seen_on_saving(document, draft, path):
    stat = path.stat()
    path.write_bytes(path.read_bytes().replace(b'"518 \xc2\xb1', b'"519 \xc2\xb1'))
    os.utime(path, ns=(stat.st_atime_ns, stat.st_mtime_ns))
    assert path.stat().st_size == stat.st_size
    with pytest.raises(ChangedOnDiskError):
        document.save(draft)


def test_a_file_only_touched_is_not_changed(document, draft, path):
    os.utime(path, (1, 1))
    assert not document.changed_on_disk()
    document.save(draft.with_text(RAKE, "14°"))


def test_two_windows_keep_their_unsaved_work_apart(document, draft, path):
    other = Document(KNOWN)
    theirs = other.open(path).with_text(RAKE, "15°")
    mine = draft.with_text(RAKE, "14°")
    assert document.autosave(mine) != other.autosave(theirs)
    assert document.autosave(mine.with_text(NAME, "x")) is not None
    found = {Document(KNOWN).recover(item) for item in Document(KNOWN).recoverable([path])}
    assert found == {mine.with_text(NAME, "x"), theirs}


# -- saves that fail -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.ENOSPC, "the disk is full"),
        (errno.EACCES, "not permitted"),
        (errno.EROFS, "can only be read"),
    ],
)
@pytest.mark.parametrize("way", ["save", "save_as"])
def test_a_save_that_fails_loses_nothing(document, draft, path, monkeypatch, number, words, way):
    mine = draft.with_text(RAKE, "14°")
    kept = document.autosave(mine)
    before = path.read_bytes()
    with monkeypatch.context() as patched:
        refuse(number, patched)
        with pytest.raises(OutputError, match=words):
            if way == "save":
                document.save(mine)
            else:
                document.save_as(mine, path.with_name("new.toml"))
    assert path.read_bytes() == before
    assert names(path.parent) == ["dunlin.toml", kept.name]
    assert read_unsaved(kept).draft == mine
    assert document.save(mine).path == path  # and once there is room it works
    assert names(path.parent) == ["dunlin.toml"]


@pytest.mark.parametrize("name", ["x" * 300 + ".toml", "a\0b.toml", "dunlin.toml/x", "gone/x", "."])
@pytest.mark.parametrize("has_file", [False, True])
def test_a_place_that_cannot_be_written_is_said(folder, path, name, has_file):
    document = Document(KNOWN, folder)
    draft = document.open(path)
    if not has_file:
        document.begin(draft)
    with pytest.raises(OutputError):
        document.save_as(draft, path.parent / name)
    assert document.path == (path if has_file else None)
    assert names(path.parent) == ["dunlin.toml"]


def test_a_folder_that_is_closed_meanwhile_is_said(document, draft, path, monkeypatch):
    real = os.stat

    def closed(name, *args, **kwargs):
        if isinstance(name, str | Path) and Path(name) == path:
            raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))
        return real(name, *args, **kwargs)

    with monkeypatch.context() as patched:
        patched.setattr(os, "stat", closed)
        refuse(errno.EACCES, patched)
        with pytest.raises(ChangedOnDiskError):
            document.save(draft.with_text(RAKE, "14°"))
        with pytest.raises(OutputError, match="not permitted"):
            document.save(draft.with_text(RAKE, "14°"), overwrite=True)
    assert saved_draft(path) == draft


def test_an_autosave_that_fails_keeps_the_one_before(document, draft, monkeypatch):
    kept = document.autosave(draft.with_text(RAKE, "14°"))
    with monkeypatch.context() as patched:
        refuse(errno.ENOSPC, patched)
        with pytest.raises(OutputError, match="disk is full"):
            document.autosave(draft.with_text(RAKE, "15°"))
    assert read_unsaved(kept).draft == draft.with_text(RAKE, "14°")
    assert document.autosave(draft.with_text(RAKE, "16°")) == kept


def test_in_a_read_only_folder_unsaved_work_goes_to_the_settings(
    document, draft, path, folder, monkeypatch
):
    mine = draft.with_text(RAKE, "14°")
    refuse(errno.EACCES, monkeypatch, where=path.parent)
    kept = document.autosave(mine)
    assert kept.parent == folder
    (item,) = Document(KNOWN, folder).recoverable()
    assert item.file == path
    again = Document(KNOWN, folder)
    assert again.recover(item) == mine
    assert again.path == path


# -- unsaved work --------------------------------------------------------------------------------


def test_unsaved_work_is_kept_beside_the_file_until_it_is_saved(document, draft, path):
    assert document.autosave(draft) is None
    kept = document.autosave(draft.with_text(RAKE, "14°"))
    assert kept == path.with_name(f"dunlin.toml{SUFFIX}")
    assert saved_draft(path) == draft
    document.save(draft.with_text(RAKE, "14°"))
    assert names(path.parent) == ["dunlin.toml"]


def test_unsaved_work_that_is_taken_back_is_removed(document, draft, path):
    document.autosave(draft.with_text(RAKE, "14°"))
    assert document.autosave(draft) is None
    assert names(path.parent) == ["dunlin.toml"]


def test_closing_removes_unsaved_work(document, draft, path):
    document.autosave(draft.with_text(RAKE, "14°"))
    document.close()
    assert names(path.parent) == ["dunlin.toml"]
    assert document.path is None


def test_discarding_removes_what_the_file_could_not_hold(document, draft, path):
    document.save(draft.with_text(RAKE, "steep"))
    document.close(discard=True)
    assert names(path.parent) == ["dunlin.toml"]


def test_a_new_boat_is_kept_in_the_settings_folder(document, folder, path):
    start = Draft.new()
    document.begin(start)
    assert document.autosave(start) is None
    typed = start.with_text(NAME, "Sandpiper").with_text(RAKE, "steep")
    kept = document.autosave(typed)
    assert kept.parent == folder
    again = Document(KNOWN, folder)
    (item,) = again.recoverable()
    assert (item.file, item.boat, item.trouble) == (None, "Sandpiper", "")
    assert again.recover(item) == typed
    assert again.path is None
    again.save_as(typed.with_text(RAKE, "13"), path.with_name("sandpiper.toml"))
    assert names(folder) == []


def test_two_new_boats_are_kept_apart(folder):
    for name in ("Knot", "Ruff"):
        document = Document(KNOWN, folder)
        document.begin(Draft.new())
        document.autosave(Draft.new(name))
    assert {item.boat for item in Document(KNOWN, folder).recoverable()} == {"Knot", "Ruff"}


def test_saving_under_a_name_removes_the_work_kept_under_the_old_one(document, draft, path):
    mine = draft.with_text(RAKE, "14°")
    document.autosave(mine)
    document.save_as(mine, path.with_name("mine.toml"))
    assert names(path.parent) == ["dunlin.toml", "mine.toml"]


def test_ones_own_work_is_not_offered_for_recovery(document, draft, path):
    document.autosave(draft.with_text(RAKE, "14°"))
    assert document.recoverable([path]) == ()


def test_ones_own_work_is_known_by_a_short_path_too(document, draft, path, monkeypatch):
    monkeypatch.chdir(path.parent)
    document.autosave(draft.with_text(RAKE, "14°"))
    assert document.recoverable([path.name]) == ()
    (item,) = Document(KNOWN).recoverable([path.name, path])
    assert item.unsaved.is_absolute()


def test_the_newest_work_comes_first(folder):
    for age, name in ((30, "Knot"), (10, "Ruff"), (20, "Stint")):
        document = Document(KNOWN, folder)
        document.begin(Draft.new())
        kept = document.autosave(Draft.new(name))
        moment = time.time() - age
        os.utime(kept, (moment, moment))
    found = Document(KNOWN, folder).recoverable()
    assert [item.boat for item in found] == ["Ruff", "Stint", "Knot"]


def test_work_the_file_holds_already_is_not_offered_and_goes(document, draft, path):
    mine = draft.with_text(RAKE, "14°")
    document.autosave(mine)
    other = Document(KNOWN)
    other.open(path)
    other.save(mine)
    assert Document(KNOWN).recoverable([path]) == ()
    assert names(path.parent) == ["dunlin.toml"]


def test_recovered_work_does_not_overwrite_what_came_after_it(document, draft, path):
    mine = draft.with_text(RAKE, "14°")
    document.autosave(mine)
    other = Document(KNOWN)
    other.save(other.open(path).with_text(NAME, "Knot"))
    again = Document(KNOWN)
    (item,) = again.recoverable([path])
    assert item.file_changed
    recovered = again.recover(item)
    with pytest.raises(ChangedOnDiskError):
        again.save(recovered)
    again.save(recovered, overwrite=True)
    assert saved_draft(path) == mine


def test_recovered_work_is_saved_without_asking_where_nothing_else_happened(document, draft, path):
    mine = draft.with_text(RAKE, "14°")
    document.autosave(mine)
    again = Document(KNOWN)
    (item,) = again.recoverable([path])
    assert not item.file_changed
    again.save(again.recover(item))
    assert saved_draft(path) == mine
    assert REMARK in path.read_text(encoding="utf-8")
    assert names(path.parent) == ["dunlin.toml"]


def test_work_on_a_file_that_is_gone_can_still_be_recovered(document, draft, path):
    mine = draft.with_text(RAKE, "14°")
    document.autosave(mine)
    path.unlink()
    again = Document(KNOWN)
    (item,) = again.recoverable([path])
    assert not item.file_changed
    again.save(again.recover(item))
    assert saved_draft(path) == mine


def test_work_can_be_discarded(document, draft, path):
    document.autosave(draft.with_text(RAKE, "14°"))
    other = Document(KNOWN)
    (item,) = other.recoverable([path])
    other.discard(item)
    assert names(path.parent) == ["dunlin.toml"]
    other.discard(item)  # gone already: as asked


def test_work_that_cannot_be_discarded_is_said(tmp_path):
    item = Recoverable(tmp_path, None, "", 0.0)
    with pytest.raises(OutputError, match="cannot be removed"):
        Document(KNOWN).discard(item)


GOOD = json.loads(unsaved_bytes(Unsaved(Draft.new("Knot"), None, "")))


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"{",
        b"[]",
        b"3",
        b"\xff\x00",
        b"[" * 100_000,
        json.dumps({**GOOD, "rigfit_unsaved": 0}).encode(),
        json.dumps({**GOOD, "rigfit_unsaved": "1"}).encode(),
        json.dumps({**GOOD, "file": 1}).encode(),
        json.dumps({**GOOD, "draft": {}}).encode(),
        json.dumps({**GOOD, "draft": {**GOOD["draft"], "boat": {"colour": "red"}}}).encode(),
        json.dumps({**GOOD, "draft": {**GOOD["draft"], "boat": {"name": 5}}}).encode(),
        json.dumps({**GOOD, "draft": {**GOOD["draft"], "hole": [5]}}).encode(),
        json.dumps({key: GOOD[key] for key in GOOD if key != "digest"}).encode(),
        unsaved_bytes(Unsaved(Draft.new("Knot"), None, ""))[:-20],
    ],
)
def test_damaged_work_is_reported_and_left_alone(document, draft, path, content):
    place = next(names_beside(path))
    place.write_bytes(content)
    (item,) = document.recoverable([path])
    assert "damaged" in item.trouble
    with pytest.raises(JobFileError):
        document.recover(item)
    assert document.path == path
    assert place.read_bytes() == content
    assert document.autosave(draft.with_text(RAKE, "14°")) != place


def test_work_of_a_newer_rigfit_says_so(document, draft, path):
    content = json.dumps({**GOOD, "rigfit_unsaved": 2}).encode()
    next(names_beside(path)).write_bytes(content)
    (item,) = document.recoverable([path])
    assert "recover it with a newer rigfit" in item.trouble


def test_a_folder_that_cannot_be_listed_holds_nothing(tmp_path):
    (tmp_path / "file").write_text("")
    odd = ["no\0name", tmp_path / "file" / "below"]
    assert Document(KNOWN, tmp_path / "file").recoverable(odd) == ()


@given(st.lists(st.tuples(st.sampled_from([RAKE, NAME]), st.text()), max_size=4))
def test_any_texts_are_recovered_as_they_were_typed(tmp_path_factory, typed):
    folder = tmp_path_factory.mktemp("unsaved")
    draft = Draft.new()
    for address, text in [*typed, (NAME, "half \ud800 a character")]:
        draft = draft.with_text(address, text)
    document = Document(KNOWN, folder)
    document.begin(Draft.new())
    document.autosave(draft)
    (item,) = Document(KNOWN, folder).recoverable()
    assert Document(KNOWN, folder).recover(item) == draft


def test_a_program_that_is_killed_loses_nothing(path, folder):
    program = textwrap.dedent(
        """
        import os, sys
        from pathlib import Path
        from rigfit.desk.document import Document
        from rigfit.desk.draft import Address
        from rigfit.records.profiles import load_catalogue

        document = Document(load_catalogue(), Path(sys.argv[2]))
        draft = document.open(sys.argv[1])
        draft = draft.with_text(Address("transom", "rake"), "about 14").add_row("hole", across="?")
        document.autosave(draft)
        print("kept", flush=True)
        sys.stdin.read()
        """
    )
    command = [sys.executable, "-c", program, str(path), str(folder)]
    root = str(Path(module.__file__).parents[2])
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join([root, *sys.path])}
    with subprocess.Popen(
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, env=environment, text=True
    ) as process:
        try:
            assert process.stdout.readline() == "kept\n"
        finally:
            process.kill()
    again = Document(KNOWN, folder)
    (item,) = again.recoverable([path])
    recovered = again.recover(item)
    assert recovered.text(RAKE) == "about 14"
    assert recovered.text(Address("hole", "across", 4)) == "?"
    assert saved_draft(path).text(RAKE) == "13° ± 0.5°"
