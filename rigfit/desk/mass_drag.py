"""Loads moved fore and aft in the picture of the boat afloat. No Tk.

Where one is let go is written into its field as if it were typed, as a step of its own.
"""

from __future__ import annotations

from dataclasses import replace

from rigfit.desk.afloat_pictures import AHEAD, mass_row, with_mass_at
from rigfit.desk.draft import Address
from rigfit.desk.picture_parts import Picture
from rigfit.desk.pictures import Callout
from rigfit.desk.workbench import Workbench
from rigfit.rigging.readings import Reading
from rigfit.units import Kind, Shown, show

STEP_MM, STEP_IN = 10.0, 0.5
"""A dragged load comes to stand at whole steps of these."""

_MM_PER_INCH = 25.4


def is_handle(picture: Picture, ref: str) -> bool:
    """True for what a load of the picture is taken hold of by."""
    is_moved = any(item.ref == ref for item in picture.moving)
    return picture.kind == "afloat" and is_moved and mass_row(ref) is not None


def place_now(bench: Workbench, ref: str) -> Reading | None:
    """Return how far ahead of the transom a load is said to be; None where nobody said."""
    row, masses = mass_row(ref), bench.derived.job.masses
    return masses[row].ahead_of_transom if row is not None and row < len(masses) else None


def dragged(bench: Workbench, ref: str, aft_mm: float) -> float | None:
    """Return where a load stands that was dragged aft, mm ahead of the transom; None for none.

    It stands at whole steps, within what its field allows and no further forward than the stem.
    """
    now, length = place_now(bench, ref), bench.derived.job.boat.length
    if now is None:
        return None
    step = STEP_MM if bench.style.lengths == "mm" else STEP_IN * _MM_PER_INCH
    spec = Address("mass", AHEAD, 0).spec
    most = max(length.value, now.value) if length else spec.high
    wanted = min(max(now.value - aft_mm, spec.low), most)
    return step * round(wanted / step) + 0.0


def shown_at(picture: Picture, bench: Workbench, ref: str, ahead_mm: float | None) -> Picture:
    """Return a picture with the handle of a load where it is dragged to; as it is for None."""
    now = place_now(bench, ref)
    if now is None or ahead_mm is None:
        return picture
    return replace(picture, moving=with_mass_at(picture.moving, ref, now.value - ahead_mm))


def callout(ahead_mm: float | None, style: Shown) -> Callout:
    """Return where a load stands, to be read beside it."""
    if ahead_mm is None:
        return Callout(())
    side = "ahead" if ahead_mm >= 0.0 else "aft"
    return Callout((f"{show(abs(ahead_mm), Kind.LENGTH, style)} {side} of the transom",))


def put(bench: Workbench, ref: str, ahead_mm: float) -> None:
    """Write where a load was dragged to into its field, in the unit lengths are shown in."""
    row = mass_row(ref)
    if row is None:
        return
    in_mm = bench.style.lengths == "mm"
    inches = round(ahead_mm / _MM_PER_INCH, 2)
    text = f"{round(ahead_mm):d} mm" if in_mm else f"{inches:g} in"
    bench.put(Address("mass", AHEAD, row), text, "the place of a load")
