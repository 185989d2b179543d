"""Stores for tests: `store_url` gives an empty one at our version, on SQLite and on PostgreSQL in turn."""

import os
import shutil
from collections.abc import Iterator
from itertools import count

import pytest
from hypothesis import settings

from crib.store.upgrade import open_store

_numbers = count(1)

# the gate tries the same examples every time, so that it speaks of the change and not of luck; new examples
# are looked for on developers' machines and by the fuzz command; no example is timed: machines are busy
settings.register_profile("gate", derandomize=True, deadline=None)
settings.register_profile("developer", deadline=None)
settings.load_profile("gate" if os.environ.get("CI") == "true" else "developer")


@pytest.fixture(scope="session")
def postgres_folder() -> Iterator[str]:
    """The socket folder of a private server; skipped where there is none, but not in CI."""
    from pgserver import binaries, private_server

    found = binaries()
    if not found:
        reason = "PostgreSQL's server binaries are not installed (apt-get install postgresql)"
        if os.environ.get("CI") == "true":
            pytest.fail(reason)
        pytest.skip(reason)
    with private_server(found) as folder:
        yield folder


@pytest.fixture(scope="session")
def sqlite_template(tmp_path_factory: pytest.TempPathFactory) -> str:
    path = str(tmp_path_factory.mktemp("template") / "crib.db")
    open_store(path, create=True)
    return path


@pytest.fixture(scope="session")
def postgres_template(postgres_folder: str) -> str:
    _server(postgres_folder, "CREATE DATABASE crib_template")
    open_store(f"postgresql://crib@/crib_template?host={postgres_folder}", create=True)
    return "crib_template"


@pytest.fixture
def sqlite_url(sqlite_template: str, tmp_path) -> Iterator[str]:
    """An empty store in a file."""
    path = str(tmp_path / "crib.db")
    shutil.copy(sqlite_template, path)
    os.chmod(path, 0o600)
    yield path
    _close()


@pytest.fixture
def postgres_url(postgres_folder: str, postgres_template: str) -> Iterator[str]:
    """An empty store on a server."""
    # copying its files is several times quicker than writing them through the log (PostgreSQL 15 on)
    yield from _database(postgres_folder, f"TEMPLATE {postgres_template} STRATEGY FILE_COPY")


@pytest.fixture
def blank_postgres_url(postgres_folder: str) -> Iterator[str]:
    """A database without a store."""
    yield from _database(postgres_folder, "")


@pytest.fixture(params=["sqlite", "postgresql"])
def store_url(request: pytest.FixtureRequest) -> str:
    """An empty store at our version, on each engine."""
    return request.getfixturevalue("sqlite_url" if request.param == "sqlite" else "postgres_url")


@pytest.fixture(params=["sqlite", "postgresql"])
def blank_url(request: pytest.FixtureRequest, tmp_path) -> Iterator[str]:
    """An address where no store is yet, on each engine."""
    if request.param == "sqlite":
        yield str(tmp_path / "new" / "crib.db")
        _close()
    else:
        yield request.getfixturevalue("blank_postgres_url")


@pytest.fixture(scope="session")
def demo_store(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The invented workshop's store, made once: for tests that only read."""
    from crib.desk.keeping.demo import make_demo

    path = str(tmp_path_factory.mktemp("demo") / "demo.db")
    make_demo(path)
    _close()
    return path


@pytest.fixture
def demo_address(demo_store: str, tmp_path) -> Iterator[str]:
    """A private copy of the invented workshop's store, to change as one likes."""
    yield str(shutil.copy(demo_store, tmp_path / "demo.db"))
    _close()


def _database(folder: str, how: str) -> Iterator[str]:
    name = f"crib_{next(_numbers)}"
    _server(folder, f"CREATE DATABASE {name} {how}")
    yield f"postgresql://crib@/{name}?host={folder}"
    _close()
    _server(folder, f"DROP DATABASE {name} WITH (FORCE)")


def _server(folder: str, command: str) -> None:
    import psycopg

    with psycopg.connect(f"postgresql://crib@/postgres?host={folder}", autocommit=True) as connection:
        connection.execute(command)


def _close() -> None:
    from crib.store.engine import close_engines

    close_engines()
