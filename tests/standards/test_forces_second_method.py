"""Kienzle's force a second way, coded apart from the first: closed form for a straight edge, and numerical
integration (scipy) along the nose; and what must hold at the limits.

Nothing of crib.trade.cutting.edge or force is used to find the second figure: the chip is found by following
rays from the edge into the cut until they meet the surface that the turn before left. Source of the law:
Kienzle 1952, dFc = kc11 h^(1 - mc) db; edge force and friction as in Altintas, Manufacturing Automation, 2nd
edition 2012, chapter 2.
"""

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise
from math import acos, asin, cos, inf, pi, radians, sin, sqrt, tan

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from mechanics import MODEL, STEEL, tool
from scipy.integrate import quad
from scipy.optimize import brentq

from crib.trade import tables
from crib.trade.cutting.chip import chip
from crib.trade.cutting.force import Forces, Work, cutting_forces

CONSTANTS = {(row["name"], row["group"]): float(row["value"]) for row in tables.rows("force_model")}
REFERENCE_HONE = CONSTANTS["edge_hone_um", ""]


def straight(
    ap: float, f: float, kappa_deg: float, rake: float, hone: float, kc11: float, mc: float
) -> tuple[float, float, float]:
    """Fc, Ff and Fp of a sharp-cornered straight edge in closed form, steel, no inclination."""
    kappa = radians(kappa_deg)
    h, b = f * sin(kappa), ap / sin(kappa)
    printed = kc11 * b * h ** (1 - mc)
    scale = kc11 / CONSTANTS["edge_kc11_N_mm2", ""]
    cut_edge = scale * b * (10 + 0.6 * REFERENCE_HONE)
    edge = min(cut_edge, CONSTANTS["edge_share_max", ""] * printed)
    chip_force = (printed - edge) * (1 - 0.015 * (rake - 6))
    lean = radians(min(max(30.2 + 0.3 * rake - rake, 3), 60))
    push = chip_force * tan(lean) + edge * (5 + 0.8 * hone) / (10 + 0.6 * REFERENCE_HONE)
    Fc = chip_force + edge * (10 + 0.6 * hone) / (10 + 0.6 * REFERENCE_HONE)
    return Fc, push * sin(kappa), push * cos(kappa)


@pytest.mark.parametrize("kappa", [30.0, 45.0, 75.0, 90.0])
@pytest.mark.parametrize(("ap", "f"), [(0.5, 0.05), (3.0, 0.2), (8.0, 1.0)])
@pytest.mark.parametrize(("rake", "hone"), [(6.0, 35.0), (-6.0, 60.0), (18.0, 5.0)])
def test_straight_edge_in_closed_form(kappa: float, ap: float, f: float, rake: float, hone: float) -> None:
    edge = tool(RE_mm=0.0, KAPR_deg=kappa, rake_deg=rake, LAMS_deg=0.0, hone_um=hone)
    ours = cutting_forces(ap, f, edge, STEEL, MODEL)
    Fc, Ff, Fp = straight(ap, f, kappa, rake, hone, STEEL.kc11_N_mm2, STEEL.mc)
    assert ours.Fc_N == pytest.approx(Fc, rel=1e-9)
    assert ours.Ff_N == pytest.approx(Ff, rel=1e-9)
    assert ours.Fp_N == pytest.approx(Fp, rel=1e-9, abs=1e-6 * Fc)


@dataclass(frozen=True)
class Profile:
    """The tool's leading side: nose arc and flank. Heights are measured up from the finished surface."""

    r: float
    kappa: float
    ap: float
    f: float

    def leads(self, v: float) -> float:
        """How far ahead the tool reaches at a height."""
        top = self.r * (1 - cos(self.kappa))
        if v <= top:
            return sqrt(max(0.0, v * (2 * self.r - v)))
        return self.r * sin(self.kappa) + (v - top) / tan(self.kappa)

    def thickness(self, k: float) -> float:
        """Follow the normal of the arc inwards from angle k, to the old surface or out of the work."""
        s, c = sin(k), cos(k)
        out = self.r if c <= 0 else min(self.r, (self.ap - self.r * (1 - c)) / c)
        if out <= 0:
            return 0.0

        def uncut(t: float) -> float:
            v = self.r - (self.r - t) * c
            return (self.r - t) * s - (self.leads(v) - self.f)

        return out if uncut(out) > 0 else float(brentq(uncut, 0.0, out, xtol=1e-13))

    def ends(self) -> tuple[float, float]:
        """Where the arc's engagement starts and ends."""
        top = acos(max(-1.0, 1 - self.ap / self.r))
        return -min(asin(self.f / (2 * self.r)), top), min(self.kappa, top)

    def bend(self) -> float:
        """Where the free surface starts to cut the chip short: there the integrand has a corner."""
        low, high = self.ends()
        return (
            float(brentq(lambda k: self.thickness(k) - self.free(k), low + 1e-9, high))
            if (self.thickness(high) >= self.free(high))
            else high
        )

    def free(self, k: float) -> float:
        """Way to the free surface along the normal."""
        c = cos(k)
        return inf if c <= 0 else (self.ap - self.r * (1 - c)) / c

    def area(self) -> float:
        """Exact cross-section, by slices along the feed."""

        def slice_(v: float) -> float:
            behind = -sqrt(v * (2 * self.r - v)) if v < self.r else -self.r
            ahead = self.leads(v)
            return ahead - max(ahead - self.f, behind)

        cusp = self.r - sqrt(self.r**2 - (self.f / 2) ** 2)
        corners = sorted({min(cusp, self.ap), min(self.r, self.ap)})
        total = 0.0
        for low, high in zip([0.0, *corners], [*corners, self.ap], strict=True):
            total += quad(slice_, low, high, limit=200, epsrel=1e-10)[0]
        return total


def integrated(ap: float, f: float, r: float, kappa_deg: float, work: Work) -> Forces:
    """Fc, Ff, Fp by local normals: arc by quadrature, flank (parallel sides) by what the area leaves it."""
    one = Profile(r, radians(kappa_deg), ap, f)
    low, high = one.ends()
    reference = 10 + 0.6 * REFERENCE_HONE
    per_mm = work.kc11_N_mm2 / CONSTANTS["edge_kc11_N_mm2", ""] * reference
    most = CONSTANTS["edge_share_max", ""]
    lean = tan(radians(30.2))  # zero rake

    def sums(h: float, width: float, length: float, k: float) -> tuple[float, float, float]:
        printed = work.kc11_N_mm2 * h ** (1 - work.mc) * width
        edge = min(per_mm * length, most * printed)
        force = (printed - edge) * (1 - 0.015 * (0 - 6))
        push = lean * force + edge * (5 + 0.8 * REFERENCE_HONE) / reference
        return force + edge, push * sin(k), push * cos(k)

    def piece(k: float, which: int) -> float:
        h = one.thickness(k)
        return sums(h, r - h / 2, r, k)[which] if h > 0 else 0.0

    def along(what: Callable[[float], float]) -> float:
        corners = (low, min(max(one.bend(), low), high), high)
        return sum(
            quad(what, start, end, limit=400, epsabs=1e-9, epsrel=1e-7)[0]
            for start, end in pairwise(corners)
            if end - start > 1e-9
        )

    Fc, Ff, Fp = (along(lambda k, which=which: piece(k, which)) for which in range(3))
    taken = along(lambda k: one.thickness(k) * (r - one.thickness(k) / 2))
    left = one.area() - taken
    height = r * (1 - cos(one.kappa))
    if ap > height:
        h = f * sin(high)
        c, a, p = sums(h, left / h, (ap - height) / sin(one.kappa), high)
        Fc, Ff, Fp = Fc + c, Ff + a, Fp + p
    return Forces(Fc_N=Fc, Ff_N=Ff, Fp_N=Fp, Ff_local_N=Ff, Fp_local_N=Fp, Ff_chord_N=Ff, Fp_chord_N=Fp)


CUTS = [
    # ap, f, r, kappa: long flank, nose only, past 90°, coarse, round insert, shallow, fine
    (2.0, 0.2, 0.8, 75.0),
    (1.0, 0.2, 0.8, 95.0),
    (2.5, 0.3, 0.4, 45.0),
    (0.2, 0.1, 0.8, 93.0),
    (3.0, 0.8, 1.6, 107.5),
    (1.5, 0.4, 6.0, 90.0),
    (0.1, 0.05, 1.2, 60.0),
    (4.0, 0.05, 0.2, 90.0),
]


@pytest.mark.parametrize(("ap", "f", "r", "kappa"), CUTS)
@pytest.mark.parametrize("mc", [0.0, 0.26])
def test_nose_arc_by_numerical_integration(ap: float, f: float, r: float, kappa: float, mc: float) -> None:
    work = Work(kc11_N_mm2=2500.0, mc=mc, iso513="P")
    edge = tool(RE_mm=r, KAPR_deg=kappa, rake_deg=0.0, LAMS_deg=0.0, hone_um=REFERENCE_HONE)
    ours = cutting_forces(ap, f, edge, work, MODEL)
    second = integrated(ap, f, r, kappa, work)
    assert ours.Fc_N == pytest.approx(second.Fc_N, rel=3e-4)
    assert ours.Ff_local_N == pytest.approx(second.Ff_N, abs=1e-3 * second.Fc_N)
    assert ours.Fp_local_N == pytest.approx(second.Fp_N, abs=1e-3 * second.Fc_N)


# -- limits -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("kappa", [45.0, 75.0, 90.0])
def test_a_vanishing_nose_is_a_straight_edge(kappa: float) -> None:
    sharp = cutting_forces(2.0, 0.2, tool(RE_mm=0.0, KAPR_deg=kappa), STEEL, MODEL)
    last = inf
    for r in (0.1, 0.01, 1e-3, 1e-5):
        near = cutting_forces(2.0, 0.2, tool(RE_mm=r, KAPR_deg=kappa), STEEL, MODEL)
        apart = abs(near.Fc_N - sharp.Fc_N) + abs(near.Fp_N - sharp.Fp_N)
        assert apart < last
        last = apart
    assert last < 1e-3 * sharp.Fc_N


@pytest.mark.parametrize("r", [0.0, 0.8])
def test_nothing_happens_at_ninety_degrees(r: float) -> None:
    below, at, above = (
        cutting_forces(2.0, 0.2, tool(RE_mm=r, KAPR_deg=kappa), STEEL, MODEL)
        for kappa in (90.0 - 1e-6, 90.0, 90.0 + 1e-6)
    )
    for name in ("Fc_N", "Ff_N", "Fp_N"):
        middle = getattr(at, name)
        assert getattr(below, name) == pytest.approx(middle, abs=1e-4)
        assert getattr(above, name) == pytest.approx(middle, abs=1e-4)


def test_a_square_sharp_tool_does_not_push_away() -> None:
    square = tool(RE_mm=0.0, KAPR_deg=90.0, LAMS_deg=0.0)
    forces = cutting_forces(2.0, 0.2, square, STEEL, MODEL)
    assert forces.Fp_N == pytest.approx(0.0, abs=1e-9 * forces.Fc_N)


@pytest.mark.parametrize("r", [0.0, 0.4, 6.0])
def test_a_vanishing_cut_takes_a_vanishing_force(r: float) -> None:
    last = inf
    for ap in (1.0, 0.1, 1e-2, 1e-3, 1e-5):
        Fc = cutting_forces(ap, 0.1, tool(RE_mm=r, KAPR_deg=75.0), STEEL, MODEL).Fc_N
        assert 0.0 < Fc < last
        last = Fc
    assert last < 0.5
    assert chip(1e-5, 0.1, r, 75.0).h_max_mm <= 0.1


# -- properties -------------------------------------------------------------------------------------------

depths = st.floats(0.02, 8.0)
feeds = st.floats(0.03, 0.8)
noses = st.sampled_from([0.0, 0.2, 0.4, 0.8, 1.2, 1.6, 6.0])
angles = st.floats(30.0, 107.5)


@settings(max_examples=200)
@given(depths, st.floats(1.02, 3.0), feeds, noses, angles)
@example(0.4, 1.05, 0.8, 0.4, 90.0)
def test_more_depth_never_less_force(ap: float, more: float, f: float, r: float, kappa: float) -> None:
    edge = tool(RE_mm=r, KAPR_deg=kappa)
    assert (
        cutting_forces(ap * more, f, edge, STEEL, MODEL).Fc_N > cutting_forces(ap, f, edge, STEEL, MODEL).Fc_N
    )


@settings(max_examples=200)
@given(depths, feeds, st.floats(1.02, 3.0), noses, angles)
def test_more_feed_never_less_force(ap: float, f: float, more: float, r: float, kappa: float) -> None:
    # where the feed passes over all that the nose cuts, more of it changes nothing
    edge = tool(RE_mm=r, KAPR_deg=kappa)
    coarse, fine = (cutting_forces(ap, feed, edge, STEEL, MODEL).Fc_N for feed in (f * more, f))
    assert coarse >= fine * (1 - 1e-9)


def test_the_whole_circle_is_where_it_should_be() -> None:
    # the second method itself, by hand: a round insert cut to its middle takes f ap less the cusp
    one = Profile(2.0, pi / 2, 2.0, 0.1)
    # ridge between two arcs one feed apart: f times r, less the strip under the arcs between their crossings
    under = 0.05 * sqrt(4 - 0.0025) + 4 * asin(0.025)
    assert one.area() == pytest.approx(2.0 * 0.1 - (2.0 * 0.1 - under), rel=1e-6)
