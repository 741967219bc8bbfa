"""Copies in strings: the list of them, and what one holds beside what is there now."""

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from webapp.pages.words import amounts
from webapp.pages.words import copies as words
from webapp.services.copies import BuildFound, Copies, CopyTrouble
from webapp.storage.builds import list_builds
from webapp.storage.copies import Copy
from webapp.storage.database import Database


@dataclass(frozen=True, slots=True, kw_only=True)
class CopyLine:
    """One copy: `name` in its address, the rest to read."""

    name: str
    made: str
    size: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BuildLine:
    """A build in the copy and now: "" where it is not there."""

    name: str
    in_copy: str
    now: str


def copy_lines(copies: Iterable[Copy], *, today: dt.date) -> tuple[CopyLine, ...]:
    """The copies as they are listed."""
    there = [(copy, size) for copy in copies if (size := _size_of(copy)) is not None]
    moments = words.moments([copy.made_at for copy, _ in there], today=today)
    return tuple(
        CopyLine(name=copy.name, made=made, size=words.size(size))
        for (copy, size), made in zip(there, moments, strict=True)
    )


def _size_of(copy: Copy) -> int | None:
    """In bytes; None where the file has gone since the folder was looked through."""
    try:
        return copy.path.stat().st_size
    except OSError:
        return None


def build_lines(
    database: Database, held: Sequence[BuildFound], *, today: dt.date
) -> tuple[BuildLine, ...]:
    """Each build of a copy and of the data file, and when it was changed last in either."""
    with database.reading() as session:
        present = {heading.slug: heading for heading in list_builds(session)}
    lines = []
    for build in held:
        now = present.pop(build.slug, None)
        lines.append(
            BuildLine(
                name=build.name,
                in_copy=f"{amounts.count(build.tasks, 'task')}, changed "
                f"{words.moment(build.changed_at, today=today)}",
                now="" if now is None else words.moment(now.changed_at, today=today),
            )
        )
    for heading in present.values():
        changed = words.moment(heading.changed_at, today=today)
        lines.append(BuildLine(name=heading.name, in_copy="", now=changed))
    return tuple(lines)


def trouble_words(copies: Copies, *, today: dt.date) -> tuple[str, ...]:
    """What stood in the way of the last copy, here and in the other folder, and of removing."""

    def told(trouble: CopyTrouble) -> tuple[str, str]:
        return words.moment(trouble.at, today=today), trouble.text

    told_of = []
    if copies.trouble is not None:
        told_of.append(words.trouble(*told(copies.trouble)))
    if copies.elsewhere_trouble is not None:
        told_of.append(words.elsewhere_trouble(*told(copies.elsewhere_trouble)))
    if copies.rotation_trouble is not None:
        told_of.append(words.rotation_trouble(*told(copies.rotation_trouble)))
    return tuple(told_of)
