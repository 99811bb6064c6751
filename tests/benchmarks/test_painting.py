"""How fast the screen follows: one edit painted anew, the engine alone, against a full draw.

The full draw is matplotlib's own of the same scene, words included, at the same size, in one run.
"""

import statistics
import time

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

VIEW = View(1000, 700, (50.0, 350.0), 2.2)
RUNS = 15


def median_ms(action):
    action()
    spent = []
    for _ in range(RUNS):
        begin = time.perf_counter()
        action()
        spent.append(1000.0 * (time.perf_counter() - begin))
    return statistics.median(spent)


def full_draw():
    """Return a function that draws the demo's profile, words and all, as matplotlib does."""
    figure = Figure(figsize=(VIEW.width / 96.0, VIEW.height / 96.0), dpi=96)
    canvas = FigureCanvasAgg(figure)
    axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    items = side_items(report_on("B-mm"), VIEW.scene_scale, Shown())
    left, top = VIEW.to_model((0.0, 0.0))
    right, bottom = VIEW.to_model((VIEW.width, VIEW.height))
    axes.set_xlim(left, right)
    axes.set_ylim(bottom, top)
    draw_scene(Scene("", items, VIEW.scene_scale), axes, LIGHT)
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
