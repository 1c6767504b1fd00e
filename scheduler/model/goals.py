"""The ranked goals of the allocation, as integer expressions."""

from __future__ import annotations

from scheduler.model.decisions import Decisions, Linear, total


def spoiled_value(x: Decisions) -> Linear:
    """Value lost, card money: spoiled, given up, sales missed, left over and not wanted."""
    cards, last = x.cards, x.cards.days - 1
    lost: list[Linear | int] = []
    for f, fruit in enumerate(cards.fruits):
        sold = total(var for (i, _), var in x.sold.items() if cards.lots[i].fruit == f)
        lost.append((fruit.table_value - fruit.kitchen_value) * (fruit.saleable - sold))
        lost += [fruit.kitchen_value * var for (i, _), var in x.given_up.items() if cards.lots[i].fruit == f]
        lost += [fruit.frozen_value * x.discarded[f, d] for d in range(cards.days)]
        lost.append(fruit.frozen_value * sum(z.units for z in cards.frozen if z.fruit == f and z.last < 0))
        lost.append(fruit.frozen_value * (x.level[f, last] - x.worth_frozen[f]))
    for i, lot in enumerate(cards.lots):
        value = cards.fruits[lot.fruit].kitchen_value
        day = min(lot.end, last)
        lost.append(value * x.left[i, day])
        if i in x.worth:
            lost.append(-lot.left_value * x.worth[i])
    return total(lost)


def jars_short(x: Decisions) -> Linear:
    """Jars missing on orders, each times the order's weight, and in the shop."""
    orders = [order.weight * (order.jars - x.filled[i]) for i, order in enumerate(x.cards.orders)]
    return total([*orders, *x.shop_missing])


def money_spent(x: Decisions) -> Linear:
    """Pay, energy and purchases less the income of orders filled, card money."""
    cards = x.cards
    pay = [staff.pay * x.staff[i] for i, staff in enumerate(cards.staff)]
    energy = [card.energy * x.count[d][m] for d in range(cards.days) for m, card in enumerate(cards.batches)]
    bought = [cards.goods[g].price * var for (g, _), var in x.bought.items()]
    income = [-order.price * x.filled[i] for i, order in enumerate(cards.orders)]
    return total([*pay, *energy, *bought, *income])


def recipe_starts(x: Decisions) -> Linear:
    """Number of (day, recipe) pairs that are cooked."""
    return total(x.started.values())


GOALS = (
    ("spoiled", spoiled_value),
    ("short", jars_short),
    ("money", money_spent),
    ("tidiness", recipe_starts),
)
