"""The build of a document stored with its photographs, or every fault of them."""

import datetime as dt
from base64 import b64decode
from collections.abc import Sequence
from dataclasses import dataclass

from webapp.build.build_input import BuildInput, Fault, Photograph
from webapp.build.by_key import get_by_key
from webapp.build.checks.fault_words import Thing
from webapp.build.checks.input_checks import faults_of
from webapp.build.openings import as_copied
from webapp.exchange.build_document import SentPhotograph
from webapp.exchange.photographs import NoPhotograph
from webapp.services.photographs import taken_in, with_photographs
from webapp.storage.builds import create_build
from webapp.storage.database import Database
from webapp.storage.photograph_files import PhotographFiles


@dataclass(frozen=True, slots=True, kw_only=True)
class Imported:
    """What became of a document: stored as `slug`, or nothing stored and why."""

    slug: str = ""
    faults: tuple[Fault, ...] = ()


def store_document(
    database: Database, build: BuildInput, sent: Sequence[SentPhotograph], *, at: dt.datetime
) -> Imported:
    """Store a faultless build with the photographs that its document has, or none of it.

    `at` is the moment of it: what was signed for the day before it is asked anew.
    Raises `UnusableDatabaseError`.
    """
    faults: list[Fault] = []
    photographs: list[Photograph] = []
    for each in sent:
        found = _photograph(database.photographs, build, each)
        if isinstance(found, Fault):
            faults.append(found)
        else:
            photographs.append(found)
    build = as_copied(with_photographs(build, photographs), at=at)
    faults += faults_of(build)
    if faults:
        return Imported(faults=tuple(faults))
    with database.writing() as session:
        return Imported(slug=create_build(session, build))


def _photograph(
    files: PhotographFiles, build: BuildInput, sent: SentPhotograph
) -> Photograph | Fault:
    """A photograph of a document, made anew as one from a camera is: it may come from anywhere."""
    found = taken_in(
        files,
        b64decode(sent.base64),
        task=sent.task,
        on=sent.added_on,
        caption=sent.caption,
    )
    if isinstance(found, NoPhotograph):
        task = get_by_key(build.tasks, sent.task)
        name = f"{task.name}, photograph {sent.number}"
        return Thing(kind="task", key=task.key, name=name).fault("photographs", found.text)
    return found
