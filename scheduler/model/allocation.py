"""The allocation as one model: decisions, rules, goals; and a solution read back in integers."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ortools.sat.python import cp_model

from scheduler.cards import Cards
from scheduler.model.decisions import Decisions, Linear, Making
from scheduler.model.goals import GOALS
from scheduler.model.limits import freeze_pieces
from scheduler.model.rules import RULES, most_batches

Key2 = tuple[int, int]


@dataclass(frozen=True)
class Allocation:
    """One solution, in card units; ``values`` are all variables in order, to hint the next solve."""

    values: tuple[int, ...]
    count: tuple[tuple[int, ...], ...]
    sold: dict[Key2, int]
    freeze: dict[Key2, int]
    given_up: dict[Key2, int]
    left: dict[Key2, int]
    cooked: dict[tuple[int, int, int], int]
    fresh: dict[tuple[int, Making, int], int]
    thaw: dict[tuple[int, Making, int], int]
    frozen: dict[Key2, int]
    discarded: dict[Key2, int]
    staff: tuple[int, ...]
    filled: tuple[int, ...]
    spoiled: int
    short: int
    starts: int

    def batches(self, day: int) -> tuple[int, ...]:
        """Card indices of a day's batches, repeated as often as they are cooked."""
        return tuple(m for m, n in enumerate(self.count[day]) for _ in range(n))

    def pieces(self, cards: Cards, day: int) -> int:
        """Pieces of preparing to freeze on a day."""
        drawn = [0] * len(cards.fruits)
        for (i, d), units in self.freeze.items():
            if d == day:
                drawn[cards.lots[i].fruit] += units
        return freeze_pieces(cards, tuple(drawn))

    def purchases(self, cards: Cards) -> dict[Key2, int]:
        """Units of each good to buy by the day they run out, no earlier than needed."""
        bought: dict[Key2, int] = {}
        for g, good in enumerate(cards.goods):
            stock = good.on_hand
            for d in range(cards.days):
                used = sum(
                    n * cards.uses(cards.batches[m]).get(good.name, 0)
                    for m, n in enumerate(self.count[d])
                    if n
                )
                stock += good.delivered[d] - used
                if stock < 0:
                    bought[g, d], stock = -stock, 0
        return bought

    def money(self, cards: Cards) -> int:
        """Pay, energy and purchases less the income of orders filled, milli-money."""
        pay = sum(cards.staff[i].pay for i in self.staff)
        energy = sum(n * cards.batches[m].energy for day in self.count for m, n in enumerate(day))
        goods = sum(cards.goods[g].price * units for (g, _), units in self.purchases(cards).items())
        income = sum(order.price * n for order, n in zip(cards.orders, self.filled, strict=True))
        return pay + energy + goods - income

    def with_staff(self, staff: tuple[int, ...], x: Decisions) -> Allocation:
        """The same allocation with other staff cards in use."""
        values = list(self.values)
        for i, var in enumerate(x.staff):
            values[var.index] = int(i in staff)
        return replace(self, staff=tuple(sorted(staff)), values=tuple(values))


class AllocationModel:
    """Decisions under all rules; ``goals`` by name. Cuts are added as they are learnt."""

    def __init__(self, cards: Cards) -> None:
        self.cards = cards
        self.model = cp_model.CpModel()
        self.x = Decisions(self.model, cards, most_batches(cards))
        for rule in RULES:
            rule(self.x)
        self.goals: dict[str, Linear] = {name: goal(self.x) for name, goal in GOALS}
        self.avoid = self.model.new_bool_var("avoid undecided days")

    def read(self, solver: cp_model.CpSolver) -> Allocation:
        """The solution that the solver holds."""
        x = self.x
        values = tuple(solver.response_proto.solution)

        def some(table: dict[tuple[int, ...], cp_model.IntVar]) -> dict[tuple[int, ...], int]:
            return {key: values[var.index] for key, var in table.items() if values[var.index]}

        return Allocation(
            values=values,
            count=tuple(tuple(values[var.index] for var in day) for day in x.count),
            sold=some(x.sold),
            freeze=some(x.freeze),
            given_up=some(x.given_up),
            left=some(x.left),
            cooked=some(x.cooked),
            fresh=some(x.fresh),
            thaw=some(x.thaw),
            frozen=some(x.frozen),
            discarded=some(x.discarded),
            staff=tuple(i for i, var in enumerate(x.staff) if values[var.index]),
            filled=tuple(values[var.index] for var in x.filled),
            spoiled=int(solver.value(self.goals["spoiled"])),
            short=int(solver.value(self.goals["short"])),
            starts=len({(d, self.cards.batches[m].recipe) for d, day in enumerate(x.count)
                        for m, var in enumerate(day) if values[var.index]}),
        )  # fmt: skip
