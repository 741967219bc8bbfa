"""Keep what was looked at in the week and left as it is."""

import sqlalchemy as sa
from alembic import op

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "looked_at",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("build_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("looked_on", sa.Date(), nullable=False),
        sa.Column("evening", sa.Date(), nullable=True),
        sa.Column("wish_key", sa.Text(), nullable=True),
        sa.Column("task_key", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(
            ["build_id", "task_key"],
            ["tasks.build_id", "tasks.key"],
            name="fk_looked_at_build_id_task_key",
        ),
        sa.ForeignKeyConstraint(
            ["build_id", "wish_key"],
            ["wishes.build_id", "wishes.key"],
            name="fk_looked_at_build_id_wish_key",
        ),
        sa.ForeignKeyConstraint(
            ["build_id"], ["builds.id"], name="fk_looked_at_build_id", ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name="pk_looked_at"),
    )
    for name in ("position", "wish_key", "task_key"):
        op.create_index(f"ix_looked_at_build_id_{name}", "looked_at", ["build_id", name])


def downgrade() -> None:
    op.drop_table("looked_at")
