"""Fixtures that any test may ask for; what they build comes from ``tests.builders``."""

from __future__ import annotations

import pytest
from hypothesis import settings

from rigfit.rigging.catalogue import Catalogue
from rigfit.rigging.job import Job
from tests.builders import sample_catalogue, sample_job

# A loaded machine may be slow once; that must not fail a property that holds.
settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")


@pytest.fixture
def catalogue() -> Catalogue:
    return sample_catalogue()


@pytest.fixture
def job() -> Job:
    return sample_job()
