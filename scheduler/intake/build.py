"""Sound rows into the domain's Scenario; nothing is judged here."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from scheduler.domain.days import Closure
from scheduler.domain.fruit import Fruit, Lot, Place, PunnetDemand
from scheduler.domain.held import HeldBatch, OutOfUse
from scheduler.domain.kitchen import (
    Chiller,
    DripStands,
    Freezer,
    FreezerBox,
    Heat,
    JarOven,
    Kitchen,
    Labels,
    Pan,
    Ring,
    Supply,
)
from scheduler.domain.people import BreakRule, Person, Shift, WorkRules
from scheduler.domain.recipes import FruitShare, JarSize, OtherIngredient, Recipe
from scheduler.domain.scenario import Scenario, Slack
from scheduler.domain.trade import Delivery, Good, Order, ShopDemand
from scheduler.intake import keys, measured, rows
from scheduler.intake.gathered import Gathered
from scheduler.intake.gathered import Recipe as GatheredRecipe
from scheduler.intake.grading import graded, pick_name
from scheduler.law.composition import Role
from scheduler.physics.boil import EFFICIENCY
from scheduler.physics.freezing import freeze_kg_per_day


def scenario(found: Gathered, name: str) -> Scenario:
    """The scenario that a folder without faults describes."""
    assert found.farm is not None
    rules = work_rules(found)
    assert rules is not None
    farm = found.farm.value
    usual: keys.ChillerTable = found.tables["chiller"].value
    usual_jars = {each.row.value.name: each.row.value.jar for each in found.recipes}
    fruits = tuple(fruit(row.value) for row in found.fruits)
    picked = tuple(_pick(row.value, usual) for row in found.picks if row.value.kg > 0)
    return Scenario(
        name=name,
        farm=farm.farm,
        kitchen_id=farm.kitchen_id,
        currency=farm.currency,
        start=farm.start,
        days=farm.days,
        kitchen=_kitchen(found),
        work_rules=rules,
        slack=Slack(**found.tables["slack"].value.model_dump()),
        fruits=fruits,
        recipes=tuple(recipe(row) for row in found.recipes),
        lots=tuple(_lot(row.value, usual) for row in found.lots if row.value.kg > 0),
        picks=graded(picked, {each.name: each for each in fruits}),
        punnets=tuple(PunnetDemand(r.value.date, r.value.fruit, r.value.kg) for r in found.punnets),
        people=tuple(person(row.value) for row in found.people),
        shifts=tuple(_shift(row.value) for row in found.shifts),
        orders=tuple(_order(row.value, usual_jars) for row in found.orders),
        goods=tuple(_good(row.value) for row in found.goods),
        deliveries=tuple(_delivery(row.value) for row in found.deliveries),
        closures=tuple(_closures(found)),
        shop=tuple(_shop(row.value, usual_jars) for row in found.shop),
        picked=picked,
        out=tuple(_out_of_use(row.value) for row in found.out),
        held=tuple(_held(row.value) for row in found.held),
        time_zone=farm.time_zone,
        units=farm.units,
    )


def _out_of_use(row: rows.OutRow) -> OutOfUse:
    return OutOfUse(row.date, row.pan or "", row.ring or "", row.why)


def _held(row: rows.HeldRow) -> HeldBatch:
    return HeldBatch(row.date, row.recipe, row.pan or "", row.ring or "", row.start, row.kg, row.hold)


def _closures(found: Gathered) -> Iterator[Closure]:
    """What a day's own hours leave of the kitchen's (all of them if it has none), and busy times."""
    kitchen: keys.KitchenTable = found.tables["kitchen"].value
    for day in (row.value for row in found.days):
        opens = kitchen.close if day.open is None else day.open
        closes = kitchen.close if day.close is None else day.close
        for start, end in ((kitchen.open, opens), (closes, kitchen.close)):
            if start < end:
                yield Closure(day.date, start, end, day.why)
    for busy in (row.value for row in found.busy):
        yield Closure(busy.date, busy.start, busy.end, busy.why)


def work_rules(found: Gathered) -> WorkRules | None:
    """The rules of work; None where they could not be read."""
    if found.work is None:
        return None
    breaks = tuple(BreakRule(**row.value.model_dump()) for row in found.breaks)
    return WorkRules(breaks, **found.work.value.model_dump())


def _kitchen(found: Gathered) -> Kitchen:
    tables = {name: row.value.model_dump() for name, row in found.tables.items()}
    kept_free = {key: tables["freezer"].pop(key) for key in ("room_free_kg", "room_free_from")}
    boils = [each for row in found.boils if (each := boil(row.value, found)) is not None]
    readings = [row.value for row in found.readings]
    return Kitchen(
        measured=measured.measured(readings, boils, tables["kitchen"]["altitude_m"]),
        pans=tuple(Pan(**row.value.model_dump()) for row in found.pans),
        rings=tuple(_ring(row.value) for row in found.rings),
        freezer_boxes=tuple(FreezerBox(**row.value.model_dump()) for row in found.boxes),
        oven=JarOven(**tables["jar_oven"] | {"heat": Heat(tables["jar_oven"]["heat"])}),
        supply=Supply(**tables["supply"]),
        chiller=Chiller(tables["chiller"]["kg"], tables["chiller"]["celsius"]),
        freezer=_freezer(tables["freezer"]),
        second_freezer=_freezer(tables["second_freezer"]) if "second_freezer" in tables else None,
        drip_stands=DripStands(**tables.get("drip_stands", {"count": 0, "litres": 0.0})),
        labels=Labels(**tables["labels"]) if "labels" in tables else None,
        **kept_free,
        **tables["kitchen"],
        **tables["potting"],
        **tables["habits"],
        **tables["prices"],
    )


def _freezer(table: dict[str, Any]) -> Freezer:
    if table["freeze_kg_per_day"] is None:
        table["freeze_kg_per_day"] = round(freeze_kg_per_day(table["litres"]), 1)
    return Freezer(**table)


def boil(row: rows.BoilRow, found: Gathered) -> measured.Boil | None:
    """Computed and observed minutes of a logged boil; None where something that it names is not sound."""
    pans = {pan.value.name: pan.value for pan in found.pans}
    rings = {ring.value.name: ring.value for ring in found.rings}
    fruits = {each.value.fruit: fruit(each.value) for each in found.fruits}
    recipes = {each.row.value.name: each for each in found.recipes}
    made = recipes.get(row.recipe)
    if made is None or row.pan not in pans or row.ring not in rings or "kitchen" not in found.tables:
        return None
    try:
        pan, ring = Pan(**pans[row.pan].model_dump()), _ring(rings[row.ring])
        altitude = found.tables["kitchen"].value.altitude_m
        return measured.computed_minutes(row.kg, recipe(made), fruits, pan, ring, altitude), row.minutes
    except (KeyError, ValueError):  # an unknown fruit or an impossible recipe is told elsewhere
        return None


def _ring(ring: keys.RingTable) -> Ring:
    efficiency = EFFICIENCY[ring.heat] if ring.efficiency is None else ring.efficiency
    return Ring(ring.name, ring.heat, ring.kw, efficiency, ring.largest_pan_cm)


def fruit(row: rows.FruitRow) -> Fruit:
    """A fruit of a sound row."""
    values = row.model_dump()
    values["freezer_box"] = row.freezer_box or ""
    return Fruit(name=values.pop("fruit"), **values)


def recipe(found: GatheredRecipe) -> Recipe:
    """A recipe of sound tables."""
    shares = tuple(FruitShare(**share.value.model_dump()) for share in found.mix.shares)
    others = tuple(
        OtherIngredient(row.value.name, row.value.g_per_kg, Role(row.value.role), row.value.allergen)
        for row in found.others
    )
    sizes = tuple(JarSize(**row.value.model_dump()) for row in found.sizes)
    values = found.row.value.model_dump()
    if values["fill_shares"] is None:
        values["fill_shares"] = usual_ways(1 + len(sizes))
    return Recipe(fruits=shares, others=others, more_sizes=sizes, **values)


def usual_ways(sizes: int) -> tuple[tuple[float, ...], ...]:
    """All of a batch in each size by itself, and as much in one as in the other."""
    alone = tuple(tuple(float(size == only) for size in range(sizes)) for only in range(sizes))
    return alone if sizes == 1 else (*alone, (1 / sizes,) * sizes)


def _lot(row: rows.LotRow, usual: keys.ChillerTable) -> Lot:
    if row.place is Place.FREEZER:
        return Lot(row.lot, row.fruit, row.grade, row.kg, row.place, row.picked, row.use_by)
    return Lot(row.lot, row.fruit, row.grade, row.kg, row.place, row.picked, None, *_warm(row, usual))


def _pick(row: rows.PickRow, usual: keys.ChillerTable) -> Lot:
    name = pick_name(row.fruit, row.grade, row.date)
    return Lot(name, row.fruit, row.grade, row.kg, Place.CHILLER, row.date, None, *_warm(row, usual))


def _warm(row: rows.PickRow | rows.LotRow, usual: keys.ChillerTable) -> tuple[float, float]:
    """Hours before the chiller and how warm (°C), the kitchen's usual where the row is silent."""
    hours = usual.warm_hours if row.warm_hours is None else row.warm_hours
    celsius = usual.warm_celsius if row.warm_celsius is None else row.warm_celsius
    return (hours, celsius) if hours > 0 else (0.0, 0.0)


def person(row: rows.PersonRow) -> Person:
    """The person of a sound row."""
    values = row.model_dump()
    return Person(name=values.pop("person"), **values)


def _shift(row: rows.ShiftRow) -> Shift:
    return Shift(row.person, row.date, row.start, row.end, row.overtime_minutes)


def _order(row: rows.OrderRow, usual_jars: dict[str, str]) -> Order:
    """The order, in its recipe's first size where it names none."""
    values = row.model_dump()
    values["jar"] = row.jar or usual_jars[row.recipe]
    return Order(name=values.pop("order"), **values)


def _shop(row: rows.ShopRow, usual_jars: dict[str, str]) -> ShopDemand:
    return ShopDemand(row.date, row.recipe, row.jar or usual_jars[row.recipe], row.jars)


def _delivery(row: rows.DeliveryRow) -> Delivery:
    return Delivery(row.date, row.good, row.quantity, row.time)


def _good(row: rows.GoodRow) -> Good:
    values = row.model_dump()
    return Good(name=values.pop("good"), **values)
