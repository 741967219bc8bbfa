"""The tables of the installation: who is let in from the shop's network.

They belong to this machine and to no build: no document and no copy holds them, the journal and
Undo know nothing of them.
"""

import datetime as dt
from typing import ClassVar

from sqlmodel import Field

from webapp.storage.tables.column_types import StoredStamp, StoredText
from webapp.storage.tables.row import Row


class DeviceRow(Row, table=True):
    """A paired device. Its token is known to nobody but itself: kept is what it hashes to.

    Its number is drawn, so that one that was turned away never stands for a later one.
    """

    __tablename__ = "devices"
    JOURNALED: ClassVar[bool] = False
    id: int = Field(primary_key=True, sa_column_kwargs={"autoincrement": False})
    name: str = Field(sa_type=StoredText)
    token_hash: str = Field(sa_type=StoredText, unique=True)
    paired_at: dt.datetime = Field(sa_type=StoredStamp)
    used_at: dt.datetime = Field(sa_type=StoredStamp)


class ShopNetworkRow(Row, table=True):
    """The one row of the switch; `called` tells this installation from others on the machine."""

    __tablename__ = "shop_network"
    JOURNALED: ClassVar[bool] = False
    id: int | None = Field(default=None, primary_key=True)
    is_open: bool = False
    called: str = Field(sa_type=StoredText)


INSTALLATION: tuple[type[Row], ...] = (DeviceRow, ShopNetworkRow)
"""What stays with the machine when a copy is made or put back."""
