"""Pictures of the sheets besides profile and template: the face, the bolt section, the dash. No Tk.

Their items come from the drawings that are exported; here each gets the name of the field it
belongs to, so that a click on a hole leads to its row and a field lights up what it describes.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import TYPE_CHECKING

from rigfit.desk.afloat_pictures import (
    AFLOATS,
    SINGLE_TABLES,
    afloat_note,
    water_words,
)
from rigfit.desk.draft import FIELDS, RECORDS, Address
from rigfit.desk.form_state import Derived
from rigfit.drawing.scene import Disc, Item, Path, Point, Text, flatten
from rigfit.errors import NotMeasuredError
from rigfit.rigging.readings import specs
from rigfit.rigging.report import EngineReport
from rigfit.rigging.template import drilling_template
from rigfit.units import Shown
from rigfit.wording import shown

if TYPE_CHECKING:
    from rigfit.drawing.face_plan import FacePlan

TRIALS = frozenset({"underway", "trial"})
"""Pictures of the boat under way and of its sea trials, made in ``trial_pictures``."""

PLANES = frozenset({"face", "face-inside", "section", "dash"}) | AFLOATS | TRIALS
"""Pictures of sheets, by the word in ``Look.picture``."""

ROWS = ("hole", "opening", "no_go", "dash", "obstacle", "mark", "mass", "run")
"""Repeated tables whose rows are drawn; the items of a row have the ref ``hole-0``."""

SINGLE = ("well", *SINGLE_TABLES, "underway", "propeller")
"""Single tables whose fields are drawn; the items of a field have the ref ``well.length``."""

_FIELD_KEY = re.compile(r"\b[a-z]+(?:_[a-z]+)+\b")
_LABELS = {name: spec.label for fields in FIELDS.values() for name, spec in fields}
_MARKS = {"X": "hole", "P": "opening", "G": "no_go"}
_OF_THE_FACE = frozenset({"old", "opening", "cross", "mark", "place"})
_SECTION_FIELDS: Mapping[str, str] = MappingProxyType(
    {
        "engine's bracket": "bolting.flange",
        "backing plate": "bolting.plate_thickness",
        "washer": "bolting.washer",
        "bolt": "bolting.bolt",
        "head": "bolting.bolt",
        "length": "bolting.length",
        "transom": "thickness",
    }
)
_RELATIONS: Mapping[str, str] = MappingProxyType(
    {
        "breaks into": "Breaking into an old hole: {}.",
        "too near": "Too near an old hole: {}.",
        "falls in a slot": "In an old slot: {}.",
        "serves": "An old hole serves: {}.",
    }
)
_MOST_NAMED = 8
_SAG_MM = 0.5
_HEADINGS = {"view": 4.0, "side": 3.0}  # height of capitals, paper mm


# -- which field an item belongs to ----------------------------------------------------------------


def row_ref(table: str, index: int) -> str:
    """Return the ref of the items of one row of a repeated table: ``hole-0``."""
    return f"{table}-{index}"


def row_address(ref: str) -> Address | None:
    """Return the field a ref leads to: the first of a row, or one of the bolting or the well.

    None for a ref that leads nowhere; of the boat afloat it is a field of hull or water.
    """
    table, _, number = ref.rpartition("-")
    if table in ROWS and number.isdigit():
        return Address(table, FIELDS[table][0][0], int(number))
    table, _, name = ref.partition(".")
    return Address(table, name) if table in SINGLE else None


def places_of(derived: Derived, table: str) -> tuple[int, ...]:
    """Return which row of the form each record of a repeated table in the job comes from."""
    needed = [name for name, spec in specs(RECORDS[table]).items() if spec.required]
    lacking = {
        address.index
        for address in (*derived.missing, *derived.messages)
        if address.table == table and address.field in needed
    }
    rows = range(len(derived.draft.rows(table)))
    return tuple(index for index in rows if index not in lacking)


def without_place(error: NotMeasuredError) -> str:
    """Return an error's problem and cure as a sentence for the form, not for a job file."""
    words = type(error)(error.problem, allowed=error.allowed, cure=error.cure).sentence()
    words = words.replace("that rigfit heights lists", "in the table of heights")
    words = re.sub(rf" as {_FIELD_KEY.pattern}", "", words)
    words = _FIELD_KEY.sub(lambda found: _LABELS.get(found[0], found[0]), words)
    return words[:1].upper() + words[1:]


# -- the items -------------------------------------------------------------------------------------


def plane_items(
    name: str, derived: Derived, report: EngineReport, scale: float, style: Shown
) -> tuple[Item, ...]:
    """Return what one of ``PLANES`` shows, back to front.

    :param scale: model mm per paper mm on the screen.
    :raises NotMeasuredError: when what it needs is not measured or decided.
    """
    if name == "dash":
        return tuple(_sized(_dash(derived, report, style), scale))
    if name == "section":
        from rigfit.drawing.bolt_section import section_items, section_of

        items = section_items(section_of(report.case), scale, style)
        return tuple(replace(item, ref=_SECTION_FIELDS.get(item.ref, "")) for item in items)
    from rigfit.drawing.face_view import face_items

    plan = face_of(report)
    view = "inside" if name == "face-inside" else "outside"
    named = _face_refs(plan, derived)
    return tuple(
        replace(_quieter(item), ref=named.get(item.ref, ""))
        for item in face_items(plan, scale, style, view)  # type: ignore[arg-type] # one of two words
    )


def _quieter(item: Item) -> Item:
    """Return a heading of the face in letters for the screen, the size of a sheet's is too loud."""
    height = _HEADINGS.get(item.ref)
    return replace(item, height_mm=height) if height and isinstance(item, Text) else item


def face_of(report: EngineReport) -> FacePlan:
    """Return the plan of the face, with what each hole is to the others."""
    from rigfit.drawing.face_plan import face_plan, relations_of

    return face_plan(report.case, relations_of(report.holes))


def plane_note(name: str, report: EngineReport) -> str:
    """Return the note below one of ``PLANES``, "" for none.

    Of the face: what is guessed, and why nothing is drilled. Of the section: what the numbers are.
    """
    if name in AFLOATS:
        return afloat_note(name, report, shown(report.case.job.units))
    if name == "section":
        from rigfit.drawing.bolt_section import section_of

        try:
            slabs = section_of(report.case).slabs
        except NotMeasuredError:
            return ""
        return f"From the head in: {', '.join(f'{one.number} {one.layer.name}' for one in slabs)}."
    return _face_note(report) if name.startswith("face") else ""


def _face_note(report: EngineReport) -> str:
    plan = face_of(report)
    words = [_marks_words(plan), *_relation_words(plan)]
    if plan.guessed:
        words.append(f"Dotted, not measured, drawn at a usual size: {', '.join(plan.guessed)}.")
    try:
        drilling_template(report.case)
    except NotMeasuredError as error:
        reason = without_place(error)
        words.append(f"No new holes are drawn: {reason[:1].lower()}{reason[1:]}")
    return " ".join(filter(None, words))


def _marks_words(plan: FacePlan) -> str:
    """Return what the letters of the marks stand for, those that are drawn."""
    kinds = (
        (plan.new, "N new hole"),
        (plan.old, "X old hole"),
        (plan.openings, "P opening"),
        (plan.no_go, "G no place for a bolt"),
    )
    drawn = ", ".join(words for there, words in kinds if there)
    return f"{drawn}." if drawn else ""


def _relation_words(plan: FacePlan) -> Iterator[str]:
    """Yield what the colours of the new holes say, in words."""
    by_relation: dict[str, list[str]] = {}
    for number, hole in enumerate(plan.new, start=1):
        by_relation.setdefault(plan.relations.get(hole.name, ""), []).append(f"N{number}")
    for relation, words in _RELATIONS.items():
        marks = by_relation.get(relation, [])
        if marks:
            named = ", ".join(marks) if len(marks) <= _MOST_NAMED else f"{len(marks)} new holes"
            yield words.format(named)


def _face_refs(plan: FacePlan, derived: Derived) -> dict[str, str]:
    """Return the new name of every ref of the face that leads to a field."""
    refs: dict[str, str] = {}
    for letter, table in _MARKS.items():
        for number, place in enumerate(places_of(derived, table), start=1):
            for part in _OF_THE_FACE:
                refs[f"{part}-{letter}{number}"] = row_ref(table, place)
    for number, hole in enumerate(plan.new, start=1):
        if hole.name.startswith("upper"):
            refs |= {f"{part}-N{number}": "upper-holes" for part in ("new", "mark", "cross")}
    return refs


def _dash(derived: Derived, report: EngineReport, style: Shown) -> Iterable[Item]:
    from rigfit.drawing.dash_view import dash_scene
    from rigfit.rigging.dash import dash_fits

    fits = dash_fits(report.case.job.dash)
    scene = dash_scene(fits, style, report.case.job.boat.name)
    refs: dict[str, str] = {}
    for fit, place in zip(fits, places_of(derived, "dash"), strict=False):
        for part in ("old", "cut", "rim", "ring", "cross"):
            refs.setdefault(f"{part}-{fit.name.replace(' ', '-')}", row_ref("dash", place))
    return (replace(item, ref=refs.get(item.ref, "")) for item in scene.items)


def _sized(items: Iterable[Item], scale: float) -> Iterable[Item]:
    """Yield items of a drawing at true scale: letters as large as on it, so they grow with it."""
    for item in items:
        yield replace(item, height_mm=item.height_mm / scale) if isinstance(item, Text) else item


# -- pointing --------------------------------------------------------------------------------------


def ref_inside(items: Iterable[Item], point: Point) -> str:
    """Return the ref of the smallest hole, opening or place that holds a point, "" for none."""
    found: list[tuple[float, str]] = []
    for item in items:
        if not item.ref or isinstance(item, Text):
            continue
        left, bottom, right, top = box_of(item)
        if left <= point[0] <= right and bottom <= point[1] <= top:
            found.append(((right - left) * (top - bottom), item.ref))
    return min(found, default=(0.0, ""))[1]


def box_of(item: Path | Disc) -> tuple[float, float, float, float]:
    """Return left, bottom, right and top of a line or disc, model mm."""
    if isinstance(item, Disc):
        (x, y), radius = item.centre, item.radius_mm
        return x - radius, y - radius, x + radius, y + radius
    xs, ys = zip(*flatten(item, _SAG_MM), strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def place_words(name: str, point: Point, lengths: tuple[str, str]) -> str:
    """Return where a point of a plane is, in words.

    :param name: one of ``PLANES``.
    :param lengths: how far it is across and up or down, in words without a sign.
    """
    (x, y), (across, up) = point, lengths
    if name in AFLOATS:
        return water_words(name, point, lengths)
    if name in TRIALS:  # their axes are no lengths
        return ""
    if name == "section":
        return (
            f"{across} {'outside' if x >= 0.0 else 'inside'} the transom's outer face, "
            f"{up} {'above' if y >= 0.0 else 'below'} the middle of the bolt"
        )
    if name == "dash":
        return (
            f"{across} {'right' if x >= 0.0 else 'left'} of the left edge, "
            f"{up} {'above' if y > 0.0 else 'below'} the upper edge"
        )
    to_starboard = (x >= 0.0) if name == "face" else (x <= 0.0)
    return (
        f"{across} to {'starboard' if to_starboard else 'port'}, "
        f"{up} {'above' if y > 0.0 else 'below'} the transom top"
    )
