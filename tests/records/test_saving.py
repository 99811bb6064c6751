"""Saving: the whole new file or the untouched old one, and a sentence when it cannot be done."""

import errno
import os
import stat

import pytest

from rigfit.errors import OutputError
from rigfit.records.saving import make_folder, write_whole


def refuse(number):
    def fail(*args, **kwargs):
        raise OSError(number, os.strerror(number))

    return fail


def test_a_new_file_holds_the_bytes(tmp_path):
    write_whole(tmp_path / "job.toml", b"\x00\xff\r\n")
    assert (tmp_path / "job.toml").read_bytes() == b"\x00\xff\r\n"


def test_text_paths_are_accepted(tmp_path):
    write_whole(str(tmp_path / "a"), b"1")
    assert (tmp_path / "a").read_bytes() == b"1"


def test_an_existing_file_is_replaced_and_nothing_else_is_left(tmp_path):
    path = tmp_path / "job.toml"
    path.write_bytes(b"old")
    write_whole(path, b"new")
    assert path.read_bytes() == b"new"
    assert [item.name for item in tmp_path.iterdir()] == ["job.toml"]


@pytest.mark.skipif(os.name == "nt", reason="permissions of POSIX")
@pytest.mark.parametrize("mode", [0o600, 0o640, 0o664])
def test_permissions_of_an_existing_file_are_kept(tmp_path, mode):
    path = tmp_path / "job.toml"
    path.write_bytes(b"old")
    path.chmod(mode)
    write_whole(path, b"new")
    assert stat.S_IMODE(path.stat().st_mode) == mode


@pytest.mark.skipif(os.name == "nt", reason="permissions of POSIX")
def test_a_new_file_follows_the_umask(tmp_path):
    before = os.umask(0o027)
    try:
        write_whole(tmp_path / "new", b"")
    finally:
        os.umask(before)
    assert stat.S_IMODE((tmp_path / "new").stat().st_mode) == 0o640


@pytest.mark.skipif(os.name == "nt", reason="links need a right there")
def test_a_link_is_followed_and_stays_a_link(tmp_path):
    target = tmp_path / "boats" / "real.toml"
    target.parent.mkdir()
    target.write_bytes(b"old")
    link = tmp_path / "link.toml"
    link.symlink_to(target)
    write_whole(link, b"new")
    assert link.is_symlink()
    assert target.read_bytes() == b"new"


@pytest.mark.parametrize("step", ["fsync", "replace"])
@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.ENOSPC, "the disk is full"),
        (errno.EROFS, "can only be read"),
        (errno.EACCES, "not permitted"),
        (errno.EIO, "fault"),
        (errno.EXDEV, "cannot be written"),
    ],
)
def test_a_fault_leaves_the_old_file_and_no_other(tmp_path, monkeypatch, step, number, words):
    path = tmp_path / "job.toml"
    path.write_bytes(b"old")
    monkeypatch.setattr(os, step, refuse(number))
    with pytest.raises(OutputError) as caught:
        write_whole(path, b"new")
    assert words in str(caught.value)
    assert "job.toml" in str(caught.value)
    assert path.read_bytes() == b"old"
    assert [item.name for item in tmp_path.iterdir()] == ["job.toml"]


def test_a_folder_closed_to_writing_is_named(tmp_path, monkeypatch):
    monkeypatch.setattr(os, "open", refuse(errno.EACCES))
    with pytest.raises(OutputError, match="not permitted; choose a folder of your own"):
        write_whole(tmp_path / "job.toml", b"new")
    assert list(tmp_path.iterdir()) == []


def test_an_interruption_cleans_up_and_goes_on(tmp_path, monkeypatch):
    def stop(handle):
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", stop)
    with pytest.raises(KeyboardInterrupt):
        write_whole(tmp_path / "job.toml", b"new")
    assert list(tmp_path.iterdir()) == []


def test_a_disk_without_permissions_still_saves(tmp_path, monkeypatch):
    path = tmp_path / "job.toml"
    path.write_bytes(b"old")
    monkeypatch.setattr(os, "chmod", refuse(errno.EPERM))
    write_whole(path, b"new")
    assert path.read_bytes() == b"new"


def test_a_missing_folder_is_named(tmp_path):
    with pytest.raises(OutputError, match="the folder does not exist; make the folder"):
        write_whole(tmp_path / "nowhere" / "job.toml", b"")


def test_a_file_in_place_of_a_folder_is_named(tmp_path):
    (tmp_path / "file").write_bytes(b"")
    with pytest.raises(OutputError, match="is a file, not a folder"):
        write_whole(tmp_path / "file" / "job.toml", b"")


def test_a_folder_is_no_file(tmp_path):
    with pytest.raises(OutputError, match="it is a folder; give a file name"):
        write_whole(tmp_path, b"")


@pytest.mark.skipif(os.name == "nt", reason="pipes of POSIX")
def test_a_pipe_is_not_replaced(tmp_path):
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(OutputError, match="device or pipe"):
        write_whole(tmp_path / "pipe", b"")
    assert stat.S_ISFIFO((tmp_path / "pipe").stat().st_mode)


def test_a_file_without_write_permission_is_respected(tmp_path):
    path = tmp_path / "job.toml"
    path.write_bytes(b"old")
    path.chmod(0o444)
    with pytest.raises(OutputError, match="the file is read-only"):
        write_whole(path, b"new")
    assert path.read_bytes() == b"old"


def test_a_file_of_somebody_else_is_respected(tmp_path, monkeypatch):
    path = tmp_path / "job.toml"
    path.write_bytes(b"old")
    monkeypatch.setattr(os, "access", lambda target, mode: False)
    with pytest.raises(OutputError, match="the file is read-only"):
        write_whole(path, b"new")
    assert path.read_bytes() == b"old"


@pytest.mark.parametrize(
    ("name", "words"), [("a\0b", "no disk accepts"), ("n" * 4000, "the name is too long")]
)
def test_impossible_names_are_explained_on_one_line(tmp_path, name, words):
    with pytest.raises(OutputError, match=words) as caught:
        write_whole(tmp_path / name, b"")
    assert str(caught.value).isprintable()


def test_make_folder_makes_all_above_and_welcomes_what_is_there(tmp_path):
    make_folder(tmp_path / "a" / "b")
    make_folder(tmp_path / "a" / "b")
    assert (tmp_path / "a" / "b").is_dir()


def test_make_folder_does_not_replace_a_file(tmp_path):
    (tmp_path / "a").write_bytes(b"kept")
    with pytest.raises(OutputError, match="a file of that name is in the way"):
        make_folder(tmp_path / "a")
    assert (tmp_path / "a").read_bytes() == b"kept"
