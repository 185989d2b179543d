"""Reading designations against matching one pattern of the same length."""

import re
import time
from collections.abc import Iterator
from random import Random

from crib.desk.asking.codes import decode, designations
from crib.errors import BadDesignation
from crib.trade.designation import read
from tests.benchmarks.big_store import bar_codes, holder_codes, insert_codes
from tests.benchmarks.measure import Plan, Result, interleaved

CODES = 1000


def designation(plan: Plan) -> Iterator[Result]:
    """Give the time for many codes, each once: nothing remembered from one to the next counts."""
    texts = readable()
    letters = designations()
    patterns = [pattern_of(text) for text in texts]

    def floor() -> None:
        for pattern, text in zip(patterns, texts, strict=True):
            re.fullmatch(pattern, text)

    def ours() -> None:
        for text in texts:
            read(text, letters)

    assert all(re.fullmatch(pattern, text) for pattern, text in zip(patterns, texts, strict=True))
    took = interleaved({"floor": floor, "ours": ours}, 3 if plan.quick else 15, time.process_time)
    yield Result(
        what=f"reading {len(texts):,} designations, one core",
        floor="`re.fullmatch` of one pattern of that length",
        floor_ms=took["floor"],
        ours_ms=took["ours"],
        budget=20.0,
    )


def pattern_of(text: str) -> str:
    """Give a pattern with a class for each sign of the code: letter, digit or joint."""
    return "".join("[A-Z]" if sign.isalpha() else "[0-9]" if sign.isdigit() else "[-/. ]" for sign in text)


def readable() -> list[str]:
    """Give inserts, holders and bars in equal parts."""
    chance = Random(1866)
    found: list[str] = []
    for all_of_a_kind in (list(insert_codes()), list(holder_codes()), list(bar_codes())):
        chance.shuffle(all_of_a_kind)
        kept = []
        for text in all_of_a_kind:
            try:
                decode(text)
            except BadDesignation:
                continue
            kept.append(text)
            if len(kept) == CODES // 3:
                break
        found += kept
    return found
