"""A private PostgreSQL server for tests: Debian's binaries, unix socket only, gone when the tests end."""

import glob
import os
import pwd
import shutil
import signal
import subprocess
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager

_SAFE_TO_LOSE = ("fsync=off", "synchronous_commit=off", "full_page_writes=off", "jit=off")
_IN_MEMORY = "/dev/shm"  # what a private server keeps is gone when the tests end: no disk need hold it
_DEADLINE_S = 30.0


def binaries() -> str:
    """Give the folder of the newest server on this machine; empty when there is none."""
    found = [os.path.dirname(path) for path in glob.glob("/usr/lib/postgresql/*/bin/initdb")]
    return max(found, key=lambda path: float(path.split("/")[-2]), default="")


@contextmanager
def private_server(bin_folder: str) -> Iterator[str]:
    """Run a server of our own; gives the folder of its socket."""
    folder = tempfile.mkdtemp(prefix="crib-pg-", dir=_IN_MEMORY if os.access(_IN_MEMORY, os.W_OK) else None)
    try:
        user = _give_away(folder)
        _initdb(bin_folder, folder, user)
        server = _start(bin_folder, folder, user)
        try:
            _wait(bin_folder, folder, server)
            yield folder
        finally:
            server.send_signal(signal.SIGINT)  # fast shutdown
            try:
                server.wait(10)
            except subprocess.TimeoutExpired:
                server.kill()
                server.wait()
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _give_away(folder: str) -> str | None:
    """As root the server has to run as somebody else."""
    if os.geteuid() != 0:
        return None
    nobody = pwd.getpwnam("nobody")
    os.chown(folder, nobody.pw_uid, nobody.pw_gid)
    return "nobody"


def _initdb(bin_folder: str, folder: str, user: str | None) -> None:
    # an English collation as the default, so that a text column without its own shows up in the tests
    command = [f"{bin_folder}/initdb", "-D", f"{folder}/data", "-U", "crib", "-A", "trust", "--no-sync"]
    command += ["-E", "UTF8", "--locale=C.UTF-8", "--locale-provider=icu", "--icu-locale=en"]
    subprocess.run(command, check=True, capture_output=True, cwd="/", user=user)


def _start(bin_folder: str, folder: str, user: str | None) -> "subprocess.Popen[bytes]":
    command = [f"{bin_folder}/postgres", "-D", f"{folder}/data", "-k", folder, "-c", "listen_addresses="]
    for setting in _SAFE_TO_LOSE:
        command += ["-c", setting]
    setpriv = shutil.which("setpriv")
    if setpriv and user:
        # the server stops even when the tests are killed
        command = [
            setpriv,
            f"--reuid={user}",
            "--regid=nogroup",
            "--clear-groups",
            "--pdeathsig",
            "INT",
            *command,
        ]
        user = None
    elif setpriv:
        command = [setpriv, "--pdeathsig", "INT", *command]
    with open(os.path.join(folder, "log"), "wb") as log:
        return subprocess.Popen(command, stdout=log, stderr=log, cwd="/", user=user)


def _wait(bin_folder: str, folder: str, server: "subprocess.Popen[bytes]") -> None:
    deadline = time.monotonic() + _DEADLINE_S
    while subprocess.run([f"{bin_folder}/pg_isready", "-q", "-h", folder], check=False).returncode != 0:
        if server.poll() is not None or time.monotonic() > deadline:
            with open(os.path.join(folder, "log"), encoding="utf-8") as log:
                raise RuntimeError(f"PostgreSQL did not start:\n{log.read()}")
        time.sleep(0.02)
