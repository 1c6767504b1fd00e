"""How fruit is best frozen, as tables: hours until it is frozen through, electricity, and room."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta

import pandas as pd

from scheduler.domain.fruit import Fruit
from scheduler.domain.kitchen import FreezerBox, Kitchen, Thaw
from scheduler.domain.scenario import Scenario
from scheduler.languages import message, say, spoken
from scheduler.physics import freezing
from scheduler.plan_rows import FreezerDay, Plan, StageKind
from scheduler.views import chore_tables, words

AIRS = {
    message("still air"): freezing.STILL_AIR_W_PER_M2_K,
    message("with a fan"): freezing.MOVED_AIR_W_PER_M2_K,
}


def fruits_frozen(plan: Plan, scenario: Scenario) -> list[Fruit]:
    """The fruits of which the plan freezes any, in the scenario's order."""
    frozen = {row.fruit for row in plan.freezer if row.frozen > 0}
    return [fruit for fruit in scenario.fruits if fruit.name in frozen]


def take_out(plan: Plan, scenario: Scenario) -> list[tuple[date, str, str]]:
    """When something is taken from the freezer for the pans: the day, the lots with their kg, what for.

    The evening before where fruit thaws overnight, so for the first day the evening before the plan begins.
    """
    return [
        (out, chore_tables.lots_for(plan, day), say("for {day}", day=words.day_name(day)))
        for out, day in days_taken_out(plan, scenario)
    ]


def days_taken_out(plan: Plan, scenario: Scenario) -> list[tuple[date, date]]:
    """The day on which fruit is taken out, and the day on which it is cooked, in order."""
    before = timedelta(days=1 if scenario.kitchen.thaw is Thaw.OVERNIGHT else 0)
    days = sorted({row.day for row in plan.freezer if row.thawed > chore_tables.LEAST_KG})
    return [(day - before, day) for day in days]


def how_thawed(kitchen: Kitchen) -> str:
    """How fruit is thawed, and what to take care of."""
    if kitchen.thaw is Thaw.PAN:
        return say(
            "Straight into the pan; its minutes allow for thawing. What has thawed is never frozen again."
        )
    return say(
        "Thawed in the chiller in a loose layer, and cooked within a day; a thick bag takes "
        "about two (common practice, no source). Never frozen again."
    )


def when_taken_out(plan: Plan, scenario: Scenario, day: date) -> str:
    """``Wed 8 Jul 14:00–14:30, Maeve`` where it is somebody's work, else ``Wed 8 Jul evening``, or the day
    alone where fruit thaws in the pan."""
    by = chore_tables.done_by(plan, day, StageKind.TAKE_OUT)
    evening = say("evening") if scenario.kitchen.thaw is Thaw.OVERNIGHT else ""
    return f"{words.day_name(day)} {by or evening}".rstrip()


def hours_to_freeze(fruit: Fruit, kitchen: Kitchen, thick_cm: float, air: float) -> float:
    """Hours until a layer or box of prepared fruit, cold from the chiller, is frozen through.

    A slab with ``air`` (W/(m² K)) on both faces, of fruit as loose as it lies once frozen.
    """
    hours = freezing.plank_hours(
        freezing.Shape.SLAB,
        thick_cm / 100,
        kitchen.freezer.celsius,
        kj_per_kg=freezing.freeze_kj_per_kg(_water(fruit), kitchen.chiller.celsius, kitchen.freezer.celsius),
        surface_w_per_m2_k=air,
        frozen_w_per_m_k=freezing.LOOSE_W_PER_M_K,
        kg_per_m3=1000 * fruit.frozen_kg_per_litre,
    )
    return float(hours)


def hours_table(fruits: Iterable[Fruit], kitchen: Kitchen) -> pd.DataFrame:
    """Hours on a tray and in a box, in still air and with a fan, a row for each fruit."""
    places = {say("tray"): kitchen.freezer.layer_cm, say("box"): kitchen.freezer.box_cm}
    return pd.DataFrame(
        {say("fruit"): f"{fruit.letter} {fruit.name}"}
        | {
            f"{place}, {spoken(air)}": _rough(hours_to_freeze(fruit, kitchen, thick, surface))
            for place, thick in places.items()
            for air, surface in AIRS.items()
        }
        for fruit in fruits
    )


def _rough(hours: float) -> str:
    """Hours as exact as the estimate is: ``4.0 h``, ``20 h``."""
    return f"{words.number(hours, 1 if hours < 9.95 else 0, grouped=False)} h"


def kwh(fruit: Fruit, kg: float, kitchen: Kitchen) -> float:
    """Electricity (kWh) to freeze ``kg`` of prepared fruit from the chiller's temperature."""
    from_c, to_c = kitchen.chiller.celsius, kitchen.freezer.celsius
    return float(kg * freezing.freeze_kwh_per_kg(_water(fruit), from_c, to_c))


def day_table(plan: Plan, scenario: Scenario) -> pd.DataFrame:
    """A row for each day on which the plan freezes: kg, electricity, and room on trays and once boxed."""
    days = sorted({row.day for row in plan.freezer if row.frozen > 0})
    return pd.DataFrame(_day(plan, scenario, day) for day in days)


def electricity(plan: Plan, scenario: Scenario) -> float:
    """kWh that all freezing of the plan takes."""
    rows = [row for row in plan.freezer if row.frozen > 0]
    return sum(kwh(scenario.fruit(row.fruit), row.frozen, scenario.kitchen) for row in rows)


def _day(plan: Plan, scenario: Scenario, day: date) -> dict[str, str | float]:
    kitchen = scenario.kitchen
    rows = [(scenario.fruit(row.fruit), row.frozen) for row in plan.freezer if row.day == day]
    used = sum(kwh(fruit, kg, kitchen) for fruit, kg in rows)
    tray = kitchen.freezer.tray_litres_per_kg
    frozen = [row for row in plan.freezer if row.day == day and row.frozen > 0]
    on_trays = sum(_litres_on_trays(row, scenario.fruit(row.fruit), kitchen) for row in frozen)
    return {
        say("day"): words.day_name(day),
        say("frozen kg"): round(sum(kg for _, kg in rows), 1),
        "kWh": round(used, 2),
        say("cost"): words.money(used * kitchen.electricity_price_kwh, scenario.currency),
        say("litres on trays"): round(on_trays, 1),
        say("litres once boxed"): round(sum(_litres(fruit, kg, 0.0, tray) for fruit, kg in rows), 1),
    }


def _litres_on_trays(row: FreezerDay, fruit: Fruit, kitchen: Kitchen) -> float:
    """Room of what is frozen on the trays of the freezer that freezes it."""
    parts = (row.frozen - row.in_second, row.in_second)
    return sum(
        _litres(fruit, 0.0, kg, freezer.tray_litres_per_kg)
        for kg, freezer in zip(parts, kitchen.freezers, strict=False)
    )


def litres_taken(plan: Plan, scenario: Scenario, fruit: str, days: Sequence[date]) -> list[float]:
    """Litres that a fruit takes in all freezers on the evening of each day: in boxes, and on trays what was
    frozen that day."""
    known, found = scenario.fruit(fruit), dict.fromkeys(days, 0.0)
    for row in plan.freezer:
        if row.fruit == fruit and row.day in found:
            found[row.day] += (row.left - row.frozen) / known.frozen_kg_per_litre
            if row.frozen > 0:
                found[row.day] += _litres_on_trays(row, known, scenario.kitchen)
    return [round(found[day], 2) for day in days]


def litres_table(plan: Plan, scenario: Scenario) -> pd.DataFrame:
    """A row for each day: litres that each fruit takes in the evening, and all together."""
    days = scenario.dates()
    table = pd.DataFrame({say("day"): [words.day_name(day) for day in days]})
    every = pd.Series(0.0, index=table.index)
    for fruit in scenario.fruits:
        litres = pd.Series(litres_taken(plan, scenario, fruit.name, days))
        if litres.any():
            table[f"{fruit.letter} {fruit.name}"] = litres.round(1)
            every += litres
    table[say("litres in all")] = every.round(1)
    return table


def _litres(fruit: Fruit, boxed_kg: float, trays_kg: float, tray_litres_per_kg: float) -> float:
    return float(freezing.litres_taken(boxed_kg, trays_kg, fruit.frozen_kg_per_litre, tray_litres_per_kg))


def box_table(plan: Plan, scenario: Scenario) -> pd.DataFrame:
    """A row for each day and kind of counted box: how many are in use in the evening, and by fruit."""
    return pd.DataFrame(
        {
            say("day"): words.day_name(day),
            say("box"): box.name,
            say("in use"): sum(used.values()),
            say("of"): box.count,
            say("by fruit"): ", ".join(f"{fruit} {n}" for fruit, n in used.items() if n),
        }
        for day in scenario.dates()
        for box in scenario.kitchen.freezer_boxes
        for used in [boxes_in_use(plan, scenario, box, day)]
    )


def boxes_in_use(plan: Plan, scenario: Scenario, box: FreezerBox, day: date) -> dict[str, int]:
    """Boxes of a kind that each of its fruits fills in the evening of a day."""
    return {
        fruit.name: box.needed(sum(r.left for r in plan.freezer if (r.day, r.fruit) == (day, fruit.name)))
        for fruit in scenario.fruits
        if fruit.freezer_box == box.name
    }


def save_first(plan: Plan, scenario: Scenario) -> list[FreezerDay]:
    """Where a freezer fails: rows of what is thawed for cooking on that day and on the day before."""
    fails = [each.fails_on for each in scenario.kitchen.freezers if each.fails_on]
    return [
        row
        for row in plan.freezer
        if row.thawed > 0.05 and any((day - row.day).days in (0, 1) for day in fails)
    ]


def _water(fruit: Fruit) -> float:
    """Water as a fraction of mass: what is not soluble solids (little else is in soft fruit)."""
    return 1 - fruit.solids
