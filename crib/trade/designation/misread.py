"""What stops a reading, before it is put into words for people."""

from collections.abc import Iterable


class Misread(Exception):
    """The code stops making sense at one position.

    Attributes:
        kind: "insert", "holder" or "bar": what it looked like; empty when like none.
        system: "metric" or "inch".
        position: 1-based position of the designation system.
        offset: where in the bare code, from 0.
        found: what stands there; empty when the code ends too early.
        expected: what may stand there.
        why: what is wrong, in words.
        tries: bare codes that may have been meant, the likeliest first.
    """

    def __init__(
        self, kind: str, system: str, position: int, offset: int, found: str, expected: Iterable[str],
        why: str, tries: Iterable[str] = (),
    ) -> None:  # fmt: skip
        super().__init__(why)
        self.kind = kind
        self.system = system
        self.position = position
        self.offset = offset
        self.found = found
        self.expected = tuple(expected)
        self.why = why
        self.tries = tuple(tries)


def said(found: str, wanted: str, name: str) -> str:
    """Say that a symbol is not what was wanted, or that it is missing."""
    return f"{found} is not {wanted}" if found else f"{name} is missing"
