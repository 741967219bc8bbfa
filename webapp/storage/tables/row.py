"""What all tables share.

Every thing of a build carries `build_id` and is referred to by its own `key` within that build
(composite foreign keys), so that a row, and its journal entry, can be read without a look-up.
Only ownership by the build cascades; a reference to a thing that is gone is refused, because a
row that the database removes by itself would be missing from the journal.
`position` is the order of entry: rising, with gaps allowed.
"""

from typing import Any, ClassVar

from sqlalchemy import ForeignKeyConstraint, Index, MetaData
from sqlalchemy.orm import registry
from sqlmodel import Field, SQLModel

NAMING = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s",
    "pk": "pk_%(table_name)s",
}


class Row(SQLModel, registry=registry(metadata=MetaData(naming_convention=NAMING))):
    """What all tables share.

    `IDENTITY` names the columns by which one row is told from another within its build (and
    which the journal shows as its key); `GROUP` the columns within which positions count;
    `BULKY` those that the journal leaves out when a row is added: the row itself keeps them, and
    they go into the journal when it is removed. `JOURNALED` is false of what belongs to no build.
    """

    # A row checks nothing, so none makes what it would check with until somebody asks for it: for
    # all tables together that is a good part of the time in which the program loads.
    model_config = {"defer_build": True}

    JOURNALED: ClassVar[bool] = True
    IDENTITY: ClassVar[tuple[str, ...]] = ("key",)
    GROUP: ClassVar[tuple[str, ...]] = ()
    BULKY: ClassVar[frozenset[str]] = frozenset()


class SharedRow(Row):
    """A thing of the whole data file, of no build; `revision` goes up with every change of it.

    The journal keeps it under the name of its table, which no build can have.
    """

    id: int | None = Field(default=None, primary_key=True)
    revision: int = 1


class OwnedRow(Row):
    """A thing of a build, in its place in the order of entry.

    `REPEATS`: two rows may go by one name at once; then the journal tells by their position
    which of them was changed.
    """

    REPEATS: ClassVar[bool] = False

    id: int | None = Field(default=None, primary_key=True)
    build_id: int
    position: int


def key_of(column: str, parent: str, *, in_a_ring: bool = False) -> ForeignKeyConstraint:
    """The column holds the key of a row of `parent` in the same build.

    `in_a_ring`: the parent refers back; one side of the ring must say so.
    """
    return ForeignKeyConstraint(
        ["build_id", column], [f"{parent}.build_id", f"{parent}.key"], use_alter=in_a_ring
    )


def owned(table: str, *more: Any) -> tuple[Any, ...]:
    """Constraints of a table whose rows belong to a build."""
    return (
        ForeignKeyConstraint(["build_id"], ["builds.id"], ondelete="CASCADE"),
        Index(f"ix_{table}_build_id_position", "build_id", "position"),
        *more,
    )
