"""The forward and the backward pass of the critical path method (Kelley and Walker 1959).

Every task keeps to one clock: shop work counts shop seconds, outside work and work of no hours
count wall seconds. Where two tasks of shop work follow each other without a wait no calendar is
looked up at all; that and plain lists make it fast for a build of hundreds of tasks.
"""

from bisect import bisect_left, bisect_right
from dataclasses import dataclass, replace

from webapp.build.time.shop_calendar import NEVER, ShopCalendar


class Clocks:
    """One moment at a time between wall and shop seconds; the calendar's arrays as lists."""

    __slots__ = ("closes", "opens", "shop_at_close", "shop_at_open")

    def __init__(self, calendar: ShopCalendar) -> None:
        self.opens: list[int] = calendar.opens.tolist()
        self.closes: list[int] = calendar.closes.tolist()
        self.shop_at_open: list[int] = calendar.shop_at_open.tolist()
        self.shop_at_close: list[int] = calendar.shop_at_close.tolist()

    @property
    def all_seconds(self) -> int:
        """The open seconds of the whole calendar."""
        return self.shop_at_close[-1] if self.shop_at_close else 0

    def shop_of(self, wall: int) -> int:
        """Shop seconds gone by at a wall second."""
        k = bisect_right(self.opens, wall) - 1
        if k < 0:
            return 0
        gone = self.shop_at_open[k] + wall - self.opens[k]
        return gone if gone < self.shop_at_close[k] else self.shop_at_close[k]

    def start_wall(self, shop: int) -> int:
        """The wall second of a begin: the shop is open."""
        k = bisect_right(self.shop_at_close, shop)
        if k == len(self.opens):
            return NEVER
        return self.opens[k] + shop - self.shop_at_open[k]

    def end_wall(self, shop: int) -> int:
        """The wall second of an end: a closing rather than an opening."""
        k = bisect_left(self.shop_at_close, shop)
        if k == len(self.opens):
            return NEVER
        return self.opens[k] + shop - self.shop_at_open[k]


@dataclass(slots=True, kw_only=True)
class Network:
    """Tasks, each after those before it, by position; in the seconds of each task's own clock.

    ready : before which it cannot begin, its predecessors apart
    work : shop seconds of work, 0 for what runs on the wall clock
    outside, back_at : wall seconds that outside work takes; the wall second before which begun
        outside work is not back
    near : positions of shop work that follows shop work without a wait
    far : (position, wait in wall seconds) of everything else that follows
    first_start : its position, -1 where there is none
    leads : which tasks first start still waits for, itself among them
    """

    keys: list[str]
    ready: list[int]
    work: list[int]
    outside: list[int]
    back_at: list[int]
    near: list[list[int]]
    far: list[list[tuple[int, int]]]
    first_start: int
    leads: list[bool]
    clocks: Clocks


@dataclass(slots=True, kw_only=True)
class Passes:
    """Earliest begin and end and latest begin, in the seconds of each task's own clock.

    `network` holds what was walked, `finish` for each task the end it is measured against.
    `dated` is false for what ends beyond the calendar; its numbers mean nothing.
    """

    network: Network
    begin: list[int]
    end: list[int]
    latest_begin: list[int]
    finish: list[int]
    dated: list[bool]


def walk(network: Network) -> Passes:
    """Both passes: first start's own tasks against its end, the others against the last end."""
    begin, end = _earliest(network)
    shop, wall = _last_ends(network, end)
    dated = [True] * len(end)
    if shop > network.clocks.all_seconds or wall >= NEVER:
        dated = _dated(network, end)
        network = _without_undated(network, dated)
        ended = [moment if has else 0 for moment, has in zip(end, dated, strict=True)]
        shop, wall = _last_ends(network, ended)
    last = max(wall, network.clocks.end_wall(shop) if shop else 0)
    finish = _finishes(network, end, last)
    return Passes(
        network=network,
        begin=begin,
        end=end,
        latest_begin=_latest(network, begin, end, finish),
        finish=finish,
        dated=dated,
    )


def free_ends(passes: Passes) -> list[int]:
    """For each task the latest end that moves no task after it, on its own clock."""
    network, begin = passes.network, passes.begin
    free_end = passes.finish[:]
    for i, near in enumerate(network.near):
        for j in near:
            if begin[j] < free_end[i]:
                free_end[i] = begin[j]
        for j, wait in network.far[i]:
            free_end[i] = min(free_end[i], _before(network, i, j, begin[j], wait))
    return free_end


def _earliest(network: Network) -> tuple[list[int], list[int]]:
    """The forward pass: begin and end of every task."""
    begin = network.ready[:]
    end = begin[:]
    for i, (work, near, far) in enumerate(
        zip(network.work, network.near, network.far, strict=True)
    ):
        if work:
            end[i] = done = begin[i] + work
            for j in near:
                if done > begin[j]:
                    begin[j] = done
            if far:
                _hold_back(network, begin, i, network.clocks.end_wall(done))
        else:
            end[i] = done = max(begin[i] + network.outside[i], network.back_at[i])
            _hold_back(network, begin, i, done)
    return begin, end


def _hold_back(network: Network, begin: list[int], i: int, wall: int) -> None:
    """What follows over a wait or on another clock begins no earlier than that allows."""
    clocks = network.clocks
    for j, wait in network.far[i]:
        moment = wall + wait
        if network.work[j]:
            beyond = not clocks.closes or moment > clocks.closes[-1]
            moment = NEVER if beyond else clocks.shop_of(moment)
        if moment > begin[j]:
            begin[j] = moment


def _latest(network: Network, begin: list[int], end: list[int], finish: list[int]) -> list[int]:
    """The backward pass: the latest begin of every task."""
    near, far, leads = network.near, network.far, network.leads
    latest = begin[:]
    for i in range(len(begin) - 1, -1, -1):
        lead, limit = leads[i], finish[i]
        for j in near[i]:
            if latest[j] < limit and (leads[j] or not lead):
                limit = latest[j]
        for j, wait in far[i]:
            if leads[j] or not lead:
                limit = min(limit, _before(network, i, j, latest[j], wait))
        latest[i] = limit - end[i] + begin[i]
    return latest


def _before(network: Network, i: int, j: int, begin: int, wait: int) -> int:
    """The latest end of a task, on its clock, when one after it begins at a time on its own."""
    wall = (network.clocks.start_wall(begin) if network.work[j] else begin) - wait
    return network.clocks.shop_of(wall) if network.work[i] else wall


def _last_ends(network: Network, end: list[int]) -> tuple[int, int]:
    """The last end of shop work and that of work on the wall clock, each on its own clock."""
    work = network.work
    shop = [moment for moment, seconds in zip(end, work, strict=True) if seconds]
    wall = [moment for moment, seconds in zip(end, work, strict=True) if not seconds]
    return max(shop, default=0), max(wall, default=0)


def _finishes(network: Network, end: list[int], last: int) -> list[int]:
    """The end each task is measured against, on its own clock: first start's or the last.

    `last` is the wall second of the last end of all.
    """
    clocks, work, first = network.clocks, network.work, network.first_start
    of_first_start = last
    if first >= 0 and network.leads[first]:
        of_first_start = clocks.end_wall(end[first]) if work[first] else end[first]
    last_shop, of_first_start_shop = clocks.shop_of(last), clocks.shop_of(of_first_start)
    return [
        (of_first_start_shop if lead else last_shop)
        if seconds
        else (of_first_start if lead else last)
        for lead, seconds in zip(network.leads, work, strict=True)
    ]


def leading_to(place: int, near: list[list[int]], far: list[list[tuple[int, int]]]) -> list[bool]:
    """Which tasks the one at a place waits for, itself among them; none where it is -1."""
    leads = [False] * len(near)
    if place < 0:
        return leads
    leads[place] = True
    for i in range(place - 1, -1, -1):
        leads[i] = any(leads[j] for j in near[i]) or any(leads[j] for j, _ in far[i])
    return leads


def _dated(network: Network, end: list[int]) -> list[bool]:
    """Which tasks end within the calendar."""
    limit = network.clocks.all_seconds
    return [
        moment <= limit if seconds else moment < NEVER
        for moment, seconds in zip(end, network.work, strict=True)
    ]


def _without_undated(network: Network, dated: list[bool]) -> Network:
    """The network with nothing that follows beyond the calendar."""
    reached = network.first_start >= 0 and dated[network.first_start]
    return replace(
        network,
        near=[[j for j in after if dated[j]] for after in network.near],
        far=[[(j, wait) for j, wait in after if dated[j]] for after in network.far],
        leads=network.leads if reached else [False] * len(dated),
    )
