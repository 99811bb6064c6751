"""Picks the shell: ``rigfit`` and ``python -m rigfit`` both start here."""

from __future__ import annotations

import sys

from rigfit.errors import UsageError


def main() -> int:
    """Run the command line with the program's own arguments and return the exit status."""
    from rigfit.command_line import run

    return run(sys.argv[1:], open_window)


def open_window(job: str | None) -> int:
    """Open the desktop form and stay until it is closed.

    :param job: a job file; None for the one of the last time.
    :raises RigfitError: when the job cannot be read, or no window can be opened here.
    """
    try:
        from rigfit.desk.app import run
    except ImportError as error:
        raise UsageError(
            f"the window needs a part of Python that is not installed ({error.name})",
            cure="install your system's tkinter package (python3-tk), or use rigfit check",
        ) from None
    return run(job)


if __name__ == "__main__":
    sys.exit(main())
