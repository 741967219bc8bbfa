"""Keep what earlier builds showed, taken along into a build."""

import sqlalchemy as sa
from alembic import op

revision = "0023"
down_revision = "0022"
branch_labels = None
depends_on = None


def upgrade() -> None:
    _make(
        "earlier_records",
        sa.Column("key", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("taken_on", sa.Date(), nullable=False),
        sa.Column("counts", sa.Boolean(), nullable=False),
        sa.Column("weeks", sa.Integer(), nullable=False),
        sa.Column("workable_hours", sa.Float(), nullable=False),
        sa.Column("worked_hours", sa.Float(), nullable=False),
        sa.UniqueConstraint("build_id", "key", name=op.f("uq_earlier_records_build_id_key")),
    )
    _make(
        "earlier_kinds",
        sa.Column("record_key", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("tasks", sa.Integer(), nullable=False),
        sa.Column("actual_hours", sa.Float(), nullable=False),
        sa.Column("expected_hours", sa.Float(), nullable=False),
        sa.Column("worth", sa.Float(), nullable=False),
        sa.Column("log_squares", sa.Float(), nullable=False),
        sa.ForeignKeyConstraint(
            ["build_id", "record_key"],
            ["earlier_records.build_id", "earlier_records.key"],
            name=op.f("fk_earlier_kinds_build_id_record_key"),
        ),
    )
    op.create_index(
        op.f("ix_earlier_kinds_build_id_record_key"), "earlier_kinds", ["build_id", "record_key"]
    )


def _make(table: str, *columns: sa.schema.SchemaItem) -> None:
    op.create_table(
        table,
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("build_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        *columns,
        sa.ForeignKeyConstraint(
            ["build_id"], ["builds.id"], name=op.f(f"fk_{table}_build_id"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f(f"pk_{table}")),
    )
    op.create_index(f"ix_{table}_build_id_position", table, ["build_id", "position"])


def downgrade() -> None:
    op.drop_table("earlier_kinds")
    op.drop_table("earlier_records")
