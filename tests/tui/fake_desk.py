"""A desk that answers from a few made-up tools, at once or when told to; no store behind it."""

import threading
from collections.abc import Callable, Sequence
from types import SimpleNamespace
from typing import Any

from crib.desk.asking.ask import Found, FoundItem
from crib.desk.asking.codes import decode
from crib.desk.asking.story import ItemStory, LedgerLine
from crib.desk.doings.doing import Done
from crib.desk.why.step import Chain, Column, Maker, Sensitivity, Table


def item(number: int, **changes: Any) -> FoundItem:
    """A left-hand holder on site, but for the changes."""
    facts: dict[str, Any] = {
        "id": number,
        "tag": f"H{number:02d}",
        "kind": "holder",
        "label": "left-hand holder 95°",
        "designation": "MWLNL2525M08",
        "HAND": "L",
        "owner": "Ada Birch",
        "place": "shop / lathe / drawer 2",
        "site": "shop",
        "on_site": True,
        "is_own": False,
        "held_by": None,
        "due_back": None,
        "condition": "good",
        "quantity": 1,
        "edges_left": None,
        "mark": "AB",
        "note": None,
        "takes": "WN..08, IC 12.7 mm (1/2 in)",
    }
    return FoundItem(**{**facts, **changes})


def found(
    items: Sequence[FoundItem], total: int | None = None, elsewhere: Sequence[FoundItem] = (), **words: Any
) -> Found:
    """An answer of the desk."""
    many = len(items) if total is None else total
    facts = {
        "understood": (),
        "verdict": f"Yes, {many} on site." if many else "None here.",
        "detail": "From the records.",
        "next_step": "",
    }
    return Found(items=tuple(items), total=many, elsewhere=tuple(elsewhere), **{**facts, **words})


def brought(*items: FoundItem) -> Done:
    """A doing that brought tools in."""
    named = ", ".join(f"{one.tag} {one.designation}; now in {one.place}" for one in items)
    return Done(act="2abc", verdict=f"Brought in: {named}.", detail="", undo="crib undo 2abc", items=items)


class FakeDesk:
    """Answers every question; `answers` replaces single methods by others.

    Args:
        answers: name of a method -> what to call in its place.
    """

    def __init__(self, **answers: Callable[..., Any]) -> None:
        self.answers = answers
        self.asked: list[tuple[str, Any]] = []

    def _answer(self, name: str, usual: Callable[..., Any], *args: Any, **named: Any) -> Any:
        self.asked.append((name, args[0] if args else None))
        return self.answers.get(name, usual)(*args, **named)

    def find(self, question: str, *, limit: int, offset: int) -> Found:
        return self._answer("find", self._find, question, limit=limit, offset=offset)

    def _find(self, question: str, limit: int, offset: int) -> Found:
        return found([item(1), item(2, owner="Bo Fell", HAND="R")])

    def show(self, tag: str) -> ItemStory:
        line = LedgerLine(
            at="2026-03-01T08:00+00:00",
            who="Ada Birch",
            what="added",
            how_many=1,
            edges=None,
            from_=None,
            to="shop",
            why=None,
        )
        usual = ItemStory(item=item(1), facts=(("entering angle", "95°"),), ledger=(line,))
        return self._answer("show", lambda _tag: usual, tag)

    def decode(self, text: str) -> Any:
        return self._answer("decode", decode, text)

    def fitting(self, text: str) -> Found:
        return self._answer("fitting", lambda _text: found([item(1)]), text)

    def bring_in(self, tags: Sequence[str]) -> Done:
        return self._answer("bring_in", lambda tags: brought(*(item(1, tag=tag) for tag in tags)), tags)

    def pick(self, request: Any) -> Any:
        return self._answer("pick", lambda _request: picked(), request)

    def log_cut(self, answer: Any, place: int, request: Any) -> Any:
        return self._answer("log_cut", logged, answer, place, request)

    def why(self, request: Any, place: int) -> Any:
        return self._answer("why", lambda _request, place: chain(place), request, place)

    def choices(self) -> Any:
        usual = SimpleNamespace(
            materials=("grey iron 200", "tin bronze"),
            machines=("boring mill", "old lathe"),
            setups=("rigid", "weak"),
            gives=("away", "along"),
            sites=("shop",),
            units="inch",
        )
        return self._answer("choices", lambda: usual)

    def machines(self) -> Any:
        return self._answer("machines", lambda: fleet(machine("boring mill", kind="boring mill"), machine()))

    def save_machine(self, name: str, changes: Any, *, new: bool) -> Any:
        changed = tuple(SimpleNamespace(field=field, was="", now=now) for field, now in changes.items())
        usual = SimpleNamespace(machine=machine(), added=new, changed=changed)
        return self._answer("save_machine", lambda _asked, **_named: usual, (name, dict(changes)), new=new)


class Gate:
    """Holds a desk's answer back until it is opened."""

    def __init__(self) -> None:
        self._open = threading.Event()

    def open(self) -> None:
        self._open.set()

    def wait(self) -> None:
        assert self._open.wait(timeout=10), "the test never opened the gate"


# -- pick -------------------------------------------------------------------------------------------------


def tool(tag: str, code: str, hand: str | None = None, edges: int | None = None) -> Any:
    return SimpleNamespace(
        id=1,
        tag=tag,
        designation=code,
        label=code,
        owner="Ada Birch",
        place="shop / drawer 2",
        HAND=hand,
        edges_left=edges,
    )


def candidate(rank: int, **changes: Any) -> Any:
    cut = SimpleNamespace(
        from_mm=406.4,
        to_mm=412.4,
        ap_mm=3.0,
        f_mm=0.15,
        minutes=12.5,
        kind="rough",
        measure="measure here, once it has cooled: the last cut is set by it",
    )
    last = SimpleNamespace(
        from_mm=412.4, to_mm=415.925, ap_mm=1.7625, f_mm=0.1, minutes=20.0, kind="finish", measure=""
    )
    facts = {
        "rank": rank,
        "holder": tool(f"B0{rank}", "S40V-SCLCL12", "L"),
        "insert": tool(f"I0{rank}", "CCGT120404F", None, 7),
        "vc_m_min": 80.0,
        "vc_range_m_min": SimpleNamespace(low=60.0, start=90.0, high=120.0),
        "speed_sources": ("handbook of cutting, table 3",),
        "own_speeds": ("the shop's own: 82 m/min at 0.15 mm/rev, by Ada Birch on 2026-03-02 (no. 4)",),
        "n_rev_min": 63.0,
        "f_mm": 0.15,
        "ap_mm": 1.0,
        "passes": (cut, last),
        "minutes": 32.5,
        "Fc_N": 900.0,
        "Ff_N": 400.0,
        "Fp_N": 100.0 * rank,
        "Pc_kW": 1.2,
        "pressure_N": 100.0 * rank,
        "pressure_ratio": 0.4 * rank,
        "pressure_low": 0.3 * rank,
        "pressure_high": 0.5 * rank,
        "regenerative_stiffness_N_mm": 150.0 * rank,
        "tied_with": (),
        "doubts": ("the breaker's rake is assumed: 5° is a fifth of the push",),
        "stability_margin": 2.4 / rank,
        "stability_margin_low": 1.8 / rank,
        "stability_margin_high": 2.6 / rank,
        "b_lim_mm": 2.4,
        "size": SimpleNamespace(
            said=("the finishing pass leaves about 0.0012 in (0.0008 in to 0.0024 in) on diameter",)
        ),
        "power": SimpleNamespace(said="power at the edge 1.609 hp sharp; the motor brings 4.8 hp: enough"),
        "economy": None,
        "life": SimpleNamespace(said="an edge lasts about 40 min in the cut at 262.5 ft/min"),
        "holds": ("should hold", "may hold", "will probably chatter")[rank - 1],
        "holds_to": "2.4 mm",
        "low_pressure": rank == 1,
        "tie": False,
        "Rz_um": 7.0,
        "reasons": ("sharp edge", "nose smaller than the depth"),
        "drawbacks": ("takes 4 times as long as the quickest that holds",),
        "notes": ("scale: the first cut must reach under the skin",),
        "assumed": ("set-up weak: 4000 N/mm",),
        "sources": ("handbook of cutting, table 3",),
        "cautions": ("clearance eats into the wall below 25 mm",),
    }
    return SimpleNamespace(**{**facts, **changes})


def chain(place: int) -> Chain:
    maker = Maker()
    maker.part("Spindle")
    maker.given("D", "diameter where it cuts", 415.925, "mm")
    maker.given("n", "spindle speed", 63.0, "rev/min")
    maker.step("vc", "cutting speed", "π × D × n / 1000", 82.32, "m/min", source="why_definitions")
    maker.part("Chip of the deepest pass")
    columns = (Column(symbol="h", unit="mm", name="thickness"), Column(symbol="b", unit="mm", name="width"))
    table = Table(columns=columns, rows=((0.12, 0.9), (0.05, 0.1)))
    maker.step("A", "chip section", "Σ(h × b)", 0.113, "mm²", table=table)
    change = Sensitivity(
        what="stiffness of the set-up, ± 50%",
        low="2000 N/mm",
        high="6000 N/mm",
        margin=(1.2, 3.6),
        Fc_N=(900.0, 900.0),
        pressure_N=(100.0, 100.0),
        minutes=(32.5, 32.5),
        most="margin",
        times=3.0,
    )
    steps = tuple(maker.steps)
    return Chain(of=f"S40V-SCLCL12 (B0{place})", rank=place, steps=steps, sensitivities=(change,))


def logged(_answer: Any, place: int, request: Any) -> Any:
    cut = SimpleNamespace(said=f"{request.result}: boring with B0{place} + I0{place}")
    return SimpleNamespace(cut=cut, next_step="The next pick reckons with it.", cautions=())


def picked(**changes: Any) -> Any:
    job = SimpleNamespace(
        op="boring",
        units="inch",
        material="grey iron 200",
        from_mm=406.4,
        to_mm=415.925,
        length_mm=228.6,
        machine="boring mill",
        hand="L",
        site="shop",
        setup="weak",
        ap_mm=1.0,
        f_mm=0.15,
        learned=("on the liner, 2 clean cuts up to K = 300 N/mm: its limit is taken as 420 N/mm",),
        assumed=(),
    )
    facts = {
        "job": job,
        "verdict": "B01 with I01: 63 rev/min, 0.15 mm/rev, 1 mm a side.",
        "detail": "Fairly sure: force model within a fifth; the set-up's figures are assumed.",
        "next_step": "Enter for the passes; l if it still sings.",
        "candidates": (candidate(1), candidate(2), candidate(3)),
        "total": 3,
        "rejected": (
            SimpleNamespace(
                holder=tool("B09", "S50W-PCLNL16", "L"),
                insert=tool("I09", "CNMG160612"),
                why="smallest bore 63 mm is fine, but 25 mm short of reach",
            ),
        ),
        "ladder": (
            SimpleNamespace(change="nose 0.2 instead of 0.4", gain=1.6, how="I12 from drawer 4"),
            SimpleNamespace(change="sharp-ground HSS bit", gain=1.3, how="T03, slower: 25 m/min"),
        ),
        "cautions": ("the wall is thin: it rings at 80 Hz",),
        "defer": "The machine's manual comes first.",
    }
    return SimpleNamespace(**{**facts, **changes})


# -- machines ---------------------------------------------------------------------------------------------


def machine(name: str = "old lathe", **changes: Any) -> Any:
    typed = {
        "kind": "lathe",
        "speeds": "11 15 21 28 39 53 72 98 133 181 246 335 456 620",
        "feeds": "0.06 0.08 0.11 0.15 0.21 0.29 0.4 0.55 0.77 mm/rev",
        "power": "7.5 hp",
        "efficiency": "70 %",
        "swing": "21 in",
        "travel": "",
        "shanks": "3/4 in to 1 1/4 in",
        "bars": "10 mm to 50 mm",
        "facing_head": "no",
        "least_bore": "",
        "head_speed_limit": "",
        "head_tangential_limit": "",
        "note": "gear-head; plate worn",
    }
    facts = {
        "name": name,
        "path": f"shop / bay / {name}",
        "kind": "lathe",
        "speeds_rev_min": (11, 15, 21, 28, 39, 53, 72, 98, 133, 181, 246, 335, 456, 620),
        "speed_low_rev_min": None,
        "speed_high_rev_min": None,
        "feeds_mm": (0.06, 0.08, 0.11),
        "typed": {**typed, "kind": changes.get("kind", "lathe")},
        "fields": (("speeds", f"{typed['speeds']} rev/min"), ("power", "7.5 hp (5.59 kW)")),
        "not_recorded": ("travel",),
    }
    return SimpleNamespace(**{**facts, **changes})


def fleet(*machines: Any, **changes: Any) -> Any:
    facts = {"machines": machines, "places": ("shop", "shop / bay"), "units": "inch"}
    return SimpleNamespace(**{**facts, **changes})
