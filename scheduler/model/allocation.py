"""The allocation as one model: decisions, rules, goals; and a solution read back in integers."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain
from typing import Any

from ortools.sat.python import cp_model

from scheduler.cards import SHARE, Cards
from scheduler.domain.kitchen import STEP
from scheduler.model import buying
from scheduler.model.day import label_minutes, take_out_minutes
from scheduler.model.decisions import Decisions, Linear, Making
from scheduler.model.goals import GOALS
from scheduler.model.limits import freeze_work
from scheduler.model.rules import OF_TIME, RULES, most_batches

Key2 = tuple[int, int]
DUST = 1e-5  # card units (a milligram): what a MIP solver leaves of nothing
LEAST_THAWED = 0.01  # card units (a gram): less is not taken out of the freezer


@dataclass(frozen=True)
class Allocation:
    """One solution, in card units; ``values`` are all variables in order, to hint the next solve."""

    values: tuple[float, ...]
    count: tuple[tuple[int, ...], ...]
    sold: dict[Key2, float]
    freeze: dict[Key2, float]
    given_up: dict[Key2, float]
    left: dict[Key2, float]
    cooked: dict[tuple[int, int, int], float]
    fresh: dict[tuple[int, Making, int], float]
    thaw: dict[tuple[int, Making, int], float]
    frozen: dict[Key2, float]
    discarded: dict[Key2, float]
    staff: tuple[int, ...]
    filled: tuple[int, ...]
    labelled: dict[Key2, int]
    spoiled: float
    short: int
    starts: int
    held: dict[int, int]
    """By held row the card of the batch that meets it."""

    def batches(self, day: int) -> tuple[int, ...]:
        """Card indices of a day's batches, repeated as often as they are cooked."""
        return tuple(m for m, n in enumerate(self.count[day]) for _ in range(n))

    def freeze_work(self, cards: Cards, day: int) -> int:
        """Minutes of preparing to freeze on a day."""
        drawn = [0.0] * len(cards.fruits)
        for (i, d), units in self.freeze.items():
            if d == day:
                drawn[cards.lots[i].fruit] += units
        return freeze_work(cards, tuple(drawn))

    def label_work(self, cards: Cards, day: int) -> int:
        """Minutes of labelling jars on a day."""
        return label_minutes(cards, sum(jars for (_, d), jars in self.labelled.items() if d == day))

    def taking_out(self, cards: Cards, day: int) -> int:
        """Minutes of taking out on a day what is cooked on the next."""
        minutes = take_out_minutes(cards)
        if not minutes:
            return 0
        thawed = sum(units for (d, _, _), units in self.thaw.items() if d == day + 1)
        return minutes if thawed > LEAST_THAWED else 0

    def purchases(self, cards: Cards) -> tuple[buying.Bought, ...]:
        """What to buy of each good by the day it runs out, no earlier than it must come for that."""
        return buying.purchases(cards, self.count)

    def settled(self, cards: Cards, day: int, product: int) -> int:
        """Settled jars of a product, labelled if labels there are, not shipped by the end of a day."""
        ready = sum(
            n * cards.kept(cards.batches[m], product)
            for row in self.count[: max(0, day - cards.kitchen.settle_days + 1)]
            for m, n in enumerate(row)
            if n
        )
        if cards.kitchen.labels:
            ready = min(ready, sum(n for (p, d), n in self.labelled.items() if p == product and d <= day))
        shipped = sum(
            n
            for order, n in zip(cards.orders, self.filled, strict=True)
            if order.product == product and order.due <= day
        )
        return cards.products[product].jars_on_hand + ready - shipped

    def money(self, cards: Cards) -> int:
        """Pay, energy and purchases less the income of orders filled, card money."""
        pay = sum(cards.staff[i].pay for i in self.staff)
        energy = sum(n * cards.batches[m].energy for day in self.count for m, n in enumerate(day))
        goods = buying.cost(cards, self.purchases(cards))
        income = sum(order.price * n for order, n in zip(cards.orders, self.filled, strict=True))
        return pay + energy + goods - income

    def with_staff(self, staff: tuple[int, ...], x: Decisions) -> Allocation:
        """The same allocation with other staff cards in use."""
        values = list(self.values)
        for i, var in enumerate(x.staff):
            values[var.index] = float(i in staff)
        return replace(self, staff=tuple(sorted(staff)), values=tuple(values))


class AllocationModel:
    """Decisions under all rules; ``goals`` by name. Cuts are added as they are learnt."""

    def __init__(self, cards: Cards) -> None:
        self.cards = cards
        self.model = cp_model.CpModel()
        most = [most_batches(cards, day) for day in range(cards.days)]
        self.x = Decisions(self.model, cards, most)
        self.of_time: set[int] = set()
        """Constraints that margins make tighter."""
        for rule in RULES:
            before = len(self.model.proto.constraints)
            rule(self.x)
            if rule in OF_TIME:
                self.of_time |= set(range(before, len(self.model.proto.constraints)))
        self.goals: dict[str, Linear] = {name: goal(self.x) for name, goal in GOALS}
        self.masses = self.x.masses()
        self.avoid = self.model.new_bool_var("avoid undecided days")

    def keeping_free(self, margins: Mapping[int, int]) -> cp_model.CpModel:
        """Rows over the same variables that keep so many per cent of the time of some days free.

        They guide the search towards days that can be placed; a bound holds only without them.
        """
        freer = self.x.keeping_free({day: margin for day, margin in margins.items() if margin})
        for rule in OF_TIME:
            rule(freer)
        return freer.model

    def read(self, values: Sequence[float]) -> Allocation:
        """A solution given as the values of all variables; counts are made whole."""
        x, masses = self.x, self.masses
        exact = [v if i in masses else float(round(v)) for i, v in enumerate(values)]
        self._count_what_is_left(exact)

        def some(table: Mapping[Any, cp_model.IntVar]) -> dict[Any, float]:
            return {key: exact[var.index] for key, var in table.items() if exact[var.index] > DUST}

        def whole(variables: Iterable[cp_model.IntVar]) -> tuple[int, ...]:
            return tuple(round(exact[var.index]) for var in variables)

        count = tuple(whole(day) for day in x.count)
        cooked = {
            (d, self.cards.batches[m].recipe) for d, n in enumerate(count) for m, k in enumerate(n) if k
        }
        found = Allocation(
            values=tuple(exact), count=count, sold=some(x.sold), freeze=some(x.freeze),
            given_up=some(x.given_up),
            left=some(x.left), cooked=some(x.cooked), fresh=some(x.fresh), thaw=some(x.thaw),
            frozen=some(x.frozen), discarded=some(x.discarded),
            staff=tuple(i for i, used in enumerate(whole(x.staff)) if used), filled=whole(x.filled),
            labelled={key: round(jars) for key, jars in some(x.labelled).items()},
            spoiled=self.value("spoiled", exact), short=0, starts=len(cooked),
            held={h: m for (h, m), var in x.meets.items() if exact[var.index]},
        )  # fmt: skip
        self._count_what_is_bought(found, exact)
        self._count_what_is_missing(found, exact)
        self._count_chores(found, exact)
        return replace(found, values=tuple(exact), short=round(self.value("short", exact)))

    def _count_what_is_bought(self, found: Allocation, exact: list[float]) -> None:
        """Let what is bought be what runs out; only money asks for that itself."""
        x, cards = self.x, self.cards
        for var in (*x.bought.values(), *chain.from_iterable(x.packs.values())):
            exact[var.index] = 0.0
        for each in found.purchases(cards):
            good, day = cards.goods[each.good], each.comes
            if each.good in x.packs:
                packs, ordered = x.packs[each.good]
                exact[packs.index] += each.units // good.pack
                exact[ordered.index] = 1.0
                day = good.comes[0]
            exact[x.bought[each.good, day].index] += each.units
        self._count_what_is_in_store(found, exact)

    def _count_what_is_in_store(self, found: Allocation, exact: list[float]) -> None:
        x, cards = self.x, self.cards
        uses = [cards.uses(card) for card in cards.batches]
        for g, good in enumerate(cards.goods):
            there = float(good.on_hand)
            for d in range(cards.days):
                if (g, d) in x.bought:
                    there += exact[x.bought[g, d].index]
                there += good.delivered[d] - sum(
                    n * uses[m].get(good.name, 0) for m, n in enumerate(found.count[d]) if n
                )
                if (g, d) in x.in_store:
                    exact[x.in_store[g, d].index] = there

    def _count_what_is_missing(self, found: Allocation, exact: list[float]) -> None:
        """Let the shop miss what it misses; only the second goal asks for that itself."""
        for row, var in zip(self.cards.shop, self.x.shop_missing, strict=True):
            exact[var.index] = float(max(0, row.jars - found.settled(self.cards, row.day, row.product)))

    def _count_chores(self, found: Allocation, exact: list[float]) -> None:
        """Let work beside the batches be what it must; no goal asks for that."""
        for d, steps in enumerate(self.x.label_steps):
            exact[steps.index] = float(found.label_work(self.cards, d) // STEP)
        for d, takes_out in enumerate(self.x.takes_out):
            exact[takes_out.index] = float(found.taking_out(self.cards, d) > 0)

    def _count_what_is_left(self, exact: list[float]) -> None:
        """Let fruit left at the end count for all it is worth; only the first goal asks for that itself."""
        x, cards = self.x, self.cards
        last = cards.days - 1
        for f, fruit in enumerate(cards.fruits):
            room = float(SHARE * fruit.wanted_later)
            level = exact[x.level[f, last].index]
            parts = [(fruit.frozen_value / SHARE, SHARE, level, x.worth_frozen[f])]
            for i, var in x.worth.items():
                if cards.lots[i].fruit == f:
                    left = exact[x.left[i, last].index]
                    parts.append((cards.lots[i].left_value / fruit.keep, fruit.keep, left, var))
            for _, size, there, var in sorted(parts, key=lambda part: -part[0]):
                units = max(0.0, min(there, room / size))
                exact[var.index] = units
                room -= units * size

    def value(self, goal: str, values: Sequence[float]) -> float:
        """The value of a goal at a solution."""
        terms = cp_model.FlatIntExpr(self.goals[goal])
        return float(
            terms.offset + sum(a * values[v.index] for v, a in zip(terms.vars, terms.coeffs, strict=True))
        )
