"""What the commands share: tables from files and standard input, and why they cannot be read."""

from __future__ import annotations

import io
import sys
from pathlib import Path

import pytest

from rigfit.command_parts import asked_text
from rigfit.errors import UsageError
from rigfit.records.trial_paste import parse_runs


def test_a_mark_of_byte_order_is_no_part_of_a_table(tmp_path: Path) -> None:
    (tmp_path / "runs.csv").write_bytes(b"\xef\xbb\xbfrpm,speed\n")
    assert asked_text(str(tmp_path / "runs.csv")) == "rpm,speed\n"


def test_a_table_cut_within_a_letter_is_refused_for_its_size(tmp_path: Path) -> None:
    (tmp_path / "runs.csv").write_bytes(b"x" * 1_000_000 + "é".encode() * 9)
    text = asked_text(str(tmp_path / "runs.csv"))
    assert "too large" in str(parse_runs(text).problems[0])


def test_no_text_on_standard_input_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    stream = io.TextIOWrapper(io.BytesIO(b"rpm\n\xff\xfe\n"), encoding="utf-8")
    monkeypatch.setattr(sys, "stdin", stream)
    with pytest.raises(UsageError, match="standard input: it is no plain text"):
        asked_text("-")


@pytest.mark.parametrize("name", ["none.csv", ".", "a\0b.csv"])
def test_a_file_that_cannot_be_read_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    monkeypatch.chdir(tmp_path)
    with pytest.raises(UsageError, match="cannot be read") as said:
        asked_text(name)
    assert said.value.where == name
