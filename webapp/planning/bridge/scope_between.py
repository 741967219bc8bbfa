"""What is to be done beside hours and days: dependencies, what tasks are and parts are for."""

from collections.abc import Iterable, Mapping

from webapp.build.build_input import BuildInput, Dependency, Task


class ScopeBetween:
    """How two builds differ in it; `old` and `new` are the tasks by key, none of them set aside."""

    def __init__(
        self,
        earlier: BuildInput,
        later: BuildInput,
        old: Mapping[str, Task],
        new: Mapping[str, Task],
    ) -> None:
        self.earlier, self.later = earlier, later
        self._old, self._new = old, new

    def rest_differs(self) -> bool:
        """Whether anything differs but which tasks there are."""
        common = self._old.keys() & self._new.keys()
        if self.earlier.first_start != self.later.first_start:
            return True
        if any(_nature(self._old[key]) != _nature(self._new[key]) for key in common):
            return True
        old_links = {_link(d) for d in self.earlier.dependencies if {d.before, d.after} <= common}
        new_links = {_link(d) for d in self.later.dependencies if {d.before, d.after} <= common}
        if old_links != new_links:
            return True
        old_parts = {part.key: common & set(part.serves) for part in self.earlier.parts}
        new_parts = {part.key: common & set(part.serves) for part in self.later.parts}
        return any(
            old_parts.get(key, frozenset()) != new_parts.get(key, frozenset())
            for key in old_parts.keys() | new_parts.keys()
        )

    def links(
        self, present: set[str], *, all_scope: bool, no_scope: bool
    ) -> tuple[Dependency, ...]:
        """Dependencies of the earlier build, of the later one, or, on the way, a mixture.

        The mixture has those of the later build, order passing through what is not yet there,
        and for what is dropped in it but still there those of the earlier build.
        """
        if no_scope:
            links = list(self.earlier.dependencies)
        elif all_scope:
            links = list(self.later.dependencies)
        else:
            links = _passed_through(self.later.dependencies, self._new.keys() - present)
            gone = present - self._new.keys()
            links += [d for d in self.earlier.dependencies if {d.before, d.after} & gone]
        return tuple(d for d in links if d.before in present and d.after in present)


def _passed_through(dependencies: Iterable[Dependency], absent: Iterable[str]) -> list[Dependency]:
    """Dependencies without some tasks: what came before one comes before what came after it.

    The waits into an absent task stay, its own go.
    """
    waits = {(d.before, d.after): d.wait_hours for d in dependencies}
    for key in absent:
        into = [(before, wait) for (before, after), wait in waits.items() if after == key]
        out = [after for before, after in waits if before == key]
        waits = {link: wait for link, wait in waits.items() if key not in link}
        for before, wait in into:
            for after in out:
                waits[before, after] = max(wait, waits.get((before, after), 0.0))
    return [Dependency(before=b, after=a, wait_hours=wait) for (b, a), wait in waits.items()]


def _link(dependency: Dependency) -> tuple[str, str, float]:
    return dependency.before, dependency.after, dependency.wait_hours


def _nature(task: Task) -> tuple[object, ...]:
    """What a task is, without its hours, days and progress."""
    outside = task.outside_days is not None
    return (
        *(task.setup, task.people, task.helper, task.in_one_go, task.stations),
        *(task.subsystem, task.space_litres, outside),
    )
