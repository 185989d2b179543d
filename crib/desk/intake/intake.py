"""Taking lists in: all of them or nothing, with a report per row, dry if asked."""

import os
import tempfile
from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from datetime import UTC, datetime
from difflib import get_close_matches
from functools import partial
from typing import Any

from sqlalchemy import select

from crib.desk import tables
from crib.desk.asking.codes import readable
from crib.desk.intake import relist
from crib.desk.intake.cells import content_of
from crib.desk.intake.lists import FORMS, Form, ListRow, Problem, read_list
from crib.desk.intake.mapping import Mapped, Translator
from crib.desk.intake.new_item import RowError, edges_of, new_item, reading_of
from crib.desk.intake.papers import TAKERS
from crib.desk.intake.tags import next_tag
from crib.desk.picking.job import operation_of
from crib.desk.typed import sized
from crib.errors import BadList, CribError, StoreMissing
from crib.store import ledger, models, words
from crib.store.places import add_place
from crib.store.search import normalise
from crib.store.upgrade import open_store
from crib.store.writing import WriteSession, writing
from crib.trade.cutting.materials import find_material
from crib.trade.cutting.spindle import cutting_speed
from crib.trade.designation.reading import Reading
from crib.trade.rigidity.directions import read_gives
from crib.units import Kind
from crib.units.counts import many

UPDATED = ("people", "places", "items")  # what a list handed in again may bring up to date
ON_RECORD = "is on record already"


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenRow:
    """One row that was taken, or would be: where it stood, what it became, and whether that is new.

    Attributes:
        how: "new", "same" or "changed".
    """

    file: str
    line: int
    what: str
    how: str = "new"


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """What an intake did.

    Attributes:
        store: the store's address as it may be shown.
        dry_run: nothing was written.
        counts: rows by sort of list.
        rows: every row with what it became.
        mapped: a user's own headings, and what they were taken for.
    """

    store: str
    dry_run: bool
    counts: Mapping[str, int]
    rows: tuple[TakenRow, ...]
    mapped: tuple[Mapped, ...] = ()

    @property
    def told(self) -> str:
        """Say how many of what: "1 person, 12 items"."""
        said = (
            f"{count} {name if count != 1 else 'person' if name == 'people' else name.removesuffix('s')}"
            for name, count in self.counts.items()
        )
        return ", ".join(said) or "nothing: the lists are empty"


def intake(
    address: str,
    files: Sequence[str],
    *,
    dry_run: bool = False,
    update: bool = False,
    headings: Mapping[str, str] | None = None,
    owner: str = "",
    place: str = "",
    system: str = "metric",
    at: datetime | None = None,
) -> Taken:
    """Take lists from files into the store, which is made if it is not there.

    Args:
        address: the store.
        files: paths of CSV or XLSX files, in any order.
        dry_run: say what would happen; write nothing.
        update: bring people, places and tools that are on record to what the lists say.
        headings: a user's own headings of a list of tools -> our columns, as `mapping` reads them.
        owner: whose the tools of a list are that doesn't say.
        place: where they lie.
        system: "metric" or "inch": what bare numbers in the lists mean.
        at: when it is taken to have happened; now if not told.

    Raises:
        BadList: a file or row can't be taken; then none was.
        StoreError: the store can't be used.
    """
    translator = Translator(headings or {})
    usual = {"owner": owner, "place": place}
    sheets = [_read_file(file, system, translator, usual) for file in files]
    taking = partial(
        _take_all, sheets=sheets, at=at or datetime.now(UTC), update=update, mapped=tuple(translator.mapped)
    )
    if not dry_run:
        return taking(address, keep=True)
    try:
        open_store(address)
        return taking(address, keep=False)
    except StoreMissing:
        with tempfile.TemporaryDirectory(prefix="crib-dry-") as folder:
            trial = os.path.join(folder, "trial.db")
            taken = taking(trial, keep=False)
        return replace(taken, store=address)


Sheet = tuple[Form, list[ListRow], list[Problem]]


def _read_file(file: str, system: str, translate: Translator, usual: Mapping[str, str]) -> Sheet:
    name, folder = os.path.basename(file), os.path.dirname(file)
    return read_list(name, content_of(file), system, folder=folder, translate=translate, usual=usual)


def _take_all(
    address: str,
    sheets: Sequence[Sheet],
    *,
    keep: bool,
    at: datetime,
    update: bool,
    mapped: tuple[Mapped, ...],
) -> Taken:
    opened = open_store(address, create=True)
    problems = [problem for _, _, found in sheets for problem in found]
    with writing(address) as session:
        taker = _Taker(session, at, problems, update=update)
        counts: dict[str, int] = {}
        for form in FORMS:
            rows = [row for sheet, found, _ in sheets if sheet.name == form.name for row in found]
            if rows:
                counts[form.name] = len(rows)
                taker.take(form.name, rows)
        if problems:
            raise _refusal(problems)
        if not keep:
            session.rollback()
    return Taken(store=opened.shown, dry_run=not keep, counts=counts, rows=tuple(taker.taken), mapped=mapped)


def _refusal(problems: Sequence[Problem]) -> BadList:
    ordered = sorted(problems, key=lambda problem: (problem.file, problem.line))
    rows = len({(problem.file, problem.line) for problem in ordered})
    hint = "mend them and hand the lists in again; --dry-run tries without writing"
    if all(problem.why.startswith(ON_RECORD) for problem in ordered):
        hint = "--update brings what is on record to what the lists say"
    return BadList(
        f"{rows} row{'s' * (rows != 1)} can't be taken, so none was",
        [asdict(problem) for problem in ordered],
        hint=hint,
    )


class _Taker:
    """Takes rows into one write transaction, collecting what is wrong with them."""

    def __init__(
        self, session: WriteSession, at: datetime, problems: list[Problem], *, update: bool = False
    ) -> None:
        self.session = session
        self.update = update
        self.how = "new"
        self.at = at
        self.problems = problems
        self.taken: list[TakenRow] = []
        self.parties = {party.name.lower(): party for party in session.scalars(select(models.Party))}
        self.places = {place.path.lower(): place for place in session.scalars(select(models.Place))}
        self.short: dict[str, models.Place] = {}  # ends of paths that were asked for
        self.items = {item.tag.lower(): item for item in session.scalars(select(models.Item))}
        self.by_key: dict[relist.Key, list[models.Item]] | None = None  # made when a row has no tag
        self.machines = set(session.scalars(select(models.Machine.place_id)))
        self.setups = {setup.name.lower(): setup for setup in session.scalars(select(models.Setup))}

    def take(self, form: str, rows: Sequence[ListRow]) -> None:
        """Take all rows of one sort; rows with a problem are noted and passed over."""
        takers: Mapping[str, Callable[[ListRow], str]] = {
            "people": self.party,
            "places": self.place,
            "machines": self.machine,
            "items": self.item,
            "rods": self.rod,
            "checks": self.check,
            "parts": self.part,
            "minimums": self.minimum,
            "kits": self.kit_line,
            "history": self.happening,
            "setups": self.setup_point,
            "cuts": self.cut,
            **{name: partial(take, self) for name, take in TAKERS.items()},
        }
        for row in rows:
            self.how = "new"
            try:
                if self.update and form not in UPDATED:
                    raise RowError("", f"{form} can't be updated from a list; hand it in without --update")
                what = takers[form](row)
            except RowError as error:
                self.note(row, error.column, str(row.get(error.column, "")), error.why)
            except CribError as error:
                self.note(row, "", "", f"{error.message}; {error.hint}" if error.hint else error.message)
            else:
                self.taken.append(TakenRow(file=row.file, line=row.line, what=what, how=self.how))
        self.session.flush()

    def note(self, row: ListRow, column: str, value: str, why: str) -> None:
        """Note what is wrong with a row."""
        self.problems.append(Problem(file=row.file, line=row.line, column=column, value=value[:80], why=why))

    # -- one row of each sort -----------------------------------------------------------------------------

    def party(self, row: ListRow) -> str:
        name = row["name"]
        if (known := self.parties.get(name.lower())) is not None:
            return self.party_again(row, known)
        party = models.Party(
            name=name,
            mark=row.get("mark"),
            kind=row.get("kind", "person"),
            note=row.get("note"),
            gone_on=row.get("gone"),
        )
        self.session.add(party)
        self.session.flush()
        self.parties[name.lower()] = party
        return f"{party.kind} {name}"

    def place(self, row: ListRow) -> str:
        parent = self.known_place(row, "inside") if row.get("inside") else None
        name = " ".join(row["place"].split())
        path = f"{parent.path}{words.PATH_JOINT}{name}" if parent else name
        if (known := self.places.get(path.lower())) is not None:
            if not self.update or known.kind != row["kind"]:
                raise RowError(
                    "place", f"is on record already, as {known.kind}" if self.update else ON_RECORD
                )
            self.how = "same"
            return f"{known.kind} {path}"
        place = add_place(self.session, name, row["kind"], parent)
        self.places[place.path.lower()] = place
        return f"{place.kind} {place.path}"

    def machine(self, row: ListRow) -> str:
        place = self.known_place(row, "place")
        if place.id in self.machines:
            raise RowError("place", "is on record already")
        self.machines.add(place.id)
        speeds, feeds = row.get("speeds_rev_min", ()), row.get("feeds_mm_rev", ())
        self.session.add(
            models.Machine(
                place_id=place.id,
                kind=row["kind"],
                power_kw=row.get("power"),
                efficiency=row.get("efficiency"),
                swing_mm=row.get("swing"),
                travel_mm=row.get("travel"),
                shank_low_mm=row.get("shank_low"),
                shank_high_mm=row.get("shank_high"),
                bar_low_mm=row.get("bar_low"),
                bar_high_mm=row.get("bar_high"),
                facing_head=row.get("facing_head", False),
                least_bore_mm=row.get("least_bore"),
                head_speed_limit_rev_min=row.get("head_speed_limit"),
                head_tangential_limit_m_min=row.get("head_tangential_limit"),
                note=row.get("note"),
                speeds=[models.MachineSpeed(n_rev_min=speed) for speed in speeds],
                feeds=[models.MachineFeed(f_mm=feed) for feed in feeds],
            )
        )
        return f"{row['kind']} {place.name}: {many(len(speeds), 'speed')}, {many(len(feeds), 'feed')}"

    def item(self, row: ListRow) -> str:
        owner = self.known_party(row, "owner")
        place = self.known_place(row, "place")
        holder = self.known_party(row, "lent_to") if row.get("lent_to") else None
        reading = reading_of(row)
        if (known := self.meant(row, reading, owner, place)) is not None:
            if not self.update:
                raise RowError(
                    "tag" if row.get("tag") else "",
                    ON_RECORD if row.get("tag") else f"{ON_RECORD}, as {known.tag}",
                )
            return self.item_again(row, known, reading, owner, place)
        if not row.get("tag"):
            kind = reading.kind if reading else row["kind"]
            row = replace(row, values={**row.values, "tag": next_tag(self.session, kind)})
        tag = row["tag"]
        item = new_item(row, reading)
        quantity = row.get("quantity", 1)
        edges = edges_of(row, item, quantity)
        ledger.add(
            self.session,
            item,
            ledger.Start(
                at=self.at,
                owner_id=owner.id,
                place_id=place.id,
                condition=row.get("condition", "good"),
                quantity=quantity,
                edges_left=edges,
                held_by_id=holder.id if holder else None,
                due_back=row.get("due_back"),
                why="taken in from a list",
            ),
        )
        self.items[tag.lower()] = item
        if self.by_key is not None:
            self.by_key.setdefault(relist.key_of(item), []).append(item)
        return f"{item.kind} {tag}: {item.label}"

    def meant(
        self, row: ListRow, reading: Reading | None, owner: models.Party, place: models.Place
    ) -> models.Item | None:
        """Give the item on record that a row means: by its tag, else by owner, place, code and grade."""
        if row.get("tag"):
            return self.items.get(row["tag"].lower())
        if self.by_key is None:
            self.by_key = {}
            for item in self.items.values():
                self.by_key.setdefault(relist.key_of(item), []).append(item)
        return relist.only(self.by_key.get(relist.key_of_row(row, reading, owner, place), ()))

    def item_again(
        self,
        row: ListRow,
        item: models.Item,
        reading: Reading | None,
        owner: models.Party,
        place: models.Place,
    ) -> str:
        """Bring an item to what its row says."""
        told = relist.change(self.session, item, row, reading, owner, place, self.at)
        self.how = "changed" if told else "same"
        return f"{item.kind} {item.tag}" + (": " + "; ".join(told) if told else f": {item.label}")

    def party_again(self, row: ListRow, party: models.Party) -> str:
        """Bring a person or company to what its row says."""
        if not self.update:
            raise RowError("name", ON_RECORD)
        told = []
        for column in ("mark", "kind", "note"):
            value = row.get(column)
            if value is not None and value != getattr(party, column):
                told.append(f"{column} {getattr(party, column) or 'nothing'} → {value}")
                setattr(party, column, value)
        self.how = "changed" if told else "same"
        return f"{party.kind} {party.name}" + (": " + "; ".join(told) if told else "")

    def rod(self, row: ListRow) -> str:
        gauge = self.known_gauge(row)
        owner = self.known_party(row, "owner") if row.get("owner") else None
        present = row.get("present", True)
        gauge.rods.append(
            models.GaugeRod(length_mm=row["length"], owner_id=owner.id if owner else None, present=present)
        )
        return f"rod of {row['gauge']}" + ("" if present else " (missing)")

    def part(self, row: ListRow) -> str:
        item = self.known_item(row, "item")
        self.session.flush()  # the item's number
        known = select(models.SparePart.id).where(
            models.SparePart.item_id == item.id, models.SparePart.what == row["part"]
        )
        if self.session.scalar(known) is not None:
            raise RowError("part", "is on record already")
        present = row.get("present", True)
        self.session.add(
            models.SparePart(
                item_id=item.id,
                what=row["part"],
                code=row.get("number"),
                present=present,
                note=row.get("note"),
            )
        )
        self.session.flush()
        return f"{row['part']} of {item.tag}" + ("" if present else ", missing")

    def minimum(self, row: ListRow) -> str:
        site = self.known_place(row, "site")
        if site.kind != "site":
            raise RowError("site", "is not a site")
        read = readable(row["code"])
        named = self.items.get(row["code"].lower())
        what = (named.designation or named.label) if named else read.designation if read else row["code"]
        norm, grade = normalise(what), row.get("grade", "")
        same = {"norm": norm, "grade": grade, "site_id": site.id}
        if self.session.scalar(select(models.Minimum.id).filter_by(**same)) is not None:
            raise RowError("code", "has a minimum for that grade and site already")
        usual = "edges" if (named.kind if named else read.kind if read else "") == "insert" else "pieces"
        price = row.get("price")
        self.session.add(
            models.Minimum(
                **same,
                what=what,
                least=row["least"],
                up_to=row.get("up_to"),
                counted_in=row.get("counted_in", usual),
                lead_days=row.get("lead"),
                payer_id=self.known_party(row, "payer").id if row.get("payer") else None,
                price=price.amount if price else None,
                currency=price.currency if price else None,
                note=row.get("note"),
            )
        )
        self.session.flush()
        return f"minimum of {what}: {row['least']}"

    def kit_line(self, row: ListRow) -> str:
        kit = self.session.scalar(select(models.Kit).where(models.Kit.name == row["kit"]))
        if kit is None:
            kit = models.Kit(name=row["kit"], note=row.get("note"))
            self.session.add(kit)
        item = self.known_item(row, "item") if row.get("item") else None
        self.session.flush()
        line = models.KitLine(
            line_no=len(kit.lines) + 1,
            need=row["need"],
            quantity=row.get("count", 1),
            item_id=item.id if item else None,
        )
        kit.lines.append(line)
        self.session.flush()
        return f"{kit.name} {line.line_no}: {line.need}"

    def check(self, row: ListRow) -> str:
        gauge = self.known_gauge(row)
        if row.get("due") and row["due"] < row["on"]:
            raise RowError("due", "is before the check itself")
        gauge.checks.append(
            models.GaugeCheck(on_date=row["on"], result=row["result"], due=row.get("due"), by=row.get("by"))
        )
        return f"check of {row['gauge']} on {row['on']}"

    def happening(self, row: ListRow) -> str:
        item = self.known_item(row, "item")
        actor = self.known_party(row, "who")
        if row["when"] > datetime.now(UTC):
            raise RowError("when", "is in the future")
        ledger.record(
            self.session,
            ledger.Entry(
                item_id=item.id,
                what=row["what"],
                at=row["when"],
                actor_id=actor.id,
                why=row.get("why"),
                **self.change(row, item),
            ),
        )
        return f"{row['item']} {row['what']}"

    def change(self, row: ListRow, item: models.Item) -> dict[str, Any]:
        """Say what one happening of a history list changes."""
        count = row.get("quantity", 1)
        match row["what"]:
            case "moved" | "brought in" | "taken home":
                return {"to_place_id": self.known_place(row, "to").id}
            case "returned":
                return {"to_place_id": self.known_place(row, "to").id} if row.get("to") else {}
            case "lent":
                return {"to_held_by_id": self.known_party(row, "to").id, "due_back": row.get("due_back")}
            case "reground":
                return {"to_dc_mm": _diameter(row)}
            case "regraded":
                return {"to_condition": _condition(row)}
            case "edge used":
                return {"edges_change": -count}
            case "counted":
                return {"quantity_change": count - item.quantity}
            case "scrapped":
                return {"to_condition": "scrap"} if count == item.quantity else {"quantity_change": -count}
            case "claimed":
                return {}
        raise RowError("what", "can't be taken from a list")

    def setup_point(self, row: ListRow) -> str:
        name = row["setup"]
        if row.get("gives"):
            read_gives(row["gives"], tables.directions())
        setup = self.setups.get(name.lower())
        if setup is None:
            if name.lower() in tables.setups():
                raise RowError("setup", "is a word for assumed figures: give it a name of its own")
            machine = self.known_machine(row) if row.get("machine") else None
            setup = models.Setup(name=name, machine_id=machine, note=row.get("note"))
            self.session.add(setup)
            self.setups[name.lower()] = setup
        by = self.known_party(row, "who") if row.get("who") else None
        setup.points.append(
            models.SetupPoint(
                at=row.get("when", self.at),
                point=row.get("point", ""),
                gives=row.get("gives"),
                k_n_mm=row.get("stiffness"),
                frequency_hz=row.get("frequency"),
                damping_ratio=row.get("damping"),
                by_id=by.id if by else None,
                how=row.get("how"),
            )
        )
        self.session.flush()
        return f"set-up {setup.name}" + (f", {row['point']}" if row.get("point") else "")

    def cut(self, row: ListRow) -> str:
        if row["when"] > datetime.now(UTC):
            raise RowError("when", "is in the future")
        material = find_material(row["material"], tables.materials())
        operation = operation_of(row["op"])
        setup = self.setups.get(row["setup"].lower()) if row.get("setup") else None
        if row.get("setup") and setup is None and row["setup"].lower() not in tables.setups():
            raise RowError("setup", "is no set-up on record: list it first")
        arm = self.known_item(row, "tool") if row.get("tool") else None
        insert = self.known_item(row, "insert") if row.get("insert") else None
        by = self.known_party(row, "who") if row.get("who") else None
        n, d = row.get("speed"), row.get("diameter")
        self.session.add(
            models.LoggedCut(
                at=row["when"],
                operation=operation,
                material=material.id,
                result=row["result"],
                by_id=by.id if by else None,
                job=row.get("job"),
                machine_id=self.known_machine(row) if row.get("machine") else None,
                setup_id=setup.id if setup else None,
                setup_point=row.get("point"),
                setup_words=row.get("setup"),
                arm_item_id=arm.id if arm else None,
                insert_item_id=insert.id if insert else None,
                conditions=row.get("conditions", ""),
                diameter_mm=d,
                n_rev_min=n,
                vc_m_min=cutting_speed(n, d) if n and d else None,
                f_mm=row.get("feed"),
                ap_mm=row.get("depth"),
                length_mm=row.get("length"),
                minutes=row.get("minutes"),
                heard_hz=row.get("heard"),
                note=row.get("note"),
            )
        )
        return f"cut in {material.label}: {row['result']}"

    # -- what rows refer to -------------------------------------------------------------------------------

    def known_party(self, row: ListRow, column: str) -> models.Party:
        name = row.get(column, "")
        if party := self.parties.get(name.lower()):
            return party
        if not name:
            raise RowError(column, "must name a person")
        near = get_close_matches(name.lower(), self.parties, n=1) or [
            one for one in self.parties if name.lower() in one.split()
        ]
        raise RowError(column, _unknown("nobody", self.parties[near[0]].name if near else "", "people"))

    def known_place(self, row: ListRow, column: str) -> models.Place:
        """Give the place of a full path, or of its end where only one path ends so."""
        path = row.get(column, "").lower()
        if place := self.places.get(path) or self.short.get(path):
            return place
        found = [place for known, place in self.places.items() if known.endswith(words.PATH_JOINT + path)]
        if path and len(found) == 1:
            self.short[path] = found[0]
            return found[0]
        near = [place.path for place in found] or [
            self.places[one].path for one in get_close_matches(path, self.places, n=1)
        ]
        raise RowError(column, _unknown("no place", " or ".join(near[:2]), "places"))

    def known_item(self, row: ListRow, column: str) -> models.Item:
        if item := self.items.get(row[column].lower()):
            return item
        raise RowError(column, "is no tag on record")

    def known_machine(self, row: ListRow) -> int:
        place = self.known_place(row, "machine")
        if place.id not in self.machines:
            raise RowError("machine", "is no machine on record")
        return place.id

    def known_gauge(self, row: ListRow) -> models.GaugeDetail:
        item = self.known_item(row, "gauge")
        if item.gauge is None:
            raise RowError("gauge", f"is a {item.kind}, not a gauge")
        return item.gauge


def _unknown(what: str, near: str, form: str) -> str:
    """Say that what a cell names is not on record, and what may be meant."""
    return f"is {what} on record" + (f": {near}?" if near else f": add it first, or a list of {form}")


def _condition(row: ListRow) -> str:
    if row.get("to") not in words.CONDITIONS:
        raise RowError("to", "is no condition; one of: " + ", ".join(words.CONDITIONS))
    return str(row["to"])


def _diameter(row: ListRow) -> float:
    size = sized(row.get("to", ""), "diameter", Kind.LENGTH, "metric")
    if size is None:
        raise RowError("to", "is empty: the new diameter, as 11.8 mm")
    return size
