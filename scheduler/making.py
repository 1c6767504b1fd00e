"""From a situation to its cards: batches, days of lots, ways to be in; rounded only here and in panfuls."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import product

from scheduler.cards import (
    MONEY,
    SCALE,
    SHARE,
    BatchCard,
    Cards,
    PanClass,
    RingClass,
    StaffCard,
    SupplyCard,
    cents,
    rounded_down,
    rounded_up,
)
from scheduler.domain.fruit import Fruit, Grade, Lot, Place
from scheduler.domain.kitchen import Heat, Kitchen, Pan, Ring
from scheduler.domain.people import OVERTIME_STEP, Person, Shift, WorkRules
from scheduler.domain.recipes import Recipe
from scheduler.domain.scenario import Scenario, Situation
from scheduler.domain.trade import SUGAR, Good
from scheduler.panful import juice_panful, panful, safe_card
from scheduler.physics import gas, keeping
from scheduler.plan_rows import Part
from scheduler.stock_cards import FrozenCard, FruitCard, GoodCard, LotCard, OrderCard, Product, ShopCard

DAYS_IN_MONTH = 30.4


def make_cards(situation: Situation) -> Cards:
    """Turn a situation into the integers of a model."""
    scenario = situation.scenario
    pans = _pan_classes(scenario.kitchen.pans)
    rings = _ring_classes(scenario.kitchen.rings)
    index = {fruit.name: i for i, fruit in enumerate(scenario.fruits)}
    lots = tuple(_lot_card(scenario, lot, index) for lot in fresh_lots(scenario))
    demand = _demand(scenario, index)
    boxes = [box.name for box in scenario.kitchen.freezer_boxes]
    fruits = tuple(
        _fruit_card(fruit, _saleable([lot for lot in lots if lot.fruit == i], demand[i]), boxes)
        for i, fruit in enumerate(scenario.fruits)
    )
    return Cards(
        situation=situation,
        days=scenario.days,
        dates=scenario.dates(),
        pans=pans,
        rings=rings,
        batches=tuple(_batch_cards(scenario, pans, rings)),
        fruits=fruits,
        lots=lots,
        frozen=_frozen_cards(scenario, index),
        demand=demand,
        staff=tuple(_staff_cards(scenario)),
        products=_products(scenario),
        orders=_order_cards(scenario),
        goods=_good_cards(scenario),
        supplies=tuple(_supply_cards(scenario.kitchen)),
        gas=_in_bottles(scenario.kitchen),
        shop=_shop_cards(scenario),
    )


def fresh_lots(scenario: Scenario) -> list[Lot]:
    """Fresh lots on hand and picks, in the order of the cards."""
    on_hand = [lot for lot in scenario.lots if lot.place is Place.CHILLER]
    return on_hand + list(scenario.picks)


def _pan_classes(pans: Iterable[Pan]) -> tuple[PanClass, ...]:
    classes: dict[tuple[float, float, float], list[Pan]] = {}
    for pan in pans:
        classes.setdefault((pan.litres, pan.diameter_cm, pan.fill), []).append(pan)
    return tuple(PanClass(tuple(p.name for p in equal), equal[0]) for equal in classes.values())


def _ring_classes(rings: Iterable[Ring]) -> tuple[RingClass, ...]:
    classes: dict[tuple[str, float, float, float], list[Ring]] = {}
    for ring in rings:
        classes.setdefault((ring.heat, ring.kw, ring.efficiency, ring.largest_pan_cm), []).append(ring)
    return tuple(RingClass(tuple(r.name for r in equal), equal[0]) for equal in classes.values())


@dataclass(frozen=True, slots=True)
class _Way:
    """A recipe in a pan on a ring."""

    recipe: Recipe
    pan: Pan
    ring: Ring
    index: tuple[int, int, int]

    @property
    def sources(self) -> tuple[bool, ...]:
        """Values of ``from_freezer`` that the recipe allows."""
        return (False, True) if self.recipe.frozen_share >= 1 else (False,)

    def fill_shares(self, part: Part) -> tuple[tuple[float, ...], ...]:
        """The ways in which a batch is shared out among jar sizes; one where nothing is potted."""
        return self.recipe.fill_shares if part is not Part.SOFTEN else self.recipe.fill_shares[:1]


def _batch_cards(
    scenario: Scenario, pans: tuple[PanClass, ...], rings: tuple[RingClass, ...]
) -> Iterable[BatchCard]:
    for r, recipe in enumerate(scenario.recipes):
        ways = [
            _Way(recipe, pan_class.pan, ring_class.ring, (r, p, q))
            for p, pan_class in enumerate(pans)
            for q, ring_class in enumerate(rings)
        ]
        yield from _two_days(scenario, ways) if recipe.two_days else _steps(scenario, ways, Part.WHOLE)


def _steps(scenario: Scenario, ways: Iterable[_Way], part: Part) -> Iterable[BatchCard]:
    """The cards of every way at every fill step that no rule refuses; one where steps come to the same kg."""
    for way in ways:
        known: set[tuple[int, bool, tuple[int, ...]]] = set()
        for step in scenario.kitchen.fill_steps:
            for source, shares in product(way.sources, way.fill_shares(part)):
                found = panful(scenario, way.recipe, way.pan, way.ring, step, source, way.index, part, shares)
                card = safe_card(found)
                if card is not None and (card.kg, source, card.filled) not in known:
                    known.add((card.kg, source, card.filled))
                    yield card


def _two_days(scenario: Scenario, ways: list[_Way]) -> Iterable[BatchCard]:
    """Cards that soften fruit, and cards that boil the juice of each; none without its other day."""
    softened = list(_steps(scenario, ways, Part.SOFTEN))
    boiled = []
    for way in ways:
        known: set[tuple[int, bool, tuple[int, ...]]] = set()
        juices = sorted({(card.kg, card.from_freezer) for card in softened})
        for (kg, source), shares in product(juices, way.fill_shares(Part.BOIL)):
            found = juice_panful(scenario, way.recipe, way.pan, way.ring, kg, source, way.index, shares)
            card = safe_card(found)
            if card is not None and (kg, source, card.filled) not in known:
                known.add((kg, source, card.filled))
                boiled.append(card)
    can_be_boiled = {(card.kg, card.from_freezer) for card in boiled}
    yield from (card for card in softened if (card.kg, card.from_freezer) in can_be_boiled)
    yield from boiled


def _fruit_card(fruit: Fruit, saleable: int, boxes: Sequence[str]) -> FruitCard:
    keep = 1 - fruit.preparation_loss
    return FruitCard(
        name=fruit.name,
        keep=round(keep * SHARE),
        prepare_per_hour=fruit.prepare_kg_per_hour,
        table_value=round(fruit.table_value * MONEY / SCALE),
        kitchen_value=round(fruit.kitchen_value * MONEY / SCALE),
        frozen_value=round(fruit.kitchen_value / keep * MONEY / SCALE),
        wanted_later=rounded_down(fruit.wanted_later_kg, 1 / SCALE),
        box_volume=rounded_up(1_000_000 / fruit.frozen_kg_per_litre / SCALE),
        freezer_days=rounded_down(fruit.freezer_months * DAYS_IN_MONTH),
        saleable=saleable,
        box=boxes.index(fruit.freezer_box) if fruit.freezer_box else None,
    )


def _lot_card(scenario: Scenario, lot: Lot, index: dict[str, int]) -> LotCard:
    fruit = scenario.fruit(lot.fruit)
    celsius = scenario.kitchen.chiller.celsius
    picked = (lot.day - scenario.start).days
    yard = [(lot.warm_hours, lot.warm_celsius)] if lot.warm_hours else []

    def last(days_at_0c: float) -> int:
        left = float(keeping.days_left(days_at_0c, fruit.keeps_like, yard, celsius))
        return picked + rounded_down(lot.warm_hours / 24 + left)

    life = rounded_down(keeping.days_at(fruit.cook_days, fruit.keeps_like, celsius))
    last_cooked = last(fruit.cook_days)
    beyond = max(0, last_cooked - (scenario.days - 1))
    share = min(1.0, beyond / life) if life else 0.0
    table = lot.grade is Grade.TABLE
    return LotCard(
        name=lot.name,
        fruit=index[lot.fruit],
        table=table,
        units=round(lot.kg * SCALE),
        arrives=max(picked, 0),
        last_sold=last(fruit.sell_days) if table else -1,
        last_peak=last(fruit.peak_days),
        last_cooked=last_cooked,
        left_value=rounded_down(fruit.kitchen_value * MONEY / SCALE * share),
    )


def _demand(scenario: Scenario, index: dict[str, int]) -> tuple[tuple[int, ...], ...]:
    table = [[0] * scenario.days for _ in scenario.fruits]
    for row in scenario.punnets:
        table[index[row.fruit]][(row.day - scenario.start).days] += round(row.kg * SCALE)
    return tuple(tuple(days) for days in table)


def _saleable(lots: list[LotCard], demand: tuple[int, ...]) -> int:
    """The most that could be sold: day by day, the lot that must be sold soonest first."""
    left = {lot.name: lot.units for lot in lots if lot.table}
    by_end = sorted((lot for lot in lots if lot.table), key=lambda lot: lot.last_sold)
    sold = 0
    for day, wanted in enumerate(demand):
        unmet = wanted
        for lot in by_end:
            if lot.arrives <= day <= lot.last_sold:
                part = min(unmet, left[lot.name])
                left[lot.name] -= part
                unmet -= part
        sold += wanted - unmet
    return sold


def _frozen_cards(scenario: Scenario, index: dict[str, int]) -> tuple[FrozenCard, ...]:
    lots = [lot for lot in scenario.lots if lot.place is Place.FREEZER]
    cards = [
        FrozenCard(
            lot.name, index[lot.fruit], round(lot.kg * SCALE), max(-1, (use_by - scenario.start).days), use_by
        )
        for lot in lots
        if (use_by := lot.use_by) is not None
    ]
    return tuple(sorted(cards, key=lambda card: (card.fruit, card.use_by, card.name)))


def _staff_cards(scenario: Scenario) -> Iterable[StaffCard]:
    people = {person.name: i for i, person in enumerate(scenario.people)}
    for shift in scenario.shifts:
        person = scenario.people[people[shift.person]]
        if not scenario.open_minutes(shift.day, shift.start, shift.end + shift.overtime_minutes):
            continue
        for overtime in range(0, shift.overtime_minutes + 1, OVERTIME_STEP):
            card = _staff_card(scenario, shift, overtime, person, people[shift.person])
            first, last = card.break_starts
            if not card.break_minutes or first <= last:
                yield card


def _staff_card(scenario: Scenario, shift: Shift, overtime: int, person: Person, i: int) -> StaffCard:
    rules: WorkRules = scenario.work_rules
    leave = shift.end + overtime
    missing = max(0, rules.least_paid_minutes - (leave - shift.start))
    ordinary = cents(person.pay * (shift.end - shift.start + missing) / 60)
    extra = cents(person.overtime_pay * overtime / 60)
    return StaffCard(
        person=i,
        day=(shift.day - scenario.start).days,
        shift=shift,
        start=shift.start,
        leave=leave,
        break_minutes=rules.break_minutes(leave - shift.start),
        pay=ordinary + extra,
        longest_stretch=rules.longest_stretch_minutes,
        skills=rules.skills_on(person, shift.day),
    )


def _products(scenario: Scenario) -> tuple[Product, ...]:
    return tuple(
        Product(r, s, size.jar, size.jars_on_hand)
        for r, recipe in enumerate(scenario.recipes)
        for s, size in enumerate(recipe.sizes)
    )


def _product_index(scenario: Scenario) -> dict[tuple[str, str], int]:
    """Index of each product by the names of its recipe and jar."""
    products = enumerate(_products(scenario))
    return {(scenario.recipes[of.recipe].name, of.jar): p for p, of in products}


def _order_cards(scenario: Scenario) -> tuple[OrderCard, ...]:
    index = _product_index(scenario)
    return tuple(
        OrderCard(
            order.name,
            index[order.recipe, order.jar],
            order.jars,
            (order.due - scenario.start).days,
            order.weight,
            round(order.price * MONEY),
            order.parts,
        )
        for order in scenario.orders
        if 0 <= (order.due - scenario.start).days < scenario.days
    )


def _good_cards(scenario: Scenario) -> tuple[GoodCard, ...]:
    cards = []
    for good in scenario.goods:
        scale = SCALE if good.name == SUGAR else 1
        delivered = [0] * scenario.days
        for row in scenario.deliveries:
            day = (row.counts_from(scenario.kitchen.open) - scenario.start).days
            if row.good == good.name and day < scenario.days:
                delivered[day] += rounded_down(row.quantity, 1 / scale)
        on_hand = rounded_down(good.on_hand, 1 / scale)
        price = round(good.price * MONEY / scale)
        comes = tuple(
            d for d, day in enumerate(scenario.dates()) if d >= good.lead_days and good.comes_on(day)
        )
        pack = 1 if good.pack is None else round(good.pack * scale)
        cards.append(
            GoodCard(good.name, scale, on_hand, tuple(delivered), price, good.lead_days, comes, pack,
                     good.least_packs, tuple(_lasting(scenario, good, scale)))
        )  # fmt: skip
    return tuple(cards)


def _lasting(scenario: Scenario, good: Good, scale: int) -> Iterable[tuple[int, int]]:
    """The day after each date of a good, and the units on hand that outlast it."""
    parts = ((good.opened, good.opened_use_by), (good.on_hand - good.opened, good.best_before))
    for date in sorted({date for _, date in parts if date is not None}):
        first = max(0, (date - scenario.start).days + 1)
        if first < scenario.days:
            left = sum(quantity for quantity, use_by in parts if use_by is None or use_by > date)
            yield first, rounded_down(left, 1 / scale)


def _supply_cards(kitchen: Kitchen) -> Iterable[SupplyCard]:
    supply, oven = kitchen.supply, kitchen.oven
    for is_gas, kw, other_kw in (
        (False, supply.electric_kw, supply.other_electric_kw),
        (True, supply.gas_kw, 0.0),
    ):
        if kw is not None:
            watts = rounded_down(1000 * kw) - rounded_up(1000 * other_kw)
            of_oven = rounded_up(1000 * oven.kw) if (oven.heat is Heat.GAS) is is_gas else 0
            yield SupplyCard(is_gas, watts, watts - of_oven)


def _in_bottles(kitchen: Kitchen) -> int | None:
    """Watt-minutes of gas in the bottles."""
    kg = kitchen.supply.gas_kg
    return None if kg is None else rounded_down(60_000 * gas.kwh(kg))


def _shop_cards(scenario: Scenario) -> tuple[ShopCard, ...]:
    index = _product_index(scenario)
    return tuple(
        ShopCard((row.day - scenario.start).days, index[row.recipe, row.jar], row.jars)
        for row in scenario.shop
    )
