"""Keep the answers to a starter list, whose hours are guesses, and what the end is called."""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None

TEXTS = (
    ("end_name", "''"),
    ("starter_list", "''"),
    ("starter_answers", "'[]'"),
    ("starter_left_out", "'[]'"),
)


def upgrade() -> None:
    op.add_column(
        "tasks", sa.Column("hours_guessed", sa.Boolean(), nullable=False, server_default="0")
    )
    for name, empty in TEXTS:
        op.add_column(
            "builds", sa.Column(name, sa.Text(), nullable=False, server_default=sa.text(empty))
        )


def downgrade() -> None:
    for name, _ in reversed(TEXTS):
        op.drop_column("builds", name)
    op.drop_column("tasks", "hours_guessed")
