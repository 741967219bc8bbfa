"""Keep what is on the bench with its build."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("builds", sa.Column("bench_task_key", sa.Text(), nullable=True))
    op.add_column("builds", sa.Column("bench_since", sa.String(length=26), nullable=True))
    op.execute(
        "UPDATE builds SET (bench_task_key, bench_since) = "
        "(SELECT task_key, since FROM running_clocks WHERE build_id = builds.id)"
    )
    op.drop_table("running_clocks")


def downgrade() -> None:
    raise NotImplementedError("What is on the bench is kept with its build from here on.")
