"""How long the paper template takes. Run on its own, as ``test_speed.py`` says."""

import pytest

from rigfit import tasks
from rigfit.drawing.template_view import paper_drawing
from rigfit.drawing.tile_pages import tiled
from rigfit.drawing.tiles import SheetWords
from rigfit.drawing.to_tiled_pdf import to_tiled_pdf
from rigfit.rigging.template import drilling_template
from rigfit.units import Shown
from tests.demo_reports import report_on

SIX_SHEETS_MS = 1000.0


def paper_pdf(case, paper):
    drawing = paper_drawing(drilling_template(report_on(case).case), Shown())
    spread = tiled(drawing, paper, SheetWords("Dunlin", "B"))
    return spread.grid.count, to_tiled_pdf(spread)


@pytest.mark.parametrize(("case", "paper"), [("B-mm", "A4"), ("twin-mm", "A4"), ("B-mm", "A3")])
def test_a_paper_template_from_report_to_bytes(case, paper, benchmark):
    count, data = benchmark(paper_pdf, case, paper)
    milliseconds = 1000.0 * benchmark.stats.stats.median
    benchmark.extra_info |= {"sheets": count, "bytes": len(data)}
    assert milliseconds * 6.0 / max(6, count) < SIX_SHEETS_MS


def test_the_jig_with_its_paper(benchmark, tmp_path):
    report = report_on("B-mm")
    written = benchmark(tasks.write_jig, report, tmp_path, paper="A4")
    assert "6 sheets" in written[0].what
    assert 1000.0 * benchmark.stats.stats.median < SIX_SHEETS_MS
