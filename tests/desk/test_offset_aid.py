"""The aid for a table of offsets: what is pasted or read is shown, and added as one step."""

from __future__ import annotations

import pytest

from rigfit.desk.kit import dialogs
from rigfit.desk.measurements import MeasurementsPanel
from rigfit.desk.offset_aid import text_in
from rigfit.records.pasted import LARGEST_BYTES
from tests.desk.harness import faults, press_key, screenshot, settle, take_keyboard
from tests.desk.panels import demo_bench, shown_panel

GOOD = "station;height;half breadth\n" + "".join(
    f"{ahead};{height};{half}\n"
    for ahead in (0, 2000, 4000)
    for height, half in ((0, 0), (250, 800), (650, 950))
)
BAD = "station;height;half breadth\n0;a lot;800\n"


@pytest.fixture
def bench(tmp_path):
    return demo_bench(tmp_path)


def opened(root, bench):
    panel = shown_panel(root, MeasurementsPanel, bench)
    group = panel.groups["offset"]
    assert not group.section.is_open
    group.section.unfold()
    settle(root)
    take_keyboard(root)
    return group


def copy(root, text):
    root.clipboard_clear()
    root.clipboard_append(text)


def test_a_pasted_table_is_added_as_one_step(root, bench):
    group, before = opened(root, bench), bench.draft
    copy(root, GOOD)
    group.aid.toggle()
    card = group.aid.card
    settle(root)
    assert "9 offsets at 3 sections" in card.said.text
    assert bench.draft == before
    assert root.focus_get() is card.add.keys_to
    press_key(root, "space")
    settle(root)
    assert len(bench.derived.job.offsets) == 9
    assert not group.aid.is_open
    assert bench.focus.table == "offset"
    bench.undo()
    assert bench.draft == before


def test_what_cannot_be_read_is_said_and_nothing_is_offered_for_it(root, bench):
    group = opened(root, bench)
    copy(root, BAD)
    group.aid.toggle()
    card = group.aid.card
    card.paste()
    settle(root)
    assert "a lot" in card.said.text
    assert not card.table.rows
    assert not card.add.winfo_manager()


def test_bare_numbers_follow_the_unit_of_entries(root, bench):
    group = opened(root, bench)
    heights = ((0, 0), (10, 30), (25, 37))
    copy(root, "\n".join(f"{x};{z};{y}" for x in (0, 20, 40) for z, y in heights))
    group.aid.toggle()
    in_mm = [item.ahead.value for item in group.aid.card.table.offsets]
    bench.set_units(entries="inch")
    in_inches = [item.ahead.value for item in group.aid.card.table.offsets]
    assert max(in_mm) == 40.0
    assert in_inches == pytest.approx([25.4 * value for value in in_mm])


def test_a_file_is_read_like_a_paste(root, bench, tmp_path, monkeypatch):
    path = tmp_path / "offsets.csv"
    path.write_text(GOOD, encoding="utf-8")

    class Answers:
        def open_path(self, _parent, _title, _kinds):
            return path

    monkeypatch.setattr(dialogs, "questions", Answers)
    group = opened(root, bench)
    copy(root, "")
    group.aid.toggle()
    group.aid.card.ask_file()
    assert len(group.aid.card.table.rows) == 9


def test_a_file_that_is_no_table_never_raises(tmp_path):
    missing = text_in(tmp_path / "none.csv")
    assert missing[0] == "" and missing[1].endswith("Choose another file.")
    assert text_in(tmp_path)[0] == ""
    binary = tmp_path / "picture.csv"
    binary.write_bytes(b"\x00\x01")
    assert "no text" in text_in(binary)[1]
    large = tmp_path / "large.csv"
    large.write_bytes(b"1" * (LARGEST_BYTES + 5000))
    assert len(text_in(large)[0]) == LARGEST_BYTES + 1
    old = tmp_path / "old.csv"
    old.write_bytes("höhe;1".encode("latin-1"))
    assert text_in(old) == ("höhe;1", "")


@pytest.mark.parametrize("text", [GOOD, BAD, ""])
@pytest.mark.parametrize(("appearance", "scale"), [("light", 1.0), ("dark", 2.0)])
def test_nothing_is_cut_off(make_root, bench, tmp_path, appearance, scale, text):
    root = make_root(appearance, scale, f"{round(384 * scale)}x{round(700 * scale)}")
    group = opened(root, bench)
    copy(root, text)
    group.aid.toggle()
    if text:
        group.aid.card.paste()
    settle(root)
    assert faults(root) == []
    screenshot(root, f"offsets-{appearance}-{scale}-{len(text)}", tmp_path)
    group.aid.close()
    settle(root)
    assert faults(root) == []
