"""For contributors: write the next migration from the difference between tables and migrations.

python -m webapp.storage.new_migration "Give tasks a colour"
"""

import sys
import tempfile
from pathlib import Path

from alembic import command
from alembic.script import ScriptDirectory

from webapp.storage.schema_upgrade import migration_config, schema_engine, upgrade_schema


def main(message: str) -> None:
    """Compare a database at the last migration with tables.py and write what is missing."""
    config = migration_config()
    number = len(list(ScriptDirectory.from_config(config).walk_revisions())) + 1
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "compared.sqlite3"
        # With the folder named, the tables that no migration makes yet are not missed.
        upgrade_schema(path, Path(ScriptDirectory.from_config(config).dir))
        with schema_engine(path).begin() as connection:
            config.attributes["connection"] = connection
            command.revision(config, message, autogenerate=True, rev_id=f"{number:04}")


if __name__ == "__main__":
    main(" ".join(sys.argv[1:]) or sys.exit("Say what the migration does."))
