"""From what a calliper and a rule say about a holder or a boring bar to the codes that it can have."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import product

from crib.errors import InputError
from crib.trade.designation.layouts import Rows, shank_codes
from crib.trade.designation.letters import MM_PER_INCH, Letters
from crib.trade.designation.measured import ANY, NEAREST, ROUNDING, Deviation
from crib.trade.designation.reading import BarReading, HolderReading
from crib.trade.designation.symbols import Symbol

NEAR_deg = 1.5  # a makers' 91 for 90; the styles of the standard are further apart than twice this
Found = list[tuple[str, tuple[Deviation, ...]]]
"""Symbols, and how they compare."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredHolder:
    """What was seen and measured of a holder or bar; None or empty for what was not.

    Attributes:
        H_mm: shank height.
        B_mm: shank width.
        DCON_mm: shank diameter, of a bar.
        LF_mm: length from the end to the point.
        HAND: R, L or N.
        KAPR_deg: entering angle.
        SC: shape letter of the insert that it takes.
        clearance: its clearance letter.
        size: its size in metric form.
        inch_size: its size in inch form; None where the inch system has none.
        shank_error_mm: what height, width and diameter may be off by.
        overall_error_mm: what the length may be off by.
    """

    H_mm: float | None = None
    B_mm: float | None = None
    DCON_mm: float | None = None
    LF_mm: float | None = None
    HAND: str = ANY
    KAPR_deg: float | None = None
    SC: str = ANY
    clearance: str = ANY
    size: str | None = None
    inch_size: str | None = None
    shank_error_mm: float
    overall_error_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LikelyHolder:
    """A code that the measurements suggest.

    Attributes:
        kind: "holder" or "bar".
        system: "metric" or "inch".
        code: with `?` for what was not measured.
        misfit: as for inserts.
        agrees: every measurement is inside its error.
        deviations: of each measurement.
    """

    kind: str
    system: str
    code: str
    misfit: float
    agrees: bool
    deviations: tuple[Deviation, ...]


def likely_holders(measured: MeasuredHolder, letters: Letters, rows: Rows) -> tuple[LikelyHolder, ...]:
    """Give the codes that agree with what was measured, best first; the nearest few when none does.

    Args:
        measured: in mm and degrees.
        letters: the tables.
        rows: gives the rows of a table by its name (`crib.trade.tables.rows`).

    Raises:
        InputError: no shank was measured.

    Source: ISO 5608 positions 1 to 9, ISO 6261, ANSI B212.5.
    """
    if measured.DCON_mm is not None:
        found = [*_bars(measured, letters, rows)]
    elif measured.H_mm is not None and measured.B_mm is not None:
        found = [*_holders(measured, letters, rows)]
    else:
        raise InputError("the shank is wanted", "give --shank 25x25, or --shank 25 for a round one")
    found.sort(key=lambda one: one.misfit)
    return tuple([one for one in found if one.agrees] or found[:NEAREST])


def _holders(measured: MeasuredHolder, letters: Letters, rows: Rows) -> Iterator[LikelyHolder]:
    """Compare with the holders of both systems."""
    H_mm, B_mm, error = measured.H_mm or 0.0, measured.B_mm or 0.0, measured.shank_error_mm
    metric = shank_codes(rows, "holder")
    heights = _nearest({code: float(code) for code in metric}, H_mm, error, "H_mm")
    widths = _nearest({code: float(code) for code in metric}, B_mm, error, "B_mm")
    for (high, by_H), (wide, by_B), (length, by_LF) in product(
        heights, widths, _lengths(measured, letters.lengths)
    ):
        code = f"{ANY}{_four(measured, letters)} {high}{wide}{length}{measured.size or ANY + ANY}"
        yield _likely("holder", "metric", code, (*by_H, *by_B, *by_LF))
    shanks = [
        (code, (
            Deviation(field="H_mm", measured=H_mm, nominal=high_mm, band=error),
            Deviation(field="B_mm", measured=B_mm, nominal=wide_mm, band=error),
        ))
        for code, (high_mm, wide_mm) in letters.inch_shanks.items()
    ]  # fmt: skip
    if measured.size is None or measured.inch_size is not None:
        for (shank, by_shank), (length, by_LF) in product(shanks, _lengths(measured, letters.inch_lengths)):
            code = f"{ANY}{_four(measured, letters)} {shank}-{measured.inch_size or ANY}{length}"
            yield _likely("holder", "inch", code, (*by_shank, *by_LF))


def _bars(measured: MeasuredHolder, letters: Letters, rows: Rows) -> Iterator[LikelyHolder]:
    """Compare with the boring bars of both systems."""
    DCON_mm, error = measured.DCON_mm or 0.0, measured.shank_error_mm
    four = ANY + _four(measured, letters)
    metric = {code: float(code) for code in shank_codes(rows, "bar")}
    inch = {code: int(code) * MM_PER_INCH / 16.0 for code in shank_codes(rows, "inch bar")}
    for (shank, by_shank), (length, by_LF) in product(
        _nearest(metric, DCON_mm, error, "DCON_mm"), _lengths(measured, letters.lengths)
    ):
        code = f"{ANY}{shank}{length}-{four}{measured.size or ANY + ANY}"
        yield _likely("bar", "metric", code, (*by_shank, *by_LF))
    if measured.size is None or measured.inch_size is not None:
        for (shank, by_shank), (length, by_LF) in product(
            _nearest(inch, DCON_mm, error, "DCON_mm"), _lengths(measured, letters.inch_bar_lengths)
        ):
            code = f"{ANY}{shank}{length}-{four}{measured.inch_size or ANY}"
            yield _likely("bar", "inch", code, (*by_shank, *by_LF))


def _four(measured: MeasuredHolder, letters: Letters) -> str:
    """Give shape, style, clearance and hand; the style only where the angle leaves one letter."""
    styles = styles_of(measured.KAPR_deg, letters)
    return measured.SC + (styles[0] if len(styles) == 1 else ANY) + measured.clearance + measured.HAND


def styles_of(KAPR_deg: float | None, letters: Letters) -> tuple[str, ...]:
    """Give the style letters of an entering angle; none when it was not measured.

    Args:
        KAPR_deg: entering angle.
        letters: the tables.
    """
    if KAPR_deg is None:
        return ()
    return tuple(
        code
        for code, style in letters.styles.items()
        if style.value is not None and abs(style.value - KAPR_deg) <= NEAR_deg
    )


def holder_misfit(
    measured: MeasuredHolder, tool: HolderReading | BarReading, letters: Letters
) -> float | None:
    """Give how far a holder or bar of known code is from what was measured; None when it does not agree.

    Args:
        measured: in mm and degrees.
        tool: its reading.
        letters: the tables.
    """
    clearance = next((c for c, s in letters.metric_clearances.items() if s.value == tool.AN_deg), ANY)
    seen = (
        (measured.HAND, tool.HAND),
        (measured.SC, tool.SC),
        (measured.clearance, clearance),
        (measured.size or ANY, tool.size or ANY),
    )
    if any(ANY not in (wanted, found) and wanted != found for wanted, found in seen):
        return None
    if measured.KAPR_deg is not None and tool.style not in styles_of(measured.KAPR_deg, letters):
        return None
    pairs: list[tuple[str, float | None, float | None, float]] = [
        ("LF_mm", measured.LF_mm, tool.LF_mm, measured.overall_error_mm)
    ]
    if isinstance(tool, BarReading):
        pairs.append(("DCON_mm", measured.DCON_mm, tool.DCON_mm, measured.shank_error_mm))
    else:
        pairs.append(("H_mm", measured.H_mm, tool.H_mm, measured.shank_error_mm))
        pairs.append(("B_mm", measured.B_mm, tool.B_mm, measured.shank_error_mm))
    deviations = [
        Deviation(field=field, measured=value, nominal=nominal, band=band)
        for field, value, nominal, band in pairs
        if value is not None and nominal is not None
    ]
    agrees = all(one.part <= 1.0 + ROUNDING for one in deviations)
    return sum(one.part**2 for one in deviations) if agrees else None


def _nearest(nominals: Mapping[str, float], value: float, error: float, field: str) -> Found:
    """Compare one value with all of a table; keep what agrees, or the nearest two."""
    found: Found = [
        (code, (Deviation(field=field, measured=value, nominal=nominal, band=error),))
        for code, nominal in nominals.items()
    ]
    found.sort(key=lambda one: one[1][0].part)
    agree = [one for one in found if one[1][0].part <= 1.0 + ROUNDING]
    return agree or found[:2]


def _lengths(measured: MeasuredHolder, lengths: Mapping[str, Symbol]) -> Found:
    """Compare the length."""
    if measured.LF_mm is None:
        return [(ANY, ())]
    nominals = {code: symbol.value for code, symbol in lengths.items() if symbol.value is not None}
    return _nearest(nominals, measured.LF_mm, measured.overall_error_mm, "LF_mm")


def _likely(kind: str, system: str, code: str, deviations: Iterable[Deviation]) -> LikelyHolder:
    """Put one code together."""
    kept = tuple(deviations)
    return LikelyHolder(
        kind=kind,
        system=system,
        code=code,
        misfit=sum(one.part**2 for one in kept),
        agrees=all(one.part <= 1.0 + ROUNDING for one in kept),
        deviations=kept,
    )
