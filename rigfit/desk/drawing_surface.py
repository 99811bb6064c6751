"""The canvas of the drawing: shapes as pictures, words as canvas items, none ever deleted.

A whole picture is painted once. When part of it changes, that part alone is painted anew, on what
lies under it, and laid over the whole as a patch: dragging the engine costs a tenth of a full draw.
"""

from __future__ import annotations

import math
import tkinter as tk
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from rigfit.desk.kit import icons, theme
from rigfit.desk.painter import Box, Words, item_box, paint, words_of
from rigfit.desk.picture_parts import Picture
from rigfit.desk.pictures import Callout
from rigfit.desk.view import View
from rigfit.drawing.fonts import base_point, em_mm
from rigfit.drawing.palette import Palette
from rigfit.drawing.scene import Item

if TYPE_CHECKING:
    from PIL import ImageTk

_GRID = 64
"""Patches are multiples of this wide and high, so that their photo can be used again."""

_MOST = 0.7
"""Share of the pane above which painting all is as fast as painting a patch."""

_RECENT = 8
"""Patches kept, enough for the rows of a bracket."""

_SMALLEST_PX = 2.5
"""Capitals lower than this are left out; nobody could read them."""

_TINY_PX = 9.0
"""Letters lower than this are rounded up; whole pixels down, they could hardly be read."""

_ANCHORS = {"left": "sw", "centre": "s", "right": "se"}


class Surface(tk.Canvas):
    """Shows pictures; made once for the life of its pane."""

    def __init__(self, master: tk.Misc) -> None:
        super().__init__(master, bd=0, width=1, height=1, takefocus=1, confine=False)
        self._base, self._patch = _Photo(self), _Photo(self)
        self._words = _WordPool(self)
        self.callout = CalloutBox(self)
        self._picture: Picture | None = None  # what the base shows
        self._view: View | None = None
        self._palette: Palette | None = None
        self._under: Any = None
        self._whole: Any = None
        self._patched: tuple[Box, Any] | None = None
        self._recent: list[tuple[Picture, Box, Any]] = []  # patches that may be wanted again
        self.whole_paints = 0

    @property
    def pixels(self) -> Any:
        """All shapes on show as an array, height x width x 4; None before the first picture."""
        if self._patched is None:
            return self._whole
        (left, top, right, bottom), part = self._patched
        whole = self._whole.copy()
        whole[top:bottom, left:right] = part
        return whole

    @property
    def words(self) -> tuple[Words, ...]:
        """All words on show."""
        return self._words.shown

    def show(self, picture: Picture, view: View, palette: Palette) -> None:
        """Show a picture; what has not changed is not painted again."""
        before = self._picture
        if before is None or (view, palette) != (self._view, self._palette):
            self._under = None
            self._show_whole(picture, view, palette)
        elif not self._show_recent(picture):
            box = changed_box(before, picture, view)
            if box is None:
                self._patched = None
                self._patch.hide()
            elif _area(box) > _MOST * view.width * view.height:
                self._show_whole(picture, view, palette)
            else:
                self._show_patch(picture, box, view, palette)
        self._words.show(words_of(picture.items, view), view.scene_scale, palette)

    def _show_whole(self, picture: Picture, view: View, palette: Palette) -> None:
        before = self._picture
        if self._under is None or before is None or before.under != picture.under:
            self._under = paint(picture.under, view, palette)
        self._whole = paint((*picture.moving, *picture.over), view, palette, ground=self._under)
        self._picture, self._view, self._palette = picture, view, palette
        self._patched = None
        self._recent.clear()
        self._base.show(self._whole, (0, 0))
        self._patch.hide()
        self.whole_paints += 1

    def _show_recent(self, picture: Picture) -> bool:
        """Show the patch of the very same picture again, if it is still there."""
        for known, box, part in self._recent:
            if known is picture:
                self._patched = box, part
                self._patch.show(part, box[:2])
                return True
        return False

    def _show_patch(self, picture: Picture, box: Box, view: View, palette: Palette) -> None:
        before = self._picture
        if before is not None and before.under == picture.under:
            items = (*picture.moving, *picture.over)
            part = paint(items, view, palette, ground=self._under, crop=box)
        else:
            part = paint(picture.items, view, palette, crop=box)
        self._patched = box, part
        self._recent = [*self._recent[-_RECENT + 1 :], (picture, box, part)]
        self._patch.show(part, box[:2])

    def repaint(self) -> None:
        """Take colours and sizes from the theme again."""
        paper = theme.colour("panel")
        self.configure(
            bg=paper,
            highlightthickness=theme.px(theme.RING),
            highlightcolor=theme.colour("focus"),
            highlightbackground=paper,
        )
        self.callout.repaint()


def changed_box(before: Picture, after: Picture, view: View) -> Box | None:
    """Return the pixels that differ between two pictures, rounded up; None for none.

    A picture that lost or gained items has its layer compared by what is in it and what is not.
    """
    changed: list[Item] = []
    most = len(before.items)
    for old, new in (
        (before.under, after.under), (before.moving, after.moving), (before.over, after.over),
    ):  # fmt: skip
        if old is new:
            continue
        if len(old) == len(new):
            for one, other in zip(old, new, strict=True):
                if one is not other and one != other:
                    changed += (one, other)
        else:
            kept = set(old) & set(new)
            changed += [item for item in (*old, *new) if item not in kept]
        if len(changed) > most:  # more than half of all, of old and new together
            return 0, 0, view.width, view.height
    boxes = [item_box(item, view) for item in changed]
    left, top = min((box[0] for box in boxes), default=0), min((b[1] for b in boxes), default=0)
    right, bottom = max((b[2] for b in boxes), default=0), max((b[3] for b in boxes), default=0)
    x0, x1 = _rounded(left, right, view.width)
    y0, y1 = _rounded(top, bottom, view.height)
    return (x0, y0, x1, y1) if x1 > x0 and y1 > y0 else None


def _rounded(low: float, high: float, limit: int) -> tuple[int, int]:
    """Return whole pixels around a span, a multiple of the grid long where there is room."""
    first, last = max(low, 0.0), min(high, float(limit))
    if not first < last:
        return 0, 0
    start = math.floor(first)
    length = min(math.ceil((math.ceil(last) - start) / _GRID) * _GRID, limit)
    start = min(start, limit - length)
    return start, start + length


def _area(box: Box) -> int:
    return (box[2] - box[0]) * (box[3] - box[1])


class _Photo:
    """One image item of the canvas; its photo is made anew only for another size."""

    def __init__(self, canvas: tk.Canvas) -> None:
        self._canvas = canvas
        self._item = canvas.create_image(0, 0, anchor="nw", state="hidden")
        self._photo: ImageTk.PhotoImage | None = None
        self._size = (0, 0)

    def show(self, pixels: Any, corner: tuple[int, int]) -> None:
        """Show pixels with their upper left one at a corner."""
        from PIL import Image, ImageTk

        size = (pixels.shape[1], pixels.shape[0])
        if self._photo is None or size != self._size:
            fresh = ImageTk.PhotoImage("RGBA", size, master=self._canvas)
            self._canvas.itemconfigure(self._item, image=fresh)
            self._photo, self._size = fresh, size
        self._photo.paste(Image.frombuffer("RGBA", size, pixels, "raw", "RGBA", 0, 1))
        self._canvas.coords(self._item, *corner)
        self._canvas.itemconfigure(self._item, state="normal")

    def hide(self) -> None:
        """Show nothing."""
        self._canvas.itemconfigure(self._item, state="hidden")


class _WordPool:
    """Lines of text on the canvas; items are used again, and left alone while they are right."""

    def __init__(self, canvas: tk.Canvas) -> None:
        self._canvas = canvas
        self._items: list[int] = []
        self._looks: list[tuple[Any, ...]] = []
        self._descents: dict[Any, int] = {}
        self._ems = tuple(em_mm(1.0, bold=bold) for bold in (False, True))  # of capitals 1 high
        self.shown: tuple[Words, ...] = ()

    def show(self, words: Iterable[Words], scale: float, palette: Palette) -> None:
        """Show these lines and no others.

        :param scale: of the scene they come from.
        """
        self.shown = tuple(line for line in words if line.capital_px >= _SMALLEST_PX)
        for index, line in enumerate(self.shown):
            self._set(index, self._look(line, scale, palette))
        for index in range(len(self.shown), len(self._items)):
            if self._looks[index]:
                self._canvas.itemconfigure(self._items[index], state="hidden")
                self._looks[index] = ()

    def _look(self, line: Words, scale: float, palette: Palette) -> tuple[Any, ...]:
        text = line.text
        exact = line.capital_px * self._ems[text.bold]
        size = math.ceil(exact) if exact < _TINY_PX else round(exact)
        font = (theme.family(), -size, "bold") if text.bold else (theme.family(), -size)
        x0, y0 = text.at
        x1, y1 = base_point(text, scale)
        pixel = line.capital_px / (text.height_mm * scale)  # per model mm
        # Tk sets a line by its lower edge, which is below the base line.
        down, turn = self._descent(font), math.radians(text.angle_deg)
        x = line.at[0] + (x1 - x0) * pixel + down * math.sin(turn)
        y = line.at[1] - (y1 - y0) * pixel + down * math.cos(turn)
        colour = palette[text.ink]
        return x, y, text.words, font, colour, _ANCHORS[text.across], text.angle_deg

    def _descent(self, font: tuple[Any, ...]) -> int:
        if font not in self._descents:
            answer = self._canvas.tk.call("font", "metrics", font, "-descent")
            self._descents[font] = int(str(answer))
        return self._descents[font]

    def _set(self, index: int, look: tuple[Any, ...]) -> None:
        if index == len(self._items):
            self._items.append(self._canvas.create_text(0, 0))
            self._looks.append(())
            self._canvas.tag_raise("above")
        if look == self._looks[index]:
            return
        item, (x, y, words, font, colour, anchor, angle) = self._items[index], look
        before = self._looks[index]
        if before[:2] != look[:2]:
            self._canvas.coords(item, x, y)
        if before[2:] != look[2:]:
            self._canvas.itemconfigure(
                item, text=words, font=font, fill=colour, anchor=anchor, angle=angle,
                state="normal",
            )  # fmt: skip
        self._looks[index] = look


class CalloutBox:
    """A small box beside the pointer with a few lines and, before the last, a verdict's mark."""

    def __init__(self, canvas: tk.Canvas) -> None:
        self._canvas = canvas
        kwargs: dict[str, Any] = {"state": "hidden", "tags": ("above", "callout")}
        self._box = canvas.create_rectangle(0, 0, 0, 0, **kwargs)
        self._mark = canvas.create_image(0, 0, anchor="w", **kwargs)
        self._lines = [canvas.create_text(0, 0, anchor="w", **kwargs) for _ in range(4)]
        self.content: Callout | None = None

    def show(self, content: Callout, at: tuple[float, float]) -> None:
        """Say something beside a point, inside the pane."""
        self.content = content
        lines, canvas = content.lines, self._canvas
        pad, pitch = theme.px(theme.GAP), theme.line_height(theme.LABEL) + theme.px(2)
        indent = theme.px(icons.MARK + 4) if content.verdict is not None else 0
        widths = [theme.text_width(line, theme.LABEL, bold=n == 0) for n, line in enumerate(lines)]
        widths[-1] += indent
        width, height = max(widths) + 2 * pad, len(lines) * pitch + 2 * pad
        room_x, room_y = canvas.winfo_width() - width - pad, canvas.winfo_height() - height - pad
        left = max(min(at[0] + 2 * pad, room_x), pad)
        top = max(min(at[1] + 2 * pad, room_y), pad)
        canvas.coords(self._box, left, top, left + width, top + height)
        for index, item in enumerate(self._lines):
            is_last = index == len(lines) - 1
            words = lines[index] if index < len(lines) else ""
            x = left + pad + (indent if is_last else 0)
            canvas.coords(item, x, top + pad + (index + 0.5) * pitch)
            canvas.itemconfigure(item, text=words, state="normal")
        if content.verdict is not None:
            canvas.coords(self._mark, left + pad, top + pad + (len(lines) - 0.5) * pitch)
            canvas.itemconfigure(self._mark, image=icons.mark(content.verdict))
        canvas.itemconfigure(self._box, state="normal")
        canvas.itemconfigure(self._mark, state="normal" if content.verdict else "hidden")

    def hide(self) -> None:
        """Say nothing."""
        if self.content is not None:
            self.content = None
            self._canvas.itemconfigure("callout", state="hidden")

    def repaint(self) -> None:
        """Take colours and letters from the theme again."""
        canvas = self._canvas
        canvas.itemconfigure(
            self._box, fill=theme.colour("field"), outline=theme.colour("border"),
            width=max(1, theme.px(1)),
        )  # fmt: skip
        for index, item in enumerate(self._lines):
            font = theme.tk_font(theme.LABEL, bold=index == 0)
            canvas.itemconfigure(item, font=font, fill=theme.colour("text"))


def grip_photo(width: int) -> Any:
    """Return the handle that tilts the engine: a disc of the accent with the icon on it.

    :param width: of the disc, logical px; ask again when the look has changed.
    """
    from PIL import Image, ImageTk

    size, inner = theme.px(width), theme.px(width * 2 / 3)
    pen = icons.Pen(size)
    pen.disc(12, 12, 11)
    grip = Image.new("RGBA", (size, size), theme.colour("accent"))
    grip.putalpha(pen.mask())
    sign = icons.picture("tilt", inner, theme.colour("on_accent"))
    edge = (size - inner) // 2
    grip.alpha_composite(sign, (edge, edge))
    return ImageTk.PhotoImage(grip, master=theme.root())
