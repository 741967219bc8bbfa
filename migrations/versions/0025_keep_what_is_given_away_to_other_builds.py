"""Keep what a build gives away to other builds, and how builds share their hours."""

import sqlalchemy as sa
from alembic import op

revision = "0025"
down_revision = "0024"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "sharings",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("revision", sa.Integer(), nullable=False),
        sa.Column("key", sa.Text(), nullable=False),
        sa.Column("way", sa.Text(), nullable=False),
        sa.Column("builds", sa.Text(), nullable=False),
        sa.Column("handed_over", sa.Text(), nullable=False),
        sa.Column("since", sa.Text(), nullable=False),
        sa.Column("settled_until", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_sharings")),
        sa.UniqueConstraint("key", name=op.f("uq_sharings_key")),
    )
    op.create_table(
        "given_away",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("build_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("first_on", sa.Date(), nullable=False),
        sa.Column("last_on", sa.Date(), nullable=True),
        sa.Column("opens_minute", sa.Integer(), nullable=False),
        sa.Column("closes_minute", sa.Integer(), nullable=False),
        sa.Column("belongs_to", sa.Text(), nullable=False),
        sa.Column("after_first_start", sa.Boolean(), nullable=False),
        sa.ForeignKeyConstraint(
            ["build_id"], ["builds.id"], name=op.f("fk_given_away_build_id"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_given_away")),
    )
    with op.batch_alter_table("given_away", schema=None) as batch_op:
        batch_op.create_index(
            "ix_given_away_build_id_position", ["build_id", "position"], unique=False
        )


def downgrade() -> None:
    with op.batch_alter_table("given_away", schema=None) as batch_op:
        batch_op.drop_index("ix_given_away_build_id_position")

    op.drop_table("given_away")
    op.drop_table("sharings")
