"""Ranking 5,000 holder-insert pairs against one plain pass of the same arithmetic, written inline."""

import time
from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import acos, asin, atan2, ceil, cos, inf, pi, radians, sin, sqrt, tan
from typing import Any

from crib.desk import tables
from crib.desk.picking import cut as desk_cut
from crib.desk.picking import pick as desk_pick
from crib.desk.picking.cut import Cut
from crib.desk.picking.job import Job, PickRequest, understand_job
from crib.desk.picking.stock import Pair, stock_for
from crib.store.read import reading
from crib.trade.cutting import edge, finish, force, passes, spindle, tool
from crib.trade.cutting.edge import _END_NODES, _NOSE_NODES, _TRAILING_LIMIT_RAD
from crib.trade.rigidity import chatter, pressure
from tests.benchmarks.measure import Plan, Result, interleaved
from tests.benchmarks.startup import demo
from tests.benchmarks.vectorised import arrays, forces_at_once

PAIRS = 5000
MOST_CPU_S = 1.0
NOSES, ANGLES = (0.2, 0.4, 0.8, 1.2, 1.6, 2.4), (45.0, 60.0, 62.5, 72.5, 75.0, 90.0, 91.0, 93.0, 95.0, 107.5)
REQUEST = PickRequest(
    op="turn", material="42CrMo4", from_="80 mm", to="76 mm", length="100 mm", depth="1 mm", setup="fair"
)


def ranking(plan: Plan) -> Iterator[Result]:
    """Ranking pairs."""
    with reading(demo(plan)) as reader:
        job = understand_job(replace(REQUEST, machine=machine_name(reader)), reader)
        on_hand = [pair for pair in stock_for(job, reader.tooling()).here if pair.insert]
    seeds = [cut.pair for cut in desk_pick._work_out_all(job, on_hand, 1.0)[0]]  # those with speeds on record
    count = PAIRS // 10 if plan.quick else PAIRS
    for name, noses, angles in (
        (
            "every one of its own geometry",
            [0.2 + 0.022 * n for n in range(100)],
            [45 + 1.25 * n for n in range(50)],
        ),
        ("noses and angles as they are sold", NOSES, ANGLES),
    ):
        pairs = many(seeds, count, noses, angles)
        ranked = rank(job, pairs)
        plain = [plain_numbers(job, cut) for cut in ranked]
        compare(job, ranked, plain)
        took = interleaved(
            {"floor": lambda p=plain: one_pass(job, p), "ours": lambda p=pairs: rank(job, p)},
            3 if plan.quick else 9,
            time.process_time,
        )
        cpu = took["ours"] / 1000
        yield Result(
            what=f"ranking {count:,} pairs with all forces and margins, {name}",
            floor="one plain pass of the same arithmetic",
            floor_ms=took["floor"],
            ours_ms=took["ours"],
            budget=2.0,
            also=f"{cpu:.2f} s of CPU of {MOST_CPU_S:g} s",
            also_holds=cpu < MOST_CPU_S,
        )
        columns = arrays(ranked)
        compare_arrays(ranked, forces_at_once(columns, job))
        at_once = interleaved(
            {"floor": lambda c=columns: forces_at_once(c, job)}, plan.rounds, time.process_time
        )
        yield Result(
            what=f"the same, {name}",
            floor="their forces and margins alone, at once by NumPy, imported already",
            floor_ms=at_once["floor"],
            ours_ms=took["ours"],
            budget=None,
        )


def machine_name(reader) -> str:  # type: ignore[no-untyped-def]
    """Give the lathe with steps on record."""
    return next(m.name for m in reader.machines() if m.kind == "lathe" and m.speeds_rev_min and m.feeds_mm)


def many(seeds: Sequence[Pair], count: int, noses: Sequence[float], angles: Sequence[float]) -> list[Pair]:
    """Give pairs of the workshop's own rows with other noses and entering angles."""
    found = []
    for number in range(count):
        seed = seeds[number % len(seeds)]
        assert seed.insert is not None
        nose, angle = noses[number % len(noses)], angles[number // len(noses) % len(angles)]
        arm = seed.arm._replace(item=seed.arm.item._replace(id=10_000 + number))
        insert = seed.insert._replace(item=seed.insert.item._replace(id=20_000 + number), re_mm=nose)
        found.append(replace(seed, arm=arm, insert=insert, KAPR_deg=angle))
    return found


def rank(job: Job, pairs: Sequence[Pair]) -> list[Cut]:
    """Rank as crib pick does once the depth is known; nothing is remembered from an earlier round."""
    for module in (edge, force, tool, finish, passes, spindle, chatter, pressure, desk_cut):
        for found in vars(module).values():
            if getattr(found, "__module__", "") == module.__name__ and hasattr(found, "cache_clear"):
                found.cache_clear()
    assert job.depth_mm is not None
    cuts, without = desk_pick._work_out_all(job, pairs, job.depth_mm)
    if without:
        raise AssertionError(f"{len(without)} pairs could not be worked out: {without[0].why}")
    return list(desk_pick.in_order(job, cuts)[0])


# -- the floor --------------------------------------------------------------------------------------------


def plain_numbers(job: Job, cut: Cut) -> tuple[float, ...]:
    """Give what the pass needs of a pair: its tool, where its tables start, what its edge stands."""
    tool, data = cut.tool, cut.data
    part = finish.feed_ceiling(tool.SC, tool.RE_mm, cut.cut, tables.rows).of_RE
    deepest = min(job.depth_mm or inf, desk_cut.depth_of_edge(cut.pair, job) or inf)
    return (
        tool.RE_mm,
        tool.KAPR_deg,
        tool.rake_deg,
        tool.LAMS_deg,
        tool.hone_um,
        tool.land_mm,
        tool.land_rake_deg,
        data.vc_m_min.start,
        data.f_mm.start,
        part * tool.RE_mm,
        deepest,
        float(cut.pair.arm.item.id),
    )


def one_pass(job: Job, plain: Sequence[tuple[float, ...]]) -> list[tuple[float, ...]]:
    """Give speed, feed, passes, forces, power, margin and pressure of each, in order."""
    assert job.speeds and job.feeds and job.machine and job.machine.power_kw
    steps, feeds, stock, d = job.speeds.steps, job.feeds.steps, job.stock_mm, job.d_mm
    at_edge = job.machine.power_kw * desk_cut.efficiency_of(job)
    gives, model, rules = job.setup.gives, tables.force_model(), tables.rigidity_rules().reference
    allowed = 2.0 * job.setup.k_N_mm * job.setup.damping_ratio
    up, down = allowed * (1.0 + job.setup.damping_ratio), allowed * (1.0 - job.setup.damping_ratio)
    reference: dict[tuple[float, float], float] = {}
    found = []
    for RE, KAPR, rake, LAMS, hone, land, land_rake, vc, f_start, f_most, deepest, number in plain:
        wanted = 1000.0 * vc / (pi * d)
        n = max([step for step in steps if step <= wanted * (1 + 1e-9)], default=min(steps))
        vc = pi * d * n / 1000.0
        f = min(f_start, f_most)
        f = max([step for step in feeds if step <= f * (1 + 1e-9)], default=min(feeds))
        ap, count = deepest, 0
        while True:
            count = max(1, ceil(stock / ap - 1e-9))
            ap = stock / count
            Fc, Ff, Fp, K = forces(ap, f, RE, KAPR, rake, LAMS, hone, land, land_rake, job, model)
            needed = Fc * vc / 60000.0
            if needed <= at_edge:
                break
            ap *= min(0.95, at_edge / needed)
        margin = (up if K >= 0.0 else down) / abs(K) if K else inf
        away, along, under = gives.weight_away * Fp, gives.weight_along * Ff, gives.weight_down * Fc
        push = sqrt(away * away + along * along + under * under)
        least = reference.get((ap, f))
        if least is None:
            r = rules
            c, a, b, _ = forces(
                ap,
                f,
                r.RE_mm,
                r.KAPR_deg,
                r.rake_deg,
                r.LAMS_deg,
                r.hone_um,
                r.land_mm,
                r.land_rake_deg,
                job,
                model,
            )
            away, along, under = gives.weight_away * b, gives.weight_along * a, gives.weight_down * c
            least = reference[ap, f] = sqrt(away * away + along * along + under * under)
        each = count / (f * n)
        found.append(
            (margin < 1.0, int(push / least / 0.2), each, push / least, margin, number, Fc, Ff, Fp, n, f)
        )
    found.sort()
    return found


def forces(  # noqa: C901  # one long sum, written out: it is the floor, not an example
    ap: float, f: float, r: float, KAPR: float, rake: float, LAMS: float, hone: float, land: float,
    land_rake: float, job: Job, m: force.ForceModel,
) -> tuple[float, float, float, float]:  # fmt: skip
    """Give Fc, Ff, Fp and the regenerative stiffness: nodes on the nose, then the flank, in plain floats."""
    kc11, mc, g, gives = job.work.kc11_N_mm2, job.work.mc, m.group(job.work.iso513), job.setup.gives
    kappa, nodes, length = radians(KAPR), [], 0.0
    if r > 0.0:
        top = acos(max(-1.0, 1.0 - ap / r))
        start, end = -min(asin(min(f / (2.0 * r), 1.0)), _TRAILING_LIMIT_RAD, top), min(kappa, top)
        bend = min(max(atan2(r * sin(end) - f, r * cos(end)), start), end)
        for low, high, table in ((start, bend, _NOSE_NODES), (bend, end, _END_NODES)):
            if high > low:
                nodes += [(low + (high - low) * at, (high - low) * weight) for at, weight in table]
    else:
        start, end = 0.0, kappa
    area, taken, points = edge.chip_area_mm2(ap, f, r), 0.0, []
    for k, width in nodes:
        s, c = sin(k), cos(k)
        inside = r * r - f * f * c * c
        inner = sqrt(inside) - f * s if inside > 0.0 else 0.0
        if inside <= 0.0 or atan2(inner * s + f, inner * c) > end:
            inner = (r - f * sin(end)) / cos(end - k)
        if c > 0.0:
            inner = max(inner, (r - ap) / c)
        inner = min(max(inner, 0.0), r)
        h = r - inner
        if h > 0.0:
            db = 0.5 * (r + inner) * width
            taken += h * db
            points.append((s, c, h, db, r * width))
    nose = r * (1.0 - cos(kappa))
    if ap >= nose:
        length = (ap - nose) / sin(kappa)
    h = f * sin(end)
    left = max(0.0, area - taken) if h > 0.0 else 0.0
    if left > 0.0 or length > 0.0:
        points.append((sin(end), cos(end), h, left / h, length))
    across = r * (sin(end) - sin(start)) + length * cos(end)
    chord = atan2(r * (cos(start) - cos(end)) + length * sin(end), across)
    base = m.edge_cut_base_N_mm + m.edge_cut_per_hone * m.edge_hone_um
    per_edge = kc11 / m.edge_kc11_N_mm2 * base
    keep, lean, side, flat = face(rake, LAMS, g, m)
    chip = p0 = ps = pc = ls = lc = e0 = es = ec = pp = pf = ff = cp = cf = 0.0
    for s, c, h, db, dl in points:
        if land > 0.0:
            off = 1.0 - min(1.0, land / (2.0 * h))
            on = 1.0 - off * off
            met = on * max(land_rake, m.land_rake_low_deg) + (1.0 - on) * rake
            keep, lean, side, flat = face(met, LAMS, g, m)
        per_h = kc11 * h**-mc * db
        edge_N = min(per_edge * dl, m.edge_share_max * per_h * h)
        part, slope = keep * (per_h * h - edge_N), keep * (1.0 - mc) * per_h
        chip += part
        p0, ps, pc = p0 + lean * part, ps + lean * part * s, pc + lean * part * c
        ls, lc = ls + side * part * s, lc + side * part * c
        e0, es, ec = e0 + edge_N, es + edge_N * s, ec + edge_N * c
        pp, pf, ff = pp + flat * slope * c * c, pf + flat * slope * s * c, ff + flat * slope * s * s
        cp, cf = cp + slope * c, cf + slope * s
    cut_edge = (m.edge_cut_base_N_mm + m.edge_cut_per_hone * hone) / base
    push_edge = (m.edge_thrust_base_N_mm + m.edge_thrust_per_hone * hone) / base
    whole, share = p0 + push_edge * e0, m.chord_share
    local_f, local_p = ps + push_edge * es - lc, pc + push_edge * ec + ls
    Ff = local_f + share * (whole * sin(chord) - lc - local_f)
    Fp = local_p + share * (whole * cos(chord) + ls - local_p)
    a, b, d = gives.away, gives.along, gives.down
    K = a * a * pp + b * b * ff + 2.0 * a * b * pf + d * (a * cp + b * cf)
    return chip + cut_edge * e0, Ff, Fp, K


def face(
    rake: float, LAMS: float, g: force.Friction, m: force.ForceModel
) -> tuple[float, float, float, float]:
    """Give factor on the chip force, push per unit of it, push along the edge."""
    keep = 1.0 - m.rake_per_deg * (rake - g.rake_base_deg)
    friction = g.friction_deg + m.friction_per_rake * rake
    lean = radians(min(max(friction - rake, m.push_low_deg), m.push_high_deg))
    side = tan(radians(-LAMS)) * (1.0 - sin(radians(friction)) / cos(lean)) if LAMS else 0.0
    return keep, tan(lean), side, tan(lean)


def compare_arrays(ranked: Sequence[Cut], told: tuple[Any, ...]) -> None:
    """Refuse arrays that don't do the same sums."""
    for place, cut in enumerate(ranked):
        mine = (cut.forces.Fc_N, cut.forces.Ff_N, cut.forces.Fp_N, cut.K_N_mm)
        for one, other in zip(mine, (float(column[place]) for column in told), strict=True):
            if abs(one - other) > 1e-6 * max(abs(one), abs(other), 1.0):
                raise AssertionError(f"NumPy gives {other}, crib {one}, for {cut.tool}")


def compare(job: Job, ranked: Sequence[Cut], plain: Sequence[tuple[float, ...]]) -> None:
    """Refuse a floor that doesn't do the same sums."""
    told = {int(row[5]): row for row in one_pass(job, plain)}
    for cut in ranked:
        margin, _, Fc, Ff, Fp, n, f = told[cut.pair.arm.item.id][4:]
        mine = (cut.margin, cut.forces.Fc_N, cut.forces.Ff_N, cut.forces.Fp_N, cut.n_rev_min, cut.f_mm)
        for one, other in zip(mine, (margin, Fc, Ff, Fp, n, f), strict=True):
            if abs(one - other) > 1e-6 * max(abs(one), abs(other), 1.0):
                raise AssertionError(f"the floor gives {other}, crib {one}, for {cut.tool}")
