"""The goals in their order: units, values of an allocation, slack, and the size that gaps are measured by."""

from __future__ import annotations

from datetime import date

from scheduler.cards import MONEY, SCALE, Cards
from scheduler.model.allocation import Allocation
from scheduler.model.mip import CLOSED
from scheduler.plan_rows import MONEY_CLOSE, Goal

RANKS = ("spoiled", "short", "money", "tidiness")
UNITS = {"spoiled": MONEY, "short": 1, "money": MONEY, "tidiness": 1}
CLOSE_ENOUGH = {"spoiled": CLOSED, "short": CLOSED, "money": MONEY_CLOSE, "tidiness": 0.05}
"""Relative gap at which a rank stops looking further."""


def value_of(cards: Cards, name: str, allocation: Allocation) -> float:
    """What an allocation reaches of a goal, in card units."""
    if name == "money":
        return float(allocation.money(cards))
    return float(
        {"spoiled": allocation.spoiled, "short": allocation.short, "tidiness": allocation.starts}[name]
    )


def least_of(cards: Cards, name: str) -> float:
    """What no plan can beat, without any proof by search."""
    return -float(sum(order.price * order.jars for order in cards.orders)) if name == "money" else 0.0


def slack_of(cards: Cards, name: str, best: float) -> float:
    """What the next rank may give up of this one, in its own card units; none where the best is 0."""
    slack = cards.scenario.slack
    if abs(best) < 1:
        return 0.0
    if name == "spoiled":
        least = min(fruit.kitchen_value for fruit in cards.fruits)
        return slack.spoiled_share * best + slack.spoiled_kg * SCALE * least
    return {"short": slack.short_share, "money": slack.money_share, "tidiness": 0.0}[name] * abs(best)


def floor_of(cards: Cards, name: str) -> float:
    """The least size against which a gap is measured: 1 kg, 1 jar, 1 start; for money, all pay offered."""
    if name == "spoiled":
        return float(SCALE * max(1, min((fruit.kitchen_value for fruit in cards.fruits), default=1)))
    if name == "money":
        best: dict[tuple[int, int], int] = {}
        for staff in cards.staff:
            key = (staff.person, staff.day)
            best[key] = max(best.get(key, 0), staff.pay)
        return float(max(1000 * MONEY, sum(best.values())))
    return 1.0


def goal_of(cards: Cards, name: str, best: float, bound: float, slack: float) -> Goal:
    """The row of a goal, in units of its own, from card units; ``with_value`` says what a plan has of it."""
    unit, money = UNITS[name], cards.scenario.currency
    gap = abs(best - bound) / max(abs(best), floor_of(cards, name))
    words = {"spoiled": money, "money": money, "short": "jars", "tidiness": "starts"}
    gap = 0.0 if gap <= CLOSED else round(gap, 5)
    return Goal(name, words[name], 0.0, best / unit, bound / unit, gap, slack / unit)


def with_value(cards: Cards, goal: Goal, allocation: Allocation) -> Goal:
    """The goal with its value in an allocation, all to a thousandth; a MIP solver's dust may lie below the
    least that there can be. What was found for a later goal may better this one too: then it is the best."""
    unit, found = UNITS[goal.name], value_of(cards, goal.name, allocation)
    if round(found / unit, 3) < round(goal.best, 3):
        bound = min(goal.bound * unit, found)
        goal = goal_of(cards, goal.name, found, bound, slack_of(cards, goal.name, found))
    value, least = found / unit, least_of(cards, goal.name) / unit
    value, best, bound = (max(least, round(number, 3)) for number in (value, goal.best, goal.bound))
    return Goal(goal.name, goal.unit, value, best, bound, goal.gap, round(goal.slack, 3))


def unproved(cards: Cards, allocation: Allocation) -> tuple[Goal, ...]:
    """The goals of a plan that nothing was proved about: bounds are what no plan can beat."""
    goals = [
        goal_of(cards, name, value_of(cards, name, allocation), least_of(cards, name), 0.0) for name in RANKS
    ]
    return tuple(with_value(cards, goal, allocation) for goal in goals)


def clashing(cards: Cards) -> list[str]:
    """Rules that clash: fruit can be given up and orders missed, but a freezer cannot be overfull.

    For each limit what lies there now and keeps beyond its day, where that is more; if none is, all of them.
    """
    kitchen, first = cards.kitchen, cards.dates[0]
    kg, litres = (sum(getattr(each, size) for each in kitchen.freezers) for size in ("kg", "litres"))
    lies = _lies(cards, first)
    clashes = [
        (lies[0] > kg, f"freezer-room: {lies[0]:.1f} kg lie in a freezer that holds {kg:.1f} kg"),
        (lies[1] > litres, f"freezer-litres: {lies[1]:.0f} litres lie in {litres:.0f} litres"),
    ]
    if kitchen.room_free_from is not None:
        kept, _ = _lies(cards, kitchen.room_free_from)
        most = kg - kitchen.room_free_kg
        lie = f"{kept:.1f} kg lie in the freezer that keep beyond {kitchen.room_free_from}"
        clashes.append((kept > most, f"room-kept-free: {lie}, when {most:.1f} kg may be left"))
    return [words for broken, words in clashes if broken] or [words for _, words in clashes]


def _lies(cards: Cards, day: date) -> tuple[float, float]:
    """kg and litres in the freezers now that keep beyond a day."""
    kept = [lot for lot in cards.frozen if lot.last > 0 and lot.use_by > day]
    litres = sum(lot.units * cards.fruits[lot.fruit].box_volume for lot in kept) / 1_000_000
    return sum(lot.units for lot in kept) / SCALE, litres
