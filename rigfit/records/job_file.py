"""Job files, all that the rest of rigfit uses of them: read, write, update, describe."""

from __future__ import annotations

import os
from pathlib import Path

from rigfit.errors import JobFileError, NewerFormatError, OutputError
from rigfit.records.job_reading import (
    FORMAT,
    LARGEST_BYTES,
    decode_job,
    job_bytes,
    job_problems,
    parse_job,
    read_job,
)
from rigfit.records.job_schema import schema
from rigfit.records.job_update import update_text
from rigfit.records.job_writing import job_text, new_job_text
from rigfit.records.plain_words import shown_path
from rigfit.records.profiles import demo_job_text
from rigfit.records.saving import write_whole
from rigfit.rigging.catalogue import Catalogue
from rigfit.rigging.job import Job

__all__ = [
    "FORMAT",
    "LARGEST_BYTES",
    "decode_job",
    "demo_job_text",
    "job_bytes",
    "job_problems",
    "job_text",
    "new_job_text",
    "parse_job",
    "read_job",
    "save_job",
    "schema",
    "update_text",
]


def save_job(path: str | os.PathLike[str], job: Job, catalogue: Catalogue | None = None) -> None:
    """Write a job to a file, keeping the remarks of a job file that stands there already.

    :raises OutputError: when the file cannot be written, or something that is no text stands
        there; it is untouched.
    :raises NewerFormatError: when a newer rigfit wrote what stands there.
    """
    write_whole(path, _text_for(Path(path), job, catalogue).encode("utf-8"))


def _text_for(path: Path, job: Job, catalogue: Catalogue | None) -> str:
    where = shown_path(path)
    if not _stands(path):
        return job_text(job, catalogue)
    try:
        old = decode_job(job_bytes(path), where)
    except JobFileError as error:
        # A picture or a paper chosen by mistake must not be lost to a job.
        raise OutputError(
            f"what stands there is no job file: {error.problem}",
            cure="save under another name",
            where=where,
        ) from None
    try:
        return update_text(old, job, catalogue)
    except NewerFormatError as error:
        raise error.at(where) from None


def _stands(path: Path) -> bool:
    try:
        path.stat()
    except (OSError, ValueError):  # no such file, or a name no file can have: writing will tell
        return False
    return True
