"""Runs migrations on the connection that the program hands over, inside its transaction."""

from alembic import context
from sqlalchemy import TypeDecorator

from webapp.storage.tables import Row


def plain_type(kind: str, item: object, _autogenerate: object) -> str | bool:
    """Write a migration with the column types of SQL, so that it never needs our own again."""
    if kind == "type" and isinstance(item, TypeDecorator):
        return f"sa.{item.impl!r}"
    return False


context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=Row.metadata,
    render_as_batch=True,
    render_item=plain_type,
    transactional_ddl=True,
)
with context.begin_transaction():
    context.run_migrations()
