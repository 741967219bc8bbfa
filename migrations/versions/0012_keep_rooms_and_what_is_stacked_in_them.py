"""Keep rooms and what is stacked in them."""

import sqlalchemy as sa
from alembic import op

revision = "0012"
down_revision = "0011"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "rooms",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("build_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("key", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("measured_mm", sa.Float(), nullable=True),
        sa.Column("plus_minus_mm", sa.Float(), nullable=False),
        sa.ForeignKeyConstraint(
            ["build_id"], ["builds.id"], name=op.f("fk_rooms_build_id"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_rooms")),
        sa.UniqueConstraint("build_id", "key", name=op.f("uq_rooms_build_id_key")),
    )
    with op.batch_alter_table("rooms", schema=None) as batch_op:
        batch_op.create_index("ix_rooms_build_id_position", ["build_id", "position"], unique=False)

    op.create_table(
        "room_holds",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("build_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("room_key", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("mm", sa.Float(), nullable=False),
        sa.Column("plus_minus_mm", sa.Float(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["build_id", "room_key"],
            ["rooms.build_id", "rooms.key"],
            name=op.f("fk_room_holds_build_id_room_key"),
        ),
        sa.ForeignKeyConstraint(
            ["build_id"], ["builds.id"], name=op.f("fk_room_holds_build_id"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_room_holds")),
    )
    with op.batch_alter_table("room_holds", schema=None) as batch_op:
        batch_op.create_index(
            "ix_room_holds_build_id_position", ["build_id", "position"], unique=False
        )
        batch_op.create_index(
            batch_op.f("ix_room_holds_build_id_room_key"), ["build_id", "room_key"], unique=False
        )


def downgrade() -> None:
    with op.batch_alter_table("room_holds", schema=None) as batch_op:
        batch_op.drop_index(batch_op.f("ix_room_holds_build_id_room_key"))
        batch_op.drop_index("ix_room_holds_build_id_position")

    op.drop_table("room_holds")
    with op.batch_alter_table("rooms", schema=None) as batch_op:
        batch_op.drop_index("ix_rooms_build_id_position")

    op.drop_table("rooms")
