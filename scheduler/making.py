"""From a situation to its cards, the only place that rounds: batches, days of lots, ways to be in."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from scheduler.cards import (
    FORGIVEN,
    MONEY,
    SCALE,
    SHARE,
    BatchCard,
    Cards,
    FrozenCard,
    FruitCard,
    GoodCard,
    LotCard,
    OrderCard,
    PanClass,
    RingClass,
    StaffCard,
    cents,
    minutes_up,
    rounded_down,
    rounded_up,
)
from scheduler.domain.fruit import Fruit, Grade, Lot, Place
from scheduler.domain.kitchen import BLOCK, STEP, Heat, Kitchen, Pan, Ring
from scheduler.domain.people import OVERTIME_STEP, Person, Shift, WorkRules
from scheduler.domain.recipes import Recipe
from scheduler.domain.scenario import Scenario, Situation
from scheduler.domain.trade import SUGAR
from scheduler.physics import boil, cooling, keeping, setpoint, solids
from scheduler.physics.pan import largest_fruit_kg
from scheduler.physics.settest import reboils_within

LEAST_BATCH_KG = 0.5  # too little to boil without burning; common practice, no source
DAYS_IN_MONTH = 30.4


def make_cards(situation: Situation) -> Cards:
    """Turn a situation into the integers of a model."""
    scenario = situation.scenario
    pans = _pan_classes(scenario.kitchen.pans)
    rings = _ring_classes(scenario.kitchen.rings)
    index = {fruit.name: i for i, fruit in enumerate(scenario.fruits)}
    lots = tuple(_lot_card(scenario, lot, index) for lot in fresh_lots(scenario))
    demand = _demand(scenario, index)
    fruits = tuple(
        _fruit_card(fruit, _saleable([lot for lot in lots if lot.fruit == i], demand[i]))
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
        orders=_order_cards(scenario),
        goods=_good_cards(scenario),
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


def _batch_cards(
    scenario: Scenario, pans: tuple[PanClass, ...], rings: tuple[RingClass, ...]
) -> Iterable[BatchCard]:
    kitchen = scenario.kitchen
    for r, recipe in enumerate(scenario.recipes):
        for p, pan_class in enumerate(pans):
            for q, ring_class in enumerate(rings):
                for step in kitchen.fill_steps:
                    for from_freezer in (False, True) if recipe.frozen_share >= 1 else (False,):
                        card = batch_card(
                            scenario, recipe, pan_class.pan, ring_class.ring, step, from_freezer, (r, p, q)
                        )
                        if card is not None and _fits_the_day(card, kitchen):
                            yield card


def _fits_the_day(card: BatchCard, kitchen: Kitchen) -> bool:
    oven = kitchen.oven
    head = max(max(card.pieces, default=0), oven.load_minutes + oven.heat_minutes - card.to_pot, 0)
    return kitchen.open + head + card.chain + card.wash <= kitchen.close


def batch_card(
    scenario: Scenario,
    recipe: Recipe,
    pan: Pan,
    ring: Ring,
    step: float,
    from_freezer: bool,
    index: tuple[int, int, int] = (0, 0, 0),
) -> BatchCard | None:
    """The card of a recipe in a pan on a ring at a fill step; None where no safe batch exists."""
    kitchen = scenario.kitchen
    if pan.diameter_cm > ring.largest_pan_cm + FORGIVEN:
        return None
    full = largest_fruit_kg(pan.litres, pan.fill, recipe.sugar_per_kg, recipe.water_per_kg)
    units = rounded_down(step * full, 1 / SCALE)
    kg = units / SCALE
    if kg < LEAST_BATCH_KG - FORGIVEN:
        return None
    bands = [(share.low, share.high) for share in recipe.fruits]
    fruits = [scenario.fruit(share.fruit) for share in recipe.fruits]
    fruit_solids = solids.mix_extreme(bands, [fruit.solids for fruit in fruits], largest=False)
    sugar, water = kg * recipe.sugar_per_kg, kg * recipe.water_per_kg
    jam = solids.jam_kg(kg, fruit_solids, sugar, recipe.final_solids)
    jars = solids.jars(jam, recipe.pan_loss, recipe.jar_kg)
    water_off = solids.water_off_kg(kg, fruit_solids, sugar, recipe.final_solids, water)
    if jars < 1 or jars > kitchen.oven.jars or water_off < 0:
        return None
    heat_up = boil.heat_up_minutes(
        kg, fruit_solids, sugar, water, kitchen.chiller.celsius,
        setpoint.water_boils_c(kitchen.altitude_m), ring.kw, ring.efficiency,
    )  # fmt: skip
    boiling = boil.boil_minutes(water_off, ring.kw, ring.efficiency, pan.diameter_cm, kitchen.altitude_m)
    reboils = int(reboils_within(kitchen.keep_share, kitchen.first_set_share))
    card = BatchCard(
        recipe=index[0], pan=index[1], ring=index[2], fill_step=step, from_freezer=from_freezer,
        kg=units, jars=jars, sugar=rounded_up(sugar, 1 / SCALE),
        lemons=rounded_up(kg * recipe.lemons_per_kg), pectin=rounded_up(kg * recipe.pectin_g_per_kg),
        pieces=() if from_freezer else pieces_of(_prepare_minutes(kg, bands, fruits)),
        dissolve=minutes_up(max(recipe.dissolve_minutes, heat_up)), boil=minutes_up(boiling),
        test=minutes_up(kitchen.set_test_minutes), reboil=minutes_up(kitchen.reboil_minutes),
        reboils=reboils, stand=minutes_up(kitchen.stand_minutes),
        pot=minutes_up(60 * jars / (kitchen.fillers * kitchen.jars_per_filler_hour)),
        wash=minutes_up(kitchen.wash_minutes), energy=0,
        set_c=setpoint.set_temperature_c(recipe.final_solids, kitchen.altitude_m), last_jar_c=0.0,
    )  # fmt: skip
    if card.boil + reboils * card.reboil > recipe.longest_boil_minutes:
        return None
    last_jar = cooling.temperature_after(
        card.test + card.stand + card.pot, card.set_c, jam, pan.diameter_cm, kitchen.room_c, covered=True
    )
    if last_jar < kitchen.potting_limit_c:
        return None
    return replace(card, energy=_energy(card, ring, kitchen), last_jar_c=last_jar)


def _energy(card: BatchCard, ring: Ring, kitchen: Kitchen) -> int:
    gas = ring.heat is Heat.GAS
    price = kitchen.gas_price_kwh if gas else kitchen.electricity_price_kwh
    hours = (card.dissolve + card.boil + card.reboils * card.reboil) / 60
    return cents(ring.kw * hours * price)


def _prepare_minutes(kg: float, bands: list[tuple[float, float]], fruits: list[Fruit]) -> int:
    hours_per_kg = [1 / (1 - fruit.preparation_loss) / fruit.prepare_kg_per_hour for fruit in fruits]
    return minutes_up(60 * kg * solids.mix_extreme(bands, hours_per_kg, largest=True))


def pieces_of(minutes: int) -> tuple[int, ...]:
    """Split preparing into the fewest pieces of at most a block, as equal as steps allow."""
    count = math.ceil(minutes / BLOCK)
    if not count:
        return ()
    steps, more = divmod(minutes // STEP, count)
    return tuple(STEP * (steps + (i < more)) for i in range(count))


def _fruit_card(fruit: Fruit, saleable: int) -> FruitCard:
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
    )


def _lot_card(scenario: Scenario, lot: Lot, index: dict[str, int]) -> LotCard:
    fruit = scenario.fruit(lot.fruit)
    celsius = scenario.kitchen.chiller.celsius
    picked = (lot.day - scenario.start).days

    def last(days_at_0c: float) -> int:
        return picked + rounded_down(keeping.days_at(days_at_0c, fruit.keeps_like, celsius))

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
        for overtime in range(0, shift.overtime_minutes + 1, OVERTIME_STEP):
            card = _staff_card(scenario, shift, overtime, person, people[shift.person])
            first, last = card.break_starts
            if not card.break_minutes or first <= last:
                yield card


def _staff_card(scenario: Scenario, shift: Shift, overtime: int, person: Person, i: int) -> StaffCard:
    rules: WorkRules = scenario.work_rules
    leave = shift.end + overtime
    ordinary = cents(person.pay * (shift.end - shift.start) / 60)
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
    )


def _order_cards(scenario: Scenario) -> tuple[OrderCard, ...]:
    recipes = {recipe.name: i for i, recipe in enumerate(scenario.recipes)}
    return tuple(
        OrderCard(
            order.name,
            recipes[order.recipe],
            order.jars,
            (order.due - scenario.start).days,
            order.weight,
            round(order.price * MONEY),
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
            if row.good == good.name:
                delivered[(row.day - scenario.start).days] += rounded_down(row.quantity, 1 / scale)
        on_hand = rounded_down(good.on_hand, 1 / scale)
        price = round(good.price * MONEY / scale)
        cards.append(GoodCard(good.name, scale, on_hand, tuple(delivered), price, good.lead_days))
    return tuple(cards)
