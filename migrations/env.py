"""Entry of Alembic. crib hands over a connection whose transaction has begun; developers give `-x db=URL`."""

from typing import Any

from alembic import context
from sqlalchemy import Connection

from crib.store.models import Base

# made by hand in the migrations, for each engine its own: the search index and its shadow tables
_SEARCH = ("item_search", "ix_item_search", "search")


def _ours(_object: Any, name: str | None, kind: str, reflected: bool, _compared: Any) -> bool:
    return not (reflected and name is not None and (name in _SEARCH or name.startswith("item_search_")))


def _run(connection: Connection) -> None:
    context.configure(
        connection=connection,
        target_metadata=Base.metadata,
        render_as_batch=connection.dialect.name == "sqlite",
        include_object=_ours,
    )
    with context.begin_transaction():
        context.run_migrations()


given = context.config.attributes.get("connection")
if given is not None:
    _run(given)
else:
    from crib.store.address import parse
    from crib.store.engine import engine_for

    with engine_for(parse(context.get_x_argument(as_dictionary=True)["db"])).begin() as opened:
        _run(opened)
