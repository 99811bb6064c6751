"""Parts of the export page: rows to choose in, the preview, and the line on what came of it."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable, Mapping
from typing import Any, Literal

from rigfit.desk.export_preview import Preview
from rigfit.desk.kit import icons, theme
from rigfit.desk.kit.base import Area, Label
from rigfit.desk.kit.buttons import Button
from rigfit.desk.kit.choices import Segmented
from rigfit.desk.kit.colours import Role
from rigfit.desk.kit.fields import FIELD_WIDTH, FieldRow, Row
from rigfit.desk.kit.pages import TextPage

Kind = Literal["note", "ok", "error"]

_WAITING = "drawing the preview"
_BAR_HEIGHT, _NOTE_FILL = 6, 1.7


class PickRow(Row):
    """A row with a few choices side by side, in line with the fields of the other rows."""

    def __init__(
        self,
        master: tk.Misc,
        label: str,
        choices: Mapping[str, str],
        on_choose: Callable[[str], Any],
        *,
        help_text: str = "",
    ) -> None:
        super().__init__(master, label, help_text=help_text)
        self.pick = Segmented(self, choices, on_choose)
        self.pick.grid(row=0, column=2, sticky="ew")
        self.keys_to: Any = self.pick.keys_to
        self.repaint()

    @property
    def chosen(self) -> str:
        """The key of the choice."""
        return self.pick.chosen

    def set(self, key: str) -> None:
        """Choose, without calling anybody."""
        self.pick.set(key)

    def focus_field(self) -> None:
        """Give the choice the keyboard."""
        self.keys_to.focus_set()

    def repaint(self) -> None:
        """Take colours and sizes from the theme again."""
        super().repaint()
        self.grid_columnconfigure(2, minsize=theme.px(FIELD_WIDTH))


class PlaceRow(FieldRow):
    """A row for a path: the entry below the label, over the whole width, a button to choose.

    :param on_choose: called when the path is to be chosen in a dialog.
    """

    def __init__(self, master: tk.Misc, on_choose: Callable[[], Any], **more: Any) -> None:
        self.button: Button | None = None
        super().__init__(master, "file", numeric=False, **more)
        self.button = Button(self, "Choose...", on_choose)
        self.button.grid(row=1, column=3, padx=(theme.GAP, 0))
        self._outline.grid(row=1, column=0, columnspan=3, sticky="ew")
        self._line.grid(row=2, column=0, columnspan=4, sticky="nw")
        self._entry.bind("<FocusOut>", lambda _event: self._show_end(), add="+")
        self.repaint()

    def set_text(self, text: str) -> None:
        """Put a text into the entry without calling anybody; its end is what is seen."""
        super().set_text(text)
        self._show_end()

    def repaint(self) -> None:
        """Take colours and sizes from the theme again."""
        super().repaint()
        self.grid_rowconfigure(0, minsize=theme.px(3 * theme.GAP))
        self.grid_rowconfigure(1, minsize=theme.px(theme.CONTROL))
        self.grid_rowconfigure(2, minsize=theme.px(theme.MESSAGE))

    def _show_end(self) -> None:
        # The name of the file tells more than the beginning of its path.
        if not self.has_focus:
            self._entry.xview_moveto(1.0)


class PreviewPane(Area):
    """How an export will look: a picture on a quiet ground, or a text to read."""

    def __init__(self, master: tk.Misc) -> None:
        super().__init__(master, "window")
        self._image: Any = None
        self._picture = tk.Label(self, bd=0)
        self.page = TextPage(self)
        self._note = Label(self, "", role="dim", size=theme.SMALL, anchor="center")
        self._note.configure(justify="center")
        self._said = ""
        self.grid_propagate(False)  # noqa: FBT003 - the room decides on the picture
        self.bind("<Configure>", lambda _event: self._fit_note())
        self.grid_columnconfigure(0, weight=1)
        self.grid_rowconfigure(0, weight=1)
        self._note.grid(row=1, column=0, sticky="ew")
        self.repaint()

    @property
    def picture(self) -> Any:
        """The picture shown, a ``PhotoImage``; None while there is none."""
        return self._image

    @property
    def note(self) -> str:
        """What is said below, whole even where there is no room for all of it."""
        return self._said

    def room(self) -> tuple[int, int]:
        """Return the width and height a picture can have, screen pixels."""
        side, foot = 2 * theme.px(theme.PADDING), self._foot()
        wide, high = self.winfo_width() - side, self.winfo_height() - side - foot
        return max(wide, 1), max(high, 1)

    def wait(self) -> None:
        """Say that a new one is being drawn; the old one stays until then."""
        self._say(_WAITING)

    def show(self, made: Preview) -> None:
        """Show a preview."""
        self.clear(made.note)
        if made.png:
            self._image = tk.PhotoImage(master=self, data=made.png, format="png")
            self._picture.configure(image=self._image)
            self._picture.grid(row=0, column=0)
        else:
            self.page.set_text(made.text)
            self.page.grid(row=0, column=0, sticky="nsew")

    def clear(self, note: str = "") -> None:
        """Show nothing, and perhaps say why."""
        self._picture.grid_forget()
        self.page.grid_forget()
        self._picture.configure(image="")
        self._image = None
        self._say(note)

    def _say(self, note: str) -> None:
        self._said = note
        self._fit_note()

    def _fit_note(self) -> None:
        room = max(self.winfo_width() - 2 * theme.px(theme.PADDING), 1)
        self._note.set_wrap(room)
        # Lines break between words, so that two hold less than twice their width.
        self._note.set_text(theme.fitted(self._said, round(_NOTE_FILL * room), theme.SMALL))

    @staticmethod
    def _foot() -> int:
        return 2 * theme.line_height(theme.SMALL) + theme.px(theme.GAP)

    def repaint(self) -> None:
        """Take colours and sizes from the theme again."""
        super().repaint()
        self.grid_rowconfigure(1, minsize=self._foot())
        self._fit_note()
        self._picture.configure(
            bg=theme.colour("window"),
            highlightthickness=max(1, theme.px(1)),
            highlightbackground=theme.colour("rule"),
        )


class Outcome(Area):
    """What came of an export, or how far it is: a sentence with its sign, or a bar."""

    def __init__(self, master: tk.Misc) -> None:
        super().__init__(master)
        self.on_change: Callable[[], Any] = lambda: None
        """Called when there is something to be seen, or nothing any more."""
        self._kind: Kind = "note"
        self._sign = tk.Label(self, bd=0, highlightthickness=0)
        self._words = Label(self, "")
        self._bar = Area(self, "pressed")
        self._done = Area(self._bar, "accent")
        self.grid_columnconfigure(1, weight=1)
        self._sign.grid(row=0, column=0, sticky="n")
        self._words.grid(row=0, column=1, sticky="w")
        self._text = ""
        self.repaint()

    @property
    def text(self) -> str:
        """What it says, "" for nothing."""
        return self._text

    @property
    def kind(self) -> Kind:
        """What sort of thing it says."""
        return self._kind

    @property
    def is_empty(self) -> bool:
        """True while there is nothing to be seen."""
        return not self._text

    def say(self, text: str, kind: Kind) -> None:
        """Say a sentence."""
        self._bar.grid_forget()
        self._set(text, kind)

    def busy(self, share: float, doing: str) -> None:
        """Show how far an export is, 0 to 1."""
        self._set(f"{doing} ({share * 100:.0f} %)", "note")
        self._done.place(relx=0, rely=0, relheight=1, relwidth=min(max(share, 0.0), 1.0))
        side = theme.px(theme.PADDING)
        self._bar.grid(row=1, column=0, columnspan=2, sticky="ew", padx=side)

    def clear(self) -> None:
        """Say nothing."""
        self.say("", "note")

    def fit(self, width: int) -> None:
        """Break lines to a width, screen pixels."""
        self._words.set_wrap(max(width - theme.px(icons.SIZE + theme.GAP), 1))

    def repaint(self) -> None:
        """Take colours and sizes from the theme again."""
        super().repaint()
        tk.Frame.configure(self._bar, height=theme.px(_BAR_HEIGHT))
        self._show()

    def _set(self, text: str, kind: Kind) -> None:
        self._text, self._kind = text, kind
        self._words.set_text(text)
        self._show()
        self.on_change()

    def _show(self) -> None:
        names = {"ok": "check", "error": "alert"}
        roles: dict[Kind, Role] = {"note": "dim", "ok": "ok", "error": "error"}
        role = roles[self._kind]
        name = names.get(self._kind, "")
        image = icons.photo(name, role, icons.MARK) if name else ""
        self._sign.configure(image=image, bg=theme.colour(self.surface))
        side, gap = theme.px(theme.PADDING), theme.px(theme.GAP)
        self._sign.grid_configure(padx=(side, gap if name else 0), pady=(gap, 0))
        self._words.grid_configure(padx=(0, side), pady=(gap, theme.px(4)))
        self._words.set_role(role)
