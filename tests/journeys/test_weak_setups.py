"""docs/weak-setups.md: each question is asked of the demo, and every line printed there must come."""

import re
import shlex
from pathlib import Path

import pytest
from commands import Crib

PAGE = (Path(__file__).parents[2] / "docs" / "weak-setups.md").read_text(encoding="utf-8")
JOBS = re.findall(r"```sh\ncrib (.*?)\n```\n\n```text\n(.*?)```", PAGE, re.DOTALL)


def pattern(line: str) -> re.Pattern[str]:
    """A line of the page, where … stands for what was cut out."""
    return re.compile(".*".join(re.escape(part.strip()) for part in line.split("…")))


@pytest.mark.parametrize(("question", "printed"), JOBS, ids=["liner", "bracket", "journal"])
def test_the_page_shows_what_crib_prints(
    question: str,
    printed: str,
    capsys: pytest.CaptureFixture[str],
    demo_address: str,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("CRIB_DB", demo_address)
    ran = Crib(capsys)(*shlex.split(question))
    assert ran.status == 0
    left = iter(ran.lines)
    for line in printed.splitlines():
        assert any(pattern(line).match(said.strip()) for said in left), (
            f"not printed, or not in that order: {line}"
        )


def test_the_page_has_the_three_jobs_and_no_bare_block() -> None:
    assert len(JOBS) == 3
    assert PAGE.count("```") == 4 * len(JOBS)
