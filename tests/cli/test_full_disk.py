"""A disk that fills up while something is written: said in one line, nothing lost, nothing half-written."""

import json
import resource
import subprocess
import sys
from pathlib import Path

from commands import LIMIT_S, Crib, environment

ROOM = 16_384  # bytes that are left


def with_little_room(store: str, *arguments: str) -> tuple[int, dict[str, object]]:
    """Run a command that can make no file larger than the store is, but for a little."""
    limit = Path(store).stat().st_size + ROOM
    done = subprocess.run(
        [sys.executable, "-m", "crib", *arguments, "--db", store, "--json"],
        env=environment(),
        cwd="/",
        capture_output=True,
        text=True,
        timeout=LIMIT_S,
        check=False,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit)),
    )
    assert done.stderr == ""
    return done.returncode, json.loads(done.stdout)


def test_a_list_that_does_not_fit_is_refused_and_nothing_of_it_kept(
    crib: Crib, demo_address: str, tmp_path: Path
) -> None:
    before = crib.json("find", "--db", demo_address)["total"]
    big = tmp_path / "big.csv"
    rows = "".join(f"N{n},other,thing {n} {'x' * 400},Tamsin Arkwell,works\n" for n in range(500))
    big.write_text("tag,kind,label,owner,place\n" + rows)
    status, told = with_little_room(demo_address, "intake", str(big))
    assert status == 3
    assert "disk" in told["error"]["message"]  # type: ignore[index]
    assert told["error"]["hint"]  # type: ignore[index]
    assert crib.json("find", "--db", demo_address)["total"] == before
    assert crib("audit", "--db", demo_address).status == 0
    # with room again, it is taken
    assert crib("intake", str(big), "--db", demo_address).status == 0
    assert crib.json("find", "--db", demo_address)["total"] == before + 500
