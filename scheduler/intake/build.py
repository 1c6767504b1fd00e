"""Sound rows into the domain's Scenario; nothing is judged here."""

from __future__ import annotations

import datetime as dt

from scheduler.domain.fruit import Fruit, Lot, Place, PunnetDemand
from scheduler.domain.kitchen import Chiller, Freezer, JarOven, Kitchen, Pan, Ring
from scheduler.domain.people import BreakRule, Person, Shift, WorkRules
from scheduler.domain.recipes import FruitShare, Recipe
from scheduler.domain.scenario import Scenario, Slack
from scheduler.domain.trade import Delivery, Good, Order
from scheduler.intake import keys, rows
from scheduler.intake.gathered import Gathered
from scheduler.intake.gathered import Recipe as GatheredRecipe
from scheduler.physics.boil import EFFICIENCY
from scheduler.physics.freezing import freeze_kg_per_day


def scenario(found: Gathered, name: str) -> Scenario:
    """The scenario that a folder without faults describes."""
    assert found.farm is not None
    assert found.work is not None
    farm, work = found.farm.value, found.work.value
    breaks = tuple(BreakRule(**row.value.model_dump()) for row in found.breaks)
    return Scenario(
        name=name,
        farm=farm.farm,
        kitchen_id=farm.kitchen_id,
        currency=farm.currency,
        start=farm.start,
        days=farm.days,
        kitchen=_kitchen(found),
        work_rules=WorkRules(breaks, work.longest_stretch_minutes, work.rest_minutes),
        slack=Slack(**found.tables["slack"].value.model_dump()),
        fruits=tuple(_fruit(row.value) for row in found.fruits),
        recipes=tuple(_recipe(recipe) for recipe in found.recipes),
        lots=tuple(_lot(row.value) for row in found.lots if row.value.kg > 0),
        picks=tuple(_pick(row.value) for row in found.picks if row.value.kg > 0),
        punnets=tuple(PunnetDemand(r.value.date, r.value.fruit, r.value.kg) for r in found.punnets),
        people=tuple(_person(row.value) for row in found.people),
        shifts=tuple(_shift(row.value) for row in found.shifts),
        orders=tuple(_order(row.value) for row in found.orders),
        goods=tuple(_good(row.value) for row in found.goods),
        deliveries=tuple(Delivery(r.value.date, r.value.good, r.value.quantity) for r in found.deliveries),
    )


def pick_name(fruit: str, grade: str, day: dt.date) -> str:
    """The name of the fresh lot that a pick becomes."""
    return f"{fruit} {grade} {day.isoformat()}"


def _kitchen(found: Gathered) -> Kitchen:
    tables = {name: row.value.model_dump() for name, row in found.tables.items()}
    freezer = tables["freezer"]
    if freezer["freeze_kg_per_day"] is None:
        freezer["freeze_kg_per_day"] = round(freeze_kg_per_day(freezer["litres"]), 1)
    return Kitchen(
        pans=tuple(Pan(**row.value.model_dump()) for row in found.pans),
        rings=tuple(_ring(row.value) for row in found.rings),
        oven=JarOven(**tables["jar_oven"]),
        chiller=Chiller(**tables["chiller"]),
        freezer=Freezer(**freezer),
        **tables["kitchen"],
        **tables["potting"],
        **tables["habits"],
        **tables["prices"],
    )


def _ring(ring: keys.RingTable) -> Ring:
    efficiency = EFFICIENCY[ring.heat] if ring.efficiency is None else ring.efficiency
    return Ring(ring.name, ring.heat, ring.kw, efficiency, ring.largest_pan_cm)


def _fruit(row: rows.FruitRow) -> Fruit:
    values = row.model_dump()
    return Fruit(name=values.pop("fruit"), **values)


def _recipe(recipe: GatheredRecipe) -> Recipe:
    shares = tuple(FruitShare(**share.value.model_dump()) for share in recipe.mix.shares)
    return Recipe(fruits=shares, **recipe.row.value.model_dump())


def _lot(row: rows.LotRow) -> Lot:
    use_by = row.use_by if row.place is Place.FREEZER else None
    return Lot(row.lot, row.fruit, row.grade, row.kg, row.place, row.picked, use_by)


def _pick(row: rows.PickRow) -> Lot:
    name = pick_name(row.fruit, row.grade, row.date)
    return Lot(name, row.fruit, row.grade, row.kg, Place.CHILLER, row.date)


def _person(row: rows.PersonRow) -> Person:
    return Person(row.person, row.skills, row.pay, row.overtime_pay, row.hours_week)


def _shift(row: rows.ShiftRow) -> Shift:
    return Shift(row.person, row.date, row.start, row.end, row.overtime_minutes)


def _order(row: rows.OrderRow) -> Order:
    values = row.model_dump()
    return Order(name=values.pop("order"), **values)


def _good(row: rows.GoodRow) -> Good:
    values = row.model_dump()
    return Good(name=values.pop("good"), **values)
