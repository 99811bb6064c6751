"""Pictures of the boat afloat: the hull with the water before and after, and heights against mass.

No Tk. The drawings are those that are exported; here each item gets the name of the field it
belongs to, and every listed mass with a place a handle by which it is moved fore and aft.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from rigfit.desk.picture_parts import sized, smaller_by
from rigfit.desk.view import View
from rigfit.drawing.scene import Disc, Ink, Item, Path, Pen, Point, Scene, Text
from rigfit.errors import NotMeasuredError
from rigfit.rigging.report import EngineReport
from rigfit.units import Shown
from rigfit.wording import say

if TYPE_CHECKING:
    from rigfit.desk.form_state import Derived
    from rigfit.rigging.afloat import Flotation

AFLOATS = frozenset({"afloat", "scupper-curve"})
"""Pictures made here, by the word in ``Look.picture``."""

SINGLE_TABLES = ("bolting", "hull", "afloat", "old_engine")
"""Single tables of which a field can be the ref of an item: ``hull.chine_beam``."""

AHEAD = "ahead_of_transom"
"""The field of a load that dragging it writes."""

MOST_HANDLES = 20

_ROOMY_MM = 205.0  # height of a pane with room for all, paper mm
_HANDLE_MM = 2.6  # radius, paper mm of the sheet
_SIDE_FOOT_MM = -150.0  # below it lie the columns and the curve
_MARK_PARTS = ("mark", "name", "height", "now", "curve", "end", "key")
_MOST_MARKS = 6
_AFLOAT_FIELDS = {"afloat.transom_top", "afloat.scupper", "afloat.well_sill"}


# -- what there is to draw -------------------------------------------------------------------------


def flotation_in(report: EngineReport, style: Shown) -> Flotation:
    """Return how the boat of a report floats.

    :raises NotMeasuredError: when that cannot be said yet, with what to do.
    """
    from rigfit.rigging.afloat import Trouble, flotation_of

    found = flotation_of(report.case)
    if found is None:
        raise NotMeasuredError(
            "nothing is filled in about the hull and how she lies afloat",
            cure="fill in the hull, and the heights above the water read afloat",
        )
    if isinstance(found, Trouble):
        cure = say(found.settle, style).rstrip(".")
        raise NotMeasuredError(
            say(found.sentence, style).rstrip("."), cure=cure[:1].lower() + cure[1:]
        )
    return found


@dataclass(slots=True)
class _Drawn:
    """The last curve that was drawn: it costs more than a frame and is asked for often."""

    flotation: Flotation
    style: Shown
    scene: Scene


_last: list[_Drawn] = []


def _curve(flotation: Flotation, style: Shown) -> Scene:
    from rigfit.drawing.afloat_view import margin_curve_scene

    if _last and _last[0].flotation is flotation and _last[0].style == style:
        return _last[0].scene
    scene = margin_curve_scene(flotation, style)
    _last[:] = [_Drawn(flotation, style, scene)]
    return scene


def afloat_items(
    name: str, derived: Derived, report: EngineReport, view: View, style: Shown
) -> tuple[tuple[Item, ...], tuple[Item, ...]]:
    """Return what one of ``AFLOATS`` shows, and the handles of masses that lie over it.

    The letters of the curve grow with it; those of the boat keep their size, smaller in a low pane.

    :raises NotMeasuredError: when it cannot be said how she floats.
    """
    flotation = flotation_in(report, style)
    refs, scale = _refs(flotation, derived), view.scene_scale
    if name != "afloat":
        scene = _curve(flotation, style)
        return tuple(sized(_renamed(scene.items, refs), scene.scale / scale)), ()
    from rigfit.drawing.afloat_view import screen_items

    smaller = smaller_by(view, _ROOMY_MM)
    drawn = tuple(_renamed(screen_items(flotation, style, smaller * scale), refs))
    handles = _handles(flotation, derived, drawn, smaller * scale)
    return tuple(sized(drawn, smaller)), tuple(sized(handles, smaller))


def _renamed(items: Iterable[Item], refs: dict[str, str]) -> Iterator[Item]:
    for item in items:
        yield replace(item, ref=refs.get(item.ref, ""))


def afloat_note(name: str, report: EngineReport, style: Shown) -> str:
    """Return the note below one of ``AFLOATS``, "" for none."""
    try:
        flotation = flotation_in(report, style)
    except NotMeasuredError:
        return ""
    words = []
    if not flotation.is_anchored:
        words.append("Nothing was read afloat: heights are estimates.")
    job = report.case.job
    placed = [item for item in job.masses if item.ahead_of_transom is not None][:MOST_HANDLES]
    if placed and name == "afloat":
        named = ", ".join(f"M{at} {_mass_name(item)}" for at, item in enumerate(placed, start=1))
        words.append(f"Drag a mass fore and aft: {named}.")
    if flotation.uncounted:
        left = ", ".join(dict.fromkeys(flotation.uncounted))
        words.append(f"Not counted, mass or place not known: {left}.")
    return " ".join(words)


def _mass_name(item: object) -> str:
    return str(getattr(item, "name", "") or getattr(item, "kind", ""))[:24]


# -- which field an item belongs to ----------------------------------------------------------------


def _refs(flotation: Flotation, derived: Derived) -> dict[str, str]:
    """Return the new name of every ref of the drawings that leads to a field."""
    refs = {
        "hull": "hull.chine_beam",
        "chine": "hull.chine_beam",
        "pod": "hull.pod_volume",
        "water-now": "afloat.bow",
        "mass-old-engine": "old_engine.mass",
    }
    order = sorted(enumerate(flotation.marks), key=lambda pair: pair[1].after.value)
    fields = mark_fields(flotation, derived)
    for number, (at, _) in enumerate(order[:_MOST_MARKS], start=1):
        refs |= {f"{part}-{number}": fields[at] for part in _MARK_PARTS}
    for place, name in _listed_names(derived):
        refs.setdefault(f"mass-{name.replace(' ', '-')}", f"mass-{place}")
    return refs


def mark_fields(flotation: Flotation, derived: Derived) -> tuple[str, ...]:
    """Return the ref of the field or row behind each mark of a flotation, "" for none."""
    rows = [(mark.name or mark.kind, mark.kind) for mark in derived.job.marks]
    found, after = [], 0
    for mark in flotation.marks:
        ref = mark.needs[0] if mark.needs[0] in _AFLOAT_FIELDS else ""
        if not ref and (mark.name, mark.kind) in rows[after:]:
            # A mark without a height is not among those that float; the others keep their order.
            place = rows.index((mark.name, mark.kind), after)
            ref, after = f"mark-{place}", place + 1
        found.append(ref)
    return tuple(found)


def _listed_names(derived: Derived) -> Iterator[tuple[int, str]]:
    for place, item in enumerate(derived.job.masses):
        name = item.name or f"{item.kind} {place + 1}"
        yield place, name
        yield place, f"fuel in {name}"


# -- masses and their handles ----------------------------------------------------------------------


def mass_row(ref: str) -> int | None:
    """Return which listed mass a ref is the handle or note of, None for another ref."""
    table, _, number = ref.rpartition("-")
    return int(number) if table == "mass" and number.isdigit() else None


def _handles(
    flotation: Flotation, derived: Derived, items: Sequence[Item], scale: float
) -> Iterator[Item]:
    """Yield a ring with a number for every listed mass whose place is known; they never touch.

    :param items: what is drawn already.
    """
    radius = _HANDLE_MM * scale
    discs = (item for item in items if isinstance(item, Disc))
    taken = [item.centre for item in discs if item.radius_mm > radius / 2.0]
    placed = [
        (row, item)
        for row, item in enumerate(derived.job.masses)
        if item.ahead_of_transom is not None
    ]
    middle = flotation.form.top_mm() / 2.0
    for number, (row, item) in enumerate(placed[:MOST_HANDLES], start=1):
        above = item.above_keel.value if item.above_keel else middle
        ahead = item.ahead_of_transom.value if item.ahead_of_transom else 0.0
        at = (-ahead, above)
        # Only along is read off; one that would hide another moves up.
        while any(math.dist(at, other) < 2.2 * radius for other in taken):
            at = (at[0], at[1] + 0.5 * radius)
        taken.append(at)
        ref = f"mass-{row}"
        yield Disc(at, radius, "MARKS", pen=Pen(0.5, ink=Ink.ACCENT), fill=Ink.PAPER, ref=ref)
        yield Text(
            at, f"M{number}", "MARKS", height_mm=1.8, across="centre", up="middle", bold=True,
            ink=Ink.ACCENT, ref=ref,
        )  # fmt: skip


def with_mass_at(items: Sequence[Item], ref: str, by_mm: float) -> tuple[Item, ...]:
    """Return handles with that of one mass so much further aft in the drawing."""
    return tuple(_moved(item, by_mm) if item.ref == ref else item for item in items)


def _moved(item: Item, by_mm: float) -> Item:
    def at(point: Point) -> Point:
        return point[0] + by_mm, point[1]

    if isinstance(item, Disc):
        return replace(item, centre=at(item.centre))
    if isinstance(item, Path):
        return replace(item, points=tuple(at(point) for point in item.points))
    return replace(item, at=at(item.at)) if isinstance(item, Text) else item


def water_words(name: str, point: Point, lengths: tuple[str, str]) -> str:
    """Return where a point of the hull is, in words; "" beside it, where columns and curve are.

    :param lengths: how far it is along and up or down, in words without a sign.
    """
    (x, y), (along, up) = point, lengths
    if name != "afloat" or y < _SIDE_FOOT_MM:
        return ""
    return (
        f"{along} {'aft' if x > 0.0 else 'ahead'} of the transom's foot, "
        f"{up} {'above' if y >= 0.0 else 'below'} the keel line"
    )
