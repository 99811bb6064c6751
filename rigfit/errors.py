"""The error tree: every trouble a user can meet, as one sentence that says what to do.

``RigfitError`` is the root. Each error carries what was given, what is allowed, the cure and the
place, so that the command line and the form can show the same words. Checks *report* (see
``rigfit.rigging.findings``); only bad input, bad files and refused outputs *raise*.
"""

from __future__ import annotations

from typing import Self


class RigfitError(Exception):
    """Root of all errors raised on purpose.

    :param problem: what is wrong, with the value as given; one clause, no full stop.
    :param allowed: what would be accepted, or "" when the problem already says it.
    :param cure: what the user can do next, or "".
    :param where: file, table and key or form field the trouble sits in, or "".
    """

    def __init__(self, problem: str, *, allowed: str = "", cure: str = "", where: str = "") -> None:
        self.problem = problem
        self.allowed = allowed
        self.cure = cure
        self.where = where
        super().__init__(self.sentence())

    def sentence(self) -> str:
        """Return place, problem, allowed values and cure as one line of text."""
        parts = [f"{self.where}: {self.problem}" if self.where else self.problem]
        parts += [part for part in (self.allowed, self.cure) if part]
        text = "; ".join(parts)
        return text if text.endswith("?") else f"{text}."

    def at(self, where: str) -> Self:
        """Return the same error with its place put in front (the innermost place stays last)."""
        place = f"{where}, {self.where}" if self.where else where
        return type(self)(self.problem, allowed=self.allowed, cure=self.cure, where=place)

    def __str__(self) -> str:
        return self.sentence()


class EntryError(RigfitError, ValueError):
    """A typed measurement cannot be read, or lies outside what its field allows."""


class JobError(RigfitError, ValueError):
    """A job is inconsistent: two engines of one name, a chosen engine that is not there."""


class JobFileError(RigfitError):
    """A job file cannot be read: missing, not text, not TOML, an unknown key."""


class NewerFormatError(JobFileError):
    """A job file was written by a newer rigfit than this one."""


class ProfileError(RigfitError):
    """A profile file is missing or says something rigfit does not understand."""


class OutputError(RigfitError):
    """A result cannot be written where it was asked for; what stood there is untouched."""


class UsageError(RigfitError):
    """A command was called with words or a choice that does not exist."""


class NotMeasuredError(RigfitError):
    """An output was asked for that needs a measurement nobody has taken yet."""
