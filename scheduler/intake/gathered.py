"""All that could be read of a folder, row by row, before it is checked as a whole."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, field
from typing import Any, TypeVar
from unicodedata import normalize

from pydantic import BaseModel

from scheduler.intake import keys, rows
from scheduler.intake.faults import FaultList, did_you_mean, shown
from scheduler.intake.tables import Row, read_csv, read_toml, take_table, take_tables, validated

M = TypeVar("M", bound=BaseModel)

KITCHEN, RECIPES = "kitchen.toml", "recipes.toml"

TABLES: dict[str, type[BaseModel]] = {
    "kitchen": keys.KitchenTable,
    "jar_oven": keys.OvenTable,
    "supply": keys.SupplyTable,
    "chiller": keys.ChillerTable,
    "freezer": keys.FreezerTable,
    "second_freezer": keys.SecondFreezerTable,
    "drip_stands": keys.DripStandsTable,
    "potting": keys.PottingTable,
    "labels": keys.LabelsTable,
    "habits": keys.HabitsTable,
    "prices": keys.PricesTable,
    "slack": keys.SlackTable,
}
"""The tables of kitchen.toml that stand there once at most."""

MAY_BE_ABSENT = ("drip_stands", "habits", "labels", "second_freezer", "slack", "work")

USUAL_BREAKS = (
    keys.BreakTable(after_minutes=270, minutes=15),
    keys.BreakTable(after_minutes=360, minutes=30),
)
"""Organisation of Working Time Act 1997 (Ireland), section 12 (1) and (2). The law has exceptions and
other countries have other laws: local law counts, and a folder may say its own [[work.break]] rules."""


@dataclass(frozen=True)
class Mix:
    """The fruits of the recipe that stands at ``where``; ``whole`` if all of them could be read."""

    where: str
    shares: list[Row[keys.ShareTable]]
    whole: bool


@dataclass(frozen=True)
class Recipe:
    """A recipe's own table, its mix, what else goes in, and the sizes in which it is potted besides."""

    row: Row[keys.RecipeTable]
    mix: Mix
    others: list[Row[keys.OtherTable]]
    sizes: list[Row[keys.SizeTable]]


@dataclass
class Gathered:
    """Sound rows of every file. ``tables`` holds the single tables of kitchen.toml by name, ``unsound`` the
    names of those that are there and have faults.

    ``names`` holds, for each file that others refer to, the names of all its rows, sound or not: an
    unsound row is told once, not again wherever it is named.
    """

    names: dict[str, dict[str, None]] = field(default_factory=dict)

    farm: Row[keys.FarmTable] | None = None
    tables: dict[str, Row[Any]] = field(default_factory=dict)
    unsound: set[str] = field(default_factory=set)
    pans: list[Row[keys.PanTable]] = field(default_factory=list)
    rings: list[Row[keys.RingTable]] = field(default_factory=list)
    boxes: list[Row[keys.FreezerBoxTable]] = field(default_factory=list)
    work: Row[keys.WorkTable] | None = None
    breaks: list[Row[keys.BreakTable]] = field(default_factory=list)
    mixes: list[Mix] = field(default_factory=list)
    recipes: list[Recipe] = field(default_factory=list)
    fruits: list[Row[rows.FruitRow]] = field(default_factory=list)
    picks: list[Row[rows.PickRow]] = field(default_factory=list)
    lots: list[Row[rows.LotRow]] = field(default_factory=list)
    punnets: list[Row[rows.PunnetRow]] = field(default_factory=list)
    people: list[Row[rows.PersonRow]] = field(default_factory=list)
    shifts: list[Row[rows.ShiftRow]] = field(default_factory=list)
    orders: list[Row[rows.OrderRow]] = field(default_factory=list)
    goods: list[Row[rows.GoodRow]] = field(default_factory=list)
    deliveries: list[Row[rows.DeliveryRow]] = field(default_factory=list)
    days: list[Row[rows.DayRow]] = field(default_factory=list)
    busy: list[Row[rows.BusyRow]] = field(default_factory=list)
    shop: list[Row[rows.ShopRow]] = field(default_factory=list)
    readings: list[Row[rows.ReadingRow]] = field(default_factory=list)
    boils: list[Row[rows.BoilRow]] = field(default_factory=list)
    out: list[Row[rows.OutRow]] = field(default_factory=list)
    held: list[Row[rows.HeldRow]] = field(default_factory=list)

    def horizon(self) -> tuple[dt.date, dt.date] | None:
        """First and last planned day, where kitchen.toml says them."""
        if self.farm is None:
            return None
        first = self.farm.value.start
        return first, first + dt.timedelta(days=self.farm.value.days - 1)

    def table(self, name: str, model: type[M]) -> M | None:
        """A single table of kitchen.toml, if it was sound."""
        row = self.tables.get(name)
        return row.value if row and isinstance(row.value, model) else None


def gather(texts: dict[str, str], faults: FaultList) -> Gathered:
    """Read every file of ``texts`` row by row."""
    found = Gathered()
    if KITCHEN in texts:
        _gather_kitchen(texts[KITCHEN], found, faults)
    if RECIPES in texts:
        _gather_recipes(texts[RECIPES], found, faults)

    def read(model: type[M], file: str) -> list[Row[M]]:
        if file not in texts:
            return []
        sheet = read_csv(model, file, texts[file], faults)
        if sheet is None:
            return []
        found.names[file] = sheet.names
        return sheet.rows

    found.fruits = read(rows.FruitRow, "fruits.csv")
    found.picks = read(rows.PickRow, "picks.csv")
    found.lots = read(rows.LotRow, "lots.csv")
    found.punnets = read(rows.PunnetRow, "punnets.csv")
    found.people = read(rows.PersonRow, "people.csv")
    found.shifts = read(rows.ShiftRow, "shifts.csv")
    found.orders = read(rows.OrderRow, "orders.csv")
    found.goods = read(rows.GoodRow, "store.csv")
    found.deliveries = read(rows.DeliveryRow, "deliveries.csv")
    found.days = read(rows.DayRow, "days.csv")
    found.busy = read(rows.BusyRow, "busy.csv")
    found.shop = read(rows.ShopRow, "shop.csv")
    found.readings = read(rows.ReadingRow, "readings.csv")
    found.boils = read(rows.BoilRow, "boils.csv")
    found.out = read(rows.OutRow, "out.csv")
    found.held = read(rows.HeldRow, "held.csv")
    return found


def _gather_kitchen(text: str, found: Gathered, faults: FaultList) -> None:
    raw = read_toml(KITCHEN, text, faults)
    if raw is None:
        return
    _note_schema(raw, faults)
    for name, model in TABLES.items():
        _gather_table(name, model, raw, found, faults)
    found.pans = _each(keys.PanTable, raw, "pan", faults)
    found.rings = _each(keys.RingTable, raw, "ring", faults)
    found.boxes = _each(keys.FreezerBoxTable, raw, "freezer_box", faults, may_be_absent=True)
    _gather_work(take_table(raw, "work", KITCHEN, "", faults), found, faults)
    _note_strange_tables(raw, (*TABLES, "pan", "ring", "freezer_box", "work"), KITCHEN, faults)
    found.farm = validated(keys.FarmTable, raw, KITCHEN, "", faults)


def _note_schema(raw: dict[str, Any], faults: FaultList) -> None:
    schema = raw.pop("schema", None)
    if schema != keys.SCHEMA or isinstance(schema, bool):
        seen = "nothing" if schema is None else shown(schema)
        remedy = f"Write schema = {keys.SCHEMA} in the first line; this program reads no other layout."
        faults.add(KITCHEN, "key schema", seen, str(keys.SCHEMA), remedy)


def _gather_table(
    name: str, model: type[BaseModel], raw: dict[str, Any], found: Gathered, faults: FaultList
) -> None:
    needed = ", ".join(key for key, value in model.model_fields.items() if value.is_required())
    if name not in raw and needed:
        if name not in MAY_BE_ABSENT:
            faults.add(KITCHEN, f"[{name}]", "nothing", f"a table [{name}] with {needed}", "Add it.")
        return
    row = validated(model, take_table(raw, name, KITCHEN, "", faults), KITCHEN, f"[{name}]", faults)
    if row:
        found.tables[name] = row
    else:
        found.unsound.add(name)


def _each(
    model: type[M], raw: dict[str, Any], key: str, faults: FaultList, may_be_absent: bool = False
) -> list[Row[M]]:
    given = key in raw or may_be_absent
    items = take_tables(raw, key, KITCHEN, "", faults)
    if not given:
        faults.add(KITCHEN, f"[[{key}]]", "nothing", f"at least one {key}", f"Add a table [[{key}]].")
    checked = (validated(model, item, KITCHEN, f"{key} {i}", faults) for i, item in enumerate(items, 1))
    return [row for row in checked if row]


def _gather_work(raw: dict[str, Any], found: Gathered, faults: FaultList) -> None:
    given = "break" in raw
    items = take_tables(raw, "break", KITCHEN, "[work], ", faults)
    checked = (
        validated(keys.BreakTable, item, KITCHEN, f"break {i}", faults) for i, item in enumerate(items, 1)
    )
    usual = [Row(KITCHEN, "[work]", rule) for rule in USUAL_BREAKS]
    found.breaks = [row for row in checked if row] if given else usual
    found.work = validated(keys.WorkTable, raw, KITCHEN, "[work]", faults)


def _gather_recipes(text: str, found: Gathered, faults: FaultList) -> None:
    raw = read_toml(RECIPES, text, faults)
    if raw is None:
        return
    names = found.names.setdefault(RECIPES, {})
    for number, item in enumerate(take_tables(raw, "recipe", RECIPES, "", faults), 1):
        where = f"recipe {number}"
        if "name" in item:
            names[normalize("NFC", str(item["name"]).strip())] = None
        mix = _mix(item, where, faults)
        found.mixes.append(mix)
        others = _within(keys.OtherTable, "other", item, where, faults)
        sizes = _within(keys.SizeTable, "size", item, where, faults)
        row = validated(keys.RecipeTable, item, RECIPES, where, faults)
        if row:
            found.recipes.append(Recipe(row, mix, others, sizes))
    for key in raw:
        remedy = did_you_mean(key, ["recipe"], "Write [[recipe]] before each recipe.")
        faults.add(RECIPES, f"key {shown(key)}", "an unknown key", "tables [[recipe]] only", remedy)


def _mix(item: dict[str, Any], where: str, faults: FaultList) -> Mix:
    """Take the fruits out of a recipe's table."""
    given = item.get("fruit", [])
    shares = _within(keys.ShareTable, "fruit", item, where, faults)
    return Mix(where, shares, whole=isinstance(given, list) and len(shares) == len(given))


def _within(model: type[M], key: str, item: dict[str, Any], where: str, faults: FaultList) -> list[Row[M]]:
    """Take the sound tables ``key`` out of a recipe's table."""
    tables = take_tables(item, key, RECIPES, f"{where}, ", faults)
    checked = (
        validated(model, table, RECIPES, f"{where}, {key} {number}", faults)
        for number, table in enumerate(tables, 1)
    )
    return [row for row in checked if row]


def _note_strange_tables(raw: dict[str, Any], known: tuple[str, ...], file: str, faults: FaultList) -> None:
    for key in [key for key, value in raw.items() if isinstance(value, dict | list)]:
        if key in keys.FarmTable.model_fields:
            continue
        del raw[key]
        remedy = did_you_mean(key, known, "Remove it.")
        faults.add(file, f"table {shown(key)}", "an unknown table", "one of " + ", ".join(known), remedy)
