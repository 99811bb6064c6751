"""Backing plates and setback plates as pieces to cut: DRILL and TRIM only, true scale.

These are outlines, not a proof of strength: thickness and material are for the checks on bolts.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from rigfit.drawing.scene import OUTLINE, Disc, Item, Path, Scene
from rigfit.drawing.to_dxf import Release, audit, to_dxf
from rigfit.errors import NotMeasuredError, OutputError
from rigfit.rigging.bolting_fields import Bolting
from rigfit.rigging.case import Case
from rigfit.rigging.hole_pattern import Feature, drilled_features

CORNER_MM = 10.0
"""Radius of a plate's corners; less where the plate is small."""

SETBACK_EDGE_MM = 40.0
"""From the outermost hole centres to the edge of a setback plate, where nobody says otherwise."""

_ARC = 0.41421356237309503  # bulge of a quarter of a circle: tan(90 deg / 4)


@dataclass(frozen=True, slots=True)
class Plate:
    """One flat plate with its bolt holes, in the frame of the transom.

    :param name: "backing plate, all bolts", "backing plate, upper row" ...
    :param across_mm: middle, from the centreline, + to starboard seen from astern.
    :param below_top_mm: middle, below the transom top.
    :param width_mm: across.
    :param height_mm: up and down.
    :param holes: that go through it.
    """

    name: str
    across_mm: float
    below_top_mm: float
    width_mm: float
    height_mm: float
    holes: tuple[Feature, ...]

    @property
    def corner_mm(self) -> float:
        """Radius of the corners: at most a quarter of the shorter side."""
        return min(CORNER_MM, min(self.width_mm, self.height_mm) / 4.0)

    def holds(self, hole: Feature) -> bool:
        """True when half a diameter of plate or more is left all round a hole."""
        across = self.width_mm / 2.0 - abs(hole.across_mm - self.across_mm)
        down = self.height_mm / 2.0 - abs(hole.below_top_mm - self.below_top_mm)
        return min(across, down) >= hole.diameter_mm - 1e-9


def backing_plates(features: Sequence[Feature], bolting: Bolting) -> tuple[Plate, ...]:
    """Return the backing plates of the new holes: for each engine as few as their size allows.

    One plate for all bolts of an engine where it reaches, else one for each row, else one for each
    side, else one for each bolt; each centred on its holes. A kicker has none of this size.

    :param features: the holes of an engine, or of twins; a kicker's are left out.
    :raises NotMeasuredError: when the size of the plate, or the holes, are missing.
    :raises OutputError: when the plate is too small for a single bolt.
    """
    if not features:
        raise NotMeasuredError(
            "there is no backing plate yet: the bolt holes are not decided",
            cure="settle the drilling template first",
        )
    for key, reading in (("width", bolting.plate_width), ("height", bolting.plate_height)):
        if reading is None:
            raise NotMeasuredError(
                f"there is no outline of the backing plate: its {key} is not given",
                cure=f"enter it as plate_{key}",
                where=f"bolting, plate_{key}",
            )
    assert bolting.plate_width and bolting.plate_height  # noqa: S101 - looked at above
    width, height = bolting.plate_width.value, bolting.plate_height.value
    engines = dict.fromkeys(hole.engine for hole in features if hole.engine != "kicker")
    return tuple(
        plate
        for engine in engines
        for plate in _of_one_engine(
            [hole for hole in features if hole.engine == engine], width, height
        )
    )


def _of_one_engine(features: Sequence[Feature], width: float, height: float) -> tuple[Plate, ...]:
    middle = _middle(feature.across_mm for feature in features)
    upper = min(feature.below_top_mm for feature in features)
    groupings: tuple[Callable[[Feature], str], ...] = (
        lambda _: "all bolts",
        lambda hole: "upper row" if hole.below_top_mm == upper else "lower row",
        lambda hole: "port side" if hole.across_mm < middle else "starboard side",
        lambda hole: hole.name,
    )
    for name_of in groupings:
        plates = _grouped(features, name_of, width, height)
        if all(plate.holds(hole) for plate in plates for hole in plate.holes):
            return plates
    raise OutputError(
        f"a backing plate of {width:g} x {height:g} mm is too small for a hole of "
        f"{features[0].diameter_mm:g} mm",
        allowed=f"each side needs {2.0 * features[0].diameter_mm:g} mm at least",
        where="bolting",
    )


def setback_plates(case: Case, edge_mm: float = SETBACK_EDGE_MM) -> tuple[Plate, Plate]:
    """Return the engine's side and the transom's side of a setback bracket as flat plates.

    Both hang from the top edge of the bracket: ``below_top_mm`` counts from there.

    :param edge_mm: from the outermost hole centres to the side and lower edges.
    :raises NotMeasuredError: without a bracket, or while a figure that places a hole is not
        measured: none is taken from a class.
    """
    bracket, mounting = case.job.bracket, case.job.mounting
    if case.bracket is None:
        raise NotMeasuredError(
            "there is no setback plate: the engine hangs on the transom itself",
            cure="choose a setback bracket first",
            where="bracket, kind",
        )
    if not case.pattern.is_bolted or not case.pattern_is_measured:
        raise NotMeasuredError(
            f"there is no outline of the setback plate: the holes of engine {case.candidate.id} "
            "are not measured",
            cure="measure first_row, upper_spacing, lower_spacing and upper_to_lower on it",
            where="engine",
        )
    needed = (
        (
            "bracket, engine_holes",
            bracket.engine_holes,
            "the engine's holes below its top edge are",
        ),
        ("bracket, height", bracket.height, "its top above the transom top is"),
        (
            "mounting, upper_holes_below_top",
            mounting.upper_holes_below_top,
            "the upper holes in the transom are",
        ),
    )
    for where, reading, what in needed:
        if reading is None:
            raise NotMeasuredError(
                f"there is no outline of the setback plate: {what} not measured",
                cure="measure and enter it",
                where=where,
            )
    assert bracket.engine_holes and bracket.height  # noqa: S101 - looked at above
    assert mounting.upper_holes_below_top  # noqa: S101 - looked at above
    in_transom = mounting.upper_holes_below_top.value + bracket.height.value
    return (
        _hanging("setback plate, engine side",
                 drilled_features(case.pattern, bracket.engine_holes.value), edge_mm),
        _hanging("setback plate, transom side",
                 drilled_features(case.transom_pattern, in_transom), edge_mm),
    )  # fmt: skip


def plate_scene(plate: Plate) -> Scene:
    """Return a plate as a piece to cut, origin at its lower left corner; DRILL and TRIM only."""
    left = plate.across_mm - plate.width_mm / 2.0
    low = plate.below_top_mm + plate.height_mm / 2.0
    items: list[Item] = [
        Disc(
            (hole.across_mm - left, low - hole.below_top_mm), hole.diameter_mm / 2.0, "DRILL",
            pen=OUTLINE, ref=f"hole-{hole.name.replace(' ', '-')}",
        )
        for hole in plate.holes
    ]  # fmt: skip
    outline = rounded((0.0, 0.0, plate.width_mm, plate.height_mm), plate.corner_mm, "TRIM")
    return Scene(title=plate.name.capitalize(), items=(*items, outline), scale=1.0)


def cut_bytes(scene: Scene, release: Release = "R2000") -> bytes:
    """Return a piece to cut as an audited DXF file, the same bytes for the same piece.

    :raises OutputError: when the file is found faulty.
    """
    data = to_dxf(scene, release=release, linetypes=False)
    faults = audit(data)
    if faults:
        raise OutputError(f"the outline is faulty: {faults[0]}", where=scene.title)
    return data


def rounded(box: tuple[float, float, float, float], radius_mm: float, layer: str) -> Path:
    """Return a rectangle (left, bottom, right, top) with round corners as one closed path.

    :param radius_mm: 0 for square corners; at most half the shorter side.
    """
    left, bottom, right, top = box
    if radius_mm <= 0.0:
        corners = ((left, bottom), (right, bottom), (right, top), (left, top))
        return Path(corners, layer, pen=OUTLINE, closed=True, ref="outline")
    r = radius_mm
    points = (
        (left + r, bottom), (right - r, bottom), (right, bottom + r), (right, top - r),
        (right - r, top), (left + r, top), (left, top - r), (left, bottom + r),
    )  # fmt: skip
    bulges = (0.0, _ARC) * 4
    return Path(points, layer, pen=OUTLINE, closed=True, bulges=bulges, ref="outline")


def _middle(values: Iterable[float]) -> float:
    ordered = sorted(values)
    return (ordered[0] + ordered[-1]) / 2.0


def _grouped(
    features: Sequence[Feature], name_of: Callable[[Feature], str], width: float, height: float
) -> tuple[Plate, ...]:
    groups: dict[str, list[Feature]] = {}
    for hole in features:
        groups.setdefault(name_of(hole), []).append(hole)
    return tuple(
        Plate(
            ", ".join(part for part in ("backing plate", holes[0].engine, name) if part),
            _middle(hole.across_mm for hole in holes),
            _middle(hole.below_top_mm for hole in holes),
            width,
            height,
            tuple(holes),
        )
        for name, holes in groups.items()
    )


def _hanging(name: str, holes: Sequence[Feature], edge_mm: float) -> Plate:
    """Return a plate whose top edge is at 0 and whose other edges keep clear of its holes."""
    reach = max(abs(hole.across_mm) for hole in holes) + edge_mm
    low = max(hole.below_top_mm for hole in holes) + edge_mm
    return Plate(name, 0.0, low / 2.0, 2.0 * reach, low, tuple(holes))
