"""Is a store sound? The file, rows whose parents are gone, evidence that is damaged or belongs to nothing."""

import hashlib

from sqlalchemy import exists, func, select
from sqlalchemy.orm import Session

from crib.store.models import Base, Evidence, Proof

MOST_NAMED = 20  # of one sort of trouble; more are counted


def file_troubles(session: Session) -> list[str]:
    """Let SQLite look through the whole file; a server looks after its own files."""
    connection = session.connection()
    if connection.dialect.name != "sqlite":
        return []
    told = [str(row[0]) for row in connection.exec_driver_sql(f"PRAGMA integrity_check({MOST_NAMED})")]
    return [] if told == ["ok"] else [f"the file: {line}" for line in told]


def lost_parents(session: Session) -> list[str]:
    """Give a line for each reference of a table that leads to rows which are not there."""
    found = []
    for table in Base.metadata.sorted_tables:
        for key in sorted(table.foreign_keys, key=lambda key: key.parent.name):
            column, parent = key.parent, key.column.table.alias()
            there = exists().where(parent.c[key.column.name] == column)
            lost = select(func.count()).select_from(table).where(column.is_not(None), ~there)
            if count := session.connection().scalar(lost):
                found.append(f"{table.name}: {count} rows whose {column.name} is no {key.column.table.name}")
    return found


def damaged_evidence(session: Session) -> list[str]:
    """Give a line for each file of evidence whose content is not what was put in."""
    rows = select(Evidence.id, Evidence.name, Evidence.sha256, Evidence.size).order_by(Evidence.id)
    found = []
    for number, name, sha256, size in session.execute(rows).all():
        content = session.scalar(select(Evidence.content).where(Evidence.id == number))
        if len(content or b"") != size or hashlib.sha256(content or b"").hexdigest() != sha256:
            found.append(f"evidence {number} ({name}): its content is not what was put in")
    return found


def unused_evidence(session: Session) -> list[str]:
    """Give a line for each file of evidence that belongs to no tool and no claim."""
    used = exists().where(Proof.evidence_id == Evidence.id)
    rows = select(Evidence.id, Evidence.name).where(~used).order_by(Evidence.id)
    return [
        f"evidence {number} ({name}): belongs to no tool and no claim"
        for number, name in session.execute(rows)
    ]
