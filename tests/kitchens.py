"""Random kitchens: small, complete, valid situations of invented farms, the same for the same seed.

Every call draws the sizes and then, feature by feature, whether a limit is loose or tight. Numbers
are realistic (pans of 6-20 litres filled to half, rings of 2-6 kW, 340 g jars), so that batch cards
exist, and money comes in values whose sums need no rounding.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import pairwise
from random import Random

from scheduler.domain.fruit import Fruit, Grade, Lot, Place, PunnetDemand
from scheduler.domain.kitchen import Chiller, Freezer, Heat, JarOven, Kitchen, Pan, Ring, Thaw
from scheduler.domain.people import Person, Skill
from scheduler.domain.recipes import FruitShare, Recipe
from scheduler.domain.scenario import Scenario, Situation, Slack
from scheduler.domain.trade import LEMONS, PECTIN, SUGAR, Delivery, Good, Order
from tests.drawn_people import people_of, shifts_of, tight, work_rules

MONDAY = date(2026, 7, 6)

# name, letter, colour, solids, loss, kg an hour, sell, peak and cook days at 0 °C, table, kitchen value
FRUITS = (
    ("strawberry", "S", "crimson", 0.09, 0.08, 8.0, 5.0, 4.0, 8.0, 5.5, 2.2),
    ("raspberry", "R", "deeppink", 0.14, 0.02, 20.0, 3.0, 2.0, 5.0, 8.0, 3.5),
    ("gooseberry", "G", "yellowgreen", 0.12, 0.06, 6.0, 15.0, 12.0, 20.0, 4.0, 1.8),
    ("blackcurrant", "B", "indigo", 0.18, 0.05, 10.0, 10.0, 7.0, 14.0, 6.0, 2.9),
)
PANS = ((6.0, 24.0), (9.0, 28.0), (14.0, 34.0), (20.0, 40.0))  # litres, diameter in cm
RINGS = (  # heat, kW, efficiency, largest pan in cm
    (Heat.GAS, 4.0, 0.45, 34.0),
    (Heat.GAS, 6.0, 0.45, 42.0),
    (Heat.ELECTRIC, 2.0, 0.7, 28.0),
    (Heat.INDUCTION, 3.5, 0.85, 30.0),
)
Range = tuple[int, int]


def random_kitchen(
    seed: int,
    *,
    days: Range = (2, 4),
    fruits: Range = (1, 3),
    pans: Range = (1, 3),
    rings: Range = (1, 3),
    people: Range = (1, 4),
    picks_kg: float = 30.0,
    hours: Range = (5, 9),
    warm: bool = True,
) -> Situation:
    """A small random situation; ranges are inclusive, ``picks_kg`` is the most kg of one pick.

    ``hours`` is the range of the hours from opening to closing, 8 o'clock being the earliest. Where ``warm``,
    some farms leave fruit in the yard before it comes to the chiller.
    """
    rng = Random(f"kitchen {seed}")
    start = MONDAY + timedelta(days=rng.randint(0, 6))
    dates = tuple(start + timedelta(days=i) for i in range(rng.randint(*days)))
    grown = _fruits(rng, rng.randint(*fruits), picks_kg)
    hands = people_of(rng, rng.randint(*people))
    lots = _lots(rng, grown, start, picks_kg)
    frozen = kg(sum(lot.kg for lot in lots if lot.place is Place.FREEZER))
    size = _Size(rng.randint(*pans), rng.randint(*rings), picks_kg, rng.randint(*hours), frozen)
    kitchen = _kitchen(rng, hands, size)
    recipes = _recipes(rng, grown)
    rules = work_rules(rng)
    picks = _picks(rng, grown, dates, picks_kg)
    goods, deliveries = _store(rng, dates)
    if warm:
        yard = Random(f"yard {seed}")  # its own, so that nothing else of a kitchen depends on it
        lots, picks = _left_warm(yard, lots, picks)
    scenario = Scenario(
        name=f"random kitchen {seed}",
        farm="Kilbrack",
        kitchen_id="kilbrack",
        currency="EUR",
        start=start,
        days=len(dates),
        kitchen=kitchen,
        work_rules=rules,
        slack=rng.choice((Slack(0.0, 0.0, 0.0, 0.0), Slack(0.02, 2.0, 0.0, 0.0), Slack(0.1, 1.0, 0.1, 0.02))),
        fruits=grown,
        recipes=recipes,
        lots=lots,
        picks=picks,
        punnets=_punnets(rng, grown, dates, picks_kg),
        people=hands,
        shifts=shifts_of(rng, hands, dates, kitchen, rules),
        orders=_orders(rng, recipes, dates),
        goods=goods,
        deliveries=deliveries,
    )
    return Situation(scenario=scenario, as_of=start, input_hash=f"random-{seed}")


def tiny_kitchen(seed: int) -> Situation:
    """A situation of a few batches, small enough to try every plan one by one; no fruit stands warm."""
    rng = Random(f"tiny {seed}")
    situation = random_kitchen(
        seed + 1_000_000,
        days=(1, 2),
        fruits=(1, 2),
        pans=(1, 2),
        rings=(1, 2),
        people=(1, 3),
        picks_kg=7.0,
        hours=(3, 4),
        warm=False,
    )
    scenario = situation.scenario
    kitchen = scenario.kitchen
    steps = kitchen.fill_steps[-rng.randint(1, 2) :]
    recipes = scenario.recipes[-2:]
    cooked = {recipe.name for recipe in recipes}
    orders = tuple(order for order in scenario.orders if order.recipe in cooked)
    small = replace(scenario, kitchen=replace(kitchen, fill_steps=steps), recipes=recipes, orders=orders)
    return replace(situation, scenario=small)


def kg(value: float) -> float:
    """``value`` as a whole number of 0.1 kg."""
    return round(value, 1)


def _fruits(rng: Random, count: int, picks_kg: float) -> tuple[Fruit, ...]:
    chosen = sorted(rng.sample(range(len(FRUITS)), count))
    grown = []
    for row in map(FRUITS.__getitem__, chosen):
        name, letter, colour, solids, loss, rate, sell, peak, cook, table, worth = row
        grown.append(
            Fruit(
                name=name,
                letter=letter,
                colour=colour,
                solids=solids,
                preparation_loss=rng.choice((0.0, loss)),
                prepare_kg_per_hour=rate,
                sell_days=sell,
                peak_days=peak,
                cook_days=cook,
                keeps_like=name,
                table_value=table,
                kitchen_value=worth,
                wanted_later_kg=rng.choice((0.0, kg(picks_kg / 4), kg(picks_kg * 10))),
                freezer_months=rng.choice((4.0, 8.0, 12.0)),
                frozen_kg_per_litre=rng.choice((0.5, 0.6)),
            )
        )
    return tuple(grown)


@dataclass(frozen=True, slots=True)
class _Size:
    pans: int
    rings: int
    picks_kg: float
    hours: int
    frozen_kg: float  # in the freezer at the start; it has room for at least that much


def _kitchen(rng: Random, hands: tuple[Person, ...], size: _Size) -> Kitchen:
    picks_kg = size.picks_kg
    opens = rng.choice((480, 510, 540))
    limit = rng.choice((70.0, 72.0, 75.0, 85.0))
    fillers = min(rng.choice((1, 1, 2)), sum(Skill.FILL in person.skills for person in hands))
    steps = rng.choice(((1.0,), (0.6, 1.0), (0.6, 0.8, 1.0)))
    return Kitchen(
        open=opens,
        close=opens + 60 * size.hours,
        altitude_m=rng.choice((0.0, 60.0, 300.0)),
        room_c=22.0,
        pans=_pans(rng, size.pans),
        rings=_rings(rng, size.rings),
        heatproof_places=rng.randint(0, 2),
        oven=_oven(rng),
        chiller=Chiller(
            kg=kg(picks_kg * (rng.uniform(0.3, 0.8) if tight(rng) else 20)),
            celsius=rng.choice((1.0, 4.0, 7.0)),
        ),
        freezer=Freezer(
            kg=kg(size.frozen_kg + picks_kg * (rng.uniform(0.05, 0.5) if tight(rng) else 20)),
            litres=kg(size.frozen_kg * 2 + picks_kg * (rng.uniform(0.2, 1.5) if tight(rng) else 60)),
            freeze_kg_per_day=kg(picks_kg * (rng.uniform(0.1, 0.5) if tight(rng) else 20)),
            tray_litres_per_kg=rng.choice((2.0, 3.5)),
        ),
        fill_steps=steps,
        pans_per_cook=rng.randint(1, 3),
        people_while_boiling=min(rng.randint(1, 2), len(hands)),
        fillers=fillers,
        jars_per_filler_hour=rng.choice((90.0, 120.0)),
        set_test_minutes=5,
        reboil_minutes=rng.choice((5, 10)),
        stand_minutes=rng.choice((5, 10)),
        wash_minutes=rng.choice((5, 10)),
        first_set_share=rng.choice((0.7, 0.85)),
        keep_share=0.8,
        potting_limit_c=limit,
        potting_process="" if limit >= 85 else "hot fill with inversion, approved by the farm's adviser",
        older_share=rng.choice((0.0, 0.2, 0.3, 1.0)),
        settle_days=rng.randint(0, 1),
        gas_price_kwh=0.12,
        electricity_price_kwh=0.32,
        thaw=Random(f"thaw {opens} {limit} {size}").choice((*Thaw, Thaw.OVERNIGHT)),
        keep_hot=Random(f"keep hot {opens} {limit} {size}").random() < 0.5,
    )


def _pans(rng: Random, count: int) -> tuple[Pan, ...]:
    """The first pan fits every ring; a later one is often the twin of the one before."""
    kinds = [rng.choice(PANS[:2])]
    while len(kinds) < count:
        kinds.append(kinds[-1] if rng.random() < 0.3 else rng.choice(PANS))
    return tuple(Pan(f"pan {i + 1}", litres, wide, 0.5) for i, (litres, wide) in enumerate(kinds))


def _rings(rng: Random, count: int) -> tuple[Ring, ...]:
    kinds = [rng.choice(RINGS)]
    while len(kinds) < count:
        kinds.append(kinds[-1] if rng.random() < 0.3 else rng.choice(RINGS))
    return tuple(Ring(f"ring {i + 1}", *kind) for i, kind in enumerate(kinds))


def _oven(rng: Random) -> JarOven:
    return JarOven(
        jars=rng.choice((14, 20)) if tight(rng) else 80,
        load_minutes=rng.choice((5, 10)),
        heat_minutes=rng.choice((15, 30)),
        hot_minutes=rng.choice((30, 90)),
    )


def _recipes(rng: Random, grown: tuple[Fruit, ...]) -> tuple[Recipe, ...]:
    """A jam of each fruit, and for a neighbouring pair of fruits often one that mixes both."""
    recipes = [_recipe(rng, f"{fruit.name} jam", (FruitShare(fruit.name, 1.0, 1.0),)) for fruit in grown]
    for left, right in pairwise(grown):
        if rng.random() < 0.6:
            low = rng.choice((0.3, 0.4, 0.5))
            shares = (FruitShare(left.name, low, low + 0.2), FruitShare(right.name, 0.8 - low, 1.0 - low))
            tidy = tuple(FruitShare(s.fruit, round(s.low, 2), round(s.high, 2)) for s in shares)
            recipes.append(_recipe(rng, f"{left.name} and {right.name} jam", tidy))
    return tuple(recipes)


def _recipe(rng: Random, name: str, shares: tuple[FruitShare, ...]) -> Recipe:
    on_hand = rng.choice((0, 0, 6))
    return Recipe(
        name=name,
        fruits=shares,
        sugar_per_kg=rng.choice((0.8, 0.9, 1.0)),
        water_per_kg=rng.choice((0.0, 0.0, 0.1)),
        lemons_per_kg=rng.choice((0.0, 1.0)),
        pectin_g_per_kg=rng.choice((0.0, 6.0)),
        final_solids=rng.choice((0.62, 0.65)),
        ph=3.3,
        frozen_share=rng.choice((0.0, 0.3, 0.5, 1.0, 1.0)),
        dissolve_minutes=rng.choice((10, 15)),
        longest_boil_minutes=rng.choice((40, 60)),
        pan_loss=0.03,
        jar="jar 340 g",
        lid="lid 63 mm",
        jar_kg=0.34,
        jars_on_hand=on_hand,
        most_jars=on_hand + (rng.randint(10, 40) if tight(rng) else 2000),
        heat_step="",
    )


def _lots(rng: Random, grown: tuple[Fruit, ...], start: date, picks_kg: float) -> tuple[Lot, ...]:
    """Lots on hand: chiller lots one to three days old, freezer lots some of which are near their date."""
    lots = []
    for fruit in grown:
        if rng.random() < 0.6:
            grade = rng.choice(tuple(Grade))
            day = start - timedelta(days=rng.randint(1, 3))
            mass = kg(rng.uniform(0.1, 0.6) * picks_kg)
            lots.append(Lot(f"{fruit.name} {grade} {day}", fruit.name, grade, mass, Place.CHILLER, day))
        for i in range(rng.randint(0, 2)):
            use_by = start + timedelta(days=rng.choice((0, 1, 2, 60)) + 10 * i)
            day = use_by - timedelta(days=240)
            name, mass = f"{fruit.name} frozen {day}", kg(rng.uniform(0.1, 0.5) * picks_kg)
            lots.append(Lot(name, fruit.name, Grade.KITCHEN, mass, Place.FREEZER, day, use_by))
    return tuple(lots)


def _picks(
    rng: Random, grown: tuple[Fruit, ...], dates: tuple[date, ...], picks_kg: float
) -> tuple[Lot, ...]:
    return tuple(
        Lot(f"{name} {grade} {day}", name, grade, kg(rng.uniform(0.1, 1.0) * picks_kg), Place.CHILLER, day)
        for name in (fruit.name for fruit in grown)
        for day in dates
        for grade in Grade
        if rng.random() < 0.6
    )


def _left_warm(rng: Random, *groups: tuple[Lot, ...]) -> Iterator[tuple[Lot, ...]]:
    """On one farm in three some fresh lots stand in the yard, now and then until hardly anything is left."""
    share = rng.choice((0.0, 0.0, 0.5))
    for lots in groups:
        yield tuple(
            replace(lot, warm_hours=rng.choice((2.0, 5.0, 12.0, 40.0)), warm_celsius=rng.choice((14.0, 20.0)))
            if lot.place is Place.CHILLER and rng.random() < share
            else lot
            for lot in lots
        )


def _punnets(
    rng: Random, grown: tuple[Fruit, ...], dates: tuple[date, ...], picks_kg: float
) -> tuple[PunnetDemand, ...]:
    return tuple(
        PunnetDemand(day, fruit.name, kg(rng.uniform(0.05, 0.7) * picks_kg))
        for fruit in grown
        for day in dates
        if rng.random() < 0.7
    )


def _orders(rng: Random, recipes: tuple[Recipe, ...], dates: tuple[date, ...]) -> tuple[Order, ...]:
    """Orders for some recipes; one in ten falls due after the last day, out of the plan's reach."""
    orders: list[Order] = []
    for recipe in recipes:
        for _ in range(rng.randint(0, 2)):
            due = dates[-1] + timedelta(days=3) if rng.random() < 0.1 else rng.choice(dates)
            price, jars, weight = rng.choice((3.5, 4.2)), rng.randint(4, 40), rng.randint(1, 3)
            name = f"order {len(orders) + 1}"
            orders.append(Order(name, "farm shop", recipe.name, recipe.jar, jars, due, price, weight))
    return tuple(orders)


def _store(rng: Random, dates: tuple[date, ...]) -> tuple[tuple[Good, ...], tuple[Delivery, ...]]:
    """All goods that recipes use; some run short, with lead times of up to two days."""
    scale = 0.4 if tight(rng) else 8.0
    lead = rng.choice((0, 1, 2, 30))
    goods = (
        Good(SUGAR, "kg", kg(12 * scale), 1.2, lead),
        Good(LEMONS, "piece", float(round(12 * scale)), 0.4, rng.randint(0, 1)),
        Good(PECTIN, "g", float(round(80 * scale)), 0.03, rng.randint(0, 2)),
        Good("jar 340 g", "piece", float(round(rng.choice((60, 120)) * scale)), 0.45, lead),
        Good("lid 63 mm", "piece", float(round(rng.choice((60, 120)) * scale)), 0.12, lead),
    )
    deliveries = tuple(
        Delivery(rng.choice(dates), good.name, float(rng.randint(5, 30)))
        for good in goods
        if rng.random() < 0.4
    )
    return goods, deliveries
