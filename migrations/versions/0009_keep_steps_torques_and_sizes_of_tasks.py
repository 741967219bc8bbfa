"""Keep the steps of tasks, and the torques and sizes to work to."""

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None

COLUMNS: dict[str, dict[str, type[sa.types.TypeEngine[Any]]]] = {
    "task_steps": {"text": sa.Text, "done": sa.Boolean},
    "task_measures": {"kind": sa.Text, "name": sa.Text, "value": sa.Text},
}


def upgrade() -> None:
    for table, columns in COLUMNS.items():
        op.create_table(
            table,
            sa.Column("id", sa.Integer(), nullable=False),
            sa.Column("build_id", sa.Integer(), nullable=False),
            sa.Column("position", sa.Integer(), nullable=False),
            sa.Column("task_key", sa.Text(), nullable=False),
            *(sa.Column(name, kind(), nullable=False) for name, kind in columns.items()),
            sa.ForeignKeyConstraint(
                ["build_id", "task_key"],
                ["tasks.build_id", "tasks.key"],
                name=f"fk_{table}_build_id_task_key",
            ),
            sa.ForeignKeyConstraint(
                ["build_id"], ["builds.id"], name=f"fk_{table}_build_id", ondelete="CASCADE"
            ),
            sa.PrimaryKeyConstraint("id", name=f"pk_{table}"),
        )
        op.create_index(f"ix_{table}_build_id_position", table, ["build_id", "position"])
        op.create_index(f"ix_{table}_build_id_task_key", table, ["build_id", "task_key"])


def downgrade() -> None:
    for table in reversed(COLUMNS):
        op.drop_table(table)
