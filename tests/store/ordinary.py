"""Running a piece of a test without root's powers: root may write whatever is read-only."""

import os
import pwd
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def read_only_folder(store: str, file_mode: int = 0o400) -> Iterator[str]:
    """Give the path of a copy of a store in a folder that can't be written, as a user who is not root."""
    folder = tempfile.mkdtemp(prefix="crib-test-")
    path = os.path.join(folder, "crib.db")
    shutil.copyfile(store, path)
    os.chmod(path, file_mode)
    was_root = os.geteuid() == 0
    if was_root:
        os.chown(path, pwd.getpwnam("nobody").pw_uid, -1)
        os.chown(folder, pwd.getpwnam("nobody").pw_uid, -1)
    os.chmod(folder, 0o500)
    try:
        if was_root:
            os.seteuid(pwd.getpwnam("nobody").pw_uid)
        yield path
    finally:
        if was_root:
            os.seteuid(0)
        os.chmod(folder, 0o700)
        shutil.rmtree(folder)
