"""How fast the screen follows: one edit painted anew, the engine alone, against a full draw.

The full draw is matplotlib's own of the same scene, words included, at the same size, in one run.
What goes through a window is measured on a virtual display, from the event to the last pixel.
"""

import statistics
import time

import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from rigfit.desk.draft import Address, Draft
from rigfit.desk.form_state import derive
from rigfit.desk.painter import paint, words_of
from rigfit.desk.view import View
from rigfit.drawing.palette import LIGHT
from rigfit.drawing.scene import Scene
from rigfit.drawing.side_view import side_items, side_layers
from rigfit.drawing.to_axes import draw_scene
from rigfit.records.profiles import load_catalogue
from rigfit.units import Shown
from tests.demo_reports import demo_in, report_on
from tests.desk import harness

VIEW = View(1000, 700, (50.0, 350.0), 2.2)
RUNS, WINDOW_RUNS = 15, 120
PANE = (900, 640)
DRAG_TIMES = 8.0  # faster than a full draw
KEY_SHARE = 0.5  # of a full draw, which takes some 25 ms where nothing else runs


def median_ms(action):
    action()
    spent = []
    for _ in range(RUNS):
        begin = time.perf_counter()
        action()
        spent.append(1000.0 * (time.perf_counter() - begin))
    return statistics.median(spent)


def full_draw(view=VIEW):
    """Return a function that draws the demo's profile, words and all, as matplotlib does."""
    figure = Figure(figsize=(view.width / 96.0, view.height / 96.0), dpi=96)
    canvas = FigureCanvasAgg(figure)
    axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    items = side_items(report_on("B-mm"), view.scene_scale, Shown())
    left, top = view.to_model((0.0, 0.0))
    right, bottom = view.to_model((view.width, view.height))
    axes.set_xlim(left, right)
    axes.set_ylim(bottom, top)
    draw_scene(Scene("", items, view.scene_scale), axes, LIGHT)
    return canvas.draw


def test_an_edit_from_text_to_pixels(benchmark):
    draft, catalogue = Draft.from_job(demo_in()), load_catalogue()
    rake = Address("transom", "rake")
    texts = iter(f"13.{number % 100:02d}" for number in range(10**6))

    def edit():
        report = derive(draft.with_text(rake, next(texts)), catalogue).report
        layers = side_layers(report, VIEW.scene_scale, Shown())
        items = (*layers.under, *layers.moving, *layers.over)
        return paint(items, VIEW, LIGHT), words_of(items, VIEW)

    benchmark(edit)
    full = median_ms(full_draw())
    benchmark.extra_info |= {"full_draw_ms": full}
    assert benchmark.stats.stats.median * 1000.0 < full


def test_the_shapes_of_the_profile(benchmark):
    layers = side_layers(report_on("B-mm"), VIEW.scene_scale, Shown())
    items = (*layers.under, *layers.moving, *layers.over)
    benchmark(paint, items, VIEW, LIGHT)
    full = median_ms(full_draw())
    benchmark.extra_info |= {"times_faster": full / (benchmark.stats.stats.median * 1000.0)}
    assert full > 2.0 * benchmark.stats.stats.median * 1000.0


# -- through the window ---------------------------------------------------------------------------


@pytest.fixture
def pane(display, tmp_path):
    from rigfit.desk.drawing_pane import DrawingPane
    from rigfit.desk.kit.root import Root
    from rigfit.desk.settings import Settings
    from rigfit.desk.workbench import Workbench

    root = Root("light", 1.0)
    root.wm_geometry(f"{PANE[0]}x{PANE[1]}+0+0")
    bench = Workbench(load_catalogue(), Settings(), tmp_path)
    bench.begin_demo()
    made = DrawingPane(root, bench)
    made.pack(fill="both", expand=True)
    harness.wait_for(root, lambda: made.is_painted and not made.pending)
    yield made
    bench.close(discard=True)
    root.close()


def against_full(benchmark, view):
    """Note and return the median in ms and how often it goes into a full draw."""
    spent, full = 1000.0 * benchmark.stats.stats.median, median_ms(full_draw(view))
    benchmark.extra_info |= {"full_draw_ms": full, "times_faster": full / spent}
    return spent, full


def pressed_on_engine(pane):
    """Press on the engine; return where, and how many pixels up each other height is."""
    x, y = map(round, pane.view.to_screen((330.0, 250.0)))
    pane.canvas.event_generate("<ButtonPress-1>", x=x, y=y)
    mounted = pane.bench.report.mounted
    ups = [
        round((item.lift.value - mounted.lift.value) / pane.view.mm_per_px)
        for item in pane.bench.options
        if item.is_possible and item != mounted
    ]
    return x, y, ups


def test_a_frame_of_dragging_the_engine(pane, benchmark):
    x, y, ups = pressed_on_engine(pane)
    at = iter(range(10**9))

    def frame():
        pane.canvas.event_generate("<B1-Motion>", x=x, y=y - ups[next(at) % len(ups)])
        pane.update_idletasks()

    benchmark.pedantic(frame, rounds=WINDOW_RUNS, warmup_rounds=5)
    pane.canvas.event_generate("<ButtonRelease-1>", x=x, y=y)
    spent, full = against_full(benchmark, pane.view)
    assert full > DRAG_TIMES * spent


def test_the_first_frame_at_a_height(pane, benchmark):
    def begin():
        pane.canvas.focus_force()
        pane.canvas.event_generate("<Key-Escape>")
        pane.update()
        x, y, ups = pressed_on_engine(pane)
        return (x, y - ups[-1]), {}

    def frame(x, y):
        pane.canvas.event_generate("<B1-Motion>", x=x, y=y)
        pane.update_idletasks()

    benchmark.pedantic(frame, setup=begin, rounds=40)
    spent, full = against_full(benchmark, pane.view)
    assert full > DRAG_TIMES / 2.0 * spent


def test_a_frame_of_tilting_the_engine(pane, benchmark):
    pane.canvas.event_generate("<Motion>", x=5, y=5)
    x, y = map(round, pane._handle_at())
    pane.canvas.event_generate("<ButtonPress-1>", x=x, y=y)
    at = iter(range(10**9))

    def frame():
        pane.canvas.event_generate("<B1-Motion>", x=x - 8 - 5 * (next(at) % 24), y=y)
        pane.update_idletasks()

    benchmark.pedantic(frame, rounds=WINDOW_RUNS, warmup_rounds=5)
    pane.canvas.event_generate("<ButtonRelease-1>", x=x, y=y)
    spent, full = against_full(benchmark, pane.view)
    assert full > DRAG_TIMES / 2.0 * spent


@pytest.mark.parametrize("field", ["rake", "leg", "name"])
def test_from_a_key_to_the_last_pixel(pane, benchmark, field):
    """A rake moves everything there is, a leg the engine, a name nothing."""
    bench = pane.bench
    address, text = {
        "rake": (Address("transom", "rake"), "13.{:02d}"),
        "leg": (Address("engine", "leg_measured", bench.engine_index), "514.{:02d}"),
        "name": (Address("boat", "name"), "Dunlin {}"),
    }[field]
    bench.set_focus(address)
    at = iter(range(10**9))

    def key():
        bench.type(address, text.format(next(at) % 97))
        pane.update_idletasks()

    benchmark.pedantic(key, rounds=WINDOW_RUNS, warmup_rounds=5)
    spent, full = against_full(benchmark, pane.view)
    assert spent < KEY_SHARE * full


def test_pixels_into_the_toolkit(pane, benchmark):
    """The public way against the one matplotlib keeps to itself; they must not drift apart."""
    import tkinter as tk

    import numpy as np
    from matplotlib.backends import _backend_tk
    from PIL import Image, ImageTk

    pixels = np.ascontiguousarray(pane.canvas.pixels)
    size = (pixels.shape[1], pixels.shape[0])
    public = ImageTk.PhotoImage("RGBA", size, master=pane)
    private = tk.PhotoImage(master=pane, width=size[0], height=size[1])

    def paste():
        public.paste(Image.frombuffer("RGBA", size, pixels, "raw", "RGBA", 0, 1))

    benchmark(paste)
    spent = 1000.0 * benchmark.stats.stats.median
    other = median_ms(lambda: _backend_tk.blit(private, pixels, (0, 1, 2, 3)))
    benchmark.extra_info |= {"private_way_ms": other}
    assert spent < other + max(1.0, other)
