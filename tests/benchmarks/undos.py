"""Benchmark row of taking back: random rows of changes, to the byte and back again."""

from random import Random

from tests.benchmarks.timing import Table
from tests.build.verbs.random_changes import RANDOM_CHANGES
from tests.build.verbs.random_plumbing import RANDOM_PLUMBING
from tests.services.test_undo import takes_back_to_the_byte

ROWS, CHANGES = 50, 10


def rows_of_changes_taken_back(table: Table) -> None:
    """So many rows of ten changes of each kind; ends with the first that does not come back."""
    for what, verbs in (("a build", RANDOM_CHANGES), ("what is plumbed", RANDOM_PLUMBING)):
        for row in range(ROWS):
            luck = Random(f"{what} {row}")
            takes_back_to_the_byte(
                [(luck.choice(verbs), luck.getrandbits(32)) for _ in range(CHANGES)]
            )
        table.row(f"rows of {CHANGES} changes of {what} taken back", f"{ROWS} of {ROWS}", None)
