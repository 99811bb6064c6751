"""The swing played: the drawn engine is tilted or steered to and fro until it is stopped."""

from __future__ import annotations

import tkinter as tk
from collections.abc import Callable
from typing import Any

from rigfit.desk.panel_parts import Later
from rigfit.desk.swing_scrub import STEERED, lock_deg, tilt_range, within
from rigfit.desk.workbench import REPORT, Change, Workbench

PLAYED = ("swing", STEERED)
"""Pictures in which the engine can be turned, by the word in ``Look.picture``."""

STEP_DEG, PAUSE_MS = 1.5, 40
"""How far it is turned at once, and how long it then rests."""


class Player:
    """Turns the drawn engine to and fro by itself; whatever else is done to it stops that.

    :param widget: whose event loop it is.

    ``on_change`` is called when it starts and when it stops.
    """

    def __init__(self, widget: tk.Misc, bench: Workbench) -> None:
        self.on_change: Callable[[], Any] = bool
        self._bench = bench
        self._next = Later(widget, self._turn, PAUSE_MS)
        self._is_turning, self._way = False, 1.0
        bench.listen(self._heard)

    @property
    def is_playing(self) -> bool:
        """True until it is stopped."""
        return self._is_turning or self._next.is_waiting

    def toggle(self) -> None:
        """Start it, or stop it."""
        if self.is_playing:
            self.stop()
        elif self._ends() is not None:
            self._next.ask()
            self.on_change()

    def stop(self) -> None:
        """Leave the engine as it stands."""
        if self.is_playing:
            self._next.cancel()
            self.on_change()

    def _ends(self) -> tuple[float, float] | None:
        """Return between what the engine is turned; None where it cannot be."""
        report, picture = self._bench.report, self._bench.look.picture
        if report is None or picture not in PLAYED:
            return None
        lock = lock_deg(report)
        ends = (-lock, lock) if picture == STEERED else tilt_range(report, picture)
        return ends if ends[1] > ends[0] else None

    def _turn(self) -> None:
        bench, ends = self._bench, self._ends()
        if ends is None:
            self.on_change()
            return
        is_steered = bench.look.picture == STEERED
        now = bench.look.steer_deg if is_steered else bench.look.tilt_deg
        to = within(now + self._way * STEP_DEG, ends)
        self._way = {ends[0]: 1.0, ends[1]: -1.0}.get(to, self._way)
        self._is_turning = True
        try:
            (bench.set_steer if is_steered else bench.set_tilt)(to)
        finally:
            self._is_turning = False
        self._next.ask()

    def _heard(self, change: Change) -> None:
        if not self._is_turning and change & (REPORT | Change.LOOK):
            self.stop()
