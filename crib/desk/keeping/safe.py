"""Is it safe? Backups that are checked, putting one back, everything in open files and back again."""

import os
import shutil
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from crib.errors import BadExport, NotPossible, StoreMissing
from crib.store import backup as copies
from crib.store.address import parse
from crib.store.engine import close_engines
from crib.store.exchange import MANIFEST, Exchanged, checked_manifest, read_in, writable, write_out
from crib.store.faults import translated
from crib.store.upgrade import APPLICATION_ID, open_store
from crib.units.counts import many

# where SQLite's file format keeps the number of the program: https://www.sqlite.org/fileformat2.html, 1.3
HEADER, APPLICATION_AT = 100, slice(68, 72)
__all__ = [
    "Backup",
    "Exchanged",
    "Kept",
    "Restored",
    "backup",
    "backups",
    "counted",
    "export",
    "import_",
    "look_through",
    "restore",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Backup:
    """A backup that was made and checked.

    Attributes:
        path: the file; of a store on a server, the folder.
        items: how many items it holds.
        size: bytes.
    """

    path: str
    items: int
    size: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Restored:
    """What a restore did.

    Attributes:
        store: the store that is now as the backup was.
        items: how many items it holds.
        kept: where the store that was there before is now; empty where none was.
    """

    store: str
    items: int
    kept: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """A copy of a store that lies in a folder; nobody has looked into it yet.

    Attributes:
        path: of the file or folder.
        what: "file" or "folder".
        made: day and time of this place.
        size: bytes.
    """

    path: str
    what: str
    made: str
    size: int


def backups(address: str, folders: Sequence[str]) -> tuple[Kept, ...]:
    """Give the copies of stores that lie in folders, the latest first; the store itself is none of them.

    Args:
        address: the store.
        folders: looked into, not deeper; those that are empty or not there are passed over.
    """
    where = parse(address)
    found: dict[str, tuple[float, Kept]] = {}
    for folder in folders:
        for path in sorted(os.path.join(folder, name) for name in _names(folder)):
            real = os.path.realpath(path)
            if where.is_file and real == os.path.realpath(where.path):
                continue
            if (size := _size_of_copy(path)) is not None:
                at = os.stat(path).st_mtime
                made = datetime.fromtimestamp(at, UTC).astimezone().strftime("%Y-%m-%d %H:%M")
                what = "folder" if os.path.isdir(path) else "file"
                found[real] = (at, Kept(path=path, what=what, made=made, size=size))
    return tuple(one for _, one in sorted(found.values(), key=lambda pair: -pair[0]))


def look_through(source: str) -> Backup:
    """Look through a backup as a restore does; neither it nor the store is touched.

    Raises:
        StoreDamaged, BadExport: it is not sound.
        StoreError: it can't be read.
    """
    _refuse_if_not_there(source)
    with tempfile.TemporaryDirectory(prefix="crib-look-") as folder:
        made = os.path.join(folder, "store.db")
        try:
            _make_file(source, made)
            items = copies.refuse_if_damaged(made, source)
        finally:
            close_engines()  # none may hold a file that is thrown away
    return Backup(path=source, items=items, size=_size_of_copy(source) or 0)


def backup(address: str, to: str) -> Backup:
    """Copy the store while it is in use, then look through the copy.

    Args:
        address: the store.
        to: where nothing is yet; in a folder that is there the file gets a name of its own.

    Raises:
        NotPossible: something is there already.
        StoreError: the store can't be used, the copy can't be written, or it is not sound.
    """
    where = parse(address)
    now = datetime.now(UTC)
    if os.path.isdir(to):
        to = os.path.join(to, f"crib-{now:%Y%m%d-%H%M%S}" + (".db" if where.is_file else ""))
    to = os.path.abspath(to)
    if not where.is_file:
        done = export(address, to)
        checked_manifest(to)
        return Backup(path=to, items=done.rows["item"], size=_size_of(to))
    if os.path.lexists(to):
        raise NotPossible(f"{to} is there already", "choose another name: nothing was written")
    open_store(address)
    with writable(to), translated(where):
        copies.copy_file(where, to)
    return Backup(path=to, items=copies.refuse_if_damaged(to), size=os.path.getsize(to))


def restore(source: str, address: str, *, over: bool = False) -> Restored:
    """Make the store as a backup is; what was there is kept beside it.

    Args:
        source: a backup: a store file, or a folder that was written out.
        address: the store.
        over: replace the store that is there.

    Raises:
        NotPossible: a store is there, and `over` was not said.
        StoreDamaged: the backup is not sound; nothing was touched.
        BadExport: there is no such backup, or the folder is not as it was written out; nothing was touched.
        StoreError: the store can't be written.
    """
    where = parse(address)
    _refuse_if_not_there(source)
    if not where.is_file:
        return _restore_to_server(source, address)
    if os.path.exists(where.path) and os.path.samefile(source, where.path):
        raise NotPossible("the backup is the store itself", "name another file")
    if os.path.exists(where.path) and not over:
        raise NotPossible(
            f"there is a store at {where.path}", "--over replaces it, and keeps it beside the new one"
        )
    with writable(where.path):
        os.makedirs(os.path.dirname(where.path), mode=0o700, exist_ok=True)
        folder = tempfile.mkdtemp(prefix=".crib-restore-", dir=os.path.dirname(where.path))
        try:
            made = os.path.join(folder, "store.db")
            _make_file(source, made)
            close_engines()  # none may hold a file that is about to move
            items = copies.refuse_if_damaged(made, source)
            kept = copies.put_in_place(made, where, datetime.now(UTC))
        finally:
            shutil.rmtree(folder, ignore_errors=True)
    return Restored(store=where.shown, items=items, kept=kept)


def export(address: str, folder: str) -> Exchanged:
    """Write everything in the store into a new folder of open files.

    Raises:
        NotPossible: the folder is there already.
        StoreError: the store can't be used, or the folder can't be written.
    """
    return write_out(address, folder)


def import_(folder: str, address: str) -> Exchanged:
    """Read a folder that was written out into a blank store; all of it or nothing.

    Raises:
        BadExport: the folder is not as it was written out.
        NotPossible: the store is not blank.
        StoreError: the store can't be used.
    """
    return read_in(folder, address)


def counted(done: Exchanged) -> str:
    """Say how much went over."""
    rows = sum(done.rows.values())
    return (
        f"{many(done.rows['item'], 'item')}, {many(done.rows['ledger'], 'line')} of the ledger, "
        f"{many(done.evidence, 'file')} of evidence, {many(rows, 'row')} in all"
    )


def _names(folder: str) -> list[str]:
    try:
        return os.listdir(folder) if folder else []
    except OSError:
        return []


def _size_of_copy(path: str) -> int | None:
    """Give the size of a copy of a store; None where it is none, or the demo's."""
    try:
        if os.path.isdir(path):
            return _size_of(path) if os.path.exists(os.path.join(path, MANIFEST)) else None
        if not path.endswith(".db") or os.path.basename(path).startswith("demo-"):
            return None
        with open(path, "rb") as handle:
            header = handle.read(HEADER)
        mine = int.from_bytes(header[APPLICATION_AT], "big") == APPLICATION_ID
        return os.path.getsize(path) if mine else None
    except OSError:
        return None


def _size_of(folder: str) -> int:
    return sum(os.path.getsize(os.path.join(at, name)) for at, _, names in os.walk(folder) for name in names)


def _refuse_if_not_there(source: str) -> None:
    if not os.path.exists(source):
        raise BadExport(f"there is no backup at {source}", "name the file, or the folder")


def _make_file(source: str, made: str) -> None:
    """Make a store file of our version from a backup of either sort, beside the place where it is to go."""
    if os.path.isdir(source):
        if not os.path.exists(os.path.join(source, MANIFEST)):
            raise BadExport(f"{source} is no folder that crib has written out", f"it holds no {MANIFEST}")
        read_in(source, made)
        return
    given = parse(source)
    with translated(given):
        copies.copy_file(given, made)
    try:
        open_store(made)  # an older one is upgraded: the copy, not the backup
    except StoreMissing:
        raise BadExport(f"there is no store in {source}", "name a file of crib backup") from None


def _restore_to_server(source: str, address: str) -> Restored:
    if os.path.isdir(source):
        done = read_in(source, address)
    else:
        with tempfile.TemporaryDirectory(prefix="crib-restore-") as folder:
            copies.refuse_if_damaged(source)
            write_out(source, os.path.join(folder, "all"))
            done = read_in(os.path.join(folder, "all"), address)
    return Restored(store=parse(address).shown, items=done.rows["item"], kept="")
