"""How clock times, days, money and names are written, on paper and on every screen."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from math import isnan
from typing import Any

from scheduler.domain.days import Closure
from scheduler.domain.recipes import Recipe
from scheduler.domain.scenario import Scenario
from scheduler.languages import formats, locale, measures, message, say, say_as, say_many, spoken
from scheduler.law.cautions import Hazard, cautions_about
from scheduler.plan_rows import Batch, Part, Plan, StageKind, Timetables, is_choice

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_SIGNS = {"EUR": "€", "GBP": "£", "USD": "$"}

number, general = formats.number, formats.general
mass, volume, degrees, quantity = measures.mass, measures.volume, measures.degrees, measures.quantity

STATUS = {
    "optimal": message("proved: no plan is better on the goals, in their order"),
    "feasible": message(
        "the best found, not proved: a better plan may exist, by no more than the gaps below"
    ),
}

CHOICE = {
    "optimal": message(
        "a choice of the trade-off curve, proved: no plan within its limits is better on the goals, "
        "in their order"
    ),
    "feasible": message(
        "a choice of the trade-off curve, not proved: a better plan within its limits may exist, "
        "by no more than the gaps below"
    ),
}
"""Of a plan whose goals have caps of its own."""

CAUTIONS = (
    message(
        "Boiling sugar burns badly and sticks to skin: long sleeves, dry hands, nobody small or hurried near "
        "the pans. Cool a burn under running water for 20 minutes."
    ),
    message(
        "Glass breaks when cold meets hot: hot jam into hot jars only; throw away the batch a jar breaks "
        "over."
    ),
    message("Tired hands have accidents: keep the breaks of this plan, and stop early rather than late."),
    message(
        "The plan knows acidity only from the pH that you measured. Local food law and your own food safety "
        "plan decide what may be made, kept and sold."
    ),
)


def how_good(plan: Plan) -> str:
    """What is proved of a plan."""
    return spoken((CHOICE if is_choice(plan) else STATUS)[plan.status])


def limits(plan: Plan, scenario: Scenario) -> str:
    """What a plan of the trade-off curve was held to; empty for any other."""
    units = {"spoiled": message("{amount} lost on fruit"), "short": message("{amount} missing")}
    given = [
        spoken(units[goal.name]).format(amount=goal_amount(goal.cap, goal.unit, scenario))
        for goal in plan.goals
        if goal.cap is not None
    ]
    if not given:
        return ""
    return say("Held to at most {limits}; its bounds hold within these limits.", limits=listed(given))


def cautions(plan: Plan) -> tuple[str, ...]:
    """The usual cautions, and those of hot fruit and dripping juice where a plan softens any."""
    if not any(stage.kind in {StageKind.SOFTEN, StageKind.STRAIN} for stage in plan.stages):
        return tuple(map(spoken, CAUTIONS))
    hazards = (Hazard.HOT_JUICE, Hazard.SPOILAGE)
    more = (caution.text for hazard in hazards for caution in cautions_about(hazard))
    return tuple(map(spoken, (*CAUTIONS, *more)))


def listed(parts: Sequence[str]) -> str:
    """``Ann and Bo``: as many as there are."""
    return say(" and ").join(parts)


def number_or_none(amount: Any) -> str:
    """A number of a table with one decimal; empty where there is none."""
    return "" if isnan(amount) else number(amount, 1)


def sentence(text: str) -> str:
    """A text with its first letter large, as a sentence begins."""
    return text[:1].upper() + text[1:]


def clock(minutes: int) -> str:
    """Minutes from midnight as HH:MM."""
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def day_name(day: date) -> str:
    """``Mon 6 Jul``."""
    if where := locale():
        return formats.written(day, say_as("pattern of a day, see Unicode TR 35", "EEE d MMM"), where)
    return f"{_DAYS[day.weekday()]} {day.day} {_MONTHS[day.month - 1]}"


def two_lines(day: date) -> str:
    """A day for a narrow axis, as HTML."""
    if where := locale():
        narrow = say_as("pattern of a day on a narrow axis, see Unicode TR 35", "EEE d MMM")
        return formats.written(day, narrow, where).replace(" ", "<br>", 1)
    return day_name(day).replace(" ", "<br>", 1)


def day_span(first: date, last: date) -> str:
    """``6 Jul to 12 Jul 2026``; a span over New Year names both years."""
    if where := locale():
        short, long = (
            say_as("pattern of a day, see Unicode TR 35", "d MMM"),
            say_as("pattern of a day, see Unicode TR 35", "d MMM y"),
        )
        begin = formats.written(first, short if first.year == last.year else long, where)
        return say("{first} to {last}", first=begin, last=formats.written(last, long, where))
    year = "" if first.year == last.year else f" {first.year}"
    return f"{first.day} {_MONTHS[first.month - 1]}{year} to {last.day} {_MONTHS[last.month - 1]} {last.year}"


def money(amount: float, currency: str, decimals: int = 2) -> str:
    """An amount with its sign or code: ``€1,204.50``, ``−€3.00``, ``SEK 12.00``."""
    minus = "−" if round(amount, decimals) < 0 else ""
    if where := locale():
        told = formats.money(abs(amount), currency, decimals, where)
        return f"{minus}{told}"
    sign = _SIGNS.get(currency, f"{currency} ")
    return f"{minus}{sign}{abs(amount):,.{decimals}f}"


def hours(minutes: float) -> str:
    """Minutes as hours and minutes: ``7h30``."""
    whole = round(minutes)
    return say("{hours}h{minutes}", hours=whole // 60, minutes=f"{whole % 60:02d}")


def percent(share: float) -> str:
    """A fraction as a percentage with enough digits to tell it from none."""
    return f"{number(100 * share, 2 if 0 < abs(share) < 0.01 else 1, grouped=False)} %"


def weighted(scenario: Scenario) -> bool:
    """Whether a missing jar counts more in one order than in another."""
    return any(order.weight != 1 for order in scenario.orders)


def goal_amount(value: float, unit: str, scenario: Scenario) -> str:
    """A goal's value in its unit: money with its sign, jars ``weighted`` where orders have weights."""
    if unit == scenario.currency:
        return money(value, scenario.currency)
    return quantity(value, message("weighted jars") if unit == "jars" and weighted(scenario) else unit)


def tried(timetables: Timetables) -> str:
    """How many different day timetables were tried, and how they fared."""
    return say(
        "Timetables of a day that were tried: {placed} fit, {refuted} proved "
        "impossible, {undecided} left undecided and avoided.",
        placed=number(timetables.placed),
        refuted=number(timetables.refuted),
        undecided=number(timetables.undecided),
    )


def recipe_letters(recipe: Recipe, scenario: Scenario) -> str:
    """The letters of a recipe's fruits, in the recipe's order: ``RC``."""
    return "".join(scenario.fruit(share.fruit).letter for share in recipe.fruits)


def other_day(batch: Batch, plan: Plan) -> Batch | None:
    """Of a batch that softens the one that boils its juice, and the other way round; None if it is whole."""
    if batch.part is Part.BOIL:
        return next(each for each in plan.batches if each.id == batch.juice_of)
    return next((each for each in plan.batches if each.juice_of == batch.id), None)


def closed(closure: Closure) -> str:
    """``closed 10:00–12:00: market``."""
    why = f": {closure.why}" if closure.why else ""
    return say("closed {start}–{end}", start=clock(closure.start), end=clock(closure.end)) + why


def juice(batch: Batch, plan: Plan) -> str:
    """Where the juice of a batch goes, or whose juice it is; empty for a whole batch."""
    other = other_day(batch, plan)
    if other is None:
        return ""
    place = {"day": day_name(other.day), "pan": other.pan, "ring": other.ring}
    if batch.part is Part.SOFTEN:
        return say("drips overnight; its juice is boiled {day} in {pan} on {ring}", **place)
    return say("the juice of what was softened {day} in {pan} on {ring}", **place)


def letters(batch: Batch, plan: Plan, scenario: Scenario) -> str:
    """The letters of the fruits that are really in a batch's mix, or its juice's, the most kg first."""
    if batch.part is Part.BOIL and (softened := other_day(batch, plan)):
        batch = softened
    inside = [
        (-(mix.fresh_kg + mix.frozen_kg), mix.fruit)
        for mix in plan.mixes
        if (mix.day, mix.recipe, mix.from_freezer) == (batch.day, batch.recipe, batch.from_freezer)
        and mix.fresh_kg + mix.frozen_kg > 0
    ]
    if not inside:
        return recipe_letters(scenario.recipe(batch.recipe), scenario)
    return "".join(scenario.fruit(fruit).letter for _, fruit in sorted(inside))


def filled(by_size: Sequence[int], recipe: Recipe) -> str:
    """``24 × jar 340 g and 10 × jar 220 g``; ``24 jars`` where the recipe has one size."""
    if not recipe.more_sizes:
        return jars(sum(by_size))
    return listed([f"{n} × {size.jar}" for size, n in zip(recipe.sizes, by_size, strict=False) if n])


def product(recipe: str, jar: str, scenario: Scenario) -> str:
    """A recipe, with the jar where it has several sizes."""
    return recipe if len(scenario.recipe(recipe).sizes) == 1 else f"{recipe}, {jar}"


def jars(count: int) -> str:
    """``1 jar``, ``24 jars``."""
    return say_many("{n} jar", "{n} jars", count, n=number(count))
