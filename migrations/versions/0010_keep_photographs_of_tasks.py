"""Keep photographs of tasks; their files lie beside the data file."""

import sqlalchemy as sa
from alembic import op

revision = "0010"
down_revision = "0009"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "photographs",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("build_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("task_key", sa.Text(), nullable=False),
        sa.Column("digest", sa.Text(), nullable=False),
        sa.Column("width_px", sa.Integer(), nullable=False),
        sa.Column("height_px", sa.Integer(), nullable=False),
        sa.Column("size_bytes", sa.Integer(), nullable=False),
        sa.Column("added_on", sa.Date(), nullable=False),
        sa.Column("caption", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["build_id", "task_key"],
            ["tasks.build_id", "tasks.key"],
            name=op.f("fk_photographs_build_id_task_key"),
        ),
        sa.ForeignKeyConstraint(
            ["build_id"],
            ["builds.id"],
            name=op.f("fk_photographs_build_id"),
            ondelete="CASCADE",
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_photographs")),
        sa.UniqueConstraint(
            "build_id",
            "task_key",
            "digest",
            name=op.f("uq_photographs_build_id_task_key_digest"),
        ),
    )
    op.create_index("ix_photographs_build_id_position", "photographs", ["build_id", "position"])


def downgrade() -> None:
    op.drop_index("ix_photographs_build_id_position", table_name="photographs")
    op.drop_table("photographs")
