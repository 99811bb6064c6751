"""Reading a drawing file in a process of its own, which can be ended at any time. No Tk.

A file may take seconds to read, and nothing inside that can be interrupted; a process can.
"""

from __future__ import annotations

import logging
import multiprocessing
from dataclasses import dataclass
from multiprocessing.connection import Connection
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rigfit.errors import RigfitError

if TYPE_CHECKING:
    from rigfit.records.outline_import import Circle, GivenUnit, ImportedOutline

_logger = logging.getLogger(__name__)

_PATIENCE_S = 2.0
_BROKE_OFF = (
    "Reading the drawing broke off for a reason rigfit did not foresee; save it again as an ASCII "
    "DXF file with the outline and the holes alone."
)

Box = tuple[float, float, float, float]
"""Left, bottom, right and top in a drawing, mm."""


@dataclass(frozen=True, slots=True)
class DrawingFound:
    """What a drawing holds that matters for holes; lengths in mm, in the drawing's own axes.

    :param circles: full circles, in the order of the file.
    :param unit_found: unit the file states, "" for none.
    :param unit: unit that was used.
    :param box_mm: round everything used.
    :param outline_mm: round the largest closed outline, or None without one.
    :param notes: what the user should know, as sentences.
    :param rings: closed outlines, the largest first.
    """

    circles: tuple[Circle, ...]
    unit_found: str
    unit: str
    box_mm: Box
    outline_mm: Box | None
    notes: tuple[str, ...]
    rings: tuple[tuple[tuple[float, float], ...], ...] = ()

    @property
    def middle_x_mm(self) -> float:
        """Where the centreline is likely to be: the middle of the outline, or of everything."""
        left, _, right, _ = self.outline_mm or self.box_mm
        return (left + right) / 2.0

    @property
    def top_y_mm(self) -> float:
        """Where the transom top is likely to be: the top of the outline, or of everything."""
        return (self.outline_mm or self.box_mm)[3]


@dataclass(frozen=True, slots=True)
class DrawingAnswer:
    """What came of reading: one of the three.

    :param found: what the drawing holds.
    :param unit_asked: a sentence with both sizes, where the file does not say its unit.
    :param problem: a sentence on why it cannot be used.
    """

    found: DrawingFound | None = None
    unit_asked: str = ""
    problem: str = ""


def read_drawing(path: Path, unit: GivenUnit | None = None) -> DrawingAnswer:
    """Read a drawing here and now, which may take seconds; never raises for what a file holds."""
    from rigfit.records.outline_import import UnitAskedError, read_outline

    try:
        return DrawingAnswer(_found(read_outline(path, unit)))
    except UnitAskedError as asked:
        return DrawingAnswer(unit_asked=_begun(asked))
    except RigfitError as error:
        return DrawingAnswer(problem=_begun(error))
    except Exception:
        # Whatever somebody else's file does, the form has to hear of it in words.
        _logger.info("reading a drawing failed", exc_info=True)
        return DrawingAnswer(problem=_BROKE_OFF)


class DrawingReader:
    """Reads one drawing at a time in a process of its own; all methods return at once."""

    def __init__(self) -> None:
        self._process: Any = None
        self._answers: Connection | None = None

    @property
    def is_reading(self) -> bool:
        """True while an answer is awaited."""
        return self._process is not None

    def start(self, path: Path, unit: GivenUnit | None = None) -> None:
        """Begin to read a file; what was being read before is given up.

        :param unit: what one unit of the file is; None to believe the file.
        :raises OSError: when the system gives no process.
        """
        self.cancel()
        # Not forked: a copy of a process with a window and threads may hang.
        context = multiprocessing.get_context("spawn")
        mine, theirs = context.Pipe(duplex=False)
        process = context.Process(target=_run, args=(theirs, str(path), unit), daemon=True)
        try:
            process.start()
        except OSError:
            mine.close()
            raise
        finally:
            theirs.close()
        self._process, self._answers = process, mine

    def answer(self) -> DrawingAnswer | None:
        """Return the answer once it has come, else None."""
        if self._answers is None or not self._answers.poll():
            return None
        try:
            answer: DrawingAnswer = self._answers.recv()
        except (EOFError, OSError):  # the process is gone
            answer = DrawingAnswer(problem=_BROKE_OFF)
        self.cancel()
        return answer

    def cancel(self) -> None:
        """End the process, whatever it is doing."""
        process, self._process = self._process, None
        answers, self._answers = self._answers, None
        if answers is not None:
            answers.close()
        if process is not None:
            process.kill()
            process.join(_PATIENCE_S)


def _run(answers: Connection, path: str, unit: GivenUnit | None) -> None:
    """Read a file in the other process and send what came of it."""
    answers.send(read_drawing(Path(path), unit))
    answers.close()


def _found(outline: ImportedOutline) -> DrawingFound:
    largest = outline.outline
    box = None
    if largest is not None:
        xs, ys = [x for x, _ in largest.points], [y for _, y in largest.points]
        box = min(xs), min(ys), max(xs), max(ys)
    return DrawingFound(
        outline.circles,
        outline.unit_found,
        outline.unit,
        (outline.left_mm, outline.bottom_mm, outline.right_mm, outline.top_mm),
        box,
        outline.notes,
        tuple(ring.points for ring in outline.outlines),
    )


def _begun(error: RigfitError) -> str:
    words = error.sentence()
    return f"{words[:1].upper()}{words[1:]}"
