"""Rows straight from SQLite are those that SQLAlchemy reads, value by value and type by type."""

from pathlib import Path

import pytest
from sqlalchemy import inspect, select

from tests.storage.rich_build import RICH_BUILD
from tests.stored_files import file_with
from webapp.storage.builds import create_build
from webapp.storage.database import Database
from webapp.storage.plain_rows import PlainRows
from webapp.storage.tables import NOUNS


def test_every_value_of_every_table_is_what_sqlalchemy_makes_of_it(tmp_path: Path) -> None:
    path = tmp_path / "keyturn.sqlite3"
    path.write_bytes(file_with(lambda session: create_build(session, RICH_BUILD)))
    database = Database.open(path)
    seen = 0
    with database.reading() as session:
        connection = session.connection()
        for noun in NOUNS:
            columns = inspect(noun.row_class).columns
            asked = select(*(columns[name] for name in noun.columns)).order_by(
                columns["position"], columns["id"]
            )
            expected = [tuple(row) for row in connection.execute(asked)]
            plain = PlainRows(noun.row_class, noun.columns).of_build(connection, 1)
            got = [tuple(row) for row in plain]
            assert got == expected, noun.at
            assert [[type(v) for v in row] for row in got] == [
                [type(v) for v in row] for row in expected
            ]
            seen += len(got)
        assert PlainRows(NOUNS[0].row_class, NOUNS[0].columns).of_build(connection, 2) == []
    database.close()
    assert seen > len(NOUNS)


@pytest.mark.parametrize("table", ["tasks", "parts"])
def test_a_value_that_is_none_of_its_column_is_refused(tmp_path: Path, table: str) -> None:
    column = {"tasks": "set_aside_on", "parts": "arrives_on"}[table]
    path = tmp_path / "keyturn.sqlite3"
    path.write_bytes(file_with(lambda session: create_build(session, RICH_BUILD)))
    database = Database.open(path)
    noun = next(each for each in NOUNS if each.row_class.__tablename__ == table)
    with database.writing() as session:
        connection = session.connection()
        connection.exec_driver_sql(f"UPDATE {table} SET {column} = 'soon'")
        with pytest.raises(ValueError, match="soon"):
            PlainRows(noun.row_class, noun.columns).of_build(connection, 1)
    database.close()
