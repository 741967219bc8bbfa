"""What an earlier build's record says, taken along into another build as it stood on a day.

A build begins with what its person's earlier builds have shown. The figures are frozen in it, so
that its document is whole in itself and every plan made from it names the same date. There is no
log in them and no name of a person: sums by kind of work, and weeks.
"""

import datetime as dt
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class EarlierKind:
    """Tasks of one kind of work: of those that were finished, or had outrun their estimate.

    `name` is what the setup is called, "" without a setup: another build has its kinds by other
    keys. `actual_hours` over `expected_hours` is how much longer they took. Weighed by their
    expected hours they are `worth` so many tasks of one size (Kish 1965); `log_squares` is the
    sum of the squares by which the logs of single tasks lie off their mean.
    """

    name: str = ""
    tasks: int
    actual_hours: float
    expected_hours: float
    worth: float
    log_squares: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class EarlierRecord:
    """The record of an earlier build: how long work took by kind, and what was worked of its weeks.

    `key` is the earlier build's own short name, in its address, `name` what it was called on the
    day `taken_on`. It `counts` until that is switched off. Of `weeks` whole weeks,
    `workable_hours` could be worked and `worked_hours` were.
    """

    key: str
    name: str
    taken_on: dt.date
    counts: bool = True
    kinds: tuple[EarlierKind, ...] = ()
    weeks: int = 0
    workable_hours: float = 0.0
    worked_hours: float = 0.0

    @property
    def tasks(self) -> int:
        """How many tasks stand behind it."""
        return sum(kind.tasks for kind in self.kinds)

    @property
    def times_estimate(self) -> float:
        """Actual over expected hours of all its tasks; 1 without any."""
        expected = sum(kind.expected_hours for kind in self.kinds)
        return sum(kind.actual_hours for kind in self.kinds) / expected if expected else 1.0

    @property
    def share_worked(self) -> float:
        """What was worked of the hours that could be; 1 without a week."""
        return self.worked_hours / self.workable_hours if self.workable_hours else 1.0
