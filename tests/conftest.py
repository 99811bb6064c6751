"""Fixtures that any test may ask for; what they build comes from ``tests.builders``."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hypothesis import settings

from rigfit.command_line import run
from rigfit.rigging.catalogue import Catalogue
from rigfit.rigging.job import Job
from tests.builders import sample_catalogue, sample_job
from tests.desk import harness

# A loaded machine may be slow once; that must not fail a property that holds.
settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_auto_num_workers(config: pytest.Config) -> int:
    """One process more than cores for ``-n auto``: windows wait half of the time."""
    return (os.cpu_count() or 1) + 1


@pytest.fixture
def catalogue() -> Catalogue:
    return sample_catalogue()


@pytest.fixture
def job() -> Job:
    return sample_job()


@pytest.fixture
def rigfit(here: Path, capsys: pytest.CaptureFixture[str]) -> Callable[..., tuple[int, str, str]]:
    """Return what calls a command in the test's own folder ``here``: status, output, errors."""

    def call(*arguments: str) -> tuple[int, str, str]:
        status = run(arguments)
        said = capsys.readouterr()
        return status, said.out, said.err

    return call


@pytest.fixture(scope="session")
def display() -> Iterator[str]:
    """An X server of the run's own; the one and only, for Tk keeps its connection for good."""
    before = os.environ.get("DISPLAY")
    server = harness.start_display()
    if server is None:
        pytest.skip("there is no X server program (Xvfb) to show a window on")
    yield os.environ["DISPLAY"]
    server.terminate()
    server.wait(timeout=10)
    if before is None:
        del os.environ["DISPLAY"]
    else:
        os.environ["DISPLAY"] = before
