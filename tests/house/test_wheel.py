"""What users install: one wheel that holds everything, in an environment that knows no checkout."""

import site
import subprocess
import sys
import sysconfig
import zipfile
from pathlib import Path

import pytest
from commands import LIMIT_S, ROOT

# what is read at run time and is no Python
DATA = ("*.ttf", "*.csv", "*.toml", "*.txt", "*.tcss", "*.mako")


def run(*arguments: str | Path, cwd: Path, **env: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [str(argument) for argument in arguments],
        cwd=cwd,
        env={"PATH": "/usr/bin:/bin", "LANG": "C.UTF-8", **env},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=LIMIT_S,
        check=False,
    )


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built from this checkout with the build tools that are here."""
    folder = tmp_path_factory.mktemp("wheel")
    done = run(
        sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", folder, ROOT, cwd=folder
    )
    assert done.returncode == 0, done.stdout + done.stderr
    (built,) = folder.glob("*.whl")
    return built


@pytest.fixture(scope="module")
def inside(wheel: Path) -> set[str]:
    with zipfile.ZipFile(wheel) as archive:
        return set(archive.namelist())


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A new environment with crib from the wheel; only what crib depends on is lent to it from here."""
    folder = tmp_path_factory.mktemp("clean") / "env"
    made = run(sys.executable, "-m", "venv", "--without-pip", folder, cwd=folder.parent)
    assert made.returncode == 0, made.stderr
    python = folder / "bin" / "python"
    pip = (sys.executable, "-m", "pip", "--python", python, "install", "--no-deps", "--no-index", "--quiet")
    done = run(*pip, "--no-compile", wheel, cwd=folder.parent, HOME=str(folder.parent))
    assert done.returncode == 0, done.stdout + done.stderr
    # a line of a .pth adds a folder, and runs none of its own .pth files: an editable crib stays out
    (own,) = folder.glob("lib/python*/site-packages")
    lent = {sysconfig.get_path("purelib"), sysconfig.get_path("platlib"), *site.getsitepackages()}
    (own / "lent.pth").write_text("\n".join(sorted(lent)) + "\n")
    return folder


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The user's folder, in which the demo is made once."""
    return tmp_path_factory.mktemp("home")


def test_tables_migrations_and_the_workshop_are_inside(inside: set[str]) -> None:
    package = {str(path.relative_to(ROOT)) for kind in DATA for path in (ROOT / "crib").rglob(kind)}
    migrations = {
        f"crib/_migrations/{path.relative_to(ROOT / 'migrations')}"
        for path in (ROOT / "migrations").rglob("*")
        if path.suffix in (".py", ".mako")
    }
    workshop = {f"crib/_demo_data/{path.name}" for path in (ROOT / "demo_data").iterdir()}
    assert len(package) > 30
    assert "crib/_migrations/versions/" in " ".join(migrations)
    assert len(workshop) == 28
    assert package | migrations | workshop <= inside


def test_every_module_is_inside_and_nothing_else(inside: set[str]) -> None:
    modules = {str(path.relative_to(ROOT)) for path in (ROOT / "crib").rglob("*.py")}
    assert modules <= inside
    assert {name.split("/")[0] for name in inside if ".dist-info" not in name} == {"crib"}
    assert not [name for name in inside if name.endswith((".db", ".pyc")) or "/tests/" in name]


def test_the_demo_runs_from_the_wheel_alone(installed: Path, home: Path) -> None:
    where = run(installed / "bin" / "python", "-c", "import crib; print(crib.__file__)", cwd=home)
    assert Path(where.stdout.strip()).is_relative_to(installed), "this must not test the checkout"

    done = run(installed / "bin" / "crib", "demo", cwd=home, HOME=str(home))
    assert (done.returncode, done.stderr) == (0, "")
    assert "boring 415.925 mm (16 3/8 in) to 419.1 mm (16 1/2 in) in A36" in done.stdout
    assert "rev/min" in done.stdout.splitlines()[0]
    assert done.stdout.splitlines()[-1].startswith("Starting points only.")


def test_the_demo_store_is_made_in_the_user_s_folder(installed: Path, home: Path) -> None:
    path = run(installed / "bin" / "crib", "demo", "--path", cwd=home, HOME=str(home)).stdout.strip()
    assert Path(path).is_relative_to(home)
    found = run(
        *(installed / "bin" / "crib", "find", "left hand holder for a WNMG 080408 here"),
        cwd=home,
        HOME=str(home),
        CRIB_DB=path,
    )
    assert (found.returncode, found.stderr) == (0, "")
    assert found.stdout.startswith("Yes, 2 left-hand holders")


SCREEN = """
import asyncio, sys
from crib.tui.app import CribApp

async def main():
    async with CribApp(sys.argv[1]).run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        print(pilot.app.screen.size)

asyncio.run(main())
"""


def test_a_screen_opens_with_its_style(installed: Path, demo_address: str, tmp_path: Path) -> None:
    python = installed / "bin" / "python"
    done = run(python, "-c", SCREEN, demo_address, cwd=tmp_path, HOME=str(tmp_path), TERM="xterm")
    assert (done.returncode, done.stdout) == (0, "Size(width=80, height=24)\n"), done.stderr
