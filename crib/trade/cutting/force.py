"""Cutting force, feed force and passive force of a round-nosed tool, and how they grow with the chip.

Each piece of the engaged edge carries the specific force of Kienzle for its own thickness. A part of it,
proportional to edge length and growing with the hone, is edge force; the rest is chip force, corrected for
rake. The push square to the edge follows from the friction on the rake face. Summed as vectors these give
Fc along the cutting speed, Ff against the feed and Fp, which pushes tool and work apart.

The direction of the push is not the same in every theory: along the local normals, or along the normal of
the whole edge's chord. Both are kept; the figure given lies between.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from math import cos, radians, sin, tan
from typing import NamedTuple

from crib.errors import InputError, TableError
from crib.trade.cutting.edge import EngagedEdge, Piece, engage
from crib.trade.cutting.tool import CuttingTool


@dataclass(frozen=True, slots=True, kw_only=True)
class Friction:
    """What one ISO 513 group adds to the model.

    Attributes:
        rake_base_deg: rake at which the printed specific force holds.
        friction_deg: friction angle at zero rake.
    """

    rake_base_deg: float
    friction_deg: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ForceModel:
    """The constants of the force model, from the table "force_model".

    Compared and hashed by identity, so that sums over an edge can be kept; load it once.
    Attributes are the rows of the table of the same name; `groups` is keyed by ISO 513 letter.
    """

    groups: Mapping[str, Friction]
    rake_per_deg: float
    friction_per_rake: float
    push_low_deg: float
    push_high_deg: float
    edge_cut_base_N_mm: float
    edge_cut_per_hone: float
    edge_thrust_base_N_mm: float
    edge_thrust_per_hone: float
    edge_kc11_N_mm2: float
    edge_hone_um: float
    edge_share_max: float
    land_rake_low_deg: float
    chord_share: float
    band_hone_low: float
    band_hone_high: float
    band_rake_deg: float
    scatter: float

    @classmethod
    def load(cls, rows: Iterable[Mapping[str, str]]) -> "ForceModel":
        """Build the model from the rows of the table "force_model".

        Args:
            rows: the table's rows.

        Raises:
            TableError: a constant is missing.
        """
        plain: dict[str, float] = {}
        by_group: dict[str, dict[str, float]] = {}
        for row in rows:
            home = by_group.setdefault(row["group"], {}) if row["group"] else plain
            home[row["name"]] = float(row["value"])
        try:
            return cls(groups={letter: Friction(**values) for letter, values in by_group.items()}, **plain)
        except TypeError as error:
            raise TableError(f"table force_model: {error}") from error

    def group(self, iso513: str) -> Friction:
        """Give the constants of one ISO 513 group letter (P M K N S H).

        Raises:
            InputError: no such group.
        """
        try:
            return self.groups[iso513[:1].upper()]
        except KeyError:
            raise InputError(f"no ISO 513 group {iso513!r}", "one of " + " ".join(self.groups)) from None


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """What is cut, as the mechanics sees it.

    Attributes:
        kc11_N_mm2: specific cutting force at h = b = 1 mm.
        mc: Kienzle's exponent: kc = kc11 / h**mc.
        iso513: ISO 513 group letter (P M K N S H).
    """

    kc11_N_mm2: float
    mc: float
    iso513: str


class Forces(NamedTuple):
    """The force on the tool.

    Attributes:
        Fc_N: along the cutting speed (pushes the tool down on a lathe).
        Ff_N: against the feed.
        Fp_N: square to both, pushing tool and work apart; below 0 the tool is drawn in.
        Ff_local_N, Fp_local_N: the same with the push along local normals.
        Ff_chord_N, Fp_chord_N: the same with the push along the normal of the chord.
    """

    Fc_N: float
    Ff_N: float
    Fp_N: float
    Ff_local_N: float
    Fp_local_N: float
    Ff_chord_N: float
    Fp_chord_N: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceForce:
    """One piece of the engaged edge, and what it carries.

    Attributes:
        kappa_rad: local entering angle.
        h_mm: chip thickness.
        b_mm: chip width.
        l_mm: length of edge.
        rake_deg: rake that the chip meets there.
        edge_N: edge force inside the printed specific force.
        chip_N: chip force, corrected for rake.
        push: push square to the edge for each newton of chip force.
        side: push along the edge, likewise.
        slope_N_mm: how fast the chip force grows with thickness.
    """

    kappa_rad: float
    h_mm: float
    b_mm: float
    l_mm: float
    rake_deg: float
    edge_N: float
    chip_N: float
    push: float
    side: float
    slope_N_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Parts:
    """What the forces of one cut are summed up from.

    Attributes:
        shape: the engaged edge.
        pieces: piece by piece, in the order of the edge.
        edge_N_mm: edge force inside the printed specific force, per mm of edge.
        edge_cut: this tool's edge force along the cutting speed over that.
        edge_push: the same square to the edge.
        chip_N: chip force of all pieces.
        edge_N: edge force of all pieces as printed.
        push_N: push square to the edge of all pieces, edge force in it.
        along_f_N, along_p_N: push along the edge, resolved; it takes from Ff and adds to Fp.
        forces: the forces that come of it.
    """

    shape: EngagedEdge
    pieces: tuple[PieceForce, ...]
    edge_N_mm: float
    edge_cut: float
    edge_push: float
    chip_N: float
    edge_N: float
    push_N: float
    along_f_N: float
    along_p_N: float
    forces: Forces


class Slopes(NamedTuple):
    """How fast the forces grow when every piece of chip gets thicker, in N per mm, summed over the edge.

    With n = (sin kappa, cos kappa) along (feed, away): `pp`, `pf`, `ff` are the sums of the slope of the push
    along n times cos², sin cos and sin² of kappa; `cp`, `cf` the sums of the slope of the cutting force
    times cos and sin.
    """

    pp: float
    pf: float
    ff: float
    cp: float
    cf: float


# of one piece: thickness, sine and cosine of kappa, edge force, chip force, slope of the chip force
_Carried = tuple[float, float, float, float, float, float]


class _Load(NamedTuple):
    """Everything of one cut that does not hang on rake, inclination and edge: sums over the pieces.

    Attributes:
        chord_angle_rad: entering angle of the engaged edge's chord.
        chip: sums of the chip force times 1, sin and cos.
        edge: sums of the edge force in the printed specific force, likewise.
        slope: sums of the slope times cos², sin cos, sin², cos and sin.
    """

    chord_angle_rad: float
    chip: tuple[float, float, float]
    edge: tuple[float, float, float]
    slope: tuple[float, float, float, float, float]


class _Faced(NamedTuple):
    """What a rake face makes of a load: the chip force, its push along the normals and along the edge.

    Attributes:
        chip: chip force of all pieces.
        push: sums of the push square to the edge times 1, sin and cos; edge force not in it.
        aside: sums of the push along the edge times sin and cos.
        slopes: how fast push and cutting force grow.
    """

    chip: float
    push: tuple[float, float, float]
    aside: tuple[float, float]
    slopes: Slopes


def cutting_forces(
    ap_mm: float,
    f_mm: float,
    tool: CuttingTool,
    work: Work,
    model: ForceModel,
) -> Forces:
    """Give the three forces of one cut.

    Args:
        ap_mm: depth of cut.
        f_mm: feed per revolution.
        tool: what cuts.
        work: what is cut.
        model: the model's constants.

    Raises:
        InputError: a depth, feed, nose, entering angle or group that can't be.

    Source: Kienzle 1952 for the specific force; edge force in the linear-edge form and friction on the rake
    face as in Altintas, Manufacturing Automation, 2nd ed. 2012; constants: table "force_model".
    """
    return forces_and_slopes(ap_mm, f_mm, tool, work, model)[0]


def forces_and_slopes(
    ap_mm: float, f_mm: float, tool: CuttingTool, work: Work, model: ForceModel
) -> tuple[Forces, Slopes]:
    """Give the forces of one cut and how fast they grow with the chip, in one sweep over the edge.

    Args:
        ap_mm: depth of cut.
        f_mm: feed per revolution.
        tool: what cuts.
        work: what is cut.
        model: the model's constants.

    Raises:
        InputError: as for `cutting_forces`.

    Source: as for `cutting_forces` and `force_slopes`.
    """
    cut = (ap_mm, f_mm, tool.RE_mm, tool.KAPR_deg, work.kc11_N_mm2, work.mc, model)
    group = model.group(work.iso513)
    if tool.land_mm > 0.0:
        load, _, pieces = _sweep(*cut)
        faced = _faced_with_land(pieces, tool, group, model)
    else:
        load = _load(*cut)
        faced = _faced(load, tool, group, model)
    return _summed(load, faced, *_edge_factors(tool, model), model), faced.slopes


def force_parts(ap_mm: float, f_mm: float, tool: CuttingTool, work: Work, model: ForceModel) -> Parts:
    """Give the forces of one cut with all that they are summed up from, to be checked by hand.

    Args:
        ap_mm: depth of cut.
        f_mm: feed per revolution.
        tool: what cuts.
        work: what is cut.
        model: the model's constants.

    Raises:
        InputError: as for `cutting_forces`.
    """
    load, shape, pieces = _sweep(ap_mm, f_mm, tool.RE_mm, tool.KAPR_deg, work.kc11_N_mm2, work.mc, model)
    group = model.group(work.iso513)
    faced = (
        _faced_with_land(pieces, tool, group, model)
        if tool.land_mm > 0.0
        else _faced(load, tool, group, model)
    )
    edge_cut, edge_push = _edge_factors(tool, model)
    return Parts(
        shape=shape,
        pieces=tuple(
            _piece_force(piece, carried, tool, group, model)
            for piece, carried in zip(shape.pieces, pieces, strict=True)
        ),
        edge_N_mm=_edge_in_print(work.kc11_N_mm2, model),
        edge_cut=edge_cut,
        edge_push=edge_push,
        chip_N=faced.chip,
        edge_N=load.edge[0],
        push_N=faced.push[0] + edge_push * load.edge[0],
        along_f_N=faced.aside[1],
        along_p_N=faced.aside[0],
        forces=_summed(load, faced, edge_cut, edge_push, model),
    )


def force_in_one(area_mm2: float, h_mm: float, work: Work) -> float:
    """Give the cutting force in N of a chip taken as one piece, to check the sum of many by hand.

    Rake, edge rounding and the chip's uneven thickness are left out.

    Args:
        area_mm2: chip section.
        h_mm: its mean thickness.
        work: what is cut.

    Source: Kienzle 1952, Fc = kc11 h**-mc A.
    """
    return work.kc11_N_mm2 * float(h_mm**-work.mc) * area_mm2


def _piece_force(
    piece: Piece, carried: _Carried, tool: CuttingTool, group: Friction, model: ForceModel
) -> PieceForce:
    """Say what one piece carries, with the rake that its chip meets."""
    rake = _rake_on_land(piece.h_mm, tool, model) if tool.land_mm > 0.0 else tool.rake_deg
    keep, lean, side = _face(rake, tool.LAMS_deg, group, model)
    _, _, _, edge, chip, slope = carried
    return PieceForce(
        kappa_rad=piece.kappa_rad,
        h_mm=piece.h_mm,
        b_mm=piece.db_mm,
        l_mm=piece.dl_mm,
        rake_deg=rake,
        edge_N=edge,
        chip_N=keep * chip,
        push=lean,
        side=side,
        slope_N_mm=keep * slope,
    )


def _edge_in_print(kc11_N_mm2: float, model: ForceModel) -> float:
    """Give the edge force inside the printed specific force, in N per mm of edge."""
    usual = model.edge_cut_base_N_mm + model.edge_cut_per_hone * model.edge_hone_um
    return kc11_N_mm2 / model.edge_kc11_N_mm2 * usual


def _edge_factors(tool: CuttingTool, model: ForceModel) -> tuple[float, float]:
    """Give a tool's edge force over the printed one: along the cutting speed, and square to the edge."""
    reference = model.edge_cut_base_N_mm + model.edge_cut_per_hone * model.edge_hone_um
    edge_cut = (model.edge_cut_base_N_mm + model.edge_cut_per_hone * tool.hone_um) / reference
    return edge_cut, (model.edge_thrust_base_N_mm + model.edge_thrust_per_hone * tool.hone_um) / reference


def _summed(load: _Load, faced: _Faced, edge_cut: float, edge_push: float, model: ForceModel) -> Forces:
    """Add chip force and edge force up to the forces on the tool."""
    (e, es, ec), (along_p, along_f) = load.edge, faced.aside
    push, push_s, push_c = faced.push
    local_f = push_s + edge_push * es - along_f
    local_p = push_c + edge_push * ec + along_p
    whole, chord, part = push + edge_push * e, load.chord_angle_rad, model.chord_share
    chord_f = whole * sin(chord) - along_f
    chord_p = whole * cos(chord) + along_p
    return Forces(
        Fc_N=faced.chip + edge_cut * e,
        Ff_N=local_f + part * (chord_f - local_f),
        Fp_N=local_p + part * (chord_p - local_p),
        Ff_local_N=local_f,
        Fp_local_N=local_p,
        Ff_chord_N=chord_f,
        Fp_chord_N=chord_p,
    )


def force_slopes(
    ap_mm: float,
    f_mm: float,
    tool: CuttingTool,
    work: Work,
    model: ForceModel,
) -> Slopes:
    """Give how fast push and cutting force grow with chip thickness, summed over the engaged edge.

    Edge force does not grow with the chip, and the force along the edge that comes from inclination is left
    out: theories differ on it several times over.

    Args:
        ap_mm: depth of cut.
        f_mm: feed per revolution.
        tool: what cuts.
        work: what is cut.
        model: the model's constants.

    Raises:
        InputError: as for `cutting_forces`.

    Source: derivative of Kienzle's law, (1 - mc) kc11 h**-mc per mm of chip width.
    """
    return forces_and_slopes(ap_mm, f_mm, tool, work, model)[1]


@lru_cache(maxsize=1024)
def _load(
    ap_mm: float, f_mm: float, RE_mm: float, KAPR_deg: float, kc11_N_mm2: float, mc: float, model: ForceModel
) -> _Load:
    """Give the sums of a sweep; candidates with the same nose share them."""
    return _sweep(ap_mm, f_mm, RE_mm, KAPR_deg, kc11_N_mm2, mc, model)[0]


def _sweep(
    ap_mm: float, f_mm: float, RE_mm: float, KAPR_deg: float, kc11_N_mm2: float, mc: float, model: ForceModel
) -> tuple[_Load, EngagedEdge, list[_Carried]]:
    """Sum what hangs only on the cut and the work; give the edge and what each piece carries as well."""
    if not (kc11_N_mm2 > 0.0 and 0.0 <= mc < 1.0):
        raise InputError(
            f"specific force {kc11_N_mm2:g} N/mm², exponent {mc:g} can't be",
            "a force above 0 and an exponent from 0 to below 1",
        )
    shape = engage(ap_mm, f_mm, RE_mm, KAPR_deg)
    edge_N_mm = _edge_in_print(kc11_N_mm2, model)
    pieces: list[_Carried] = []
    c0 = cs = cc = e0 = es = ec = pp = pf = ff = cp = cf = 0.0
    for _, s, c, h, db, dl in shape.nodes:
        per_h = kc11_N_mm2 * h**-mc * db
        edge, most = edge_N_mm * dl, model.edge_share_max * per_h * h
        if edge > most:
            edge = most
        chip, slope = per_h * h - edge, (1.0 - mc) * per_h
        pieces.append((h, s, c, edge, chip, slope))
        c0, cs, cc = c0 + chip, cs + chip * s, cc + chip * c
        e0, es, ec = e0 + edge, es + edge * s, ec + edge * c
        along, away = slope * s, slope * c
        cp, cf = cp + away, cf + along
        pp, pf, ff = pp + away * c, pf + away * s, ff + along * s
    load = _Load(
        chord_angle_rad=shape.chord_angle_rad,
        chip=(c0, cs, cc),
        edge=(e0, es, ec),
        slope=(pp, pf, ff, cp, cf),
    )
    return load, shape, pieces


def _faced(load: _Load, tool: CuttingTool, group: Friction, model: ForceModel) -> _Faced:
    """Give what the rake face makes of a load, from its sums."""
    keep, lean, side = _face(tool.rake_deg, tool.LAMS_deg, group, model)
    (c, cs, cc), (pp, pf, ff, cp, cf) = load.chip, load.slope
    push, aside = keep * lean, keep * side
    return _Faced(
        chip=keep * c,
        push=(push * c, push * cs, push * cc),
        aside=(aside * cs, aside * cc),
        slopes=Slopes(pp=push * pp, pf=push * pf, ff=push * ff, cp=keep * cp, cf=keep * cf),
    )


def _faced_with_land(pieces: list[_Carried], tool: CuttingTool, group: Friction, model: ForceModel) -> _Faced:
    """Give the same piece by piece where the rake differs: a thin chip meets more of the land."""
    chip = p0 = ps = pc = side_s = side_c = pp = pf = ff = cp = cf = 0.0
    for h, s, c, _, force, slope in pieces:
        keep, lean, side = _face(_rake_on_land(h, tool, model), tool.LAMS_deg, group, model)
        force, slope = keep * force, keep * slope
        push, grows = lean * force, lean * slope
        chip += force
        p0, ps, pc = p0 + push, ps + push * s, pc + push * c
        side_s, side_c = side_s + side * force * s, side_c + side * force * c
        pp, pf, ff = pp + grows * c * c, pf + grows * s * c, ff + grows * s * s
        cp, cf = cp + slope * c, cf + slope * s
    return _Faced(
        chip=chip,
        push=(p0, ps, pc),
        aside=(side_s, side_c),
        slopes=Slopes(pp=pp, pf=pf, ff=ff, cp=cp, cf=cf),
    )


def _face(rake_deg: float, LAMS_deg: float, group: Friction, model: ForceModel) -> tuple[float, float, float]:
    """Give what a rake face does to the chip force.

    Returns:
        Factor on the chip force, push square to the edge per unit of it, push along the edge per unit.
    """
    keep = 1.0 - model.rake_per_deg * (rake_deg - group.rake_base_deg)
    friction = group.friction_deg + model.friction_per_rake * rake_deg
    lean = radians(min(max(friction - rake_deg, model.push_low_deg), model.push_high_deg))
    side = 0.0
    if LAMS_deg:
        side = tan(radians(-LAMS_deg)) * (1.0 - sin(radians(friction)) / cos(lean))
    return keep, tan(lean), side


def _rake_on_land(h_mm: float, tool: CuttingTool, model: ForceModel) -> float:
    """Give the rake that a chip of this thickness meets: partly land, partly face."""
    off = 1.0 - min(1.0, tool.land_mm / (2.0 * h_mm))
    on_land = 1.0 - off * off
    return on_land * max(tool.land_rake_deg, model.land_rake_low_deg) + (1.0 - on_land) * tool.rake_deg
