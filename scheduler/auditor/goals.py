"""Rules 36 and 39: the goals' values, from rows and prices, and what is said to be proved of them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import date

from scheduler.auditor.case import Case, product_of
from scheduler.auditor.farm import FreshLot
from scheduler.auditor.finding import Finding
from scheduler.auditor.panful import NoCard, cents
from scheduler.auditor.trade import settled
from scheduler.domain.fruit import Fruit, Grade
from scheduler.plan_rows import Goal

GOALS = ("spoiled", "short", "money", "tidiness")
TOLERANCE = 0.02 + 1e-9
CLOSED = 1e-4
LEAST_MONEY = 1000.0


def goals_are_the_four_in_rank(case: Case) -> Iterator[Finding]:
    """Rule 36: spoiled, short, money, tidiness, in this order."""
    names = tuple(goal.name for goal in case.plan.goals)
    if names != GOALS:
        yield Finding("goal-value", "goals", ", ".join(names) or "none", ", ".join(GOALS))


def goals_have_the_values_of_the_rows(case: Case) -> Iterator[Finding]:
    """Rule 36."""
    values = dict(zip(GOALS, (spoiled(case), short(case), money(case), tidiness(case)), strict=True))
    for goal in case.plan.goals:
        value = values.get(goal.name)
        if value is not None and abs(goal.value - value) > TOLERANCE:
            yield Finding("goal-value", f"goal {goal.name}", f"{goal.value:.2f}", f"{value:.2f}")


def proofs_agree_with_themselves(case: Case) -> Iterator[Finding]:
    """Rule 39: bounds, slack, gaps and status as far as they can be checked without solving anything."""
    for goal in case.plan.goals:
        where = f"goal {goal.name}"
        if goal.bound > goal.best + TOLERANCE:
            yield Finding("goal-proof", where, f"bound {goal.bound:.2f}", f"at most best, {goal.best:.2f}")
        if goal.value > goal.best + goal.slack + TOLERANCE:
            allowed = f"at most best and slack, {goal.best + goal.slack:.2f}"
            yield Finding("goal-proof", where, f"value {goal.value:.2f}", allowed)
        yield from _slack_is_as_allowed(case, goal)
        open_by = abs(goal.best - goal.bound) - CLOSED * max(abs(goal.best), least_size(case, goal.name))
        if goal.gap == 0 and open_by > TOLERANCE:
            found = f"gap 0 with best {goal.best:.2f} and bound {goal.bound:.2f}"
            yield Finding("goal-proof", where, found, "gap 0 only where they meet")
    gaps = [goal.name for goal in case.plan.goals if goal.gap > 0]
    if case.plan.status == "optimal" and gaps:
        yield Finding("goal-proof", "status", f"optimal with a gap on {', '.join(gaps)}", "feasible")


def _slack_is_as_allowed(case: Case, goal: Goal) -> Iterator[Finding]:
    """Rule 39: a cap, where there is one, says what may be given up, else the kitchen's [slack] does."""
    where, slack = f"goal {goal.name}", goal.slack
    if goal.cap is not None:
        if slack < 0 or abs(goal.cap - goal.best - slack) > TOLERANCE:
            allowed = f"0 or more, and what the cap {goal.cap:.2f} leaves above {goal.best:.2f}"
            yield Finding("goal-proof", where, f"slack {slack:.2f}", allowed)
        return
    most = most_slack(case, goal)
    if slack < 0 or slack > most + TOLERANCE:
        yield Finding("goal-proof", where, f"slack {slack:.2f}", f"0 to {most:.2f}")


def most_slack(case: Case, goal: Goal) -> float:
    """What a goal may give up for the next one, as kitchen.toml says; none where its best is 0."""
    scenario = case.farm.scenario
    slack, best = scenario.slack, abs(goal.best)
    if best < CLOSED:
        return 0.0
    if goal.name == "spoiled":
        cheapest = min((fruit.kitchen_value for fruit in scenario.fruits), default=0.0)
        return slack.spoiled_share * best + slack.spoiled_kg * cheapest
    return {"short": slack.short_share, "money": slack.money_share}.get(goal.name, 0.0) * best


def least_size(case: Case, goal: str) -> float:
    """What a goal's gap is measured against at least."""
    if goal == "spoiled":
        return max((fruit.kitchen_value for fruit in case.farm.scenario.fruits), default=1.0)
    if goal != "money":
        return 1.0
    people, least = case.farm.people, case.farm.scenario.work_rules.least_paid_minutes
    pay = sum(
        max(shift.end - shift.start, least) * people[shift.person].pay / 60
        + shift.overtime_minutes * people[shift.person].overtime_pay / 60
        for shift in case.farm.scenario.shifts
    )
    return max(LEAST_MONEY, pay)


def spoiled(case: Case) -> float:
    """Money lost by fruit that was sold short of its best outlet, spoiled, given up, discarded or left."""
    return sum(_spoiled_of(case, fruit) for fruit in case.farm.scenario.fruits)


def _spoiled_of(case: Case, fruit: Fruit) -> float:
    fresh = [row for row in case.plan.lots if case.farm.fresh[row.lot].fruit.name == fruit.name]
    frozen = [row for row in case.plan.freezer if case.farm.frozen[row.lot].fruit.name == fruit.name]
    unsold = most_saleable(case, fruit) - sum(row.sold for row in fresh)
    wasted = sum(row.spoiled + row.given_up for row in fresh)
    picked = 1 / (1 - fruit.preparation_loss)  # kg as picked in 1 kg as prepared
    wasted += picked * sum(row.discarded for row in frozen)
    over = {row.lot: row.left for row in fresh if row.day == case.farm.last}
    in_freezer = picked * sum(row.left for row in frozen if row.day == case.farm.last)
    left = sum(over.values()) + in_freezer
    parts = [(_life_left(case, case.farm.fresh[lot]), kg) for lot, kg in over.items()]
    saved = worth_later([*parts, (1.0, in_freezer)], picked * fruit.wanted_later_kg)
    downgraded = (fruit.table_value - fruit.kitchen_value) * unsold
    return downgraded + fruit.kitchen_value * (wasted + left - saved)


def _life_left(case: Case, lot: FreshLot) -> float:
    """Share of a fresh cook life that a lot still has after the last planned day."""
    days = (lot.last_day - case.farm.last).days
    return max(0.0, min(1.0, days / lot.fresh_cook_days)) if lot.fresh_cook_days else 0.0


def worth_later(parts: list[tuple[float, float]], wanted_kg: float) -> float:
    """The most that (share, kg) parts are worth, up to ``wanted_kg`` of them: the best shares first."""
    worth = 0.0
    for share, kg in sorted(parts, reverse=True):
        used = max(0.0, min(kg, wanted_kg))
        worth += share * used
        wanted_kg -= used
    return worth


def most_saleable(case: Case, fruit: Fruit) -> float:
    """The most kg of table grade that could have been sold, were punnets the only outlet.

    Days in order; each day takes first what can be sold for the shortest time. That is the most,
    because a lot that waits is never worth more than one that cannot.
    """
    lots = [
        lot for lot in case.farm.fresh.values() if lot.fruit.name == fruit.name and lot.grade == Grade.TABLE
    ]
    lots.sort(key=lambda lot: lot.last_sell_day)
    unsold = {lot.name: lot.kg for lot in lots}
    sold = 0.0
    for day in case.farm.days:
        room = case.farm.demand.get((fruit.name, day), 0.0)
        for lot in lots:
            if room > 0 and _is_on_sale(lot, day):
                taken = min(room, unsold[lot.name])
                unsold[lot.name] -= taken
                room -= taken
                sold += taken
    return sold


def _is_on_sale(lot: FreshLot, day: date) -> bool:
    return lot.picked <= day <= lot.last_sell_day


def short(case: Case) -> float:
    """Jars missing, each weighted by its order, and in the shop. An order without a line has none filled."""
    filled: dict[str, int] = defaultdict(int)
    for line in case.plan.orders:
        filled[line.order] += line.filled
    orders = case.farm.orders.values()
    missing = sum(order.weight * (order.jars - filled[order.name]) for order in orders)
    missing += sum(max(0, row.jars - settled(case, product_of(row), row.day)) for row in case.farm.shop)
    return float(missing)


def money(case: Case) -> float:
    """Pay, overtime, energy and purchases, less what filled orders bring.

    Rule 52: minutes that a shift is short of those paid at least are paid like its own, not as overtime.
    """
    orders, people = case.farm.orders, case.farm.people
    least = case.farm.scenario.work_rules.least_paid_minutes
    cost = 0.0
    for shift in case.plan.shifts:
        person = people[shift.person]
        paid = max(shift.end - shift.start, least - shift.overtime_minutes)
        cost += cents(paid * person.pay / 60)
        cost += cents(shift.overtime_minutes * person.overtime_pay / 60)
    for batch in case.plan.batches:
        card = case.card(batch)
        cost += 0.0 if isinstance(card, NoCard) else card.energy
    cost += sum(row.cost for row in case.plan.purchases)
    sales = sum(line.filled * orders[line.order].price for line in case.plan.orders if line.order in orders)
    return cost - sales


def tidiness(case: Case) -> float:
    """Starts: how many (day, recipe) pairs are cooked, from the freezer or not."""
    return float(len({(batch.day, batch.recipe) for batch in case.plan.batches}))
