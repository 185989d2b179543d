"""What the screens keep on disk, private to the user: the draft of a cut, and reports of faults."""

import json
import os
import platform
import tempfile
import traceback
from collections.abc import Mapping
from datetime import UTC, datetime
from pathlib import Path

from crib import __version__
from crib.desk.keeping.address import data_folder


def folder_of(address: str) -> Path:
    """Give the folder for drafts and reports: beside the store's file, else the user's data folder."""
    return Path(data_folder()) if "://" in address else Path(address).absolute().parent


class Draft:
    """The fields of a cut as last typed.

    Args:
        path: the file; it appears with the first draft.
    """

    def __init__(self, path: Path) -> None:
        self.path = path

    def load(self) -> dict[str, str]:
        """Give the fields; nothing where there is no draft or it can't be read."""
        try:
            kept = json.loads(self.path.read_text(encoding="utf-8"))
        except (OSError, ValueError):
            return {}
        return {str(name): str(value) for name, value in kept.items()} if isinstance(kept, dict) else {}

    def save(self, fields: Mapping[str, str]) -> None:
        """Keep the fields, all or nothing; in a folder that takes no file nothing is kept."""
        try:
            if fields:  # before a store is begun, its folder may not be there
                self.path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            write_private(self.path, json.dumps(dict(fields), ensure_ascii=False, indent=1))
        except OSError:
            return  # a draft is a convenience: never a reason to stop the work


def write_private(path: Path, text: str) -> None:
    """Write a file that only its owner can read; it is there whole or not at all.

    Args:
        path: where; its folder must exist.
        text: what.
    """
    handle, partial = tempfile.mkstemp(dir=path.parent, prefix=path.name, suffix=".part")  # mode 0600
    try:
        with os.fdopen(handle, "w", encoding="utf-8") as file:
            file.write(text)
        os.replace(partial, path)
    except BaseException:
        os.unlink(partial)
        raise


def report_text(error: BaseException, address: str) -> str:
    """Describe a fault for whoever mends crib: versions and the traceback, never a password."""
    told = "".join(traceback.format_exception(error))
    if "://" in address:
        told = told.replace(address, "(the store's address)")
    return f"crib {__version__}, Python {platform.python_version()}, {platform.system()}\n\n{told}"


def save_report(error: BaseException, address: str) -> Path:
    """Write a report of a fault; give the file, in the store's folder or else the temporary one."""
    name = f"crib-report-{datetime.now(UTC):%Y%m%d-%H%M%S}.txt"
    text = report_text(error, address)
    for folder in (folder_of(address), Path(tempfile.gettempdir())):
        try:
            write_private(folder / name, text)
        except OSError:
            continue
        return folder / name
    raise OSError("no folder takes the report")
