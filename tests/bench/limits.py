"""What limits cost the search: ``python -m tests.bench.limits`` plans the glut week without any, as it is
shipped, with each one more, and with all.

Each limit is set where a kitchen would set it, and does not make the week scarcer than it is (clean-down and
closed half-hours are added to the day): what differs is the search's work, not how much can be cooked.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import typer

from scheduler.domain.days import Closure
from scheduler.domain.kitchen import Freezer, FreezerBox, Labels, Supply
from scheduler.domain.scenario import Scenario
from scheduler.domain.trade import ANY_DAY
from scheduler.intake import read_scenario
from scheduler.planner import Settings, make_plan

WEEK = Path(__file__).parents[2] / "scenarios" / "glut-week"
Change = Callable[[Scenario], Scenario]


def kitchen(**fields: object) -> Change:
    """A kitchen that differs in some fields."""
    return lambda farm: replace(farm, kitchen=replace(farm.kitchen, **fields))  # type: ignore[arg-type]


def none(farm: Scenario) -> Scenario:
    """The week without any limit of this list: rings, pans, people's hours and the rooms for fruit remain."""
    free = kitchen(
        supply=Supply(), sample_jars=0, scrap_share=0.0, rack_jars=None, shelf_jars=None, room_free_kg=0.0,
        room_free_from=None, oven=replace(farm.kitchen.oven, wash_jars_per_hour=None, jars=1000),
    )(farm)  # fmt: skip
    goods = tuple(replace(good, pack=None, least_packs=1, delivery_days=ANY_DAY) for good in farm.goods)
    orders = tuple(replace(order, parts=True) for order in farm.orders)
    return replace(free, goods=goods, orders=orders, shop=())


def clean_down(farm: Scenario) -> Scenario:
    """A quarter of an hour at the end, by which every shift is longer."""
    close = farm.kitchen.close
    shifts = tuple(replace(s, end=s.end + 15) if s.end == close else s for s in farm.shifts)
    return replace(kitchen(clean_down_minutes=15, close=close + 15)(farm), shifts=shifts)


def closed(farm: Scenario) -> Scenario:
    """One morning begins and ends half an hour later."""
    opens, close, day = farm.kitchen.open, farm.kitchen.close, farm.dates()[2]
    later = tuple(
        replace(s, start=s.start + 30, end=s.end + 30) if s.day == day and s.start == opens else s
        for s in farm.shifts
    )
    shut = [Closure(day, opens, opens + 30, "let")]
    shut += [Closure(each, close, close + 30, "") for each in farm.dates() if each != day]
    return replace(kitchen(close=close + 30)(farm), shifts=later, closures=tuple(shut))


def full_wash(farm: Scenario) -> Scenario:
    """After blackcurrants, which stain."""
    stained = tuple(replace(each, stains="blackcurrant" in each.name) for each in farm.recipes)
    return replace(kitchen(full_wash_minutes=25)(farm), recipes=stained)


def boxes(farm: Scenario) -> Scenario:
    """More boxes than can be filled."""
    counted = kitchen(freezer_boxes=(FreezerBox("box", 5.0, 80),))(farm)
    return replace(counted, fruits=tuple(replace(each, freezer_box="box") for each in farm.fruits))


def second_freezer(farm: Scenario) -> Scenario:
    """The same room in two of them."""
    whole = farm.kitchen.freezer
    first = replace(whole, kg=whole.kg * 0.7, litres=whole.litres * 0.7, freeze_kg_per_day=18.0)
    second = Freezer(whole.kg * 0.3, whole.litres * 0.3, 7.0, whole.tray_litres_per_kg, name="second")
    return kitchen(freezer=first, second_freezer=second)(farm)


def working_rules(farm: Scenario) -> Scenario:
    rules = replace(
        farm.work_rules, rest_minutes=11 * 60, least_paid_minutes=120, boil_from_age=18,
        longest_stove_minutes=120,
    )  # fmt: skip
    return replace(farm, work_rules=rules)


def learner(farm: Scenario) -> Scenario:
    """The last of the people, who cooks nothing as it is."""
    *others, last = farm.people
    return replace(farm, people=(*others, replace(last, learner=True)))


def good_dates(farm: Scenario) -> Scenario:
    until = farm.dates()[-1] + timedelta(days=8)
    perishable = {"lemons", "pectin"}
    dated = (replace(good, best_before=until) if good.name in perishable else good for good in farm.goods)
    return replace(farm, goods=tuple(dated))


def late_deliveries(farm: Scenario) -> Scenario:
    return replace(farm, deliveries=tuple(replace(each, at=9 * 60) for each in farm.deliveries))


MORE: dict[str, Change] = {
    "electricity and gas at once": kitchen(supply=Supply(electric_kw=12.0, gas_kw=24.0, gas_kg=33.0)),
    "labels": kitchen(labels=Labels(80.0, 7)),
    "settling": kitchen(settle_days=1),
    "scrap": kitchen(scrap_share=0.01),
    "clean down": clean_down,
    "closed times": closed,
    "full wash": full_wash,
    "boxes": boxes,
    "taking out": kitchen(take_out_minutes=10),
    "second freezer": second_freezer,
    "working rules": working_rules,
    "learner": learner,
    "dates of goods": good_dates,
    "late deliveries": late_deliveries,
}
"""Limits that the shipped week has not."""


def all_of_them(farm: Scenario) -> Scenario:
    for change in MORE.values():
        farm = change(farm)
    return farm


WEEKS: dict[str, Change] = {"none": none, "as shipped": lambda farm: farm, **MORE, "all": all_of_them}


def main(seconds: float = 300.0, seeds: int = 1, only: str = "") -> None:
    """Plan each week (or those of ``only``, with commas between) with every seed: processor and wall seconds,
    and processor seconds against those without any limit."""
    situation, least = read_scenario(WEEK), 0.0
    for name in [each.strip() for each in only.split(",")] if only else WEEKS:
        farm = WEEKS[name](situation.scenario)
        busy, wall = time.process_time(), time.monotonic()
        plans = [
            make_plan(replace(situation, scenario=farm), Settings(seconds=seconds, seed=seed))
            for seed in range(seeds)
        ]
        busy, wall = (time.process_time() - busy) / seeds, (time.monotonic() - wall) / seeds
        least = least or busy
        reached = ", ".join(f"{goal.name} {goal.value:.2f} ({goal.gap:.2%})" for goal in plans[0].goals)
        print(f"{name}: {busy:.0f} s busy, {wall:.0f} s, ×{busy / least:.1f}; {reached}", flush=True)


if __name__ == "__main__":
    typer.run(main)
