"""Small farms on which single rules bind, and changes that make them bind."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

from scheduler.domain.days import Closure
from scheduler.domain.fruit import Place
from scheduler.domain.kitchen import FreezerBox, Labels
from scheduler.domain.people import Skill
from scheduler.domain.scenario import Scenario, Situation
from tests.kitchens import tiny_kitchen
from tests.kitchens_of_chores import drawing_down
from tests.kitchens_of_kinds import kitchen_of_kinds, trading_kitchen
from tests.property.without import (
    Change,
    Farming,
    changed,
    told,
)
from tests.supplies import with_supply


def tiny(seed: int, change: Farming | None = None) -> Situation:
    """A tiny kitchen, changed where no seed makes its rule bind."""
    situation = tiny_kitchen(seed)
    return replace(situation, scenario=change(situation.scenario)) if change else situation


def dripping(seed: int, stands: int = 2) -> Situation:
    """A small kitchen that makes jelly or cordial, with so many drip stands."""
    situation = kitchen_of_kinds(seed, days=(2, 3), fruits=(1, 1), picks_kg=12.0)
    change = changed("kitchen", drip_stands=lambda drip: replace(drip, count=stands))
    return replace(situation, scenario=change(situation.scenario))


def supplied(seed: int) -> Situation:
    """A tiny kitchen whose electricity and gas are limited."""
    return with_supply(seed, tiny_kitchen(seed))


def trading(seed: int) -> Situation:
    """A small kitchen with a shop, packs, delivery days and orders that take no part delivery."""
    return trading_kitchen(seed, days=(2, 3), fruits=(1, 1), pans=(1, 1), picks_kg=12.0)


def labelled(an_hour: float, **kitchen: Any) -> Farming:
    """Jars are labelled on the day after potting."""
    return changed("kitchen", labels=Labels(an_hour, 1), **kitchen)


def taken_out(seed: int, **kitchen: Any) -> Situation:
    """A small kitchen that cooks from the freezer, which half an hour the day before goes to."""
    sizes = {"days": (2, 3), "fruits": (1, 1), "pans": (1, 1), "people": (1, 2), "hours": (3, 5)}
    situation = drawing_down(seed, **sizes)
    change = changed("kitchen", labels=None, take_out_minutes=30, **kitchen)
    return replace(situation, scenario=change(situation.scenario))


def in_oven(**fields: int) -> Farming:
    return changed("kitchen", oven=lambda oven: replace(oven, **fields))


def six_of_each(places: str) -> Change:
    """Every pan or ring is there six times, so that there is a name to write for each clashing batch."""
    return told(changed("kitchen", **{places: lambda rows: 6 * rows}))


def one_cook_of_two_pans(farm: Scenario) -> Scenario:
    """Nothing but the set tests keeps two pans from running side by side."""
    two_pans = changed(
        "kitchen",
        pans=lambda pans: tuple(replace(pans[0], name=name) for name in ("left pan", "right pan")),
        rings=lambda rings: tuple(replace(rings[0], name=name) for name in ("left ring", "right ring")),
        heatproof_places=3,
        pans_per_cook=3,
        people_while_boiling=1,
        fillers=1,
        jars_per_filler_hour=240.0,
        set_test_minutes=15,
    )
    one_cook = changed("people", skills=frozenset({Skill.PREPARE, Skill.FILL}))
    cook = replace(farm.people[0], skills=frozenset(Skill))
    farm = one_cook(changed("fruits", prepare_kg_per_hour=60.0)(two_pans(farm)))
    return replace(farm, people=(cook, *farm.people[1:]))


def closed_in_between(farm: Scenario) -> Scenario:
    """Half an hour around the middle of every day is closed."""
    at = (farm.kitchen.open + farm.kitchen.close) // 10 * 5
    return replace(farm, closures=tuple(Closure(day, at - 15, at + 15, "") for day in farm.dates()))


def never_closed(farm: Scenario) -> Scenario:
    return replace(farm, closures=())


def two_freezers(farm: Scenario) -> Scenario:
    """One with all the litres and no kg, one the other way round: together they hold next to nothing."""
    whole = farm.kitchen.freezer
    light, small = replace(whole, kg=0.1), replace(whole, name="other", litres=0.5)
    return changed("kitchen", freezer=light, second_freezer=small)(farm)


def nothing_left_at_the_end(farm: Scenario) -> Scenario:
    """The whole freezer is to be free on the last day."""
    return changed("kitchen", room_free_kg=farm.kitchen.freezer.kg, room_free_from=farm.dates()[-1])(farm)


def in_one_box(farm: Scenario) -> Scenario:
    """All that is frozen is packed in boxes of half a kilogram, and none is left over from the start."""
    box = FreezerBox("box", 0.5, 0)
    full = sum(
        box.needed(sum(lot.kg for lot in farm.lots if (lot.fruit, lot.place) == (fruit.name, Place.FREEZER)))
        for fruit in farm.fruits
    )
    farm = changed("kitchen", freezer_boxes=(replace(box, count=full),))(farm)
    return changed("fruits", freezer_box="box")(farm)


def on_the_last_day(event: str) -> Farming:
    """The freezer is defrosted, or fails."""
    return lambda farm: changed(
        "kitchen", freezer=lambda freezer: replace(freezer, **{event: farm.dates()[-1]})
    )(farm)


def all_can_do_all(**others: Any) -> Farming:
    """Everybody has every skill, and all but the first are such people."""

    def change(farm: Scenario) -> Scenario:
        first, *more = changed("people", skills=frozenset(Skill))(farm).people
        return replace(farm, people=(first, *(replace(person, **others) for person in more)))

    return change


def at_most_at_the_stove(minutes: int) -> Farming:
    """Everybody can do everything, but mind pans only for so long in a row."""
    limited = changed("work_rules", longest_stove_minutes=minutes)
    return lambda farm: limited(all_can_do_all()(farm))


def old_enough_at(years: int) -> Farming:
    limited = changed("work_rules", boil_from_age=years)
    return lambda farm: limited(all_can_do_all(born=date(2012, 1, 1))(farm))


def four_more(days: float) -> float:
    return days + 4.0


WASHED = in_oven(wash_jars_per_hour=60)


def little_room(**jars: int) -> Farming:
    """Racks or shelves for few jars; nothing is on hand yet."""
    empty = changed("recipes", jars_on_hand=0)
    return lambda farm: changed("kitchen", settle_days=1, **jars)(empty(farm))


CLEANED = changed("kitchen", clean_down_minutes=10)
