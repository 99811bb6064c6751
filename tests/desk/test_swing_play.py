"""The swing played in the window: it turns by itself to and fro, and anything else stops it."""

from __future__ import annotations

from itertools import pairwise

import pytest

from rigfit.desk.draft import Address
from rigfit.desk.settings import Settings
from rigfit.desk.swing_play import PAUSE_MS, STEP_DEG, Player
from rigfit.desk.swing_scrub import lock_deg, tilt_range
from rigfit.desk.window import Window
from tests.desk.harness import click, faults, press_key, take_keyboard, wait_for
from tests.desk.panels import demo_bench
from tests.desk.swinging_boat import swinging_bench


@pytest.fixture
def window(make_root, tmp_path):
    bench = swinging_bench(tmp_path)
    bench.settings = Settings()
    root = make_root()
    made = Window(root, bench, tmp_path / "settings")
    take_keyboard(root)
    made.run("view-swing")
    wait_for(root, lambda: made.body.drawing.is_painted and not made.body.drawing.pending)
    return made


def test_it_plays_by_a_key_and_stops_by_it(window):
    bench, player = window.bench, window.body.player
    press_key(window.root, "F6")
    assert player.is_playing
    wait_for(window.root, lambda: bench.look.tilt_deg >= 3.0 * STEP_DEG)
    press_key(window.root, "F6")
    assert not player.is_playing
    stood = bench.look.tilt_deg
    wait_for(window.root, lambda: not window.body.drawing.pending)
    window.root.after(3 * PAUSE_MS, lambda: bench.set_picture("profile"))
    wait_for(window.root, lambda: bench.look.picture == "profile")
    assert bench.look.tilt_deg == stood


@pytest.mark.parametrize("picture", ["swing", "swing-plan"])
def test_it_goes_to_both_ends_and_back(window, picture):
    bench = window.bench
    bench.set_picture(picture)
    lock = lock_deg(bench.report)
    low, high = tilt_range(bench.report, "swing") if picture == "swing" else (-lock, lock)
    seen = []

    def note(_change):
        look = bench.look
        seen.append(look.tilt_deg if picture == "swing" else look.steer_deg)

    player = Player(window.root, bench)  # its own, so that no time passes
    bench.listen(note)
    for _ in range(round(2.2 * (high - low) / STEP_DEG)):
        player._turn()
    player.stop()
    assert (min(seen), max(seen)) == (low, high)
    steps = [abs(b - a) for a, b in pairwise(seen)]
    assert max(steps) <= STEP_DEG + 1e-9
    assert min(steps) > 0.0


@pytest.mark.parametrize(
    "do",
    [
        lambda window: window.bench.type(Address("transom", "rake"), "9°"),
        lambda window: window.run("tilt-up"),
        lambda window: window.run("view-afloat"),
        lambda window: window.run("keys"),
        lambda window: press_key(window.root, "Escape"),
        lambda window: click(window.body.drawing.canvas, 40, 40),
    ],
    ids=["typing", "tilting", "another picture", "a page", "Escape", "a click in the drawing"],
)
def test_whatever_else_is_done_stops_it(window, do):
    window.run("play")
    wait_for(window.root, lambda: window.bench.look.tilt_deg > 0.0)
    do(window)
    assert not window.body.player.is_playing


def test_there_is_a_button_where_there_is_something_to_play(window):
    body = window.body
    button = body._play_button
    assert button.winfo_manager() and button.icon_name == "play"
    click(button)
    assert (body.player.is_playing, button.icon_name) == (True, "stop")
    click(button)
    assert (body.player.is_playing, button.icon_name) == (False, "play")
    assert faults(window.root) == []
    window.run("view-swing-worst")
    assert not button.winfo_manager()
    assert not window.bench.context().can_play
    window.run("view-swing-plan")
    assert button.winfo_manager()


def test_without_a_swing_nothing_plays(tmp_path, root):
    bench = demo_bench(tmp_path)
    player = Player(root, bench)
    player.toggle()
    assert not player.is_playing
