"""Keep what is plumbed: circuits, components, runs, the shelf, and what parts bring for them."""

from typing import Any

import sqlalchemy as sa
from alembic import op

revision = "0011"
down_revision = "0010"
branch_labels = None
depends_on = None

TEXT, NUMBER, YES_NO, WHOLE = sa.Text, sa.Float, sa.Boolean, sa.Integer
MOMENT = sa.String(26)
PIECE: dict[str, Any] = {
    "piece": TEXT,
    "name?": TEXT,
    "size_mm?": NUMBER,
    "other_size_mm?": NUMBER,
    "ends": TEXT,
    "length_mm?": NUMBER,
    "angle?": NUMBER,
    "made_of?": TEXT,
    "wall_mm?": NUMBER,
    "bore_mm?": NUMBER,
    "arrow?": TEXT,
}
COLUMNS: dict[str, dict[str, Any]] = {
    "circuits": {
        "key": TEXT,
        "name": TEXT,
        "medium": TEXT,
        "from_port": TEXT,
        "to_port": TEXT,
        "subsystem_key?": TEXT,
        "hose?": TEXT,
        "tube?": TEXT,
        "bar?": NUMBER,
        "highest?": TEXT,
        "needed_to_start": YES_NO,
        "test?": TEXT,
        "tested_on?": MOMENT,
    },
    "circuit_holds": {"circuit_key": TEXT, "task_key": TEXT},
    "circuit_waivers": {"circuit_key": TEXT, "why": TEXT, "reason": TEXT},
    "components": {
        "key": TEXT,
        "name": TEXT,
        "kind": TEXT,
        "circuit_key?": TEXT,
        "part_key?": TEXT,
        "passages?": TEXT,
    },
    "component_volumes": {"component_key": TEXT, "circuit_key": TEXT, "litres?": NUMBER},
    "component_ports": {
        "component_key": TEXT,
        "name": TEXT,
        "end": TEXT,
        "flow": TEXT,
        "size_mm?": NUMBER,
        "size_name?": TEXT,
        "role?": TEXT,
        "circuit_key?": TEXT,
        "shuts": YES_NO,
        "stop_kind?": TEXT,
        "stop_on?": MOMENT,
    },
    "runs": {
        "key": TEXT,
        "name": TEXT,
        "from_port": TEXT,
        "to_port": TEXT,
        "cut_on?": MOMENT,
        "fitted_on?": MOMENT,
        "clamped_on?": MOMENT,
        "clamps": TEXT,
        "licensed?": TEXT,
    },
    "run_tasks": {"run_key": TEXT, "task_key": TEXT},
    "run_pieces": {"run_key": TEXT, **PIECE},
    "shelf_things": {
        **PIECE,
        "range_from_mm?": NUMBER,
        "range_to_mm?": NUMBER,
        "count": WHOLE,
    },
    "part_plumbing": {"part_key": TEXT, "what": TEXT, "count?": WHOLE, "metres?": NUMBER},
}
"""By table; a name with a question mark may be empty."""
OF: dict[str, dict[str, str]] = {
    "circuits": {"subsystem_key": "subsystems"},
    "circuit_holds": {"circuit_key": "circuits", "task_key": "tasks"},
    "circuit_waivers": {"circuit_key": "circuits"},
    "components": {"circuit_key": "circuits", "part_key": "parts"},
    "component_volumes": {"component_key": "components", "circuit_key": "circuits"},
    "component_ports": {"component_key": "components", "circuit_key": "circuits"},
    "run_tasks": {"run_key": "runs", "task_key": "tasks"},
    "run_pieces": {"run_key": "runs"},
    "part_plumbing": {"part_key": "parts"},
}
"""Columns that hold the key of another thing, and of which table."""
FOUND_BY: dict[str, tuple[str, ...]] = {
    "circuit_holds": ("circuit_key", "task_key"),
    "circuit_waivers": ("circuit_key",),
    "component_volumes": ("component_key",),
    "component_ports": ("component_key",),
    "run_tasks": ("run_key", "task_key"),
    "run_pieces": ("run_key",),
    "part_plumbing": ("part_key",),
}
"""Columns with an index."""


def upgrade() -> None:
    for table, columns in COLUMNS.items():
        op.create_table(
            table,
            *(sa.Column(name, WHOLE(), nullable=False) for name in ("id", "build_id", "position")),
            *(_column(name, kind) for name, kind in columns.items()),
            *(
                sa.ForeignKeyConstraint(
                    ["build_id", column],
                    [f"{parent}.build_id", f"{parent}.key"],
                    name=f"fk_{table}_build_id_{column}",
                )
                for column, parent in OF.get(table, {}).items()
            ),
            sa.ForeignKeyConstraint(
                ["build_id"], ["builds.id"], name=f"fk_{table}_build_id", ondelete="CASCADE"
            ),
            sa.PrimaryKeyConstraint("id", name=f"pk_{table}"),
            *(
                (sa.UniqueConstraint("build_id", "key", name=f"uq_{table}_build_id_key"),)
                if "key" in columns
                else ()
            ),
        )
        op.create_index(f"ix_{table}_build_id_position", table, ["build_id", "position"])
        for column in FOUND_BY.get(table, ()):
            op.create_index(f"ix_{table}_build_id_{column}", table, ["build_id", column])


def _column(name: str, kind: Any) -> sa.Column[Any]:
    made = kind() if isinstance(kind, type) else kind
    return sa.Column(name.removesuffix("?"), made, nullable=name.endswith("?"))


def downgrade() -> None:
    for table in reversed(COLUMNS):
        op.drop_table(table)
