"""One window with every widget of the kit in it, to look at and to measure."""

from __future__ import annotations

from typing import Any

from rigfit.desk.kit import theme
from rigfit.desk.kit.base import Area, Card, Label, Rule, space
from rigfit.desk.kit.buttons import Button, IconButton
from rigfit.desk.kit.choices import Segmented, Switch, chips
from rigfit.desk.kit.fields import ChoiceRow, FieldRow
from rigfit.desk.kit.pages import TextPage
from rigfit.desk.kit.panes import BAR_WIDTH, ScrollPane, StatusBar
from rigfit.desk.kit.sections import Section
from rigfit.desk.kit.tables import Column, Table, TableRow
from rigfit.rigging.findings import Verdict

HOW = "Tape from the underside of the hook to the plate, square to the plate, engine upright."
TOOLS = (
    ("new", "New boat (Ctrl+N)"),
    ("open", "Open (Ctrl+O)"),
    ("save", "Save (Ctrl+S)"),
    ("undo", "Undo (Ctrl+Z)"),
    ("redo", "Redo (Ctrl+Y)"),
    ("zoom in", "Zoom in (+)"),
    ("zoom out", "Zoom out (-)"),
    ("fit", "Show all (0)"),
    ("tilt", "Tilt (T)"),
    ("export", "Export (Ctrl+E)"),
    ("report", "Plain report (Ctrl+R)"),
    ("keys", "Keys (F1)"),
    ("moon", "Dark (Ctrl+D)"),
)
COLUMNS = (
    Column("row", "Bolt row", 72, is_numeric=True),
    Column("lift", "Lift, mm", 80, is_numeric=True),
    Column("plate", "Plate, mm", 88, is_numeric=True),
    Column("holes", "Holes reused", 112, grows=True),
    Column("gap", "Clearance, mm", 120, is_numeric=True, is_spare=True),
)


class Gallery:
    """Every widget once, in the arrangement of a form; ``heard`` collects what they report."""

    def __init__(self, root: Any) -> None:
        self.root = root
        self.heard: list[tuple[Any, ...]] = []
        self.tools = self._tools()
        Rule(root).pack(fill="x")
        self.status = StatusBar(root)
        self.status.pack(side="bottom", fill="x")
        self.pane = ScrollPane(root, "panel", width=440)
        self.pane.pack(side="left", fill="y")
        Rule(root).pack(side="left", fill="y")
        self.rows: dict[str, Any] = {}
        self.sections = [self._measurements(), self._engine()]
        self.side = Area(root)
        self.side.pack(side="left", fill="both", expand=True)
        space(self.side, padx=theme.PADDING, pady=theme.PADDING)
        self.table = self._table()
        self.page = self._page()
        self.status.say("Saved job sheet.pdf", "ok", link="Open folder", on_link=self.note("link"))
        self.status.set_right("mm  ·  100 %")

    def note(self, *words: Any) -> Any:
        return lambda *given: self.heard.append((*words, *given))

    def _tools(self) -> list[Any]:
        bar = Area(self.root, "panel")
        bar.pack(fill="x")
        inner = Area(bar)
        inner.pack(fill="x")
        space(inner, padx=8, pady=8)
        made: list[Any] = []
        for name, tip in TOOLS:
            made.append(IconButton(inner, name, tip, self.note("tool", name)))
            made[-1].pack(side="left", padx=(0, 4))
        made[8].set_on(True)
        made[4].set_enabled(False)
        made.append(
            Button(inner, "Save job sheet", self.note("sheet"), style="primary", icon="export")
        )
        made[-1].pack(side="right")
        made.append(Button(inner, "Report", self.note("report"), icon="report"))
        made[-1].pack(side="right", padx=theme.GAP)
        return made

    def _section(self, title: str) -> Section:
        section = Section(self.pane.body, title, on_fold=self.note("fold", title))
        section.pack(fill="x")
        space(section, padx=(theme.PADDING, theme.PADDING - BAR_WIDTH + 8), pady=(theme.GAP, 0))
        return section

    def _row(self, section: Section, key: str, label: str, **more: Any) -> FieldRow:
        row = FieldRow(
            section.body,
            label,
            on_edit=self.note("edit", key),
            on_commit=self.note("commit", key),
            on_focus=self.note("focus", key),
            on_step=self.note("step", key),
            **more,
        )
        row.pack(fill="x")
        self.rows[key] = row
        return row

    def _measurements(self) -> Section:
        section = self._section("Transom")
        section.set_note("1 needed", "warn")
        height = self._row(section, "height", "transom height along the face", help_text=HOW)
        height.set_text("20 3/8 in")
        height.set_echo("517.5 ± 3 mm")
        rake = self._row(section, "rake", "rake", required=True, help_text=HOW)
        rake.set_echo("needed")
        leg = self._row(section, "leg", "leg length", help_text=HOW)
        leg.set_text("5080")
        leg.set_echo("mm")
        leg.set_message("5080 mm is outside 300 to 1000 mm")
        notch = self._row(section, "notch", "notch width at the top")
        notch.set_text("620")
        notch.set_echo("± 2 mm")
        notch.set_message("typical of the class, not measured", "note")
        datum = ChoiceRow(
            section.body,
            "taken",
            {"face": "along the face", "keel": "square to the keel line"},
            on_choose=self.note("choose", "taken"),
            help_text=HOW,
        )
        datum.pack(fill="x")
        self.rows["taken"] = datum
        return section

    def _engine(self) -> Section:
        section = self._section("Engine")
        power = self._row(section, "power", "rated power")
        power.set_text("90 hp")
        power.set_echo("67.1 kW")
        mass = self._row(section, "mass", "mass with oil and propeller")
        mass.set_text("172")
        mass.set_echo("kg")
        mass.set_message("heavier than the plate allows", "warn")
        name = self._row(section, "name", "name of the engine", numeric=False)
        name.set_text("the one on offer")
        return section

    def _table(self) -> Table:
        top = Area(self.side)
        top.pack(fill="x")
        self.views = Segmented(
            top,
            {"side": "Side", "face": "Face", "plan": "Plan", "afloat": "Afloat"},
            self.note("view"),
        )
        self.views.pack(side="left")
        self.grid_switch = Switch(top, "Show dimensions", self.note("switch"), on=True)
        self.grid_switch.pack(side="left", padx=theme.GAP)
        line = Area(self.side)
        line.pack(fill="x")
        space(line, pady=theme.PADDING)
        order = [Verdict.STOPS, Verdict.TIGHT, Verdict.UNKNOWN, Verdict.FITS]
        self.chips = chips(line, order, self.note("chips"))
        for chip, count in zip(self.chips, (1, 2, 0, 14), strict=True):
            chip.set_count(count)
        self.chips[1].set(True)
        table = Table(
            self.side,
            COLUMNS,
            verdict_title="Verdict",
            on_pick=self.note("pick"),
            on_open=self.note("open"),
            rows_seen=6,
        )
        table.pack(fill="x")
        table.set_rows(sample_rows())
        table.sort("lift")
        table.pick("row 2")
        return table

    def _page(self) -> TextPage:
        card = Card(self.side)
        card.pack(fill="both", expand=True, pady=(theme.PADDING, 0))
        inner = Area(card)
        inner.pack(fill="both", expand=True)
        space(inner, padx=8, pady=8)
        head = Label(inner, "Plain report", bold=True)
        head.pack(anchor="w")
        space(head, padx=theme.PADDING, pady=(theme.GAP, 0))
        page = TextPage(inner, REPORT)
        page.pack(fill="both", expand=True)
        return page


REPORT = (
    "The engine sits too low: the plate is 38 mm below the keel line, 12 mm more than the 26 mm "
    "this hull allows.\nTwo rows up (row 3) the plate is 2 ± 4 mm above it: tight.\n"
    "Nothing else stops the job. One measurement is missing: rake."
)


def sample_rows() -> list[TableRow]:
    """Return the rows of the gallery's table, in no order."""
    verdicts = (Verdict.STOPS, Verdict.STOPS, Verdict.TIGHT, Verdict.FITS, Verdict.UNKNOWN)
    lifts = (0.0, 19.0, 38.0, 57.0, 110.5)
    rows = [
        TableRow(
            f"row {number}",
            (
                str(number),
                f"{lift:.1f}",
                f"{lift - 38:+.1f}",
                "all four" if number < 4 else "two",
                "22",
            ),
            (number, lift, lift - 38, number, 22),
            verdict,
        )
        for number, (verdict, lift) in enumerate(zip(verdicts, lifts, strict=True), start=1)
    ]
    return [rows[index] for index in (3, 0, 4, 1, 2)]
