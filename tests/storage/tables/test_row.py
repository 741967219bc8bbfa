"""A row checks nothing, so nothing is made to check it with."""

from webapp.storage.tables.shop import SetupRow
from webapp.storage.tables.tasks import TaskRow


def test_a_table_makes_no_validator_before_somebody_asks_for_one() -> None:
    """They are many, and the program waits for them when it loads."""
    assert not TaskRow.__pydantic_complete__
    assert not SetupRow.__pydantic_complete__


def test_a_row_is_told_as_its_columns_all_the_same() -> None:
    row = SetupRow(build_id=1, position=2, key="tig", name="TIG welder", hours=0.75)
    told = {"build_id": 1, "position": 2, "key": "tig", "name": "TIG welder", "hours": 0.75}
    assert told.items() <= row.model_dump().items()
