"""Keep the hours of getting a setup out apart from the work."""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column(
        "log_entries", sa.Column("setup_hours", sa.Float(), nullable=False, server_default="0")
    )
    op.add_column(
        "builds", sa.Column("bench_gets_out", sa.Boolean(), nullable=False, server_default="0")
    )


def downgrade() -> None:
    op.drop_column("builds", "bench_gets_out")
    op.drop_column("log_entries", "setup_hours")
