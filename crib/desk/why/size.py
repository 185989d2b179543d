"""The chain behind what a pass leaves on the size, and what a spring pass makes of it."""

from crib.desk import tables
from crib.desk.picking.bar import bar_in
from crib.desk.picking.cut import Cut
from crib.desk.picking.job import Job
from crib.desk.picking.size_error import SPRING_SOURCE, PassError, SizeErrors, bar_k_N_mm, stiffness_band
from crib.desk.why.step import Maker
from crib.trade.rigidity.deflection import BEAM_SOURCE, COPY_SOURCE, cut_stiffness_N_mm
from crib.trade.rigidity.measuring import CLAMP_SOURCE


def bar_steps(maker: Maker, job: Job, cut: Cut) -> None:
    """The boring bar or shank as a spring: symbol k_b; nothing where none bends."""
    bar = bar_in(job, cut.pair)
    if bar is None or maker.knows("k_b"):
        return
    size = "side of the square shank" if bar.square else "diameter of the bar"
    maker.given("d_b", size, bar.DCON_mm, "mm")
    maker.given("L_b", "length it is out", bar.out_mm, "mm")
    steel = "shank material not on record: reckoned as steel" if bar.material_assumed else bar.material.name
    source = bar.material.source
    maker.given("Eb", "its modulus", bar.material.E_N_mm2, "N/mm²", source=source, assumed=steel)
    section, shears = ("d_b^4 / 12", "12 / (5 / 6)") if bar.square else ("π × d_b^4 / 64", "16 / 0.9")
    formula = f"3 × Eb × {section} / L_b^3 / (1 + 3 × 2.6 / {shears} × (d_b / L_b)^2)"
    name = "stiffness of its tip, by bending and shear"
    maker.step("k_b0", name, formula, bar.k_ideal_N_mm, "N/mm", source=BEAM_SOURCE, assumed="ideal clamp")
    rules = tables.measuring_rules()
    left = f"a real clamp leaves {rules.clamp_low:g} to {rules.clamp_high:g} of it"
    maker.given("x_c", "part of it that a real clamp leaves", rules.clamp, source=CLAMP_SOURCE, assumed=left)
    maker.step("k_b", "stiffness of its tip", "x_c × k_b0", bar.k_N_mm, "N/mm", source=CLAMP_SOURCE)


def size_steps(maker: Maker, job: Job, cut: Cut, size: SizeErrors) -> None:
    """What the passes leave on the size; the forces of each stand in earlier steps.

    Args:
        maker: puts the chain together; it knows the forces, and k or k_s for the set-up.
        job: the cut asked for.
        cut: the candidate's cut.
        size: the answer's figures.
    """
    maker.part("What the push leaves on the size")
    setup = "k_s" if maker.knows("k_s") else "k"
    bends = bar_k_N_mm(job, cut) is not None
    if bends:
        bar_steps(maker, job, cut)
    for number, one in enumerate(size.passes):
        _pass_steps(maker, job, one, "2" if number else "", setup, bends=bends)
    mark, last = "2" if len(size.passes) > 1 else "", size.last
    soft, stiff = stiffness_band(job)
    ends = (last.high_mm, last.low_mm) if last.setup_mm >= 0.0 else (last.low_mm, last.high_mm)
    for end, word, k_N_mm, value in ((1, "softest", soft, ends[0]), (2, "stiffest", stiff, ends[1])):
        name, also = f"{word} that the set-up may be", {f"x_k{end}": k_N_mm / job.setup.k_N_mm}
        maker.step(f"k_{end}", name, f"{setup} × x_k{end}", k_N_mm, "N/mm", source="why_spread", also=also)
        bar = f" + ε_b{mark}" if bends else ""
        maker.step(f"ε_k{end}", "left with that", f"ε_s{mark} × {setup} / k_{end}{bar}", value, "mm")
    if size.spring and size.left_mm is not None:
        _spring_steps(maker, job, cut, size, mark)


def _pass_steps(maker: Maker, job: Job, one: PassError, m: str, setup: str, *, bends: bool) -> None:
    """What one pass leaves: by the set-up, by the bar, together."""
    sides, gives = "2 × " if job.on_diameter else "", job.setup.gives
    what = "finishing pass" if m else "deepest pass"
    if gives.along or gives.down:
        formula = f"u_a × Fp{m} + u_f × Ff{m} + u_v × Fc{m}"
        name = f"push along the way it gives, {what}"
        maker.step(f"F_u{m}", name, formula, one.push_N, "N", source="rig_gives")
        by_setup = f"{sides}u_a × F_u{m} / {setup}"
    else:
        by_setup = f"{sides}Fp{m} / {setup}"
    maker.step(f"ε_s{m}", f"left by the set-up, {what}", by_setup, one.setup_mm, "mm", source=BEAM_SOURCE)
    together = f"ε_s{m}"
    if bends and one.bar_mm is not None:
        name = f"left by the bar, {what}"
        maker.step(f"ε_b{m}", name, f"{sides}Fp{m} / k_b", one.bar_mm, "mm", source=BEAM_SOURCE)
        together += f" + ε_b{m}"
    maker.step(f"ε{m}", f"left on the size, {what}", together, one.error_mm, "mm")


def _spring_steps(maker: Maker, job: Job, cut: Cut, size: SizeErrors, m: str) -> None:
    last, rules = size.last, tables.pick_rules()
    maker.given("ε_w", "more than this asks for a spring pass", rules.spring_mm, "mm", source=SPRING_SOURCE)
    grows = cut_stiffness_N_mm(last.ap_mm, last.f_mm, cut.tool, job.work, tables.force_model())
    said = "found by cutting 2 % deeper and 2 % shallower"
    name = "growth of the passive force with depth"
    maker.given("k_p", name, grows, "N/mm", source=COPY_SOURCE, assumed=said)
    side = " / 2" if job.on_diameter else ""
    formula = f"ε{m} × max(k_p, 0) / (abs(Fp{m}) / (abs(ε{m}){side}) + max(k_p, 0))"
    name = "left after a spring pass: the part that is copied"
    maker.step("ε_l", name, formula, size.left_mm or 0.0, "mm", source=COPY_SOURCE)
