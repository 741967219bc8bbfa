"""Keep the setups that are out beside the one last used, where several people work."""

import sqlalchemy as sa
from alembic import op

revision = "0024"
down_revision = "0023"
branch_labels = None
depends_on = None


def upgrade() -> None:
    with op.batch_alter_table("builds", schema=None) as batch_op:
        batch_op.add_column(
            sa.Column("setups_out_beside", sa.Text(), nullable=False, server_default="[]")
        )


def downgrade() -> None:
    with op.batch_alter_table("builds", schema=None) as batch_op:
        batch_op.drop_column("setups_out_beside")
