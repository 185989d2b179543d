"""crib fit: does this insert go in that holder?"""

from collections.abc import Iterable

import click

from crib.cli.find import item_lines
from crib.cli.output import Output, with_output, with_store
from crib.desk.asking.fitting import WORDS, FitAnswer, fitting

STATUS_NO = 1


@click.command()
@click.argument("codes", nargs=-1, required=True)
@with_store
@with_output
def command(codes: tuple[str, ...], out: Output, db: str) -> int:
    """Does this insert go in that holder or bar, field by field? With one code: what on hand goes with it."""
    answer = fitting(db, codes)
    out.give(answer, lambda: lines(answer))
    return 0 if answer.ok else STATUS_NO


def lines(answer: FitAnswer) -> Iterable[str]:
    """Put an answer into lines: whether it fits, what codes can't tell, each field, what else there is."""
    yield answer.verdict
    yield answer.detail
    yield ""
    for check in answer.checks:
        mark = "fits" if check.ok else "FAILS"
        yield f"  {mark:5} {WORDS[check.field]:18} wants {check.wanted}; is {check.found}"
    if len(answer.bores) > 1:
        for bore in answer.bores:
            known = "not recorded" if bore.dmin_mm is None else f"{bore.dmin_mm:g} mm"
            yield f"  {bore.tag:6} smallest bore {known}; {bore.place}"
    if answer.partners is not None and answer.partners.total:
        if answer.checks:
            yield f"On record for {answer.tool}:"
        for item in answer.partners.items:
            yield from item_lines(item)
        if answer.partners.total > len(answer.partners.items):
            yield f"… and {answer.partners.total - len(answer.partners.items)} more (crib find --fits)"
    yield f"Next: {answer.next_step}"
