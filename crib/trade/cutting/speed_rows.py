"""Which rows of the speed table answer a question, and what taking them assumes.

How rows are chosen: see crib.trade.cutting.speeds, which makes the answer out of them.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product

from crib.errors import UnknownName
from crib.trade.cutting.materials import Material, name_key

Row = Mapping[str, str]

OPERATIONS = ("turning", "facing", "boring")
RECALLED = "cut_memory"
CUTS = ("rough", "medium", "finish", "heavy rough")
INTERRUPTED = ("interrupted", "heavy interrupted")
OTHER_CUT = {
    "medium": ("rough", "finish"),
    "rough": ("medium",),
    "finish": ("medium",),
    "heavy rough": ("rough",),
}


@dataclass(frozen=True, slots=True)
class Speeds:
    """The tables of speeds, grouped by operation and tool material; made by Speeds.load(tables.rows)."""

    by_tool: Mapping[tuple[str, str], tuple[Row, ...]]
    factors: tuple[Row, ...]
    tools: tuple[Row, ...]
    groups: Mapping[int, Row]

    @classmethod
    def load(cls, rows: Callable[[str], tuple[Row, ...]], names: Sequence[str] = ("speeds",)) -> "Speeds":
        """Group the tables; numbers are read from text only in the rows that answer a question.

        Args:
            rows: reader of one table by name.
            names: the tables of speeds: "speeds" has turning, facing and boring, "speeds_other" the rest.
        """
        by_tool: dict[tuple[str, str], list[Row]] = {}
        for row in (row for name in names for row in rows(name)):
            by_tool.setdefault((row["operation"], row["tool"]), []).append(row)
        return cls(
            {key: tuple(found) for key, found in by_tool.items()},
            rows("speed_factors"),
            rows("tool_materials"),
            {int(row["vdi3323"]): row for row in rows("vdi_groups")},
        )

    def conditions(self) -> tuple[str, ...]:
        """Give the conditions that may be asked."""
        return tuple(dict.fromkeys(row["condition"] for row in self.factors if row["condition"] != "boring"))

    def of(self, operation: str, tool: str) -> tuple[Row, ...]:
        """Give the rows of one operation and tool material."""
        return self.by_tool.get((operation, tool), ())

    def instead(self, tool: str) -> str:
        """Give the slower tool material of the same family whose data are safe; may be empty."""
        return next((row["instead"] for row in self.tools if row["name"] == tool), "")


@dataclass(frozen=True, slots=True)
class Choice:
    """Rows that answer, and what had to be assumed to take them."""

    rows: tuple[Row, ...]
    tool: str
    borrowed: bool
    assumed: tuple[str, ...]


def find_tool_material(name: str, speeds: Speeds) -> str:
    """Find a tool material by any of its names: "HSS", "brazed", "M42", "coated", "HC".

    Raises:
        UnknownName: no tool material goes by that name.
    """
    wanted = name_key(name)
    for row in speeds.tools:
        if wanted in (name_key(row["name"]), *(name_key(word) for word in row["names"].split(";"))):
            return row["name"]
    from difflib import get_close_matches  # only a mistyped name needs it

    known = [word.strip() for row in speeds.tools for word in (row["name"], *row["names"].split(";")) if word]
    close = get_close_matches(name.strip(), known, n=3, cutoff=0.5)
    raise UnknownName("tool material", name, close or [row["name"] for row in speeds.tools])


def choose_rows(
    material: Material, tool: str, operation: str, cut: str, run: str, speeds: Speeds, hb: float | None
) -> tuple[Choice, bool]:
    """Take the rows of the operation itself, or else those of turning."""
    ways = ((operation, False), ("turning", True))
    choice = first_rows(material, tool, [(*way, cut) for way in ways], run, speeds, hb)
    if choice is None:
        raise nothing_for(material, tool, f"{cut} cut", speeds)
    found, step = choice
    if step == 0:
        return found, False
    if operation == "turning":
        return found, False
    from_turning = f"no {operation} rows for this material and tool: turning data used"
    return Choice(
        found.rows, found.tool, found.borrowed, (from_turning, *found.assumed)
    ), operation == "boring"


def nothing_for(material: Material, tool: str, what: str, speeds: Speeds) -> UnknownName:
    """Make the error that says what exists instead."""
    return UnknownName(
        "speed data",
        f"{material.label}, {tool}, {what}",
        list(_tools_with_data(material, speeds)),
        hint=_what_exists(material, tool, speeds),
    )


def first_rows(
    material: Material,
    tool: str,
    ways: Sequence[tuple[str, bool, str]],
    run: str,
    speeds: Speeds,
    hb: float | None,
) -> tuple[Choice, int] | None:
    """Give the best rows over several ways to answer, and the number of the way; None where there are none.

    With a measured hardness, rows printed for it come before rows of the material in another hardness.

    Args:
        material: what is cut.
        tool: tool material.
        ways: operation, whether neighbouring groups may lend, and kind of cut; best first.
        run: "continuous" or an interrupted one.
        speeds: the grouped tables.
        hb: measured hardness, or None.
    """
    for strict in (True, False) if hb is not None else (False,):
        for number, (operation, neighbours, cut) in enumerate(ways):
            steps = _steps(
                material, tool, operation, cut, run, speeds, hb, neighbours=neighbours, strict=strict
            )
            choice = next(steps, None)
            if choice is not None:
                return choice, number
    return None


def _steps(
    material: Material,
    tool: str,
    operation: str,
    cut: str,
    run: str,
    speeds: Speeds,
    hb: float | None,
    *,
    neighbours: bool,
    strict: bool,
) -> Iterator[Choice]:
    """Go through the ways to answer, best first."""
    slower = speeds.instead(tool)
    tools = [(tool, "")]
    if slower:
        tools.append((slower, f"no rows for {tool} here: the slower {slower} data used"))
    nearness = [_own(material)]
    if neighbours:
        nearness.append(_neighbours(material, speeds))
    for levels in nearness:
        for cuts in ((cut,), OTHER_CUT[cut]):
            said_cut = (
                "" if cuts == (cut,) else f"no rows for a {cut} cut: rows for {' and '.join(cuts)} used"
            )
            for level, (name, said_tool) in product(levels, tools):
                rows = [row for row in speeds.of(operation, name) if level.test(row)]
                if hb is not None:  # the nearest band among the rows of this cut, not among all
                    rows = [row for row in rows if row["cut"] in (*cuts, "")]
                rows, said_hard, too_hard = _of_hardness(rows, material, hb)
                picked = rows_of_cut(rows, cuts, run) if not (strict and said_hard) else ()
                if picked:
                    said = (level.said, said_tool, said_cut, said_hard, _recalled(picked))
                    borrowed = nearness.index(levels) > 0 or too_hard
                    yield Choice(picked, name, borrowed, tuple(word for word in said if word))


@dataclass(frozen=True, slots=True)
class _Level:
    """One degree of nearness: a material id or a VDI 3323 group, and what taking it assumes."""

    material_id: str
    group: str
    said: str

    def test(self, row: Row) -> bool:
        if self.material_id:
            return self.material_id in row["materials"].split()
        return row["vdi3323"] == self.group


def _own(material: Material) -> list[_Level]:
    """Give the rows that name the material, then those of its group."""
    levels = [_Level(material.id, "", "")]
    if material.vdi3323 is not None:
        said = f"no row names this material: rows of its VDI 3323 group {material.vdi3323} used"
        levels.append(_Level("", str(material.vdi3323), said))
    return levels


def _neighbours(material: Material, speeds: Speeds) -> list[_Level]:
    """Give the neighbouring groups, nearest first."""
    if material.vdi3323 is None:
        return []
    return [
        _Level(
            "",
            other,
            f"group {material.vdi3323} has no row for this: nearest group {other} "
            f"({speeds.groups[int(other)]['name']}) used, from its low end",
        )
        for other in speeds.groups[material.vdi3323]["instead"].split()
    ]


def _of_hardness(rows: list[Row], material: Material, hb: float | None) -> tuple[list[Row], str, bool]:
    """Keep the rows whose hardness band meets the material's, or the nearest band.

    Returns:
        The rows; what to know where the hardness is outside every band; whether it was measured above them.
    """
    low, high = (hb, hb) if hb is not None else (material.hb_min, material.hb_max)
    if low is None or high is None or not rows:
        return rows, "", False
    if hb is not None:  # a measured hardness: rows that print none can't be held against it, if others can
        rows = [row for row in rows if row["hb_min"] or row["hb_max"]] or rows
        if not (rows[0]["hb_min"] or rows[0]["hb_max"]):
            return rows, f"the speed rows here print no hardness: {hb:g} HB changes no speed", False
    gaps = [(_gap(row, low, high), row) for row in rows]
    fitting = [row for gap, row in gaps if gap <= 0]
    if fitting:
        return fitting, "", False
    nearest = min(gap for gap, _ in gaps)
    kept = [row for gap, row in gaps if gap == nearest]
    band = f"{kept[0]['hb_min'] or '…'} to {kept[0]['hb_max'] or '…'} HB"
    asked = f"{low:g} HB" if low == high else f"{low:g} to {high:g} HB"
    too_hard = hb is not None and hb > float(kept[0]["hb_max"] or 9999.0)
    beyond = "; harder than any row, so stay below even the low end at first" if too_hard else ""
    return kept, f"no row for {asked}: the nearest band, {band}, used{beyond}", too_hard


def _gap(row: Row, low: float, high: float) -> float:
    """How far apart two hardness bands are in HB; 0 where they share more than an end or none is printed."""
    bottom = float(row["hb_min"] or 0.0)
    top = float(row["hb_max"] or 9999.0)
    if low == high:
        return max(bottom - low, low - top, 0.0)
    if low < top and bottom < high:
        return 0.0
    return max(bottom - high, low - top, 0.0) + 1.0


def rows_of_cut(rows: Sequence[Row], cuts: Sequence[str], run: str) -> tuple[Row, ...]:
    """Keep the rows of the asked cut and run; read ones before recalled ones; undivided rows last."""
    for wanted_run in dict.fromkeys((run, "continuous")):
        for wanted in (cuts, ("",)):
            for standing in ("main", "spare"):
                picked = tuple(
                    row
                    for row in rows
                    if row["standing"] == standing and row["cut"] in wanted and row["run"] == wanted_run
                )
                if picked:
                    return picked
    return ()


def _recalled(rows: Iterable[Row]) -> str:
    spare = [row["source"] for row in rows if row["standing"] == "spare"]
    if not spare:
        return ""
    recalled = all(source == RECALLED for source in spare)
    return "only recalled shop figures exist here" if recalled else "only doubtful figures exist here"


def span(rows: Iterable[Row], low: str, high: str) -> tuple[float, float]:
    """Give the lowest of one column and the highest of another, over the rows that print them."""
    printed = [row for row in rows if row[low] and row[high]]
    return min(float(row[low]) for row in printed), max(float(row[high]) for row in printed)


def _tools_with_data(material: Material, speeds: Speeds) -> dict[str, list[str]]:
    """Give the tool materials with rows for the material or its group, and the cuts they are for."""
    group = str(material.vdi3323)
    found: dict[str, list[str]] = {}
    for (operation, tool), rows in speeds.by_tool.items():
        for row in rows:
            ours = material.id in row["materials"].split() or row["vdi3323"] == group
            cuts = found.setdefault(tool, []) if ours and operation == "turning" else []
            if ours and row["standing"] != "check" and (row["cut"] or "any cut") not in cuts:
                cuts.append(row["cut"] or "any cut")
    return {tool: cuts for tool, cuts in found.items() if cuts}


def _what_exists(material: Material, tool: str, speeds: Speeds) -> str:
    tools = _tools_with_data(material, speeds)
    if tools:
        listed = ", ".join(f"{name} ({', '.join(cuts)})" for name, cuts in tools.items())
        return f"for this material there are speeds with {listed}"
    return (
        f"no source on record has speeds for this material; with {tool} try a material like it, and start low"
    )
