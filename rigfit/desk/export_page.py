"""The export page: what to give away, where it goes, how it will look, and printing it."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

from rigfit.desk import export_plan, system
from rigfit.desk.draft import Address
from rigfit.desk.export_parts import Outcome, PreviewPane
from rigfit.desk.export_plan import What, Wish
from rigfit.desk.export_preview import Preview
from rigfit.desk.export_printing import Printing
from rigfit.desk.export_rows import ExportRows
from rigfit.desk.kit import dialogs, theme
from rigfit.desk.kit.base import Area, Label, Rule, space
from rigfit.desk.kit.buttons import Button
from rigfit.desk.kit.choices import Choice
from rigfit.desk.kit.panes import ScrollPane
from rigfit.desk.plane_pictures import without_place
from rigfit.desk.workbench import REPORT, Change, Workbench
from rigfit.desk.worker import Worker
from rigfit.errors import NotMeasuredError, RigfitError, UsageError
from rigfit.records.plain_words import shown_path
from rigfit.rigging.printer import Bars, bars_of
from rigfit.tasks import DRAWING_KINDS, Written, file_stem

if TYPE_CHECKING:
    from rigfit.drawing.scene import Scene

DEBOUNCE_MS = 150
"""How long a choice rests before the preview is drawn anew."""

WHATS: dict[What, str] = {
    "drawing": "Side profile",
    "face": "Face",
    "section": "Bolt section",
    "swing": "Swing",
    "afloat": "Boat afloat",
    "curve": "Scuppers against mass",
    "underway": "Under way",
    "trial": "Sea trial",
    "template": "Template",
    "plates": "Plates and dash",
    "report": "Report",
    "view": "What is shown",
}
"""What can be exported, with the words for it."""

BARS = Address("printer", "bar_across")
"""Where it is entered what the bars of a printed sheet measured."""

_PRINT_ADVICE = " Print at 100 %, then measure both bars before drilling."
_FILE_WORDS, _VIEWER_WORDS = "Open the file", "Open in the viewer"
_CHOICES_WIDTH, _PICK_WIDTH = 432, 200
_WIDE, _HIGH, _LOW = 900, 600, 400  # logical px: preview beside, above; no heading below
_PANE_SHARE = 0.58  # the most of the height that the choices get below the preview

Layout = Literal["beside", "above", "hidden"]


class ExportPage(Area):
    """A page over the middle of the window, on which drawings, templates and reports are written.

    :param bench: the boat; listened to while the page is shown.
    :param worker: draws the preview and writes the files; whoever owns it calls its ``pump``.
    :param on_close: called when the page is to go away.
    :param on_say: called with a text, its kind, ``link`` and ``on_link``, as ``StatusBar.say``.
    """

    def __init__(
        self,
        master: tk.Misc,
        bench: Workbench,
        worker: Worker,
        on_close: Callable[[], Any],
        on_say: Callable[..., Any],
    ) -> None:
        super().__init__(master, "panel")
        self._bench, self._worker = bench, worker
        self._on_close, self._on_say = on_close, on_say
        self.on_busy: Callable[[], Any] = lambda: None
        """Called when work was started: whoever owns the worker begins to pump it."""
        self.is_shown = False
        self.what: What = "drawing"
        self._view: Scene | None = None
        self._folder = Path()
        self._typed: dict[What, str] = {}
        self._agreed: set[Path] = set()
        self._written: tuple[Written, ...] = ()
        self._exporting, self._job = False, ""
        self._drawn: tuple[Any, ...] = ()
        self._layout: tuple[Any, ...] = ()
        self._build()
        self._lay_out()
        self._take_escape(self)
        bench.listen(self._heard)
        self.bind("<Configure>", lambda _event: self._arrange())
        self._pane.body.bind("<Configure>", lambda _event: self._arrange(), add="+")
        self.preview.bind("<Configure>", lambda _event: self._changed(), add="+")
        self.bind("<Unmap>", lambda _event: self._leave())
        self.repaint()

    # -- shown and closed ------------------------------------------------------------------

    def show(self, what: What, view_scene: Scene | None = None) -> None:
        """Begin: choose what to export, as it stands now.

        :param view_scene: what is shown in the form; None when that cannot be exported.
        """
        self.is_shown = True
        self._view, self._drawn, self._typed = view_scene, (), {}
        self._agreed.clear()
        self._folder = export_plan.default_folder(self._bench.document.path)
        self.date.set_text(date.today().isoformat())
        self.preview.clear()
        self.outcome.clear()
        has_view = view_scene is not None
        self.pick.set_choices(
            {key: word for key, word in WHATS.items() if has_view or key != "view"}
        )
        self._show_paper()
        self.choose("drawing" if what == "view" and view_scene is None else what)
        self._arrange()
        self.focus_set()

    def close(self) -> None:
        """Stop what runs, and have the page taken away."""
        self._leave()
        self._on_close()

    def choose(self, what: What) -> None:
        """Choose what to export."""
        if what != self.what:
            self.what = what
            self.preview.clear()
        self.pick.set(what)
        self._clear_outcome()
        self._show_rows()
        self._show_place()
        self._changed()

    @property
    def is_exporting(self) -> bool:
        """True while files are being made."""
        return self._exporting and self._worker.is_busy

    def focus_set(self) -> None:
        """Give the choice of what to export the keyboard."""
        self.pick.focus_set()

    def repaint(self) -> None:
        """Take colours and sizes from the theme again."""
        super().repaint()
        for row in (0, len(self.rows.all) + 1):  # room above and below them
            self._pane.body.grid_rowconfigure(row, minsize=theme.px(theme.GAP))
        self._layout = ()
        self._arrange()

    def _leave(self) -> None:
        if not self.is_shown:
            return
        self.is_shown = False
        if self._job:
            self.after_cancel(self._job)
            self._job = ""
        self._worker.cancel()
        self._end_export()

    # -- parts -----------------------------------------------------------------------------

    def _build(self) -> None:
        # Tab goes through them in the order they are made.
        self._head = Area(self)
        self._title = Label(self._head, "Export", size=theme.HEADING, bold=True)
        self.pick = Choice(self._head, dict(WHATS), self.choose, width=_PICK_WIDTH)  # type: ignore[arg-type] # keys of WHATS
        self._top_rule = Rule(self)
        self._middle = Area(self)
        self._pane = ScrollPane(self._middle, width=_CHOICES_WIDTH)
        self._build_rows()
        self._side_rule = Rule(self._middle)
        self.preview = PreviewPane(self._middle)
        self._foot_rule = Rule(self)
        self.outcome = Outcome(self)
        self._foot = Area(self)
        self.folder_button = Button(self._foot, "Open the folder", self._open_folder)
        self.file_button = Button(self._foot, _FILE_WORDS, self._open_file)
        self.print_button = Button(self._foot, "Print...", self.print_out)
        self.printing = Printing(self.print_button, self.outcome.say)
        self.cancel_button = Button(self._foot, "Cancel", self.cancel)
        self.export_button = Button(self._foot, "Export", self.export, style="primary", width=88)
        self.close_button = Button(self._foot, "Close", self.close, width=88)

    def _build_rows(self) -> None:
        place = {
            "on_choose": self.choose_place,
            "on_edit": self._place_typed,
            "on_commit": self._place_left,
        }
        self.rows = rows = ExportRows(
            self._pane.body,
            on_choose=self._chosen,
            on_kind=self._kind_chosen,
            on_bars=self.go_to_bars,
            place=place,
        )
        self.kind, self.release, self.theme = rows.kind, rows.release, rows.theme
        self.paper, self.date, self.destination = rows.paper, rows.date, rows.destination

    def _lay_out(self) -> None:
        self.grid_columnconfigure(0, weight=1)
        self.grid_rowconfigure(2, weight=1)
        # Size comes from outside: without this a long sentence could widen the page.
        for outer in (self, self._middle):
            outer.grid_propagate(False)  # noqa: FBT003 - Tk's own
        parts = (self._head, self._top_rule, self._middle, self._foot_rule, self.outcome)
        for row, area in enumerate((*parts, self._foot)):
            area.grid(row=row, column=0, sticky="nsew")
        self.outcome.grid_remove()
        self.outcome.on_change = self._show_outcome
        space(self._head, padx=theme.PADDING, pady=theme.GAP)
        space(self._foot, padx=theme.PADDING, pady=theme.GAP)
        self.pick.pack(side="left")
        self.rows.lay_out(space)
        self.close_button.pack(side="right", padx=(theme.GAP, 0))
        self.export_button.pack(side="right", padx=(theme.GAP, 0))

    def _take_escape(self, widget: tk.Misc) -> None:
        """Have Escape close the page, wherever in it the keyboard is."""
        tag = f"escape{self}"
        self.bind_class(tag, "<Escape>", lambda _event: self._escaped())
        for child in tk.Misc.winfo_children(widget):
            first, *others = child.bindtags()
            child.bindtags((first, tag, *others))  # after its own: a field takes back its text
            self._take_escape(child)

    def _escaped(self) -> str:
        self.close()
        return "break"

    def _arrange(self) -> None:
        """Put the preview beside the choices, above them, or nowhere, by the room there is."""
        wide, high = (size / theme.scale() for size in (self.winfo_width(), self.winfo_height()))
        if wide <= 1:
            return
        layout: Layout = "beside" if wide >= _WIDE else "above" if high >= _HIGH else "hidden"
        needed, most = self._pane.body.winfo_reqheight(), self._middle.winfo_height()
        pane = min(needed, round(most * _PANE_SHARE)) if layout == "above" else 0
        wanted = layout, high >= _LOW, pane, theme.scale()
        if wanted != self._layout:
            self._layout = wanted
            self._place_parts(layout, pane)
            self._show_title(is_shown=high >= _LOW)
        self.outcome.fit(self.winfo_width() - 2 * theme.px(theme.PADDING))
        self._changed()

    def _show_title(self, *, is_shown: bool) -> None:
        self._title.pack_forget()
        if is_shown:
            beside = 0, theme.px(theme.PADDING)
            self._title.pack(side="left", padx=beside, before=self.pick)

    def _place_parts(self, layout: Layout, pane: int) -> None:
        middle = self._middle
        for part in (self._pane, self._side_rule, self.preview):
            part.grid_forget()
        beside = layout == "beside"
        middle.grid_columnconfigure(0, weight=0 if beside else 1)
        middle.grid_columnconfigure(2, weight=1 if beside else 0)
        middle.grid_rowconfigure(0, weight=0 if layout == "hidden" else 1)
        middle.grid_rowconfigure(2, weight=1 if layout == "hidden" else 0, minsize=pane)
        if beside:
            self._pane.grid(row=0, column=0, sticky="nsew")
            self._side_rule.grid(row=0, column=1, sticky="ns")
            self.preview.grid(row=0, column=2, sticky="nsew")
            return
        if layout == "above":
            self.preview.grid(row=0, column=0, sticky="nsew")
            self._side_rule.grid(row=1, column=0, sticky="ew")
        self._pane.grid(row=2, column=0, sticky="nsew")

    # -- choices ---------------------------------------------------------------------------

    def _kind_chosen(self, kind: str) -> None:
        for what in self._typed.keys() & export_plan.ONE_FILE:
            self._typed[what] = export_plan.with_kind(self._typed[what], kind)
        self._chosen()

    def _chosen(self) -> None:
        self._clear_outcome()
        self.date.set_message(export_plan.date_trouble(self.date.text))
        self._show_rows()
        self._show_place()
        self._changed()

    def _show_rows(self) -> None:
        """Show the choices that count, and what is known of printing."""
        report, sheets = self._bench.report, self.rows.sheets
        printer = report.case.job.printer if report else self._bench.derived.job.printer
        bars: Bars = bars_of(printer, sheets.chosen)
        self.rows.can_correct = bars.factors is not None
        self.rows.advice.show(sheets.chosen, bars.sentence)
        self.rows.show(self.what)
        wish = self.rows.wish(self.what, self._folder)
        sheets.set_message(export_plan.sheets_words(wish, report), "note")

    def _show_paper(self) -> None:
        """Begin with the paper that the boat's printer takes."""
        paper = self._bench.derived.job.printer.paper
        if paper in export_plan.PAPERS:
            self.rows.sheets.set(paper)

    def go_to_bars(self) -> None:
        """Leave the page for the field of what the first bar measured."""
        self.close()
        self._bench.go_to(BARS)

    def _place_typed(self, text: str) -> None:
        self._typed[self.what] = text
        self._clear_outcome()
        self._show_files()

    def _place_left(self, text: str) -> None:
        """Take over the ending of a file name that was typed."""
        kind = export_plan.kind_named(text)
        if kind and self._is_file and kind != self.kind.chosen:
            self.kind.set(kind)
            self._show_rows()
            self._changed()

    @property
    def _is_file(self) -> bool:
        return self.what in export_plan.ONE_FILE

    def _show_place(self) -> None:
        """Show what was typed, or else what is proposed, and the files that come of it."""
        self.destination.set_label("file" if self._is_file else "folder")
        report = self._bench.report
        stem = file_stem(report) if report else "boat"
        side, sheet = self.rows.side.chosen, self.rows.sheet_of(self.what)
        name = export_plan.suggested_name(self.what, self.kind.chosen, stem, side, sheet)
        self.destination.set_text(self._typed.get(self.what, str(self._folder / name)))
        self._show_files()

    def _show_files(self) -> None:
        try:
            files = export_plan.files_of(self.wish(), self._bench.report)
        except UsageError as error:
            self.destination.set_message(error.sentence())
            return
        names = _listed([item.name for item in files])
        if self.what == "plates":
            names = "every plate that can be made, and the dash, as DXF"
        self.destination.set_message(f"writes {names}" if names else "", "note")

    def choose_place(self) -> None:
        """Ask where to write, and take it over."""
        asks = dialogs.questions()
        if self._is_file:
            kinds = [(f"{kind.upper()} drawings", f"*.{kind}") for kind in DRAWING_KINDS]
            kinds.sort(key=lambda item: item[1] != f"*.{self.kind.chosen}")
            chosen = asks.save_path(
                self, "Export the drawing", kinds, suggestion=self._proposed_place()
            )
        else:
            chosen = asks.folder_path(self, "Choose a folder", suggestion=self._proposed_place())
        if chosen is None:
            return
        if self._is_file:
            self._agreed.add(chosen.absolute())  # the dialog has asked already
        self._folder = chosen.absolute().parent if self._is_file else chosen.absolute()
        self._typed[self.what] = str(chosen)
        self._clear_outcome()
        self._place_left(str(chosen))
        self._show_place()

    def _proposed_place(self) -> Path:
        try:
            return self.wish().place
        except UsageError:
            return self._folder / "drawing" if self._is_file else self._folder

    def wish(self) -> Wish:
        """Return what is chosen; raises ``UsageError`` for a place that cannot be."""
        kind, typed = self.kind.chosen, self.destination.text
        return self.rows.wish(self.what, export_plan.place_of(typed, self.what, kind, self._folder))

    # -- preview ---------------------------------------------------------------------------

    def _heard(self, change: Change) -> None:
        if self.is_shown and change & REPORT:
            self._clear_outcome()
            self._show_rows()
            self._show_place()
            self._changed()

    def _changed(self) -> None:
        """Draw the preview anew once nothing has changed for a moment."""
        self._show_buttons()
        if not self.is_shown or self._job or self._key() == self._drawn:
            return
        self._job = self.after(DEBOUNCE_MS, self._draw)

    def _key(self) -> tuple[Any, ...]:
        """Return all that the preview depends on."""
        if self._layout and self._layout[0] == "hidden":
            return ()
        wish = self.rows.wish(self.what, self._folder)
        # A file of another format looks the same, but for DXF.
        look = replace(wish, kind="dxf" if self.kind.chosen == "dxf" else "", release="R2000")
        view = id(self._view) if self.what == "view" else 0
        return (look, self.preview.room(), id(self._bench.report), view)

    def _draw(self) -> None:
        self._job = ""
        key = self._key()
        if not self.is_shown or self.is_exporting or not key or key == self._drawn:
            return
        report, view, room = self._bench.report, self._view, self.preview.room()
        if report is None and self.what != "view":
            self._no_preview(self._bench.trouble or "There is nothing to export yet.")
            return
        try:
            wish = self.wish()
        except UsageError:  # the place is wrong, but the picture does not hang on it
            wish = self.rows.wish(self.what, self._folder)
        self.preview.wait()

        def ready(made: Preview) -> None:
            self._drawn = key
            self.preview.show(made)
            self._changed()

        self._worker.start(
            lambda _progress, _cancelled: export_plan.preview(wish, report, view, room),
            ready,
            lambda error: self._preview_failed(error, key),
        )
        self.on_busy()

    def _preview_failed(self, error: RigfitError, key: tuple[Any, ...]) -> None:
        self._drawn = key
        self._no_preview(_sentence(error))
        self._changed()

    def _no_preview(self, why: str) -> None:
        self.preview.clear("no preview")
        self.outcome.say(why, "error")

    # -- export ----------------------------------------------------------------------------

    def export(self) -> None:
        """Write the files, after asking whether they may take the place of others."""
        if self.is_exporting:
            return
        self._clear_outcome()
        report = self._bench.report
        try:
            wish = self.wish()
            task = export_plan.export_task(wish, report, self._view)
        except RigfitError as error:
            self.outcome.say(_sentence(error), "error")
            return
        if not self._may_write(export_plan.replaced(wish, report)):
            return
        self._exporting = True
        self._worker.start(task, self._exported, self._failed, self._progressed)
        self.outcome.busy(0.0, "beginning")
        self._show_buttons()
        self.cancel_button.focus_set()
        self.on_busy()

    def cancel(self) -> None:
        """Stop the export; what is not written yet never will be."""
        if self.is_exporting:
            self._worker.cancel()
            self._end_export()
            self.outcome.say("Cancelled; nothing was written.", "note")
            self._changed()

    def _may_write(self, files: tuple[Path, ...]) -> bool:
        there = [item for item in files if item not in self._agreed]
        if not there:
            return True
        names = _listed([item.name for item in there])
        title = f"Replace {there[0].name}?" if len(there) == 1 else f"Replace {len(there)} files?"
        text = f"{names} in {shown_path(there[0].parent)} will be written anew; what "
        text += "it holds now is lost." if len(there) == 1 else "they hold now is lost."
        choices = {"replace": "Replace", "keep": "Keep"}
        return dialogs.ask(self, title, text, choices) == "replace"

    def _progressed(self, share: float, doing: str) -> None:
        self.outcome.busy(share, doing)

    def _exported(self, written: tuple[Written, ...]) -> None:
        self._end_export()
        self._written = written
        folder = shown_path(written[0].path.parent)
        names = _listed([f"{item.path.name} ({item.what})" for item in written])
        advice = _PRINT_ADVICE if self._sheets_written() else ""
        self.outcome.say(f"Written to {folder}: {names}.{advice}", "ok")
        self._show_buttons()
        self.folder_button.focus_set()
        short = _listed([item.path.name for item in written])
        place = written[0].path.parent
        self._on_say(
            f"Exported {short}.",
            "ok",
            link="Open the folder",
            on_link=lambda: self._opened(system.open_folder(place)),
        )
        self._changed()

    def _failed(self, error: RigfitError) -> None:
        self._end_export()
        self.outcome.say(_sentence(error), "error")
        self.export_button.focus_set()
        self._changed()

    def _end_export(self) -> None:
        had_keys = self.focus_get() is self.cancel_button.keys_to
        self._exporting = False
        self.outcome.clear()
        self._show_buttons()
        if had_keys and self.is_shown:
            self.export_button.focus_set()

    def _clear_outcome(self) -> None:
        """Forget what came of the last export, for other things are chosen now."""
        if not self.is_exporting:
            self._written = ()
            self.printing.forget()
            self.outcome.clear()

    def print_out(self) -> None:
        """Offer the printers of the system for the sheets that were written."""
        self.printing.offer(self._sheets_written(), self.rows.sheets.chosen)

    def _sheets_written(self) -> tuple[Path, ...]:
        if self.what != "template":
            return ()
        return tuple(item.path for item in self._written if item.path.suffix == ".pdf")

    def _open_folder(self) -> None:
        self._opened(system.open_folder(self._written[0].path.parent))

    def _open_file(self) -> None:
        self._opened(system.open_file(self._written[0].path))

    def _opened(self, trouble: str) -> None:
        if trouble:
            self.outcome.say(trouble, "error")

    def _show_outcome(self) -> None:
        if self.outcome.is_empty:
            self.outcome.grid_remove()
        else:
            self.outcome.grid()

    def _show_buttons(self) -> None:
        """Show the buttons that can do something now."""
        has_sheets = bool(self._sheets_written())
        self.file_button.set_text(_VIEWER_WORDS if has_sheets else _FILE_WORDS)
        for button, wanted in (
            (self.folder_button, bool(self._written)),
            (self.file_button, bool(self._written)),
            (self.print_button, has_sheets and system.can_print()),
            (self.cancel_button, self.is_exporting),
        ):
            if not wanted:
                button.pack_forget()
            elif not button.winfo_manager():
                button.pack(side="left", padx=(0, theme.GAP))
        has_all = self._view is not None if self.what == "view" else self._bench.report is not None
        can = has_all and not self.is_exporting and not self.date.message
        if can != self.export_button.is_enabled:
            self.export_button.set_enabled(can)


def _listed(names: Sequence[str]) -> str:
    """Return names as a list in words, the last joined by "and"."""
    *first, last = names or ("",)
    return f"{', '.join(first)} and {last}" if first else last


def _sentence(error: RigfitError) -> str:
    """Return what went wrong; of what is not measured, in the words of the form."""
    return without_place(error) if isinstance(error, NotMeasuredError) else error.sentence()
