"""Files dropped on the window, with and without the optional library."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from rigfit.desk.drop import _dropped, accept_files, dropped_paths
from rigfit.desk.kit.base import Area
from tests.desk.harness import settle


@pytest.fixture
def target(root):
    area = Area(root)
    area.pack(fill="both", expand=True)
    settle(root)
    return area


@pytest.mark.parametrize(
    ("data", "paths"),
    [
        ("/boats/a.toml", ["/boats/a.toml"]),
        ("{/boats/of the yard/a.toml} /b.toml", ["/boats/of the yard/a.toml", "/b.toml"]),
        ("", []),
        ("{unbalanced", []),
    ],
)
def test_what_was_dropped_is_read_as_paths(target, data, paths):
    assert dropped_paths(target, data) == [Path(item) for item in paths]


def test_the_first_file_is_handed_over_after_the_drop(target):
    got = []
    assert _dropped(target, "{/a b.toml} /c.toml", got.append) == "copy"
    assert got == []
    settle(target)
    assert got == [Path("/a b.toml")]


def test_with_the_library_the_widget_takes_files(target):
    pytest.importorskip("tkinterdnd2")
    assert accept_files(target, lambda _path: None)


def test_without_the_library_the_form_goes_on(target, monkeypatch):
    monkeypatch.setitem(sys.modules, "tkinterdnd2", None)
    assert not accept_files(target, lambda _path: None)
