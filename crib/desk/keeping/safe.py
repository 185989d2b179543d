"""Is it safe? Backups that are checked, putting one back, everything in open files and back again."""

import os
import shutil
import tempfile
from dataclasses import dataclass
from datetime import UTC, datetime

from crib.errors import BadExport, NotPossible, StoreMissing
from crib.store import backup as copies
from crib.store.address import parse
from crib.store.engine import close_engines
from crib.store.exchange import MANIFEST, Exchanged, checked_manifest, read_in, writable, write_out
from crib.store.faults import translated
from crib.store.upgrade import open_store

__all__ = ["Backup", "Exchanged", "Restored", "backup", "export", "import_", "restore"]


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
        size = sum(os.path.getsize(os.path.join(at, name)) for at, _, names in os.walk(to) for name in names)
        return Backup(path=to, items=done.rows["item"], size=size)
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
    if not os.path.exists(source):
        raise BadExport(f"there is no backup at {source}", "name the file, or the folder")
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
