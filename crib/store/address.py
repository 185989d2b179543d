"""Where a store is: a file, or a PostgreSQL database. Cheap to import."""

import os
from typing import NamedTuple

from crib.errors import StoreError

_POSTGRES = ("postgresql://", "postgres://", "postgresql+psycopg://")


class Address(NamedTuple):
    """The address of one store.

    Attributes:
        path: absolute path of the file; empty for a server.
        dsn: libpq address; empty for a file.
    """

    path: str = ""
    dsn: str = ""

    @property
    def is_file(self) -> bool:
        """Say whether the store is one SQLite file."""
        return not self.dsn

    @property
    def shown(self) -> str:
        """Give the address as it may stand in a message: never with a password."""
        if self.is_file:
            return self.path
        from urllib.parse import urlsplit, urlunsplit  # 2 ms, and only for a server

        parts = urlsplit(self.dsn)
        user, at, host = parts.netloc.rpartition("@")
        return urlunsplit((parts.scheme, user.partition(":")[0] + at + host, parts.path, "", ""))

    def uri(self, mode: str) -> str:
        """Give the SQLite URI of the file; odd signs in the path (%, ?, #) are quoted.

        Args:
            mode: "ro", "rw" or "rwc".
        """
        quoted = self.path.replace("%", "%25").replace("?", "%3f").replace("#", "%23")
        return f"file:{quoted}?mode={mode}"


def parse(text: str) -> Address:
    """Read a path or a postgresql:// address.

    Raises:
        StoreError: the address is of a kind that crib does not keep stores in.
    """
    if text.startswith(_POSTGRES):
        return Address(dsn="postgresql://" + text.partition("://")[2])
    scheme, colon, rest = text.partition("://")
    if scheme == "sqlite" and colon:
        text = rest.removeprefix("/")
    elif colon:
        raise StoreError(
            f"a store can't be kept at a {scheme}:// address",
            "give the path of a file, or a postgresql:// address",
        )
    if not text:
        raise StoreError(
            "the address of the store is empty", "give the path of a file, or a postgresql:// address"
        )
    return Address(path=os.path.abspath(os.path.expanduser(text)))
