"""What all models share: names of constraints, types of columns, checks made from word lists."""

from collections.abc import Sequence
from datetime import UTC, datetime
from decimal import Decimal
from typing import Any

from sqlalchemy import CheckConstraint, DateTime, Dialect, Double, MetaData, Text
from sqlalchemy.orm import DeclarativeBase, MappedAsDataclass
from sqlalchemy.types import TypeDecorator

NAMES = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s",
    "pk": "pk_%(table_name)s",
}

# sorted by bytes on both engines, so that lists come in the same order whatever the server's locale
SORTED = Text().with_variant(Text(collation="C"), "postgresql")


class Utc(TypeDecorator[datetime]):
    """A moment in UTC: always aware in Python, whatever the engine keeps."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> Any:
        """Refuse a moment without a zone; store the rest as UTC."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError("a moment without a time zone can't be stored")
        value = value.astimezone(UTC)
        return value.replace(tzinfo=None) if dialect.name == "sqlite" else value

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """Give the moment back as UTC."""
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


class Money(TypeDecorator[Decimal]):
    """An amount, exact: kept as its digits, because SQLite has no decimal numbers."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: Decimal | None, dialect: Dialect) -> str | None:
        """Store the digits as they are."""
        return None if value is None else format(value, "f")

    def process_result_value(self, value: str | None, dialect: Dialect) -> Decimal | None:
        """Give the amount back."""
        return None if value is None else Decimal(value)


class Base(MappedAsDataclass, DeclarativeBase, kw_only=True, eq=False, repr=False):
    """Root of the models: keyword constructors that a type checker can hold to account."""

    metadata = MetaData(naming_convention=NAMES)
    type_annotation_map = {str: SORTED, float: Double(), datetime: Utc(), Decimal: Money()}


def one_of(column: str, words: Sequence[str]) -> CheckConstraint:
    """Give the check that a column holds one of the words (or nothing)."""
    listed = ", ".join(f"'{word}'" for word in words)
    return CheckConstraint(f"{column} IN ({listed})", name=f"{column}_known")


def not_negative(column: str) -> CheckConstraint:
    """Give the check that a count is never below zero."""
    return CheckConstraint(f"{column} >= 0", name=f"{column}_not_negative")


def more_than_zero(column: str) -> CheckConstraint:
    """Give the check that a figure is above zero (or nothing)."""
    return CheckConstraint(f"{column} > 0", name=f"{column}_more_than_zero")
