"""What do I change first? Each change recomputed with what there is, and sorted by what it gains."""

from collections.abc import Sequence

from crib.desk.picking.cut import Cut
from crib.desk.picking.job import Job
from crib.desk.ringing import ladder_cut, ladder_hold, ladder_tools
from crib.desk.ringing.change import Change as Change
from crib.store.rows import ItemRow

ENOUGH = 1.0  # margin at which a cut just holds


def climb(
    job: Job,
    best: Cut,
    others: Sequence[Cut],
    elsewhere: Sequence[Cut],
    workholding: Sequence[ItemRow] = (),
) -> tuple[Change, ...]:
    """List what can be changed from the first choice on, largest gain first.

    Args:
        job: the cut asked for.
        best: the first choice.
        others: all candidates on hand.
        elsewhere: candidates of which a part is at home or lent.
        workholding: on record, wherever it is.
    """
    found = [
        *ladder_tools.other_tools(job, best, others, on_hand=True),
        *ladder_tools.other_tools(job, best, elsewhere, on_hand=False),
        *ladder_tools.to_grind(job, best, others),
        *ladder_tools.to_buy(job, best, (*others, *elsewhere)),
        *ladder_cut.other_feed(job, best),
        *ladder_cut.other_depth(job, best),
        *ladder_cut.other_speed(job, best),
        *ladder_hold.overhang(job, best),
        *ladder_hold.bar(job, best),
        *ladder_hold.support(job, best, workholding),
    ]
    return tuple(sorted(found, key=lambda change: -change.gain))


def enough_of(best: Cut, ladder: Sequence[Change]) -> tuple[Change | None, Change | None]:
    """Give the first change that is enough by itself: of those on hand, and of those that are not."""

    def first(on_hand: bool) -> Change | None:
        enough = (one for one in ladder if one.on_hand is on_hand and best.margin * one.gain >= ENOUGH)
        return next(enough, None)

    return first(True), first(False)


def in_words(gained: float) -> str:
    """Say a gain: "36 % further from chatter", "2.8 times as far from chatter"."""
    if gained >= 2.0:
        return f"{gained:.2g} times as far from chatter"
    return f"{(gained - 1.0) * 100.0:.0f} % further from chatter"
