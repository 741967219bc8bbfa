"""Keep the data sheet."""

import sqlalchemy as sa
from alembic import op

revision = "0013"
down_revision = "0012"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "belts",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("build_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("key", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("length_mm", sa.Float(), nullable=True),
        sa.Column("take_up_mm", sa.Float(), nullable=True),
        sa.ForeignKeyConstraint(
            ["build_id"], ["builds.id"], name=op.f("fk_belts_build_id"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_belts")),
        sa.UniqueConstraint("build_id", "key", name=op.f("uq_belts_build_id_key")),
    )
    with op.batch_alter_table("belts", schema=None) as batch_op:
        batch_op.create_index("ix_belts_build_id_position", ["build_id", "position"], unique=False)

    op.create_table(
        "own_limits",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("build_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("check_name", sa.Text(), nullable=False),
        sa.Column("at", sa.Text(), nullable=False),
        sa.Column("ok", sa.Float(), nullable=False),
        sa.Column("tight", sa.Float(), nullable=True),
        sa.Column("source", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["build_id"], ["builds.id"], name=op.f("fk_own_limits_build_id"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_own_limits")),
    )
    with op.batch_alter_table("own_limits", schema=None) as batch_op:
        batch_op.create_index(
            "ix_own_limits_build_id_position", ["build_id", "position"], unique=False
        )

    op.create_table(
        "sheet_figures",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("build_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("number", sa.Float(), nullable=True),
        sa.Column("word", sa.Text(), nullable=True),
        sa.Column("source", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["build_id"], ["builds.id"], name=op.f("fk_sheet_figures_build_id"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_sheet_figures")),
        sa.UniqueConstraint("build_id", "name", name=op.f("uq_sheet_figures_build_id_name")),
    )
    with op.batch_alter_table("sheet_figures", schema=None) as batch_op:
        batch_op.create_index(
            "ix_sheet_figures_build_id_position", ["build_id", "position"], unique=False
        )

    op.create_table(
        "wires",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("build_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("key", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("use", sa.Text(), nullable=False),
        sa.Column("current_a", sa.Float(), nullable=False),
        sa.Column("area_mm2", sa.Float(), nullable=False),
        sa.Column("out_and_back_m", sa.Float(), nullable=False),
        sa.Column("celsius", sa.Float(), nullable=True),
        sa.Column("fuse_a", sa.Float(), nullable=True),
        sa.Column("carries_a", sa.Float(), nullable=True),
        sa.ForeignKeyConstraint(
            ["build_id"], ["builds.id"], name=op.f("fk_wires_build_id"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_wires")),
        sa.UniqueConstraint("build_id", "key", name=op.f("uq_wires_build_id_key")),
    )
    with op.batch_alter_table("wires", schema=None) as batch_op:
        batch_op.create_index("ix_wires_build_id_position", ["build_id", "position"], unique=False)

    op.create_table(
        "belt_pulleys",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("build_id", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("belt_key", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("x_mm", sa.Float(), nullable=False),
        sa.Column("y_mm", sa.Float(), nullable=False),
        sa.Column("diameter_mm", sa.Float(), nullable=False),
        sa.Column("is_back", sa.Boolean(), nullable=False),
        sa.Column("drives", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["build_id", "belt_key"],
            ["belts.build_id", "belts.key"],
            name=op.f("fk_belt_pulleys_build_id_belt_key"),
        ),
        sa.ForeignKeyConstraint(
            ["build_id"], ["builds.id"], name=op.f("fk_belt_pulleys_build_id"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_belt_pulleys")),
    )
    with op.batch_alter_table("belt_pulleys", schema=None) as batch_op:
        batch_op.create_index(
            batch_op.f("ix_belt_pulleys_build_id_belt_key"), ["build_id", "belt_key"], unique=False
        )
        batch_op.create_index(
            "ix_belt_pulleys_build_id_position", ["build_id", "position"], unique=False
        )


def downgrade() -> None:
    with op.batch_alter_table("belt_pulleys", schema=None) as batch_op:
        batch_op.drop_index("ix_belt_pulleys_build_id_position")
        batch_op.drop_index(batch_op.f("ix_belt_pulleys_build_id_belt_key"))

    op.drop_table("belt_pulleys")
    with op.batch_alter_table("wires", schema=None) as batch_op:
        batch_op.drop_index("ix_wires_build_id_position")

    op.drop_table("wires")
    with op.batch_alter_table("sheet_figures", schema=None) as batch_op:
        batch_op.drop_index("ix_sheet_figures_build_id_position")

    op.drop_table("sheet_figures")
    with op.batch_alter_table("own_limits", schema=None) as batch_op:
        batch_op.drop_index("ix_own_limits_build_id_position")

    op.drop_table("own_limits")
    with op.batch_alter_table("belts", schema=None) as batch_op:
        batch_op.drop_index("ix_belts_build_id_position")

    op.drop_table("belts")
