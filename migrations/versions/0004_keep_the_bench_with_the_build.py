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
    op.create_table(
        "running_clocks",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("build_id", sa.Integer(), nullable=False),
        sa.Column("task_key", sa.Text(), nullable=False),
        sa.Column("since", sa.String(length=26), nullable=False),
        sa.ForeignKeyConstraint(
            ["build_id", "task_key"],
            ["tasks.build_id", "tasks.key"],
            name=op.f("fk_running_clocks_build_id_task_key"),
        ),
        sa.ForeignKeyConstraint(
            ["build_id"], ["builds.id"], name=op.f("fk_running_clocks_build_id"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_running_clocks")),
        sa.UniqueConstraint("build_id", name=op.f("uq_running_clocks_build_id")),
    )
    op.execute(
        "INSERT INTO running_clocks (build_id, task_key, since) "
        "SELECT id, bench_task_key, bench_since FROM builds WHERE bench_task_key IS NOT NULL"
    )
    op.drop_column("builds", "bench_since")
    op.drop_column("builds", "bench_task_key")
