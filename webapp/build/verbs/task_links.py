"""What ties a task to its build, set anew or taken out: links, parts, the task itself."""

from collections.abc import Iterable
from dataclasses import replace

from webapp.build.build_input import BuildInput, Dependency, Part


def without_task(build: BuildInput, key: str, *, keep_order: bool) -> BuildInput:
    """The build without a task, its links, log, photographs and place among what parts serve.

    With `keep_order` what came before it then comes before what came after it: the waits into
    the task stay, its own waits go with it.
    """
    links = {
        (link.before, link.after): link
        for link in build.dependencies
        if key not in (link.before, link.after)
    }
    if keep_order:
        for link in _bridging_links(build, key):
            pair = (link.before, link.after)
            if pair not in links or links[pair].wait_hours < link.wait_hours:
                links[pair] = link
    return replace(
        build,
        tasks=tuple(task for task in build.tasks if task.key != key),
        dependencies=tuple(links.values()),
        parts=with_parts(build.parts, key, frozenset()),
        log=tuple(entry for entry in build.log if entry.task != key),
        photographs=tuple(each for each in build.photographs if each.task != key),
    )


def without_tasks(build: BuildInput, keys: Iterable[str], *, keep_order: bool) -> BuildInput:
    """The build without several tasks, as if one after the other were taken out."""
    for key in keys:
        build = without_task(build, key, keep_order=keep_order)
    return build


def _bridging_links(build: BuildInput, key: str) -> tuple[Dependency, ...]:
    return tuple(
        replace(into, after=out.after)
        for into in build.dependencies
        if into.after == key
        for out in build.dependencies
        if out.before == key and out.after != into.before
    )


def with_links(
    links: tuple[Dependency, ...],
    key: str,
    befores: tuple[Dependency, ...],
    afters: tuple[Dependency, ...],
) -> tuple[Dependency, ...]:
    """All links, the task having those before and after it that are given and no others.

    Links that stay keep their place; new ones stand at the end.
    """
    wanted = {(link.before, link.after): link for link in (*befores, *afters)}
    kept = []
    for link in links:
        if key not in (link.before, link.after):
            kept.append(link)
        elif (link.before, link.after) in wanted:
            kept.append(wanted.pop((link.before, link.after)))
    return (*kept, *wanted.values())


def with_parts(parts: tuple[Part, ...], key: str, needed: frozenset[str]) -> tuple[Part, ...]:
    """All parts, those of the keys in `needed` serving the task and no others."""
    changed = []
    for part in parts:
        serves = part.serves
        if part.key in needed and key not in serves:
            serves = (*serves, key)
        elif part.key not in needed and key in serves:
            serves = tuple(other for other in serves if other != key)
        changed.append(part if serves is part.serves else replace(part, serves=serves))
    return tuple(changed)
