"""Starter lists of one's own: made of a build, read again for a new one."""

import datetime as dt

from sqlmodel import Session

from webapp.build.build_input import BuildInput, Fault
from webapp.build.checks.input_checks import faults_of
from webapp.build.starter.own_list import count_taken, own_list
from webapp.exchange.build_document import read_document, write_document
from webapp.storage.own_lists import OwnList, keep_own_list, own_list_headings

MOST_LISTS = 50


def make_list(session: Session, build: BuildInput, name: str) -> str | tuple[Fault, ...]:
    """Keep the list of a build under a name and return its key; or what stands in the way."""
    made = own_list(build, name)
    faults = faults_of(made)
    if faults:
        return faults
    return keep_own_list(
        session, name, write_document(made), tasks=len(made.tasks), taken=count_taken(made)
    )


def is_full(session: Session) -> bool:
    """Whether no further list is kept before one is taken out."""
    offered = [each for each in own_list_headings(session) if each.taken_out_at is None]
    return len(offered) >= MOST_LISTS


def read_list(kept: OwnList, *, now: dt.datetime) -> BuildInput | None:
    """The list as a build in which nothing was done; None where this program can not read it."""
    build, faults = read_document(kept.document, now=now)
    return None if faults else build
