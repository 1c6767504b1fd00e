"""What no single row can tell: the checks across rows and files, in one visible list."""

from __future__ import annotations

from collections.abc import Callable

from scheduler.intake import (
    check_chores,
    check_days,
    check_freezers,
    check_fruit,
    check_goods,
    check_hands,
    check_held,
    check_jars,
    check_kinds,
    check_kitchen,
    check_measured,
    check_people,
    check_recipes,
    check_supply,
    check_trade,
)
from scheduler.intake.faults import FaultList
from scheduler.intake.gathered import Gathered

CHECKS: tuple[Callable[[Gathered, FaultList], None], ...] = (
    check_kitchen.hours,
    check_kitchen.names,
    check_kitchen.pans_fit_rings,
    check_supply.power,
    check_supply.bottles,
    check_kitchen.potting_limit,
    check_kitchen.break_rules,
    check_kitchen.hands,
    check_days.days,
    check_days.busy,
    check_days.cleaning,
    check_chores.taking_out,
    check_fruit.names_and_letters,
    check_fruit.lives,
    check_fruit.values,
    check_fruit.grading,
    check_fruit.freezer_life,
    check_fruit.chiller_within_table,
    check_fruit.picks,
    check_fruit.lots,
    check_fruit.punnets,
    check_freezers.names,
    check_freezers.days,
    check_freezers.room_kept_free,
    check_freezers.load,
    check_freezers.boxes,
    check_freezers.trays_no_closer_than_boxes,
    check_recipes.names,
    check_recipes.mixes,
    check_recipes.others,
    check_kinds.softening,
    check_kinds.straining,
    check_kinds.drip_stands,
    check_recipes.preserves,
    check_jars.jars,
    check_jars.sizes,
    check_jars.asked_for,
    check_jars.room,
    check_recipes.goods,
    check_recipes.pans_too_small,
    check_people.names,
    check_people.shifts,
    check_people.work_rules,
    check_hands.birthdays,
    check_hands.something_to_do,
    check_hands.breaks_within_their_time,
    check_hands.minutes_at_the_stove,
    check_trade.orders,
    check_trade.goods,
    check_trade.packs,
    check_goods.opened,
    check_goods.dates,
    check_trade.deliveries,
    check_trade.shop,
    check_measured.readings,
    check_measured.boils,
    check_held.out_of_use,
    check_held.held,
)


def check_all(found: Gathered, faults: FaultList) -> None:
    """Run every check on what could be read."""
    for check in CHECKS:
        check(found, faults)
