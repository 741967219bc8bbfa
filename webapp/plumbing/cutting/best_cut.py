"""The cut list: an answer at once, then better ones, and how near the best is to the bound."""

import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from webapp.plumbing.cutting.bounds import least_cost, total_load, total_room
from webapp.plumbing.cutting.cut_list import CutJob, CutList
from webapp.plumbing.cutting.first_fit import first_fit, layout_of
from webapp.plumbing.cutting.full_bars import full_bars, full_bars_of
from webapp.plumbing.cutting.grid import Grid, Layout, price_of
from webapp.plumbing.cutting.models import BarModel, covering_of, most_bars, pattern_model
from webapp.plumbing.cutting.patterns import Patterns
from webapp.plumbing.cutting.purchase_model import kinds_by_pattern, purchase_model
from webapp.plumbing.cutting.purchases import Purchase, cost_of, purchases_between
from webapp.plumbing.cutting.solving import solved

USUAL_SECONDS = 10.0
FEW_BARS = 16
"""Up to so many bars the model bar by bar proves soonest, above it the patterns do."""
FEW_BARS_SHARE = 0.25
MOST_COUNTS = 6_000
"""A model bar by bar with more counts to find than this is not begun."""
PATTERNS_SHARE, CHOICE_SHARE = 0.5, 0.4
"""Of the time that is left, at most so much goes into finding patterns, and so much of the rest
into the choice among them."""
FEW_PATTERNS, MANY_PATTERNS = 2_000, 20_000
"""Of a purchase, so many patterns are chosen among at most; bars with more are counted."""
MOMENT_SHARE = 0.03
"""Of the whole time: each purchase is asked about for so long before any is for longer."""
PURCHASES_SHARE, PURCHASE_SHARE = 0.6, 0.7
"""Of the time that is left, at most so much goes into purchases, and so much of that into one."""
LUCK_SHARE, LEFTOVER_SHARE = 0.02, 0.02
"""Of the whole time: the longest leftover is worth no long wait."""
LUCK_OF_EACH_SHARE = 0.1
"""Of the time that is left, so much goes into luck with all purchases together."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutProgress:
    """How far it has come: the best price and number of bars so far, and the bound so far."""

    seconds: float
    price: float | None
    bars: int | None
    bound_price: float


def cut_at_once(job: CutJob) -> CutList | None:
    """The answer without a solver: first fit, the longest first. None: it found none."""
    run = _Run(job, seconds=0.0, progress=None, stop=None)
    run.begin()
    return run.answer()


def cut_list(
    job: CutJob,
    *,
    seconds: float = USUAL_SECONDS,
    progress: Callable[[CutProgress], None] | None = None,
    stop: threading.Event | None = None,
) -> CutList | None:
    """Look for the best way of cutting for at most so many seconds; never dearer than first fit.

    None where none was found: there is too little stock. `progress` is called from this thread
    and the solver's; setting `stop` ends the search with what it has. The job has no faults of
    `cut_faults`.
    """
    run = _Run(job, seconds=seconds, progress=progress, stop=stop)
    run.begin()
    run.carry_on()
    return run.answer()


class _Run:
    """One search with its clock, its bound and its best layout."""

    def __init__(
        self,
        job: CutJob,
        *,
        seconds: float,
        progress: Callable[[CutProgress], None] | None,
        stop: threading.Event | None,
    ) -> None:
        self.grid = Grid(job)
        self.seconds, self.progress, self.stop = seconds, progress, stop
        self.began = time.monotonic()
        self.best: Layout | None = None
        self.bound = 0
        self.purchases: tuple[Purchase, ...] | None = None
        """All that an answer better than the best may be made of, by cost; None: not looked at."""
        self.refused: set[Purchase] = set()
        """Off which the pieces do not come: proved."""

    def begin(self) -> None:
        """First fit, and the bound that needs no solver."""
        self.best = first_fit(self.grid)
        self.bound = least_cost(self.grid) if self.grid.kinds else 0
        self._tell()

    def carry_on(self) -> None:
        """What proves soonest first, each as long as nothing is proved; then the leftover."""
        grid = self.grid
        if not grid.count or not grid.kinds or total_load(grid) > total_room(grid):
            return
        self._look_at_purchases()
        self._by_luck()
        self._by_luck_of_each()
        if self.best is None:
            self._bar_by_bar(self.time_left() * FEW_BARS_SHARE, is_quick=True)
        patterns = self._patterns()
        if self.purchases is None:  # with a better bound they may be few enough
            self._look_at_purchases()
            self._by_luck_of_each()
        self._by_purchases()
        if self.best is not None and len(self.best.bars) <= FEW_BARS:
            self._bar_by_bar(self.time_left() * FEW_BARS_SHARE, is_quick=True)
        self._by_choice(patterns)
        self._bar_by_bar(self.time_left())
        if self.is_proved:
            self._leave_the_longest()

    @property
    def is_proved(self) -> bool:
        """Whether the best layout costs no more than the bound."""
        return self.best is not None and self.grid.cost(self.best) <= self.bound

    def time_left(self) -> float:
        """Seconds until the time is gone."""
        return self.began + self.seconds - time.monotonic()

    def is_stopped(self) -> bool:
        """Whether the person has called it off."""
        return self.stop is not None and self.stop.is_set()

    @property
    def is_over(self) -> bool:
        """Whether there is nothing more to do for the price."""
        return self.is_proved or self.is_stopped() or self.time_left() <= 0

    def _take(self, layout: Layout) -> None:
        if self.best is None or self.grid.rank(layout) < self.grid.rank(self.best):
            self.best = layout
            self._tell()

    def _raise_bound(self, bound: float) -> None:
        whole = -int(-(bound - 1e-6) // 1)
        if self.best is not None:
            whole = self._next_cost(whole)
            whole = min(whole, self.grid.cost(self.best))
        if whole > self.bound:
            self.bound = whole
            self._tell()

    def _next_cost(self, least: int) -> int:
        """The next cost at which an answer may be had: of a purchase that was not found too small,
        or else of the best so far."""
        if self.purchases is None or self.best is None:
            return least
        costs = (cost_of(self.grid, one) for one in self.purchases if one not in self.refused)
        return next((one for one in costs if one >= least), self.grid.cost(self.best))

    # --- the stages ---------------------------------------------------------------------

    def _by_luck(self) -> None:
        if self.is_over:
            return
        for layout in full_bars(self.grid, self._until(LUCK_SHARE * self.seconds)):
            self._take(layout)

    def _until(self, seconds: float) -> Callable[[], bool]:
        """Asked whether it is over, or so many seconds have gone from now."""
        end = self.time_left() - seconds
        return lambda: self.is_over or self.time_left() < end

    def _look_at_purchases(self) -> None:
        """Which bars an answer that is better than the best could be made of, if they are few."""
        if self.best is None or self.is_over or self.purchases is not None:
            return
        below = self.grid.cost(self.best)
        self.purchases = purchases_between(self.grid, self.bound, below)
        self._raise_bound(self.bound)

    def _by_luck_of_each(self) -> None:
        """The bars of one purchase after the other filled by luck, the cheapest first."""
        end = self.time_left() * (1 - LUCK_OF_EACH_SHARE)
        for purchase in self._open_purchases():
            seconds = min(LUCK_SHARE * self.seconds, self.time_left() - end)
            layout = full_bars_of(self.grid, purchase, self._until(seconds))
            if layout is not None:
                self._take(layout)

    def _by_purchases(self) -> None:
        """One purchase after the other, the cheapest first: each for a moment over few patterns,
        which mostly proves where there is nothing; then longer over many."""
        until, moment = self.time_left() * (1 - PURCHASES_SHARE), MOMENT_SHARE * self.seconds
        for most, is_quick, longest in (
            (FEW_PATTERNS, False, moment),
            (MANY_PATTERNS, True, self.seconds),
        ):
            for purchase in self._open_purchases():
                seconds = min(longest, (self.time_left() - until) * PURCHASE_SHARE)
                by_pattern = kinds_by_pattern(self.grid, purchase, most)
                self._ask(purchase, by_pattern, seconds, is_quick=is_quick)

    def _open_purchases(self) -> Iterator[Purchase]:
        """Those that are cheaper than the best and not refuted, as long as there is time."""
        for purchase in self.purchases or ():
            cost = cost_of(self.grid, purchase)
            if self.is_over or self.best is None or cost >= self.grid.cost(self.best):
                return
            if cost >= self.bound and purchase not in self.refused:
                yield purchase

    def _ask(
        self, purchase: Purchase, by_pattern: frozenset[int], seconds: float, *, is_quick: bool
    ) -> None:
        """Whether the pieces come off it: then that is the best, else a better bound perhaps."""
        counted = sum(n for kind, n in enumerate(purchase) if kind not in by_pattern)
        if counted * len(self.grid.sizes) > MOST_COUNTS or seconds <= 0:
            return
        asked = purchase_model(self.grid, purchase, by_pattern)
        found = solved(
            asked.model,
            asked.asked,
            seconds=seconds,
            is_stopped=self.is_stopped,
            is_quick=is_quick,
        )
        if found.values is not None:
            self._take(asked.layout(found.values))
        elif found.is_impossible:
            self.refused.add(purchase)
            self._raise_bound(self.bound)

    def _patterns(self) -> Patterns | None:
        """Those that would pay, and their bound."""
        if self.best is None or self.is_over:
            return None
        patterns = Patterns(self.grid, self.best)
        until = self.time_left() * (1 - PATTERNS_SHARE)
        patterns.generate(lambda: self.is_over or self.time_left() < until, self._raise_bound)
        return patterns

    def _by_choice(self, patterns: Patterns | None) -> None:
        """The best answer that is made of these patterns alone."""
        if patterns is None or self.best is None or self.is_over:
            return
        chosen = pattern_model(self.grid, patterns.columns, self.best)
        found = solved(
            chosen.model,
            chosen.uses,
            seconds=self.time_left() * CHOICE_SHARE,
            is_stopped=self.is_stopped,
            enough=self.bound,
        )
        if found.values is not None:
            self._take(layout_of(self.grid, covering_of(patterns.columns, found.values)))

    def _bar_by_bar(self, seconds: float, *, is_quick: bool = False) -> None:
        if self.is_over or self._is_large:
            return
        model = BarModel(self.grid, self.best, self.bound)
        model.least_cost()
        found = solved(
            model.model,
            model.asked,
            seconds=seconds,
            is_stopped=self.is_stopped,
            bounded=self._raise_bound,
            is_quick=is_quick,
        )
        if found.values is not None:
            self._take(model.layout(found.values))
            self._raise_bound(found.bound)

    @property
    def _is_large(self) -> bool:
        bars = sum(most_bars(self.grid, self.best))
        return bars * len(self.grid.sizes) > MOST_COUNTS

    def _leave_the_longest(self) -> None:
        if self.best is None or self.is_stopped() or self._is_large:
            return
        model = BarModel(self.grid, self.best, self.bound)
        model.longest_left(self.grid.cost(self.best), self.grid.longest_left(self.best))
        seconds = min(self.time_left(), LEFTOVER_SHARE * self.seconds)
        found = solved(
            model.model, model.asked, seconds=seconds, is_stopped=self.is_stopped, is_quick=True
        )
        if found.values is not None:
            self._take(model.layout(found.values))

    # --- what is told -------------------------------------------------------------------------

    def _tell(self) -> None:
        if self.progress is None:
            return
        best, grid = self.best, self.grid
        self.progress(
            CutProgress(
                seconds=time.monotonic() - self.began,
                price=None if best is None else price_of(grid.price_of_cost(grid.cost(best))),
                bars=None if best is None else len(best.bars),
                bound_price=price_of(grid.price_of_cost(self.bound)),
            )
        )

    def answer(self) -> CutList | None:
        """The best so far; None where there is none."""
        if self.best is None:
            return None
        grid = self.grid
        return CutList(
            bars=grid.bars_of(self.best),
            price=price_of(grid.price_of_cost(grid.cost(self.best))),
            bound_price=price_of(grid.price_of_cost(self.bound)),
            proved_best=self.is_proved,
            seconds=time.monotonic() - self.began,
        )
