"""Writer to plain lines, one per item: for tests, golden files and comparisons."""

from __future__ import annotations

from rigfit.drawing.scene import Disc, Item, Path, Point, Scene, Text


def listing(scene: Scene) -> tuple[str, ...]:
    """Return one line per item, back to front: layer, kind, place to 0.01 mm, words, ref."""
    return tuple(_line(item) for item in scene.items)


def words(scene: Scene) -> tuple[str, ...]:
    """Return what a scene says, back to front."""
    return tuple(item.words for item in scene.items if isinstance(item, Text))


def _line(item: Item) -> str:
    if isinstance(item, Path):
        kind = ("area" if item.closed else "path") + _path(item)
    elif isinstance(item, Disc):
        kind = f"disc {_at(item.centre)} r {_number(item.radius_mm)}"
    else:
        kind = _text(item)
    return f"{item.layer} {kind}" + (f" [{item.ref}]" if item.ref else "")


def _path(path: Path) -> str:
    bulges = path.bulges or (0.0,) * len(path.points)
    steps = (
        f" {_at(point)}" + (f" bulge {_number(bulge)}" if bulge else "")
        for point, bulge in zip(path.points, bulges, strict=True)
    )
    return "".join(steps)


def _text(text: Text) -> str:
    turn = f" turned {_number(text.angle_deg)}" if text.angle_deg else ""
    where = f"{_at(text.at)} {text.across} {text.up}{turn}"
    return f'text {where} {_number(text.height_mm)} "{text.words}"'


def _at(point: Point) -> str:
    return f"({_number(point[0])}, {_number(point[1])})"


def _number(value: float) -> str:
    # Adding 0.0 turns a rounded -0.0 into 0.0.
    return f"{round(value, 2) + 0.0:.2f}"
