"""What still comes before what when tasks between are not there.

Where A comes before B and B before C and B is not there, A comes before C: the wait into B stays
with its reason, B's own wait goes with it, as everywhere in the program.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable
from dataclasses import replace

from webapp.build.build_input import Dependency
from webapp.build.precedence import reached

Pair = tuple[str, str]


def pair_of(link: Dependency) -> Pair:
    """What a dependency is known by."""
    return link.before, link.after


def bridged(links: Iterable[Dependency], gone: Collection[str]) -> tuple[Dependency, ...]:
    """The dependencies without the tasks in `gone`, order carried on through them.

    Those that stay keep their place, new ones stand behind them. A new one that says no more
    than the others do together is left out. A task on its own loop is passed over.
    """
    links = tuple(links)
    if not gone:
        return links
    kept = {pair_of(link): link for link in links if not {link.before, link.after} & set(gone)}
    outs: defaultdict[str, list[Dependency]] = defaultdict(list)
    for link in links:
        if link.before in gone:
            outs[link.before].append(link)
    made: dict[Pair, Dependency] = {}
    for link in links:
        if link.before in gone or link.after not in gone:
            continue
        for after in _ends(link.after, outs, gone):
            new = replace(link, after=after, why=link.why if link.wait_hours else "")
            others = (kept.get(pair_of(new)), made.get(pair_of(new)))
            if new.before != after and all(_says_more(new, other) for other in others):
                made[pair_of(new)] = new
    for pair in made:
        kept.pop(pair, None)
    return (*kept.values(), *_without_needless(kept, made))


def _says_more(link: Dependency, other: Dependency | None) -> bool:
    return other is None or link.wait_hours > other.wait_hours


def _ends(start: str, outs: dict[str, list[Dependency]], gone: Collection[str]) -> list[str]:
    """The tasks that are there and come next after one that is not."""
    ends: dict[str, None] = {}
    seen, ahead = {start}, [start]
    while ahead:
        for link in outs.get(ahead.pop(), ()):
            if link.after not in gone:
                ends[link.after] = None
            elif link.after not in seen:
                seen.add(link.after)
                ahead.append(link.after)
    return list(ends)


def _without_needless(
    kept: dict[Pair, Dependency], made: dict[Pair, Dependency]
) -> list[Dependency]:
    """Those of `made` that all others together do not say already."""
    after: defaultdict[str, dict[str, float]] = defaultdict(dict)
    before: defaultdict[str, list[str]] = defaultdict(list)
    for link in (*kept.values(), *made.values()):
        after[link.before][link.after] = link.wait_hours
        before[link.after].append(link.before)
    ends = {link.after for link in made.values()}
    leading = {end: set(reached([end], before.__getitem__)) for end in ends}
    needed = []
    for link in made.values():
        wait = after[link.before].pop(link.after)
        if _longest_wait(after, link.before, link.after, leading[link.after]) < wait:
            after[link.before][link.after] = wait
            needed.append(link)
    return needed


def _longest_wait(
    after: dict[str, dict[str, float]], start: str, end: str, leading: set[str]
) -> float:
    """The most hours of waiting on any way from one task to another; -1.0: there is no way.

    Only tasks among `leading` to the end are walked through.
    """
    known: dict[str, float] = {end: 0.0}
    on_way: set[str] = set()
    stack: list[tuple[str, bool]] = [(start, False)]
    while stack:
        task, is_back = stack.pop()
        followers = after.get(task, {})
        if is_back:
            ways = [
                wait + known[follower]
                for follower, wait in followers.items()
                if known.get(follower, -1.0) >= 0
            ]
            known[task] = max(ways, default=-1.0)
            on_way.discard(task)
        elif task not in known and task not in on_way:
            on_way.add(task)
            stack.append((task, True))
            stack.extend((follower, False) for follower in followers if follower in leading)
    return known[start]
