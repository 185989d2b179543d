"""Handing a file to whatever the machine opens such files with."""

import os
import shutil
import subprocess
import sys
import tempfile
import threading

from crib.errors import InputError, NotPossible

_OPENERS = {"darwin": "open"}  # elsewhere what the desktops agreed on


def open_outside(name: str, content: bytes) -> str:
    """Open content in the machine's own viewer, from a private file that is left to the temporary folder.

    Args:
        name: a plain file name of our own making.
        content: what is in it.

    Returns:
        The path of the file.

    Raises:
        NotPossible: nothing here opens files.
    """
    opener = shutil.which(_OPENERS.get(sys.platform, "xdg-open"))
    if opener is None:
        raise NotPossible(
            "this machine has nothing that opens files from a terminal",
            "save it instead, and open it where you can",
        )
    path = os.path.join(tempfile.mkdtemp(prefix="crib-"), name)  # the folder is private
    _write(path, content)
    quiet = subprocess.DEVNULL
    viewer = subprocess.Popen([opener, path], stdin=quiet, stdout=quiet, stderr=quiet, start_new_session=True)
    threading.Thread(target=viewer.wait, daemon=True).start()  # may last as long as its window: not our wait
    return path


def save_new(path: str, content: bytes) -> str:
    """Write a file that is not there yet, readable by its owner only.

    Args:
        path: where to.
        content: what.

    Returns:
        The whole path.

    Raises:
        InputError: it is there already, or can't be written.
    """
    try:
        _write(path, content)
    except FileExistsError as error:
        raise InputError(f"{path} is there already", "give another name; nothing is written over") from error
    except OSError as error:
        raise InputError(f"{path} can't be written: {error.strerror}", "give another place") from error
    return os.path.abspath(path)


def _write(path: str, content: bytes) -> None:
    with open(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as handle:
        handle.write(content)
