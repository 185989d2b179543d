"""What the last pick offered, kept beside the store so that the logbook can be filled with one word."""

import os
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from crib.desk.keeping.address import data_folder
from crib.desk.picking.answer import Candidate, JobLine
from crib.errors import NothingFound
from crib.trade.rigidity.chatter import allowed_stiffness

FILE = "last-pick.json"


@dataclass(frozen=True, slots=True, kw_only=True)
class Offered:
    """One candidate's cut as it was offered, as much of it as the logbook keeps.

    Attributes:
        op, material: operation; id of the material.
        machine: name; None where it was not told.
        setup, point: a kept set-up and its point; None where it was a word.
        setup_words: as it was called.
        conditions: joined by ";".
        tool, insert: tags.
        diameter_mm, length_mm: where it cuts, and how far.
        n_rev_min, vc_m_min, f_mm, ap_mm: the figures of its deepest pass.
        regenerative_N_mm: of the pass nearest to chatter, as the set-up alone would bear it.
        margin: as reckoned then.
    """

    op: str
    material: str
    machine: str | None
    setup: str | None
    point: str | None
    setup_words: str
    conditions: str
    tool: str
    insert: str | None
    diameter_mm: float
    length_mm: float | None
    n_rev_min: float
    vc_m_min: float
    f_mm: float
    ap_mm: float
    regenerative_N_mm: float
    margin: float


def offered(job: JobLine, candidate: Candidate) -> Offered:
    """Give a candidate of an answer as the logbook keeps it."""
    allowed = allowed_stiffness(job.k_N_mm, job.damping_ratio)
    return Offered(
        op=job.op,
        material=job.material_id,
        machine=job.machine,
        setup=job.setup_name,
        point=job.setup_point,
        setup_words=job.setup,
        conditions=";".join(job.conditions),
        tool=candidate.holder.tag,
        insert=candidate.insert.tag if candidate.insert else None,
        diameter_mm=job.diameter_mm,
        length_mm=job.length_mm,
        n_rev_min=candidate.n_rev_min,
        vc_m_min=candidate.vc_m_min,
        f_mm=candidate.f_mm,
        ap_mm=candidate.ap_mm,
        regenerative_N_mm=allowed / candidate.stability_margin,
        margin=candidate.stability_margin,
    )


def keep(address: str, job: JobLine, candidates: Sequence[Candidate]) -> None:
    """Keep what was offered, in the order of the answer; in a folder that takes no file nothing is kept.

    Args:
        address: the store.
        job: the cut as understood.
        candidates: what was offered.
    """
    import json

    path = _path(address)
    part = f"{path}.{os.getpid()}.part"
    text = json.dumps([asdict(offered(job, one)) for one in candidates])
    try:
        handle = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
        with os.fdopen(handle, "w", encoding="utf-8") as file:
            file.write(text)
        os.replace(part, path)
    except OSError:
        return  # a convenience: never a reason not to answer


def last(address: str, place: int) -> Offered:
    """Give the candidate of that rank in the last pick.

    Raises:
        NothingFound: nothing was picked with this store, or not so many were offered.
    """
    import json

    try:
        with open(_path(address), encoding="utf-8") as file:
            kept: list[Mapping[str, Any]] = json.load(file)
        if not 1 <= place <= len(kept):
            what = f"the last pick offered {len(kept)}, not {place}"
            raise NothingFound(what, "crib pick … ranks them; --candidate takes the number")
        return Offered(**kept[place - 1])
    except (OSError, ValueError, TypeError, KeyError):
        raise NothingFound("no pick is kept for this store", "crib pick … first, then crib log") from None


def _path(address: str) -> str:
    """Give the file: beside the store's, else in the user's data folder."""
    folder = data_folder() if "://" in address else os.path.dirname(os.path.abspath(address))
    return os.path.join(folder, FILE)
