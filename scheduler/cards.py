"""Situation and physics become integer cards here, the only place that rounds.

Units of a card: mass 0.1 kg, money 0.00001 of the currency, time minutes, days counted from the
first planned day. Durations and goods are never under-stated, jars never over-stated.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property

from scheduler.domain.fruit import Fruit, Grade, Lot, Place
from scheduler.domain.kitchen import BLOCK, STEP, Heat, Kitchen, Pan, Ring
from scheduler.domain.people import OVERTIME_STEP, Person, Shift, WorkRules
from scheduler.domain.recipes import Recipe
from scheduler.domain.scenario import Scenario, Situation
from scheduler.domain.trade import LEMONS, PECTIN, SUGAR
from scheduler.physics import boil, cooling, keeping, setpoint, solids

SCALE = 10  # units in a kg
MONEY = 100_000  # units in one of the currency
SHARE = 10_000  # units in a whole, for shares and losses
LEAST_BATCH_KG = 0.5  # too little to boil without burning; common practice, no source
DAYS_IN_MONTH = 30.4
FORGIVEN = 1e-6


def rounded_up(value: float, unit: float = 1.0) -> int:
    """How many whole ``unit`` cover ``value``, forgiving an error of a millionth of a unit."""
    return math.ceil(value / unit - FORGIVEN)


def rounded_down(value: float, unit: float = 1.0) -> int:
    """How many whole ``unit`` fit in ``value``, forgiving an error of a millionth of a unit."""
    return math.floor(value / unit + FORGIVEN)


def cents(amount: float) -> int:
    """Money rounded to 0.01 with halves up, in card money."""
    return math.floor(amount * 100 + 0.5 + FORGIVEN) * (MONEY // 100)


def minutes_up(minutes: float) -> int:
    """``minutes`` rounded up to a step of the timetable."""
    return STEP * rounded_up(minutes, STEP)


@dataclass(frozen=True, slots=True)
class PanClass:
    """Equal pans; ``names`` has one entry a pan."""

    names: tuple[str, ...]
    pan: Pan


@dataclass(frozen=True, slots=True)
class RingClass:
    """Equal rings; ``names`` has one entry a ring."""

    names: tuple[str, ...]
    ring: Ring


@dataclass(frozen=True, slots=True)
class BatchCard:
    """One way to make one batch: quantities and minutes of each stage."""

    recipe: int
    pan: int
    ring: int
    fill_step: float
    from_freezer: bool
    kg: int
    jars: int
    sugar: int
    lemons: int
    pectin: int
    pieces: tuple[int, ...]
    dissolve: int
    boil: int
    test: int
    reboil: int
    reboils: int
    stand: int
    pot: int
    wash: int
    energy: int
    set_c: float
    last_jar_c: float

    @property
    def prepare(self) -> int:
        """Person-minutes of preparing fruit."""
        return sum(self.pieces)

    @property
    def cooking(self) -> int:
        """Minutes from dissolve to the end of the last set test."""
        return self.dissolve + self.boil + self.test + self.reboils * (self.reboil + self.test)

    @property
    def to_pot(self) -> int:
        return self.cooking + self.stand

    @property
    def chain(self) -> int:
        """Minutes from dissolve to the end of pot up, in which nothing waits."""
        return self.to_pot + self.pot


@dataclass(frozen=True, slots=True)
class FruitCard:
    """``keep`` of ``SHARE`` is left after preparing; values are card money per 0.1 kg as picked.

    ``frozen_value`` is per 0.1 kg prepared. ``saleable`` is the most that could have been sold.
    """

    name: str
    keep: int
    prepare_per_hour: float
    table_value: int
    kitchen_value: int
    frozen_value: int
    wanted_later: int
    box_volume: int  # microlitres in boxes per 0.1 kg
    freezer_days: int
    saleable: int


@dataclass(frozen=True, slots=True)
class LotCard:
    """A fresh lot. Last days may lie before it arrives (never) or past the horizon."""

    name: str
    fruit: int
    table: bool
    units: int
    arrives: int
    last_sold: int
    last_peak: int
    last_cooked: int
    left_value: int  # card money that 0.1 kg left at the end of the horizon is still worth

    @property
    def end(self) -> int:
        """The day at whose end what is left has spoiled."""
        return max(self.last_cooked, self.arrives)


@dataclass(frozen=True, slots=True)
class FrozenCard:
    """A freezer lot on hand; ``last`` is the last day it may be thawed, -1 if already past."""

    name: str
    fruit: int
    units: int
    last: int
    use_by: date


@dataclass(frozen=True, slots=True)
class StaffCard:
    """One way for one person to work on one day: a shift with so much overtime."""

    person: int
    day: int
    shift: Shift
    start: int
    leave: int
    break_minutes: int
    longest_stretch: int
    pay: int

    @property
    def present(self) -> int:
        return self.leave - self.start

    @property
    def break_starts(self) -> tuple[int, int]:
        """Earliest and latest start of the break owed; empty if the first is after the last."""
        first = max(self.start + STEP, self.leave - self.longest_stretch - self.break_minutes)
        last = min(self.start + self.longest_stretch, self.leave - self.break_minutes - STEP)
        return STEP * math.ceil(first / STEP), STEP * (last // STEP)


@dataclass(frozen=True, slots=True)
class OrderCard:
    name: str
    recipe: int
    jars: int
    due: int
    weight: int
    price: int


@dataclass(frozen=True, slots=True)
class GoodCard:
    """``scale`` units in one of the good's own unit; ``price`` card money per card unit."""

    name: str
    scale: int
    on_hand: int
    delivered: tuple[int, ...]
    price: int
    lead: int


@dataclass(frozen=True)
class Cards:
    """All a model needs, in integers."""

    situation: Situation
    days: int
    dates: tuple[date, ...]
    pans: tuple[PanClass, ...]
    rings: tuple[RingClass, ...]
    batches: tuple[BatchCard, ...]
    fruits: tuple[FruitCard, ...]
    lots: tuple[LotCard, ...]
    frozen: tuple[FrozenCard, ...]
    demand: tuple[tuple[int, ...], ...]  # [fruit][day]
    staff: tuple[StaffCard, ...]
    orders: tuple[OrderCard, ...]
    goods: tuple[GoodCard, ...]

    @property
    def scenario(self) -> Scenario:
        return self.situation.scenario

    @property
    def kitchen(self) -> Kitchen:
        return self.situation.scenario.kitchen

    def hold(self, card: BatchCard) -> int:
        """Minutes that the batch holds its ring."""
        return card.cooking if self.kitchen.heatproof_places else card.chain

    def earliest(self, card: BatchCard) -> int:
        """The earliest moment, in minutes from midnight, at which the batch can start to dissolve."""
        oven = self.kitchen.oven
        head = max(card.pieces, default=0)
        return self.kitchen.open + max(head, oven.load_minutes + oven.heat_minutes - card.to_pot, 0)

    @cached_property
    def makings(self) -> tuple[tuple[int, bool], ...]:
        """The (recipe, from_freezer) pairs that have a card, in order."""
        return tuple(sorted({(card.recipe, card.from_freezer) for card in self.batches}))

    @cached_property
    def by_making(self) -> dict[tuple[int, bool], tuple[int, ...]]:
        """Indices of the batch cards of each making."""
        return {
            making: tuple(
                i for i, card in enumerate(self.batches) if (card.recipe, card.from_freezer) == making
            )
            for making in self.makings
        }

    @cached_property
    def fruit_index(self) -> dict[str, int]:
        return {fruit.name: i for i, fruit in enumerate(self.fruits)}

    def uses(self, card: BatchCard) -> dict[str, int]:
        """Goods that one batch uses, in card units."""
        recipe = self.scenario.recipes[card.recipe]
        used: dict[str, int] = {}
        wanted = (
            (SUGAR, card.sugar),
            (LEMONS, card.lemons),
            (PECTIN, card.pectin),
            (recipe.jar, card.jars),
            (recipe.lid, card.jars),
        )
        for name, quantity in wanted:
            if quantity:
                used[name] = used.get(name, 0) + quantity
        return used


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
    litres = solids.mix_litres(1.0, recipe.sugar_per_kg, recipe.water_per_kg)
    units = rounded_down(step * pan.litres * pan.fill / litres, 1 / SCALE)
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
    reboils = reboils_kept(kitchen.first_set_share, kitchen.keep_share)
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


def reboils_kept(first_set_share: float, keep_share: float) -> int:
    """The fewest re-boils within which ``keep_share`` of batches set (each test alike)."""
    count = 0
    while 1 - (1 - first_set_share) ** (count + 1) < keep_share - FORGIVEN:
        count += 1
    return count


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


def freeze_pieces(minutes: int) -> tuple[int, ...]:
    """Split preparing to freeze into whole blocks and a rest; more work contains the pieces of less."""
    blocks, rest = divmod(minutes, BLOCK)
    return (BLOCK,) * blocks + ((rest,) if rest else ())


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
