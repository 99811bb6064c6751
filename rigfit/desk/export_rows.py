"""The choices of the export page: which of them count for what is exported, and what they say."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable
from typing import Any

from rigfit.desk import export_plan
from rigfit.desk.export_parts import PickRow, PlaceRow
from rigfit.desk.export_plan import What, Wish
from rigfit.desk.kit import theme
from rigfit.desk.kit.base import Area, Label
from rigfit.desk.kit.choices import Switch
from rigfit.desk.kit.fields import ChoiceRow, FieldRow, Row
from rigfit.desk.kit.panes import BAR_WIDTH, Link
from rigfit.drawing.sheet import PAPERS_MM

_KINDS = {kind: kind.upper() for kind in ("pdf", "svg", "png", "dxf")}
_RELEASES = {"R2000": "R2000", "R12": "R12"}
_THEMES = {"light": "Light", "dark": "Dark"}
_MEDIA = {"dxf": "DXF", "paper": "Paper"}
_SIDES = {"outside": "Outside", "inside": "Inside"}
_AFLOATS = {"afloat": "Before and after", "float-test": "Float test to fill in"}
_TRIALS = {"trial": "Curves", "trial-form": "Form to fill in"}
_SWINGS = {"swing": "Side", "swing-plan": "Above", "swing-worst": "Worst place"}
_EDITIONS = {
    "outside": "The outer face",
    "inside": "The inner face",
    "both": "Both, two files",
}
_RELEASE_HELP = "R12 is for old cutting machines and programs; its file names end in _mm."
_MEDIUM_HELP = (
    "DXF is for a cutting machine or a print shop. Paper is a PDF in true size, on as many sheets "
    "as it takes, to be taped together."
)
_CORRECTED_HELP = (
    "Stretches the drawing by what the two bars of a printed sheet are off. Measure both bars of "
    "the corrected sheets again."
)
_JIG_HELP = "A board with a lip that hangs on the transom top and guides the drill square."
_AFLOAT_HELP = (
    "The water before and after, or a form to prove it by weights laid into the boat with the old "
    "engine on."
)
_TRIAL_HELP = (
    "The curves of the trials that are logged, or a form for the next one with the one thing to "
    "change, to print and take along."
)
_ROWS: dict[What, tuple[str, ...]] = {
    "drawing": ("kind", "paper", "theme", "date", "place"),
    "face": ("kind", "side", "paper", "theme", "date", "place"),
    "section": ("kind", "paper", "theme", "date", "place"),
    "swing": ("kind", "swing", "paper", "theme", "date", "place"),
    "afloat": ("kind", "afloat", "sheets", "theme", "date", "place"),
    "curve": ("kind", "paper", "theme", "date", "place"),
    "underway": ("kind", "paper", "theme", "date", "place"),
    "trial": ("kind", "trial", "sheets", "theme", "date", "place"),
    "plates": ("release", "place"),
    "report": ("place",),
    "view": ("kind", "theme", "place"),
}
_DXF_ROWS = ("medium", "release", "jig", "place")
_PAPER_ROWS = ("medium", "edition", "sheets", "corrected", "jig", "date", "place", "advice")
_LINK = "Enter what the bars measured"


class SwitchRow(Row):
    """A row with something to be on or off, in line with the fields of the other rows."""

    def __init__(
        self, master: tk.Misc, label: str, command: Callable[[bool], Any], *, help_text: str = ""
    ) -> None:
        super().__init__(master, label, help_text=help_text)
        self.switch = Switch(self, "", command)
        self.switch.grid(row=0, column=2, sticky="w")
        self.keys_to: tk.Canvas = self.switch.keys_to
        self.repaint()

    @property
    def is_on(self) -> bool:
        """True while it is on."""
        return self.switch.is_on

    def focus_field(self) -> None:
        """Give the switch the keyboard."""
        self.switch.focus_set()

    def repaint(self) -> None:
        """Take colours and sizes from the theme again."""
        super().repaint()
        self.grid_columnconfigure(2, minsize=theme.px(self._field_width))


class Advice(Area):
    """What to do with the printed sheets, what the bars say so far, and the way to their fields.

    :param on_link: called when the bars are to be entered.
    """

    def __init__(self, master: tk.Misc, on_link: Callable[[], Any]) -> None:
        super().__init__(master)
        self._lines = [Label(self, "", size=theme.LABEL, wrap=1) for _ in range(3)]
        self._bars = Label(self, "", role="dim", size=theme.LABEL, wrap=1)
        self.link = Link(self, _LINK, on_link)
        for row, part in enumerate((*self._lines, self._bars)):
            part.grid(row=row, column=0, sticky="w")
        self.link.grid(row=len(self._lines) + 1, column=0, sticky="w")
        self.grid_columnconfigure(0, weight=1)
        self.bind("<Configure>", lambda event: self._fit(event.width))
        self.repaint()

    @property
    def lines(self) -> tuple[str, ...]:
        """Everything it says, line by line."""
        return tuple(str(part.cget("text")) for part in (*self._lines, self._bars))

    def show(self, paper: str, bars: str) -> None:
        """Say it for a paper.

        :param bars: what is known of the two check bars, a sentence.
        """
        words = (
            '1.  Print at "100 %" or "actual size", never "fit to page".',
            f"2.  On {paper} paper, as chosen here.",
            "3.  Measure both 100 mm bars with a steel rule before drilling.",
        )
        for label, text in zip(self._lines, words, strict=True):
            label.set_text(text)
        self._bars.set_text(bars)

    def repaint(self) -> None:
        """Take colours and sizes from the theme again."""
        super().repaint()
        gap = theme.px(theme.GAP)
        self._lines[0].grid_configure(pady=(gap, 0))
        for line in self._lines[1:]:
            line.grid_configure(pady=(theme.px(2), 0))
        self._bars.grid_configure(pady=(gap, 0))
        self.link.grid_configure(pady=(theme.px(4), 0))
        self.link.configure(padx=0)
        self._fit(self.winfo_width())

    def _fit(self, width: int) -> None:
        if width > 1:
            for part in (*self._lines, self._bars):
                part.set_wrap(width)


class ExportRows:
    """All rows of choices, in a body that scrolls.

    :param on_choose: called after any choice or edit but those of kind and place.
    :param on_kind: called with another format of a drawing.
    :param on_bars: called when the bars of the printer are to be entered.
    :param place: what ``PlaceRow`` takes besides its master.
    """

    def __init__(
        self,
        body: Area,
        *,
        on_choose: Callable[[], Any],
        on_kind: Callable[[str], Any],
        on_bars: Callable[[], Any],
        place: dict[str, Any],
    ) -> None:
        self._body = body

        def chosen(_choice: object) -> None:
            on_choose()

        papers = {name: name for name in PAPERS_MM}
        # Tab goes through them in the order they are made.
        self.medium = PickRow(body, "written as", _MEDIA, chosen, help_text=_MEDIUM_HELP)
        self.kind = PickRow(body, "format", _KINDS, on_kind)
        self.release = PickRow(body, "DXF", _RELEASES, chosen, help_text=_RELEASE_HELP)
        self.side = PickRow(body, "seen from", _SIDES, chosen)
        self.swing = PickRow(body, "seen from", _SWINGS, chosen)
        self.afloat = PickRow(body, "sheet", _AFLOATS, chosen, help_text=_AFLOAT_HELP)
        self.trial = PickRow(body, "sheet", _TRIALS, chosen, help_text=_TRIAL_HELP)
        self.edition = ChoiceRow(body, "to lay on", _EDITIONS, on_choose=chosen, chosen="outside")
        self.paper = ChoiceRow(body, "paper", papers, on_choose=chosen, chosen="A3")
        self.sheets = ChoiceRow(body, "paper", papers, on_choose=chosen, chosen="A4")
        self.theme = PickRow(body, "colours", _THEMES, chosen)
        self.corrected = SwitchRow(
            body, "corrected for the printer", chosen, help_text=_CORRECTED_HELP
        )
        self.jig = SwitchRow(body, "drill-guide jig as well", chosen, help_text=_JIG_HELP)
        self.date = FieldRow(body, "date to print", on_edit=chosen, numeric=False)
        self.destination = PlaceRow(body, **place)
        self.advice = Advice(body, on_bars)
        self.all: dict[str, Any] = {
            "medium": self.medium,
            "kind": self.kind,
            "release": self.release,
            "side": self.side,
            "swing": self.swing,
            "afloat": self.afloat,
            "trial": self.trial,
            "edition": self.edition,
            "paper": self.paper,
            "sheets": self.sheets,
            "theme": self.theme,
            "corrected": self.corrected,
            "jig": self.jig,
            "date": self.date,
            "place": self.destination,
            "advice": self.advice,
        }
        self.can_correct = False
        """True while the check bars of the chosen paper are measured, and off."""

    def lay_out(self, space: Callable[..., Any]) -> None:
        """Put the rows below each other.

        :param space: keeps room beside a widget, as ``kit.base.space``.
        """
        self._body.grid_columnconfigure(0, weight=1)
        for row, part in enumerate(self.all.values(), 1):
            part.grid(row=row, column=0, sticky="ew")
            space(part, padx=(theme.PADDING, theme.PADDING - BAR_WIDTH + theme.GAP))

    def show(self, what: What) -> None:
        """Show the rows that count for what is exported, and no others."""
        wanted = self._wanted(what)
        for name, row in self.all.items():
            if name in wanted:
                row.grid()
            else:
                row.grid_remove()

    def _wanted(self, what: What) -> set[str]:
        if what == "template":
            wanted = set(_PAPER_ROWS if self.medium.chosen == "paper" else _DXF_ROWS)
        else:
            wanted = set(_ROWS[what])
        if not self.can_correct:
            wanted.discard("corrected")
        if self.kind.chosen == "dxf":  # such a file leaves the colours to whatever opens it
            wanted.discard("theme")
        return wanted

    def sheet_of(self, what: What) -> str:
        """Return which sheet is chosen of what has several."""
        several = {"afloat": self.afloat, "trial": self.trial}
        return several.get(what, self.swing).chosen

    def wish(self, what: What, place: Any) -> Wish:
        """Return what is chosen.

        :param place: where it goes.
        """
        is_paper = what == "template" and self.medium.chosen == "paper"
        side = self.edition.chosen if is_paper else self.side.chosen
        kind = self.kind.chosen
        return Wish(
            what=what,
            place=place,
            kind=(export_plan.kind_named(self.destination.text) or kind),
            release=self.release.chosen,  # type: ignore[arg-type] # keys of _RELEASES
            paper=(self.sheets if "sheets" in self._wanted(what) else self.paper).chosen,
            theme=self.theme.chosen,  # type: ignore[arg-type] # keys of _THEMES
            date=self.date.text.strip()[: export_plan.LONGEST_DATE],
            medium=self.medium.chosen,  # type: ignore[arg-type] # keys of _MEDIA
            side=side,  # type: ignore[arg-type] # keys of _SIDES and _EDITIONS
            swing=self.swing.chosen,
            afloat=self.afloat.chosen,
            trial=self.trial.chosen,
            corrected=is_paper and self.can_correct and self.corrected.is_on,
            jig=what == "template" and self.jig.is_on,
        )
