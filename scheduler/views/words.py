"""How clock times, days, kg, money and names are written, on paper and on every screen."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from scheduler.domain.days import Closure
from scheduler.domain.recipes import Recipe
from scheduler.domain.scenario import Scenario
from scheduler.law.cautions import Hazard, cautions_about
from scheduler.plan import Batch, Part, Plan, StageKind, Timetables, is_choice

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_SIGNS = {"EUR": "€", "GBP": "£", "USD": "$"}

STATUS = {
    "optimal": "proved: no plan is better on the goals, in their order",
    "feasible": "the best found, not proved: a better plan may exist, by no more than the gaps below",
}

CHOICE = {
    "optimal": "a choice of the trade-off curve, proved: no plan within its limits is better on the goals, "
    "in their order",
    "feasible": "a choice of the trade-off curve, not proved: a better plan within its limits may exist, "
    "by no more than the gaps below",
}
"""Of a plan whose goals have caps of its own."""

CAUTIONS = (
    "Boiling sugar burns badly and sticks to skin: long sleeves, dry hands, nobody small or hurried near the "
    "pans. Cool a burn under running water for 20 minutes.",
    "Glass breaks when cold meets hot: hot jam into hot jars only; throw away the batch a jar breaks over.",
    "Tired hands have accidents: keep the breaks of this plan, and stop early rather than late.",
    "The plan knows acidity only from the pH that you measured. Local food law and your own food safety "
    "plan decide what may be made, kept and sold.",
)


def how_good(plan: Plan) -> str:
    """What is proved of a plan."""
    return (CHOICE if is_choice(plan) else STATUS)[plan.status]


def limits(plan: Plan, scenario: Scenario) -> str:
    """What a plan of the trade-off curve was held to; empty for any other."""
    units = {"spoiled": "lost on fruit", "short": "missing"}
    given = [
        f"{goal_amount(goal.cap, goal.unit, scenario)} {units[goal.name]}"
        for goal in plan.goals
        if goal.cap is not None
    ]
    return f"Held to at most {' and '.join(given)}; its bounds hold within these limits." if given else ""


def cautions(plan: Plan) -> tuple[str, ...]:
    """The usual cautions, and those of hot fruit and dripping juice where a plan softens any."""
    if not any(stage.kind in {StageKind.SOFTEN, StageKind.STRAIN} for stage in plan.stages):
        return CAUTIONS
    hazards = (Hazard.HOT_JUICE, Hazard.SPOILAGE)
    return (*CAUTIONS, *(caution.text for hazard in hazards for caution in cautions_about(hazard)))


def clock(minutes: int) -> str:
    """Minutes from midnight as HH:MM."""
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def day_name(day: date) -> str:
    """``Mon 6 Jul``, the same in every locale."""
    return f"{_DAYS[day.weekday()]} {day.day} {_MONTHS[day.month - 1]}"


def two_lines(day: date) -> str:
    """A day for a narrow axis, as HTML."""
    return day_name(day).replace(" ", "<br>", 1)


def day_span(first: date, last: date) -> str:
    """``6 Jul to 12 Jul 2026``; a span over New Year names both years."""
    year = "" if first.year == last.year else f" {first.year}"
    return f"{first.day} {_MONTHS[first.month - 1]}{year} to {last.day} {_MONTHS[last.month - 1]} {last.year}"


def kg(mass: float) -> str:
    """kg with one decimal and no negative zero."""
    return f"{mass + 0.0 if abs(mass) >= 0.05 else 0.0:,.1f} kg"


def money(amount: float, currency: str, decimals: int = 2) -> str:
    """An amount with its sign or code: ``€1,204.50``, ``−€3.00``, ``SEK 12.00``."""
    sign = _SIGNS.get(currency, f"{currency} ")
    minus = "−" if round(amount, decimals) < 0 else ""
    return f"{minus}{sign}{abs(amount):,.{decimals}f}"


def hours(minutes: float) -> str:
    """Minutes as hours and minutes: ``7h30``."""
    whole = round(minutes)
    return f"{whole // 60}h{whole % 60:02d}"


def quantity(amount: float, unit: str) -> str:
    """An amount without needless decimals: ``12.5 kg``, ``300 jars``; goods sold by ``each`` have no unit."""
    number = f"{amount:,.1f}".removesuffix(".0")
    return number if unit in {"", "each"} else f"{number} {unit}"


def percent(share: float) -> str:
    """A fraction as a percentage with enough digits to tell it from none."""
    return f"{100 * share:.2f} %" if 0 < abs(share) < 0.01 else f"{100 * share:.1f} %"


def weighted(scenario: Scenario) -> bool:
    """Whether a missing jar counts more in one order than in another."""
    return any(order.weight != 1 for order in scenario.orders)


def goal_amount(value: float, unit: str, scenario: Scenario) -> str:
    """A goal's value in its unit: money with its sign, jars ``weighted`` where orders have weights."""
    if unit == scenario.currency:
        return money(value, scenario.currency)
    return quantity(value, f"weighted {unit}" if unit == "jars" and weighted(scenario) else unit)


def tried(timetables: Timetables) -> str:
    """How many different day timetables were tried, and how they fared."""
    return (
        f"Timetables of a day that were tried: {timetables.placed:,} fit, {timetables.refuted:,} proved "
        f"impossible, {timetables.undecided:,} left undecided and avoided."
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
    return f"closed {clock(closure.start)}–{clock(closure.end)}{why}"


def juice(batch: Batch, plan: Plan) -> str:
    """Where the juice of a batch goes, or whose juice it is; empty for a whole batch."""
    other = other_day(batch, plan)
    if other is None:
        return ""
    place = f"{day_name(other.day)} in {other.pan} on {other.ring}"
    if batch.part is Part.SOFTEN:
        return f"drips overnight; its juice is boiled {place}"
    return f"the juice of what was softened {place}"


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
    return " and ".join(f"{n} × {size.jar}" for size, n in zip(recipe.sizes, by_size, strict=False) if n)


def product(recipe: str, jar: str, scenario: Scenario) -> str:
    """A recipe, with the jar where it has several sizes."""
    return recipe if len(scenario.recipe(recipe).sizes) == 1 else f"{recipe}, {jar}"


def jars(count: int) -> str:
    """``1 jar``, ``24 jars``."""
    return f"{count} jar" if count == 1 else f"{count:,} jars"
