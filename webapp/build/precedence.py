"""What must come before what: the graph of a build's dependencies, its order and its loops.

Dependencies on unknown tasks are passed over; of tasks with one key the first counts.
"""

from collections import deque
from collections.abc import Callable, Hashable, Iterable
from typing import TypeVar

from webapp.build.build_input import BuildInput, Task

Node = TypeVar("Node", bound=Hashable)


def topological_order(build: BuildInput) -> tuple[str, ...]:
    """All task keys, each after the tasks before it, else as entered.

    Raises ValueError where the dependencies run in a loop.
    """
    after = followers_of(build)
    waiting = [0] * len(after)
    for followers in after:
        for i in followers:
            waiting[i] += 1
    ready = deque(i for i, count in enumerate(waiting) if not count)
    keys: list[str] = []
    tasks = tasks_as_entered(build)
    while ready:
        i = ready.popleft()
        keys.append(tasks[i].key)
        for j in after[i]:
            waiting[j] -= 1
            if not waiting[j]:
                ready.append(j)
    if len(keys) < len(tasks):
        raise ValueError("The dependencies run in a loop: there is no order of the tasks.")
    return tuple(keys)


def needed_for(build: BuildInput, key: str) -> frozenset[str]:
    """The keys of a task and of all that must come before it, whatever is done of them.

    Raises KeyError if there is no such task.
    """
    tasks = tasks_as_entered(build)
    target = {task.key: i for i, task in enumerate(tasks)}[key]
    before: list[list[int]] = [[] for _ in tasks]
    for i, followers in enumerate(followers_of(build)):
        for j in followers:
            before[j].append(i)
    return frozenset(tasks[i].key for i in reached([target], before.__getitem__))


def loops_of(build: BuildInput) -> tuple[tuple[str, ...], ...]:
    """Loops in the dependencies, each as keys with the first repeated at the end.

    Every dependency of a task on itself is a loop of one. Of every group of tasks that come
    before each other, the shortest loop through the one entered first is given. Dependencies
    on unknown tasks are passed over. Never deep: a chain of any length is walked.
    """
    tasks = tasks_as_entered(build)
    after = followers_of(build)
    loops: list[tuple[int, tuple[int, ...]]] = [
        (i, (i, i)) for i, followers in enumerate(after) if i in followers
    ]
    for group in _strong_components(after):
        if len(group) > 1:
            first = min(group)
            loops.append((first, _shortest_loop(first, after, set(group))))
    loops.sort()
    return tuple(tuple(tasks[i].key for i in loop) for _, loop in loops)


def tasks_as_entered(build: BuildInput) -> list[Task]:
    """The tasks in the order of entry, the first of each key."""
    first: dict[str, Task] = {}
    for task in build.tasks:
        first.setdefault(task.key, task)
    return list(first.values())


def followers_of(build: BuildInput) -> list[list[int]]:
    """For each task the tasks after it, each once, in the order the dependencies were entered."""
    index = {task.key: i for i, task in enumerate(tasks_as_entered(build))}
    after: list[dict[int, None]] = [{} for _ in index]
    for dependency in build.dependencies:
        i, j = index.get(dependency.before), index.get(dependency.after)
        if i is not None and j is not None:
            after[i][j] = None
    return [list(followers) for followers in after]


def reached(starts: Iterable[Node], beside: Callable[[Node], Iterable[Node]]) -> list[Node]:
    """`starts` and what can be reached from them, nearest first; `beside` is what lies next."""
    seen = dict.fromkeys(starts)
    queue = deque(seen)
    while queue:
        for j in beside(queue.popleft()):
            if j not in seen:
                seen[j] = None
                queue.append(j)
    return list(seen)


def _strong_components(after: list[list[int]]) -> list[list[int]]:
    """Groups of nodes that can reach each other (Tarjan 1972), with an own stack."""
    order: dict[int, int] = {}
    low: dict[int, int] = {}
    stack: list[int] = []
    on_stack = [False] * len(after)
    groups: list[list[int]] = []
    for root in range(len(after)):
        if root in order:
            continue
        walk = [(root, iter(after[root]))]
        while walk:
            node, followers = walk[-1]
            if node not in order:
                order[node] = low[node] = len(order)
                stack.append(node)
                on_stack[node] = True
            for follower in followers:
                if follower not in order:
                    walk.append((follower, iter(after[follower])))
                    break
                if on_stack[follower]:
                    low[node] = min(low[node], order[follower])
            else:
                walk.pop()
                if walk:
                    parent = walk[-1][0]
                    low[parent] = min(low[parent], low[node])
                if low[node] == order[node]:
                    cut = stack.index(node) if stack[-1] != node else len(stack) - 1
                    groups.append(stack[cut:])
                    del stack[cut:]
                    for member in groups[-1]:
                        on_stack[member] = False
    return groups


def _shortest_loop(first: int, after: list[list[int]], group: set[int]) -> tuple[int, ...]:
    """The shortest way from a node of a strong component back to itself."""
    came_from: dict[int, int] = {}
    queue = deque([first])
    while queue:
        i = queue.popleft()
        for j in after[i]:
            if j == first and i != first:
                way = [first, i]
                while way[-1] != first:
                    way.append(came_from[way[-1]])
                return tuple(reversed(way))
            if j in group and j not in came_from and j != first:
                came_from[j] = i
                queue.append(j)
    raise AssertionError("a strong component without a loop")
