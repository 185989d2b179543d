"""The whole store as open files, and back: a CSV file for each table, the evidence as files, a manifest.

Every row and number is kept as it is: a store written out, read into a blank one (of either engine) and
written out again gives the same files. An empty cell is "nothing", a single apostrophe an empty text; text
that a spreadsheet could take for a formula has an apostrophe before it.
"""

import csv
import hashlib
import json
import os
import shutil
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any

from sqlalchemy import (
    Boolean,
    Column,
    Connection,
    Date,
    Double,
    Integer,
    LargeBinary,
    Table,
    func,
    insert,
    select,
    text,
)
from sqlalchemy.orm import Session

from crib import __version__
from crib.errors import BadExport, NotPossible, StoreError, StoreNewer, StoreReadOnly
from crib.store import ledger
from crib.store.address import parse
from crib.store.cells import guarded, unguarded
from crib.store.models import Base, Evidence
from crib.store.models.base import Money, Utc
from crib.store.soundness import damaged_evidence
from crib.store.upgrade import HEAD, open_store
from crib.store.writing import writing

FORMAT = 1
MANIFEST = "manifest.json"
EVIDENCE = "evidence"  # the folder of the files; each is called by its hash
_CHUNK = 500


@dataclass(frozen=True, slots=True, kw_only=True)
class Exchanged:
    """What was written out or read in: rows of each table, and files of evidence."""

    folder: str
    rows: Mapping[str, int]
    evidence: int


def tables() -> list[Table]:
    """Give all tables, those that others refer to first."""
    return list(Base.metadata.sorted_tables)


def write_out(url: str, folder: str) -> Exchanged:
    """Write a whole store into a new folder; it appears only when it is complete.

    Args:
        url: the store.
        folder: where nothing is yet.

    Raises:
        NotPossible: something is there already.
        StoreError: the store can't be used, or the folder can't be written.
    """
    folder = os.path.abspath(folder)
    if os.path.lexists(folder):
        raise NotPossible(f"{folder} is there already", "name a folder that is not: nothing was written")
    with writable(folder), writing(url) as session:
        hold_still(session)
        partial = folder + ".partial"
        shutil.rmtree(partial, ignore_errors=True)
        os.makedirs(os.path.join(partial, EVIDENCE), mode=0o700)
        try:
            done = _write_all(session, partial)
            _settle(partial)
            os.rename(partial, folder)
        except BaseException:
            shutil.rmtree(partial, ignore_errors=True)
            raise
        session.rollback()  # it was opened for writing so that nobody else wrote meanwhile
    return Exchanged(folder=folder, rows=done, evidence=done[Evidence.__tablename__])


def read_in(folder: str, url: str) -> Exchanged:
    """Read a folder that was written out into a blank store, which is made if it is not there.

    Args:
        folder: as `write_out` left it.
        url: a store without a single row, or none yet.

    Raises:
        BadExport: the folder is incomplete, was changed, or its rows don't hold together; nothing was kept.
        StoreNewer: a newer crib wrote it.
        NotPossible: the store is not blank.
        StoreError: the store can't be used.
    """
    manifest = checked_manifest(folder)
    address = parse(url)
    is_new = address.is_file and not os.path.exists(address.path)
    open_store(url, create=True)
    try:
        with writing(url) as session:
            done = _read_all(session, folder, manifest)
    except BaseException:
        if is_new:
            os.unlink(address.path)
        raise
    return Exchanged(folder=os.path.abspath(folder), rows=done, evidence=done[Evidence.__tablename__])


def checked_manifest(folder: str) -> Mapping[str, Any]:
    """Read the manifest of a folder and compare every file with it.

    Raises:
        BadExport: a file is missing, or is not as it was written.
        StoreNewer: a newer crib wrote it.
    """
    try:
        with open(os.path.join(folder, MANIFEST), encoding="utf-8") as handle:
            manifest: dict[str, Any] = json.load(handle)
        version, files = str(manifest["store_version"]), dict(manifest["files"])
        of_tables = {
            name: (str(told["file"]), int(told["rows"])) for name, told in manifest["tables"].items()
        }
    except (OSError, ValueError, KeyError, TypeError, AttributeError) as error:
        raise BadExport(
            f"{folder} is no folder that crib has written out", "name the folder that holds " + MANIFEST
        ) from error
    if version > HEAD or manifest.get("format") != FORMAT:
        raise StoreNewer(
            f"{folder} was written by a newer crib (version {version}; this one knows {HEAD})",
            "upgrade crib on this computer",
        )
    known = {table.name for table in tables()}
    if (
        version != HEAD
        or set(of_tables) != known
        or not {name for name, _ in of_tables.values()} <= set(files)
    ):
        raise BadExport(
            f"{folder} holds other tables than this crib (its version {version}, ours {HEAD})",
            "read it in with the crib that wrote it, upgrade that store, and write it out again",
        )
    for name, digest in files.items():
        _compare(folder, str(name), str(digest))
    return manifest


def _compare(folder: str, name: str, digest: str) -> None:
    parts = name.split("/")
    if len(parts) > 2 or any(part in ("", ".", "..") or "\\" in part for part in parts):
        raise BadExport(f"the manifest of {folder} names a file outside of it: {name!r}", "nothing was read")
    try:
        with open(os.path.join(folder, *parts), "rb") as handle:
            found = hashlib.file_digest(handle, "sha256").hexdigest()
    except OSError as error:
        raise BadExport(f"{name} can't be read: {error.strerror}", "nothing was read in") from error
    if found != digest:
        raise BadExport(f"{name} is not as it was written out", "take the folder from another backup")


@contextmanager
def writable(path: str) -> Iterator[None]:
    """Turn what the disk says while we write at a path into one of our errors."""
    try:
        yield
    except OSError as error:
        kind = StoreReadOnly if isinstance(error, PermissionError) else StoreError
        raise kind(
            f"{path} can't be written: {error.strerror or error}",
            "nothing of it was kept; the store is as it was",
        ) from error


def hold_still(session: Session) -> None:
    """Keep writers out until the transaction ends: of a file they are already, a server holds its tables."""
    if session.connection().dialect.name == "postgresql":
        names = ", ".join(f'"{table.name}"' for table in tables())
        session.connection().exec_driver_sql(f"LOCK TABLE {names} IN SHARE MODE")


# -- out --------------------------------------------------------------------------------------------------


def _write_all(session: Session, folder: str) -> dict[str, int]:
    rows: dict[str, int] = {}
    for table in tables():
        with _new_file(os.path.join(folder, f"{table.name}.csv")) as handle:
            rows[table.name] = _write_table(session.connection(), table, handle)
    for sha256 in session.scalars(select(Evidence.sha256).order_by(Evidence.id)).all():
        content = session.scalar(select(Evidence.content).where(Evidence.sha256 == sha256))
        with _new_file(os.path.join(folder, EVIDENCE, sha256), binary=True) as handle:
            handle.write(content)
    names = [f"{table.name}.csv" for table in tables()]
    names += [f"{EVIDENCE}/{name}" for name in sorted(os.listdir(os.path.join(folder, EVIDENCE)))]
    digests = {}
    for name in names:
        with open(os.path.join(folder, name), "rb") as written:
            digests[name] = hashlib.file_digest(written, "sha256").hexdigest()
    manifest = {
        "what": "a crib store, written out",
        "format": FORMAT,
        "store_version": HEAD,
        "crib": __version__,
        "written_at": datetime.now(UTC).isoformat(timespec="seconds"),
        "tables": {name: {"file": f"{name}.csv", "rows": count} for name, count in rows.items()},
        "files": digests,
    }
    with _new_file(os.path.join(folder, MANIFEST)) as handle:
        json.dump(manifest, handle, indent=2)
    return rows


def _new_file(path: str, *, binary: bool = False) -> Any:
    number = os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600)
    return os.fdopen(number, "wb") if binary else os.fdopen(number, "w", encoding="utf-8", newline="")


def _write_table(connection: Connection, table: Table, handle: Any) -> int:
    columns = _columns(table)
    writer = csv.writer(handle)
    writer.writerow([column.name for column in columns])
    count = 0
    for row in connection.execute(select(*columns).order_by(*table.primary_key.columns)):
        writer.writerow([_cell(value) for value in row])
        count += 1
    return count


def _columns(table: Table) -> list[Column[Any]]:
    return [column for column in table.columns if not isinstance(column.type, LargeBinary)]


def _cell(value: object) -> str:
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case str():
            return guarded(value) or "'"
        case datetime():
            return value.isoformat()
        case float():
            return repr(value)
        case Decimal():
            return format(value, "f")
    return str(value)


def _settle(folder: str) -> None:
    """Make sure that everything written is on the disk."""
    for where, _, names in os.walk(folder):
        for path in (*(os.path.join(where, name) for name in names), where):
            number = os.open(path, os.O_RDONLY)
            try:
                os.fsync(number)
            finally:
                os.close(number)


# -- in ---------------------------------------------------------------------------------------------------


def _read_all(session: Session, folder: str, manifest: Mapping[str, Any]) -> dict[str, int]:
    connection = session.connection()
    for table in tables():
        if connection.scalar(select(func.count()).select_from(table)):
            raise NotPossible(
                f"the store is not blank: it holds rows of {table.name}", "read into a new one: --db OTHER"
            )
    rows = {}
    for table in tables():
        found = _in_order(table, _read_table(table, folder))
        for start in range(0, len(found), _CHUNK):
            connection.execute(insert(table), found[start : start + _CHUNK])
        rows[table.name] = len(found)
        if len(found) != manifest["tables"][table.name]["rows"]:
            raise BadExport(f"{table.name}.csv does not hold the rows that it should", "nothing was kept")
        _go_on_counting(connection, table)
    session.expire_all()
    troubles = [f"item {one.item_id}: {one.field}" for one in ledger.differences(session)]
    troubles += damaged_evidence(session)
    if troubles:
        raise BadExport(
            f"what {folder} holds does not agree with its ledger: {troubles[0]}", "nothing was kept"
        )
    return rows


def _read_table(table: Table, folder: str) -> list[dict[str, Any]]:
    columns = {column.name: _from_cell(column) for column in _columns(table)}
    own = csv.field_size_limit(2**31 - 1)  # one limit for the whole process: lists of users keep theirs
    with open(os.path.join(folder, f"{table.name}.csv"), encoding="utf-8", newline="") as handle:
        lines = csv.reader(handle, strict=True)
        try:
            if next(lines, None) != list(columns):
                raise ValueError("its columns are not those of the table")
            found = [
                {name: read(cell) for (name, read), cell in zip(columns.items(), row, strict=True)}
                for row in lines
            ]
        except (ValueError, ArithmeticError, csv.Error) as error:
            raise BadExport(
                f"{table.name}.csv, line {lines.line_num}: {error}", "nothing was kept"
            ) from error
        finally:
            csv.field_size_limit(own)
    if table.name == Evidence.__tablename__:
        for row in found:
            row["content"] = _content(folder, row["sha256"])
    return found


def _content(folder: str, sha256: str) -> bytes:
    try:
        with open(os.path.join(folder, EVIDENCE, os.path.basename(sha256)), "rb") as handle:
            return handle.read()
    except OSError as error:
        raise BadExport(
            f"the evidence {sha256} can't be read: {error.strerror}", "nothing was kept"
        ) from error


def _from_cell(column: Column[Any]) -> Callable[[str], Any]:
    kinds: tuple[tuple[type, Callable[[str], Any]], ...] = (
        (Utc, datetime.fromisoformat),
        (Money, Decimal),
        (Date, date.fromisoformat),
        (Boolean, lambda cell: {"yes": True, "no": False}[cell]),
        (Double, float),
        (Integer, int),
    )
    read = next((read for kind, read in kinds if isinstance(column.type, kind)), _text)
    return lambda cell: None if cell == "" else read(cell)


def _text(cell: str) -> str:
    return "" if cell == "'" else unguarded(cell)


def _in_order(table: Table, rows: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Give rows so that each stands behind those of its own table that it refers to."""
    own = [key.parent.name for key in table.foreign_keys if key.column.table is table]
    if not own:
        return rows
    ordered: list[dict[str, Any]] = []
    waiting, known = rows, set[Any]()
    while waiting:
        later = []
        for row in waiting:
            if all(row[name] in known or row[name] in (None, row["id"]) for name in own):
                ordered.append(row)
                known.add(row["id"])
            else:
                later.append(row)
        if len(later) == len(waiting):
            raise BadExport(f"{table.name}.csv holds rows that refer to none", "nothing was kept")
        waiting = later
    return ordered


def _go_on_counting(connection: Connection, table: Table) -> None:
    """Let a server number new rows behind those that were read in; SQLite does so by itself."""
    if connection.dialect.name != "postgresql" or "id" not in table.columns:
        return
    where = f"pg_get_serial_sequence('{table.name}', 'id')"
    most = f"(SELECT max(id) FROM {table.name})"
    connection.execute(text(f"SELECT setval({where}, coalesce({most}, 1), {most} IS NOT NULL)"))
