"""Chatter limits of whole cuts against an independent integration of the delay equation.

Every piece of the engaged edge is given its own chip thickness at every moment, from the vibration now and
one turn ago; Kienzle's law makes its force, which acts along the piece's normal and along the cutting speed;
their sum, seen along the direction in which the set-up gives, drives one mode. No slope, no lobe formula and
no directional factor is used. All cases run side by side in NumPy.
"""

from dataclasses import dataclass, replace
from math import atan, pi, sqrt

import numpy as np
import pytest
from mechanics import GIVES, MODEL, RULES, STEEL, tool

from crib.trade.cutting.force import Work, force_parts
from crib.trade.cutting.tool import CuttingTool
from crib.trade.rigidity.chatter import (
    allowed_at_speed,
    chatter_frequency,
    limit_depth,
    regenerative_stiffness,
)
from crib.trade.rigidity.setup import Gives

STEP = 0.06  # radians of the natural frequency
LONG = 1500.0  # radians to run
WITHIN = 0.01


@dataclass(frozen=True)
class Case:
    name: str
    cuts: CuttingTool
    gives: Gives
    damping: float
    f_mm: float
    k_N_mm: float
    lobe: int
    work: Work = STEEL
    speed: float = 1.0  # of the speed at the lobe's lowest point


def towards(away: float, along: float, down: float) -> Gives:
    size = sqrt(away**2 + along**2 + down**2)
    return replace(GIVES["away"], away=away / size, along=along / size, down=down / size)


STEEP = tool(RE_mm=0.0, KAPR_deg=60.0)
SHARP = tool(RE_mm=0.0, KAPR_deg=90.0)
PLAIN = RULES.reference
GROUND = tool(rake_deg=12.0, LAMS_deg=0.0, hone_um=8.0, RE_mm=0.4, KAPR_deg=91.0)
LANDED = tool(land_mm=0.2, land_rake_deg=-20.0)
IRON = Work(kc11_N_mm2=1160.0, mc=0.26, iso513="K")
CASES = (
    Case("straight edge, along", SHARP, GIVES["along"], 0.03, 0.2, 6000.0, 0),
    Case("straight edge at 45°, away", tool(RE_mm=0.0, KAPR_deg=45.0), GIVES["away"], 0.02, 0.15, 9000.0, 1),
    Case(
        "straight edge at 60°, slanting",
        tool(RE_mm=0.0, KAPR_deg=60.0),
        GIVES["slanting"],
        0.04,
        0.2,
        9000.0,
        2,
    ),
    Case("nose, inside it, away", PLAIN, GIVES["away"], 0.03, 0.1, 25000.0, 0),
    Case("nose 1.6, inside it, slanting", tool(RE_mm=1.6), GIVES["slanting"], 0.025, 0.15, 76000.0, 1),
    Case("nose, past it, along", PLAIN, GIVES["along"], 0.05, 0.2, 15000.0, 0),
    Case("nose at 45°, past it, away", tool(KAPR_deg=45.0), GIVES["away"], 0.04, 0.2, 40000.0, 1),
    Case("round insert, away", tool(RE_mm=6.0, KAPR_deg=90.0), GIVES["away"], 0.03, 0.25, 97000.0, 0),
    Case("sharp ground, oblique", GROUND, towards(0.8, 0.5, 0.33), 0.02, 0.1, 30000.0, 2),
    Case("land, oblique", LANDED, towards(0.5, 0.8, 0.33), 0.03, 0.2, 105000.0, 1),
    Case("iron, away and down", tool(RE_mm=1.2), towards(1.0, 0.0, 0.5), 0.012, 0.15, 53000.0, 3, IRON),
    Case("well damped, along and down", PLAIN, towards(0.0, 1.0, 0.4), 0.1, 0.2, 8000.0, 0),
    Case("on a lobe's flank", PLAIN, GIVES["along"], 0.03, 0.2, 9000.0, 1, speed=1.15),
    Case("near the top of a gap", SHARP, GIVES["along"], 0.05, 0.2, 6000.0, 0, speed=1.3),
)


def waves_of(case: Case) -> float:
    """Give natural periods a turn: at the lowest point of the lobe, over the case's part of that speed."""
    ratio = chatter_frequency(1.0, case.damping)
    return (case.lobe + 1 - atan(1 / ratio) / pi) / ratio / case.speed


def critical_depth(case: Case) -> float:
    """Give the depth that just holds at the case's speed, by the formulas under test."""
    raised = allowed_at_speed(60 / waves_of(case), k_N_mm=1.0, frequency_hz=1.0, damping_ratio=case.damping)
    lowest = 2 * case.damping * (1 + case.damping)
    found = limit_depth(
        case.f_mm,
        case.cuts,
        case.work,
        gives=case.gives,
        k_N_mm=case.k_N_mm * raised / lowest,
        damping_ratio=case.damping,
        model=MODEL,
        ap_max_mm=20.0,
    )
    assert found is not None, case.name
    return found


def grows(cases: tuple[Case, ...], stiffer: float) -> np.ndarray:
    """Integrate every case at its critical depth with the set-up so many times as stiff as it should be.

    Gives the growth of the vibration from the middle of the run to its end, as a logarithm.
    """
    many, delays = len(cases), np.array([round(2 * pi * waves_of(case) / STEP) for case in cases])
    h, towards_u, push_u, force, exponent = (np.zeros((many, 16)) for _ in range(5))
    damping, k, dt = (np.zeros(many) for _ in range(3))
    for at, case in enumerate(cases):
        depth = critical_depth(case)
        parts = force_parts(depth, case.f_mm, case.cuts, case.work, MODEL)
        for place, piece in enumerate(parts.pieces):
            normal = np.array([np.cos(piece.kappa_rad), np.sin(piece.kappa_rad), 0.0])  # away, along, down
            u = np.array([case.gives.away, case.gives.along, case.gives.down])
            factor = piece.slope_N_mm * piece.h_mm**case.work.mc / (1 - case.work.mc)  # of h^(1 - mc)
            h[at, place] = piece.h_mm
            towards_u[at, place] = normal @ u
            push_u[at, place] = (piece.push * normal + np.array([0.0, 0.0, 1.0])) @ u
            force[at, place] = factor
            exponent[at, place] = 1 - case.work.mc
        damping[at], k[at] = case.damping, case.k_N_mm * stiffer
        dt[at] = 2 * pi * waves_of(case) / delays[at]  # a whole number of steps a turn
    h[h == 0.0] = 1.0
    steady = force * h**exponent
    longest = int(delays.max()) + 2
    past = np.zeros((longest, many))
    columns = np.arange(many)
    past[1] = 1e-9
    now = 1
    drag = damping * dt
    steps = round(LONG / STEP)
    sizes = np.zeros((2, many))
    for step in range(steps):
        x, before, then = past[now], past[now - 1], past[(now - delays) % longest, columns]
        chip = np.maximum(h - towards_u * (x - then)[:, None], 0.0)  # a tool that jumps out cuts nothing
        pushes = ((force * chip**exponent - steady) * push_u).sum(axis=1) / k
        path = (2 * x - before * (1 - drag) + dt * dt * (pushes - x)) / (1 + drag)
        now = (now + 1) % longest
        past[now] = path
        part = 2 * step // steps
        if step % (steps // 2) >= steps // 2 - longest * 4:
            sizes[part] += path * path
    return np.log(sizes[1] / sizes[0])


def test_limits_agree_with_integration_in_time_within_one_percent() -> None:
    softer, stiffer = grows(CASES, 1 - WITHIN), grows(CASES, 1 + WITHIN)
    for case, rings, holds in zip(CASES, softer, stiffer, strict=True):
        assert rings > 0.0, f"{case.name}: should ring at {1 - WITHIN} of its stiffness"
        assert holds < 0.0, f"{case.name}: should hold at {1 + WITHIN} of its stiffness"


def test_the_cases_are_what_they_say() -> None:
    """Some limits lie inside the nose, some past it; and a straight edge has the textbook's limit."""
    for case in CASES:
        depth = critical_depth(case)
        if "inside it" in case.name:
            assert depth < case.cuts.RE_mm
        if "past it" in case.name:
            assert depth > case.cuts.RE_mm
    case = CASES[0]
    per_mm = regenerative_stiffness(1.0, case.f_mm, case.cuts, case.work, gives=case.gives, model=MODEL)
    assert critical_depth(case) == pytest.approx(2 * case.k_N_mm * 0.03 * 1.03 / per_mm, rel=1e-6)
