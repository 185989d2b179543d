"""Forces and slopes of thousands of pairs at once by NumPy, which crib itself does without."""

from collections.abc import Sequence
from typing import Any

import numpy as np

from crib.desk import tables
from crib.desk.picking.cut import Cut
from crib.desk.picking.job import Job
from crib.trade.cutting.edge import _END_NODES, _NOSE_NODES, _TRAILING_LIMIT_RAD


def arrays(cuts: Sequence[Cut]) -> tuple[Any, ...]:
    """Give depth, feed, and figures of the tool as arrays, one entry a pair."""
    rows = [
        (
            cut.ap_mm,
            cut.f_mm,
            cut.tool.RE_mm,
            cut.tool.KAPR_deg,
            cut.tool.rake_deg,
            cut.tool.LAMS_deg,
            cut.tool.hone_um,
            cut.tool.land_mm,
            cut.tool.land_rake_deg,
        )
        for cut in cuts
    ]
    return tuple(np.array(rows).T)


def forces_at_once(columns: tuple[Any, ...], job: Job) -> tuple[Any, Any, Any, Any]:
    """Give Fc, Ff, Fp and the regenerative stiffness of all: arrays of pairs by pieces of the edge."""
    m = tables.force_model()
    ap, f, r, KAPR, rake, LAMS, hone, land, land_rake = columns
    g = m.group(job.work.iso513)
    kc11, mc = job.work.kc11_N_mm2, job.work.mc
    gives = job.setup.gives
    kappa = np.radians(KAPR)
    top = np.arccos(np.maximum(-1, 1 - ap / r))
    start = -np.minimum(np.minimum(np.arcsin(np.minimum(f / (2 * r), 1)), _TRAILING_LIMIT_RAD), top)
    end = np.minimum(kappa, top)
    se, ce = np.sin(end), np.cos(end)
    bend = np.clip(np.arctan2(r * se - f, r * ce), start, end)
    a1 = np.array(_NOSE_NODES)
    a2 = np.array(_END_NODES)
    k = np.concatenate(
        (
            start[:, None] + (bend - start)[:, None] * a1[:, 0],
            bend[:, None] + (end - bend)[:, None] * a2[:, 0],
        ),
        1,
    )
    w = np.concatenate(((bend - start)[:, None] * a1[:, 1], (end - bend)[:, None] * a2[:, 1]), 1)
    s, c = np.sin(k), np.cos(k)
    F, RR = f[:, None], r[:, None]
    inner = np.sqrt(np.maximum(RR * RR - F * F * c * c, 0)) - F * s
    past = np.arctan2(inner * s + F, inner * c) > end[:, None]
    inner = np.where(past, (RR - F * se[:, None]) / np.cos(end[:, None] - k), inner)
    inner = np.where(c > 0, np.maximum(inner, (RR - ap[:, None]) / c), inner)
    inner = np.clip(inner, 0, RR)
    h = RR - inner
    db = 0.5 * (RR + inner) * w
    dl = RR * w
    taken = (h * db).sum(1)
    half = np.minimum(f, r) / 2
    cusp = half * half / (r + np.sqrt(r * r - half * half))
    hh = np.minimum(ap, cusp)
    q = np.sqrt(hh * (2 * r - hh))
    area = r * r * np.arctan2(q, r - hh) - (r - hh) * q + f * np.maximum(0, ap - cusp)
    nose = r * (1 - np.cos(kappa))
    length = np.where(ap >= nose, (ap - nose) / np.sin(kappa), 0.0)
    hf = f * se
    left = np.maximum(0, area - taken)
    s = np.concatenate((s, se[:, None]), 1)
    c = np.concatenate((c, ce[:, None]), 1)
    h = np.concatenate((h, hf[:, None]), 1)
    db = np.concatenate((db, (left / hf)[:, None]), 1)
    dl = np.concatenate((dl, length[:, None]), 1)
    across = r * (se - np.sin(start)) + length * ce
    chord = np.arctan2(r * (np.cos(start) - ce) + length * se, across)
    base = m.edge_cut_base_N_mm + m.edge_cut_per_hone * m.edge_hone_um
    per = kc11 / m.edge_kc11_N_mm2 * base
    off = 1 - np.minimum(1, land[:, None] / (2 * h))
    on = 1 - off * off
    met = np.where(
        land[:, None] > 0,
        on * np.maximum(land_rake[:, None], m.land_rake_low_deg) + (1 - on) * rake[:, None],
        rake[:, None],
    )
    keep = 1 - m.rake_per_deg * (met - g.rake_base_deg)
    fr = g.friction_deg + m.friction_per_rake * met
    lean = np.radians(np.clip(fr - met, m.push_low_deg, m.push_high_deg))
    side = np.tan(np.radians(-LAMS))[:, None] * (1 - np.sin(np.radians(fr)) / np.cos(lean))
    t = np.tan(lean)
    perh = kc11 * h**-mc * db
    edge = np.minimum(per * dl, m.edge_share_max * perh * h)
    part = keep * (perh * h - edge)
    sl = keep * (1 - mc) * perh
    chip = part.sum(1)
    p0 = (t * part).sum(1)
    ps = (t * part * s).sum(1)
    pc = (t * part * c).sum(1)
    ls = (side * part * s).sum(1)
    lc = (side * part * c).sum(1)
    e0 = edge.sum(1)
    es = (edge * s).sum(1)
    ec = (edge * c).sum(1)
    fl = t * sl
    pp = (fl * c * c).sum(1)
    pf = (fl * s * c).sum(1)
    ff = (fl * s * s).sum(1)
    cp = (sl * c).sum(1)
    cf = (sl * s).sum(1)
    cut = (m.edge_cut_base_N_mm + m.edge_cut_per_hone * hone) / base
    push = (m.edge_thrust_base_N_mm + m.edge_thrust_per_hone * hone) / base
    whole = p0 + push * e0
    lf = ps + push * es - lc
    lp = pc + push * ec + ls
    x = m.chord_share
    Ff = lf + x * (whole * np.sin(chord) - lc - lf)
    Fp = lp + x * (whole * np.cos(chord) + ls - lp)
    a, b, d = gives.away, gives.along, gives.down
    return chip + cut * e0, Ff, Fp, a * a * pp + b * b * ff + 2 * a * b * pf + d * (a * cp + b * cf)
