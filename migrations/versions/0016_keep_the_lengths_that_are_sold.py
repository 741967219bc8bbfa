"""Keep the lengths that are sold."""

import sqlalchemy as sa
from alembic import op

revision = "0016"
down_revision = "0015"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "sold_lengths",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("build_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("length_mm", sa.Float(), nullable=False),
        sa.Column("price", sa.Float(), nullable=False),
        sa.Column("count", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(
            ["build_id"], ["builds.id"], name=op.f("fk_sold_lengths_build_id"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_sold_lengths")),
    )
    with op.batch_alter_table("sold_lengths", schema=None) as batch_op:
        batch_op.create_index(
            "ix_sold_lengths_build_id_position", ["build_id", "position"], unique=False
        )


def downgrade() -> None:
    with op.batch_alter_table("sold_lengths", schema=None) as batch_op:
        batch_op.drop_index("ix_sold_lengths_build_id_position")

    op.drop_table("sold_lengths")
