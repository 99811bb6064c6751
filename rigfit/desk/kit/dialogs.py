"""Real questions, asked in a window of their own: unsaved changes, a file that has changed.

Everything is asked through one replaceable ``Questions``, so that a test can answer.
"""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable, Mapping
from pathlib import Path

import customtkinter as ctk

from rigfit.desk.kit import theme
from rigfit.desk.kit.base import Area, Label
from rigfit.desk.kit.buttons import Button
from rigfit.desk.kit.colours import Role
from rigfit.desk.kit.file_dialogs import FileKinds, ask_path

_TEXT_WIDTH = 400


class Dialog(tk.Toplevel):
    """A window in front of its parent that waits for an answer.

    Put widgets into ``body``; add buttons, the first one Return presses; Escape closes.

    :param title: what it is about, three or four words.
    """

    surface: Role = "panel"

    def __init__(self, parent: tk.Misc, title: str) -> None:
        super().__init__(parent, bg=theme.colour("panel"), bd=0, highlightthickness=0)
        self.title(title)
        self.resizable(width=False, height=False)
        self.answer = ""
        self._parent = parent.winfo_toplevel()
        self._before: tk.Misc | None = parent.focus_get()
        self._buttons: dict[str, Button] = {}
        self.body = Area(self, "panel")
        self._foot = Area(self, "panel")
        pad = theme.px(3 * theme.UNIT)
        self.body.pack(fill="both", expand=True, padx=pad, pady=(pad, theme.px(theme.PADDING)))
        self._foot.pack(fill="x", padx=pad, pady=(0, pad))
        self.bind("<Escape>", lambda _event: self.close(""))
        self.protocol("WM_DELETE_WINDOW", lambda: self.close(""))
        theme.watch(self)

    def add_button(self, key: str, text: str) -> Button:
        """Add a button that answers with its key; the first one is filled and has Return."""
        style = "ghost" if self._buttons else "primary"
        button = Button(self._foot, text, lambda: self.close(key), style=style, width=88)  # type: ignore[arg-type]
        button.pack(side="right", padx=(theme.GAP, 0))
        self._buttons[key] = button
        return button

    @property
    def buttons(self) -> Mapping[str, Button]:
        """The buttons by their keys."""
        return self._buttons

    def show(self) -> str:
        """Show it, wait, and return the key of the button that was pressed; "" for none."""
        self._place()
        self.transient(self._parent)
        self.deiconify()
        self.lift()
        self.wait_visibility()
        self.grab_set()
        # Some window managers give the keyboard back to the parent while they map a window.
        self.after(50, self._take_focus)
        self._take_focus()
        self.wait_window()
        return self.answer

    def close(self, answer: str) -> None:
        """Close it with an answer, and put the keyboard back where it was."""
        self.answer = answer
        self.grab_release()
        self.destroy()
        if self._before is not None and self._before.winfo_exists():
            self._before.focus_set()

    def destroy(self) -> None:
        """Close it without an answer."""
        # customtkinter keeps asking windows it has met for their scale.
        ctk.ScalingTracker.remove_window(None, self)
        super().destroy()

    def repaint(self) -> None:
        """Take the background from the theme again."""
        self.configure(bg=theme.colour("panel"))

    def _take_focus(self) -> None:
        inside = self.focus_get()
        if inside is None or not str(inside).startswith(f"{self}."):
            first = next(iter(self._buttons.values()), None)
            (first or self).focus_set()

    def _place(self) -> None:
        self.withdraw()
        self.update_idletasks()
        parent, wide, high = self._parent, self.winfo_reqwidth(), self.winfo_reqheight()
        left = parent.winfo_rootx() + (parent.winfo_width() - wide) // 2
        top = parent.winfo_rooty() + (parent.winfo_height() - high) // 3
        self.geometry(f"+{max(0, left)}+{max(0, top)}")


class Questions:
    """Asks the person at the screen; a test puts another one in its place."""

    def ask(self, parent: tk.Misc, title: str, text: str, choices: Mapping[str, str]) -> str:
        """Ask, and return the key of the choice; "" when the window was just closed.

        :param title: the question in a few words; it is the heading.
        :param text: what hangs on the answer.
        :param choices: keys with the words on their buttons, the usual answer first.
        """
        dialog = question(parent, title, text, choices)
        return dialog.show()

    def open_path(self, parent: tk.Misc, title: str, kinds: FileKinds) -> Path | None:
        """Ask for a file to open; None when nothing was chosen."""
        return ask_path(parent, "open", title, kinds)

    def save_path(
        self, parent: tk.Misc, title: str, kinds: FileKinds, *, suggestion: Path
    ) -> Path | None:
        """Ask where to save, and whether to write over what is there; None for nothing chosen."""
        return ask_path(parent, "save", title, kinds, suggestion)

    def folder_path(self, parent: tk.Misc, title: str, *, suggestion: Path) -> Path | None:
        """Ask for a folder; None when nothing was chosen."""
        return ask_path(parent, "folder", title, (), suggestion)


class _Asked:
    """Holds whoever asks the questions now."""

    questions: Questions = Questions()


def questions() -> Questions:
    """Return whoever asks the questions."""
    return _Asked.questions


def ask_through(other: Questions) -> Callable[[], None]:
    """Have another object ask; call what is returned to undo that."""
    before, _Asked.questions = _Asked.questions, other

    def undo() -> None:
        _Asked.questions = before

    return undo


def ask(parent: tk.Misc, title: str, text: str, choices: Mapping[str, str]) -> str:
    """Ask a question and return the key of the answer; "" when the window was just closed."""
    return _Asked.questions.ask(parent, title, text, choices)


def question(parent: tk.Misc, title: str, text: str, choices: Mapping[str, str]) -> Dialog:
    """Return a dialog with a question, not yet shown."""
    dialog = Dialog(parent, title)
    head = Label(dialog.body, title, size=theme.HEADING, bold=True, wrap=_TEXT_WIDTH)
    head.pack(anchor="w")
    words = Label(dialog.body, text, wrap=_TEXT_WIDTH)
    words.pack(anchor="w", pady=(theme.px(theme.GAP), 0))
    for key, word in choices.items():
        dialog.add_button(key, word)
    return dialog
