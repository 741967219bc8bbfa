"""Keep the units of the shop."""

import sqlalchemy as sa
from alembic import op

revision = "0014"
down_revision = "0013"
branch_labels = None
depends_on = None


def upgrade() -> None:
    with op.batch_alter_table("builds", schema=None) as batch_op:
        batch_op.add_column(sa.Column("units", sa.Text(), nullable=False, server_default="metric"))


def downgrade() -> None:
    with op.batch_alter_table("builds", schema=None) as batch_op:
        batch_op.drop_column("units")
