"""Settings: kept whole, broken ones answered with defaults and a sentence; recent files."""

import dataclasses
import errno
import json
import os
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigfit.desk import settings as module
from rigfit.desk.settings import (
    FILE_NAME,
    FOLDER_VARIABLE,
    MOST_RECENT,
    Settings,
    load_settings,
    recent_files,
    save_settings,
    settings_folder,
)
from rigfit.errors import OutputError


def full(name):
    return str(Path(name).absolute())


MINE = Settings(
    theme="dark",
    entries="inch",
    lengths="in",
    speeds="mph",
    scale=150,
    recent=(full("a.toml"),),
    last_file=full("a.toml"),
    window=(1280, 720),
    plain_corners=True,
)


def write(folder, text):
    (folder / FILE_NAME).write_text(text, encoding="utf-8")


def test_what_is_saved_is_read_again(tmp_path):
    assert all(
        getattr(MINE, item.name) != item.default for item in dataclasses.fields(Settings)
    )  # so that a forgotten one would show
    save_settings(MINE, tmp_path / "new" / "folder")
    assert load_settings(tmp_path / "new" / "folder") == (MINE, "")


def test_without_a_file_there_are_defaults_and_no_complaint(tmp_path):
    assert load_settings(tmp_path) == (Settings(), "")


@pytest.mark.parametrize(
    "text", ["", "{", "[]", "3", '"x"', "[" * 100_000, "\u00e9", "{'a': 1}", "NaN"]
)
def test_a_broken_file_gives_defaults_and_a_sentence(tmp_path, text):
    write(tmp_path, text)
    found, sentence = load_settings(tmp_path)
    assert found == Settings()
    assert sentence.startswith("The settings file ")
    assert sentence.endswith(" cannot be read; usual settings are taken instead.")


def test_bytes_that_are_no_text_give_defaults(tmp_path):
    (tmp_path / FILE_NAME).write_bytes(b"\xff\x00\xfe")
    assert load_settings(tmp_path)[0] == Settings()


def test_a_folder_in_place_of_the_file_gives_defaults(tmp_path):
    (tmp_path / FILE_NAME).mkdir()
    found, sentence = load_settings(tmp_path)
    assert found == Settings()
    assert "cannot be read" in sentence


def test_unknown_names_are_passed_over_and_not_kept(tmp_path):
    write(tmp_path, '{"theme": "dark", "colour": "pink"}')
    found, sentence = load_settings(tmp_path)
    assert (found, sentence) == (Settings(theme="dark"), "")
    save_settings(found, tmp_path)
    assert "colour" not in json.loads((tmp_path / FILE_NAME).read_text())


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("theme", "pink"),
        ("theme", None),
        ("entries", "feet"),
        ("lengths", 3),
        ("speeds", ["kn"]),
        ("scale", 99),
        ("scale", 301),
        ("scale", True),
        ("scale", 150.5),
        ("recent", "a.toml"),
        ("recent", [1]),
        ("recent", [""]),
        ("recent", ["x"] * (MOST_RECENT + 1)),
        ("last_file", None),
        ("window", [100]),
        ("window", [1280, -1]),
        ("window", [1280, "720"]),
        ("window", {}),
        ("plain_corners", 1),
    ],
)
def test_a_bad_value_is_named_and_the_others_are_kept(tmp_path, name, value):
    good = "scale" if name == "theme" else "theme"
    kept = {"scale": 200, "theme": "light"}[good]
    write(tmp_path, json.dumps({name: value, good: kept}))
    found, sentence = load_settings(tmp_path)
    assert found == dataclasses.replace(Settings(), **{good: kept})
    assert f"has no usable value for {name};" in sentence


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(),
    lambda inner: st.lists(inner) | st.dictionaries(st.text(), inner),
)
NAMES = st.sampled_from([item.name for item in dataclasses.fields(Settings)])


@given(data=st.dictionaries(NAMES, JSON))
def test_any_values_at_all_give_settings_that_can_be_saved(tmp_path_factory, data):
    folder = tmp_path_factory.mktemp("settings")
    write(folder, json.dumps(data))
    found, _ = load_settings(folder)
    save_settings(found, folder)
    assert load_settings(folder) == (found, "")


def test_a_full_disk_keeps_the_old_settings(tmp_path, monkeypatch):
    save_settings(MINE, tmp_path)

    def refuse(*_):
        raise OSError(errno.ENOSPC, "no space")

    monkeypatch.setattr(os, "fsync", refuse)
    with pytest.raises(OutputError, match="disk is full"):
        save_settings(Settings(), tmp_path)
    assert load_settings(tmp_path)[0] == MINE


def test_the_folder_can_be_given_by_the_environment(tmp_path, monkeypatch):
    monkeypatch.setenv(FOLDER_VARIABLE, str(tmp_path))
    assert settings_folder() == tmp_path
    save_settings(MINE)
    assert load_settings()[0] == MINE
    assert (tmp_path / FILE_NAME).is_file()


def test_without_it_the_users_own_folder_is_taken(monkeypatch):
    monkeypatch.delenv(FOLDER_VARIABLE, raising=False)
    assert settings_folder().is_absolute()
    assert "rigfit" in settings_folder().parts


def test_the_newest_file_comes_first_and_once():
    settings = Settings()
    for name in ("a.toml", "b.toml", "a.toml"):
        settings = settings.with_recent(name)
    assert settings.recent == (full("a.toml"), full("b.toml"))
    assert settings.last_file == full("a.toml")


def test_at_most_ten_files_are_remembered():
    settings = Settings()
    for number in range(12):
        settings = settings.with_recent(f"{number}.toml")
    assert len(settings.recent) == MOST_RECENT
    assert settings.recent[0] == full("11.toml")


def test_a_file_can_be_forgotten():
    settings = Settings().with_recent("a.toml").with_recent("b.toml")
    assert settings.without_recent("b.toml").recent == (full("a.toml"),)


def test_files_that_are_gone_are_marked(tmp_path):
    there = tmp_path / "there.toml"
    there.write_text("")
    settings = Settings().with_recent(tmp_path / "gone.toml").with_recent(there)
    settings = dataclasses.replace(settings, recent=(*settings.recent, "no\0name"))
    assert [item.is_there for item in recent_files(settings)] == [True, False, False]


def test_every_setting_is_checked():
    assert set(module._CHECKS) == {item.name for item in dataclasses.fields(Settings)}
