"""Keep what work costs, what was paid, offers for work, a currency and a limit of money."""

import sqlalchemy as sa
from alembic import op

revision = "0020"
down_revision = "0019"
branch_labels = None
depends_on = None

SUMS = {
    "parts": ("paid",),
    "tasks": ("cost", "paid", "offer_cost", "offer_days"),
    "wishes": ("paid",),
    "builds": ("money_limit",),
}


def upgrade() -> None:
    for table, names in SUMS.items():
        for name in names:
            op.add_column(table, sa.Column(name, sa.Float(), nullable=True))
    op.add_column("builds", sa.Column("currency", sa.Text(), server_default="", nullable=False))


def downgrade() -> None:
    op.drop_column("builds", "currency")
    for table, names in SUMS.items():
        for name in names:
            op.drop_column(table, name)
