"""Keep paired devices and the switch of the shop's network."""

import sqlalchemy as sa
from alembic import op

revision = "0019"
down_revision = "0018"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "devices",
        sa.Column("id", sa.Integer(), autoincrement=False, nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("token_hash", sa.Text(), nullable=False),
        sa.Column("paired_at", sa.String(length=32), nullable=False),
        sa.Column("used_at", sa.String(length=32), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_devices")),
        sa.UniqueConstraint("token_hash", name=op.f("uq_devices_token_hash")),
    )
    op.create_table(
        "shop_network",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("is_open", sa.Boolean(), nullable=False),
        sa.Column("called", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_shop_network")),
    )


def downgrade() -> None:
    op.drop_table("shop_network")
    op.drop_table("devices")
