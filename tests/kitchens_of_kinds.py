"""Random kitchens with one thing more: kinds of preserve, two freezers, trade, or jars; a seed has its own.

Each draws from a Random of its own, so that the plain kitchens stay as they are.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from random import Random
from typing import Any

from scheduler.domain.fruit import Fruit, Place
from scheduler.domain.kitchen import DripStands, Freezer, FreezerBox
from scheduler.domain.recipes import JarSize, OtherIngredient, Recipe
from scheduler.domain.scenario import Scenario, Situation
from scheduler.domain.trade import ANY_DAY, SUGAR, Good, ShopDemand, Weekday
from scheduler.law.composition import Kind, Role
from tests.kitchens import kg, random_kitchen


def kitchen_of_kinds(seed: int, **sizes: Any) -> Situation:
    """A random kitchen that makes more than jam, with drip stands that are tight now and then; sizes as of
    ``random_kitchen``.
    """
    rng, situation = Random(f"kinds {seed}"), random_kitchen(seed, **sizes)
    scenario = situation.scenario
    kitchen = replace(scenario.kitchen, drip_stands=DripStands(2, rng.choice((3.0, 6.0, 30.0))))
    recipes = tuple(_of_a_kind(rng, recipe) for recipe in scenario.recipes)
    return replace(situation, scenario=replace(scenario, kitchen=kitchen, recipes=recipes))


def _of_a_kind(rng: Random, recipe: Recipe) -> Recipe:
    """The recipe as another kind of preserve; with half the sugar where half of the fruit stays behind."""
    kind = rng.choice(list(Kind))
    strained = kind in (Kind.JELLY, Kind.CORDIAL, Kind.BUTTER)
    return replace(
        recipe,
        kind=kind,
        others=(OtherIngredient("vinegar", 300.0, Role.VINEGAR),) if kind is Kind.CHUTNEY else (),
        soften_minutes=rng.randint(5, 25) if strained else rng.choice((0, 5, 10)),
        strained_share=rng.choice((0.5, 0.6, 0.8)) if strained else None,
        strain_kg_per_hour=rng.choice((20.0, 60.0)),
        water_per_kg=rng.choice((0.1, 0.2, 0.4)),
        sugar_per_kg=rng.choice((0.4, 0.5, 0.6)) if strained else recipe.sugar_per_kg,
        final_solids=rng.choice((0.55, 0.6, 0.65)),
        longest_boil_minutes=rng.choice((60, 90)),
    )


def kitchen_of_freezers(seed: int, **sizes: Any) -> Situation:
    """A random kitchen whose freezer is two as a rule, of different build; sizes as of ``random_kitchen``.

    At times one of them is defrosted or fails, or room is kept free; not all of these have a plan.
    """
    rng, situation = Random(f"freezers {seed}"), random_kitchen(seed, **sizes)
    scenario = situation.scenario
    first: Freezer = scenario.kitchen.freezer
    second: Freezer | None = None
    dates = scenario.dates()
    if rng.random() < 0.7:
        first, second = _divided(rng, first)
    first = replace(first, **_at_times(rng, dates))
    if second is not None:
        second = replace(second, **_at_times(rng, dates))
    free = rng.random() < 0.4
    fruits, boxes = _in_boxes(Random(f"boxes {seed}"), scenario)
    kitchen = replace(
        scenario.kitchen,
        freezer=first,
        second_freezer=second,
        room_free_kg=kg(scenario.kitchen.freezer.kg * rng.choice((0.3, 0.8, 0.95))) if free else 0.0,
        room_free_from=rng.choice(dates) if free else None,
        freezer_boxes=boxes,
    )
    return replace(situation, scenario=replace(scenario, kitchen=kitchen, fruits=fruits))


def _in_boxes(rng: Random, scenario: Scenario) -> tuple[tuple[Fruit, ...], tuple[FreezerBox, ...]]:
    """As a rule fruits are packed in counted boxes, few of them empty at the start; else none counted."""
    if rng.random() < 0.3:
        return scenario.fruits, ()
    kinds = [FreezerBox(name, rng.choice((1.0, 2.5, 5.0)), 0) for name in ("small box", "large box")]
    fruits = tuple(replace(f, freezer_box=rng.choice(kinds).name) for f in scenario.fruits)
    boxes = []
    for kind in kinds:
        mine = [f.name for f in fruits if f.freezer_box == kind.name]
        full = sum(
            kind.needed(
                sum(lot.kg for lot in scenario.lots if (lot.fruit, lot.place) == (name, Place.FREEZER))
            )
            for name in mine
        )
        boxes += [replace(kind, count=full + rng.choice((0, 1, 3)))] if mine else []
    return fruits, tuple(boxes)


def _divided(rng: Random, whole: Freezer) -> tuple[Freezer, Freezer]:
    """Two freezers that together are as large as one, of different build."""
    heavy, roomy, quick = (rng.choice((0.3, 0.5, 0.7)) for _ in range(3))

    def part(name: str, heavy: float, roomy: float, quick: float) -> Freezer:
        return replace(
            whole,
            name=name,
            kg=kg(whole.kg * heavy),
            litres=kg(whole.litres * roomy),
            freeze_kg_per_day=kg(whole.freeze_kg_per_day * quick),
            tray_litres_per_kg=rng.choice((2.0, 3.5)),
        )

    return part("first", heavy, roomy, quick), part("second", 1 - heavy, 1 - roomy, 1 - quick)


def _at_times(rng: Random, dates: tuple[date, ...]) -> dict[str, Any]:
    """The day on which a freezer is defrosted or fails; more often neither."""
    key = rng.choice(("defrost_on", "fails_on", "", "", ""))
    return {key: rng.choice(dates)} if key else {}


def trading_kitchen(seed: int, **sizes: Any) -> Situation:
    """A random kitchen with orders that take no part delivery, a shop, packs and delivery days; sizes as of
    ``random_kitchen``.
    """
    rng, situation = Random(f"trade {seed}"), random_kitchen(seed, **sizes)
    scenario = situation.scenario
    shop = tuple(
        ShopDemand(day, recipe.name, recipe.jar, rng.randint(3, 25))
        for recipe in scenario.recipes
        for day in scenario.dates()
        if rng.random() < 0.4
    )
    traded = replace(
        scenario,
        orders=tuple(replace(order, parts=rng.random() < 0.5) for order in scenario.orders),
        goods=tuple(_in_packs(rng, good) for good in scenario.goods),
        shop=shop,
    )
    return replace(situation, scenario=traded)


def _in_packs(rng: Random, good: Good) -> Good:
    pack = rng.choice((None, 2.5, 5.0) if good.name == SUGAR else (None, 10.0, 24.0))
    return replace(
        good,
        on_hand=rng.choice((0.0, good.on_hand)),
        lead_days=min(good.lead_days, 1),
        pack=pack,
        least_packs=1 if pack is None else rng.choice((1, 1, 3)),
        delivery_days=ANY_DAY if rng.random() < 0.5 else frozenset(rng.sample(list(Weekday), 4)),
    )


def kitchen_of_jars(seed: int, **sizes: Any) -> Situation:
    """A random kitchen that trades, washes its jars, holds samples back, and has little room for jars; most
    recipes are potted in two sizes. Sizes as of ``random_kitchen``.
    """
    rng, situation = Random(f"jars {seed}"), trading_kitchen(seed, **sizes)
    scenario = situation.scenario
    recipes = tuple(_in_sizes(rng, recipe) for recipe in scenario.recipes)
    on_hand = sum(size.jars_on_hand for recipe in recipes for size in recipe.sizes)
    kitchen = replace(
        scenario.kitchen,
        oven=replace(scenario.kitchen.oven, wash_jars_per_hour=rng.choice((None, 60.0, 120.0))),
        sample_jars=rng.choice((0, 1, 2)),
        scrap_share=rng.choice((0.0, 0.05)),
        rack_jars=rng.choice((None, 30, 60)) if scenario.kitchen.settle_days else None,
        shelf_jars=rng.choice((None, on_hand + 10, on_hand + 40)),
    )
    named = {recipe.name: [size.jar for size in recipe.sizes] for recipe in recipes}
    orders = tuple(replace(order, jar=rng.choice(named[order.recipe])) for order in scenario.orders)
    goods = (*scenario.goods, Good("jar 220 g", "each", rng.choice((0.0, 60.0)), 0.3, 1))
    scenario = replace(scenario, kitchen=kitchen, recipes=recipes, orders=orders, goods=goods)
    return replace(situation, scenario=scenario)


def _in_sizes(rng: Random, recipe: Recipe) -> Recipe:
    if rng.random() < 0.3:
        return recipe
    small = JarSize("jar 220 g", recipe.lid, 0.22, rng.choice((0, 6)))
    ways = rng.choice((((1.0, 0.0), (0.0, 1.0)), ((0.5, 0.5),), ((1.0, 0.0), (0.5, 0.5), (0.0, 1.0))))
    return replace(recipe, more_sizes=(small,), fill_shares=ways, most_jars=recipe.most_jars + 10)
