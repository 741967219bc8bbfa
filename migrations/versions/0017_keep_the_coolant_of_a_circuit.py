"""Keep the coolant of a circuit, and what parts bring by the litre."""

import sqlalchemy as sa
from alembic import op

revision = "0017"
down_revision = "0016"
branch_labels = None
depends_on = None


def upgrade() -> None:
    with op.batch_alter_table("circuits", schema=None) as batch_op:
        batch_op.add_column(sa.Column("frost_c", sa.Float(), nullable=True))
        batch_op.add_column(sa.Column("antifreeze", sa.Text(), nullable=True))
        batch_op.add_column(sa.Column("full_litres", sa.Float(), nullable=True))
        batch_op.add_column(sa.Column("there_litres", sa.Float(), nullable=True))
        batch_op.add_column(sa.Column("there_percent", sa.Float(), nullable=True))

    with op.batch_alter_table("part_plumbing", schema=None) as batch_op:
        batch_op.add_column(sa.Column("litres", sa.Float(), nullable=True))


def downgrade() -> None:
    with op.batch_alter_table("part_plumbing", schema=None) as batch_op:
        batch_op.drop_column("litres")

    with op.batch_alter_table("circuits", schema=None) as batch_op:
        batch_op.drop_column("there_percent")
        batch_op.drop_column("there_litres")
        batch_op.drop_column("full_litres")
        batch_op.drop_column("antifreeze")
        batch_op.drop_column("frost_c")
