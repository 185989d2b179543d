"""Statements of SQLAlchemy, compiled once for each engine and then run on its driver.

For the few that every doing needs: what SQLAlchemy sets up around a statement takes several times as long as
SQLite takes to run it. Values and results pass the types of their columns as they always do.
"""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from sqlalchemy import Connection, Dialect, Insert, Select, Update
from sqlalchemy.dialects.sqlite import dialect as sqlite_dialect

Statement = Select[Any] | Insert | Update
Convert = Callable[[Any], Any] | None


class Prepared:
    """One statement that gives a row at most.

    Args:
        statement: as SQLAlchemy writes it, every value a bindparam with a name.
    """

    def __init__(self, statement: Statement) -> None:
        self._statement = statement
        # by engine: the text with what its values pass, and what its results pass
        self._compiled: dict[str, tuple[str, dict[str, Convert]]] = {}
        self._results: dict[str, list[Convert]] = {}

    def first(self, connection: Connection, values: Mapping[str, Any]) -> tuple[Any, ...] | None:
        """Run it, and give its row if there is one.

        Args:
            connection: in a transaction.
            values: by the names of the parameters.

        Raises:
            sqlite3.Error, psycopg.Error: as the driver has it; crib.store.faults knows them.
        """
        engine = connection.dialect.name
        if engine not in self._compiled:
            self._compiled[engine] = _compile(self._statement, connection.dialect)
        text, into = self._compiled[engine]
        driver: Any = connection.connection.driver_connection
        cursor = driver.execute(text, {n: values[n] if c is None else c(values[n]) for n, c in into.items()})
        row = cursor.fetchone() if cursor.description else None
        if row is not None and engine not in self._results:
            self._results[engine] = _results(self._statement, connection.dialect, cursor.description)
        cursor.close()
        if row is None:
            return None
        return tuple([v if c is None else c(v) for c, v in zip(self._results[engine], row, strict=True)])


def _compile(statement: Statement, dialect: Dialect) -> tuple[str, dict[str, Convert]]:
    # with names in the text, as psycopg has them too
    named = sqlite_dialect(paramstyle="named") if dialect.name == "sqlite" else dialect
    compiled: Any = statement.compile(dialect=named)
    types = {name: bound.type.dialect_impl(dialect) for name, bound in compiled.binds.items()}
    return str(compiled), {name: kind.bind_processor(dialect) for name, kind in types.items()}


def _results(statement: Statement, dialect: Dialect, description: Sequence[Sequence[Any]]) -> list[Convert]:
    return [
        column.type.dialect_impl(dialect).result_processor(dialect, told[1])
        for column, told in zip(statement.exported_columns, description, strict=True)
    ]
