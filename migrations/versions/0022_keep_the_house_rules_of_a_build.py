"""Keep the house rules of a build, those that are on in their order."""

import sqlalchemy as sa
from alembic import op

revision = "0022"
down_revision = "0021"
branch_labels = None
depends_on = None

AS_THEY_WERE = '["working_order", "setup_out", "big_first", "longest_way"]'


def upgrade() -> None:
    with op.batch_alter_table("builds", schema=None) as batch_op:
        batch_op.add_column(
            sa.Column("house_rules", sa.Text(), nullable=False, server_default=AS_THEY_WERE)
        )


def downgrade() -> None:
    with op.batch_alter_table("builds", schema=None) as batch_op:
        batch_op.drop_column("house_rules")
