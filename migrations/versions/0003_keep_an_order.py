"""Keep an order."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    with op.batch_alter_table("builds", schema=None) as batch_op:
        batch_op.add_column(sa.Column("kept_order", sa.Text(), nullable=False, server_default="[]"))
        batch_op.add_column(sa.Column("kept_on", sa.Date(), nullable=True))


def downgrade() -> None:
    with op.batch_alter_table("builds", schema=None) as batch_op:
        batch_op.drop_column("kept_on")
        batch_op.drop_column("kept_order")
