"""Keep ranges of days, and shop weeks with a first day."""

import sqlalchemy as sa
from alembic import op

revision = "0018"
down_revision = "0017"
branch_labels = None
depends_on = None


def upgrade() -> None:
    _make("later_weeks", "from_on")
    _make_sessions("later_week_sessions", of="later_weeks", told_by="from_on")
    _make(
        "day_ranges",
        "first_on",
        sa.Column("last_on", sa.Date(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
    )
    _make_sessions("day_range_sessions", of="day_ranges", told_by="first_on")


def _make(table: str, told_by: str, *columns: sa.Column) -> None:
    op.create_table(
        table,
        *_owned(table),
        sa.Column(told_by, sa.Date(), nullable=False),
        *columns,
        sa.UniqueConstraint("build_id", told_by, name=op.f(f"uq_{table}_build_id_{told_by}")),
    )
    op.create_index(f"ix_{table}_build_id_position", table, ["build_id", "position"])


def _make_sessions(table: str, *, of: str, told_by: str) -> None:
    op.create_table(
        table,
        *_owned(table),
        sa.Column(told_by, sa.Date(), nullable=False),
        sa.Column("weekday", sa.Integer(), nullable=False),
        sa.Column("opens_minute", sa.Integer(), nullable=False),
        sa.Column("closes_minute", sa.Integer(), nullable=False),
        sa.Column("helper", sa.Boolean(), nullable=False),
        sa.ForeignKeyConstraint(
            ["build_id", told_by],
            [f"{of}.build_id", f"{of}.{told_by}"],
            name=op.f(f"fk_{table}_build_id_{told_by}"),
        ),
    )
    op.create_index(f"ix_{table}_build_id_position", table, ["build_id", "position"])
    op.create_index(op.f(f"ix_{table}_build_id_{told_by}"), table, ["build_id", told_by])


def _owned(table: str) -> tuple[sa.schema.SchemaItem, ...]:
    return (
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("build_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.ForeignKeyConstraint(
            ["build_id"], ["builds.id"], name=op.f(f"fk_{table}_build_id"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f(f"pk_{table}")),
    )


def downgrade() -> None:
    for table in ("day_range_sessions", "day_ranges", "later_week_sessions", "later_weeks"):
        op.drop_table(table)
