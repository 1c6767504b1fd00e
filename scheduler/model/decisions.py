"""The allocation's variables, answering questions such as "kg of this lot cooked on this day"."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from copy import copy
from typing import Any

from ortools.sat.python import cp_model

from scheduler.cards import SCALE, Cards, rounded_down
from scheduler.domain.kitchen import STEP, Freezer
from scheduler.model.buying import packs_for
from scheduler.model.day import take_out_minutes
from scheduler.model.freezer_boxes import may_run_out
from scheduler.model.hours import can_meet
from scheduler.model.limits import freeze_minutes, heat_cells
from scheduler.stock_cards import LotCard

Making = tuple[int, bool]
Linear = cp_model.LinearExpr


def total(terms: Iterable[Linear | int]) -> Linear:
    """Sum of expressions (0 if there are none)."""
    return cp_model.LinearExpr.sum(list(terms))


def weighted(variables: Iterable[Linear], weights: Iterable[int]) -> Linear:
    """Sum of variables times integer weights (0 if there are none)."""
    return cp_model.LinearExpr.weighted_sum(list(variables), list(weights))


class Decisions:
    """Variables by lot, fruit, making and day. Masses in card units (0.1 kg), not always whole."""

    def __init__(self, model: cp_model.CpModel, cards: Cards, most: Sequence[tuple[int, ...]]) -> None:
        self.cards = cards
        self.margins: Mapping[int, int] = dict.fromkeys(range(cards.days), 0)
        """Per cent of a day's time to keep free, by day; rules of a day's time are of these days alone."""
        self.model = model
        days = range(cards.days)
        self.count = [
            [model.new_int_var(0, most[d][m], f"n{d}.{m}") for m in range(len(cards.batches))] for d in days
        ]
        self.sold: dict[tuple[int, int], cp_model.IntVar] = {}
        self.freeze: dict[tuple[int, int], cp_model.IntVar] = {}
        self.given_up: dict[tuple[int, int], cp_model.IntVar] = {}
        self.left: dict[tuple[int, int], cp_model.IntVar] = {}
        self.cooked: dict[tuple[int, int, int], cp_model.IntVar] = {}
        self.worth: dict[int, cp_model.IntVar] = {}
        for i, lot in enumerate(cards.lots):
            self._lot(i, lot)
        self._lots_by_day()
        self._mixes()
        self._freezer()
        self._freezer_boxes()
        self._people_and_trade()
        self._chores()
        self._held()

    def keeping_free(self, margins: Mapping[int, int]) -> Decisions:
        """The same variables, for rules of a day's time that are to be added to theirs: margins keep so many
        per cent of some days free. Their rows go to a model of their own."""
        freer = copy(self)
        freer.model, freer.margins = cp_model.CpModel(), margins
        return freer

    def masses(self) -> set[int]:
        """Indices of the variables that may take any real value: masses and goods bought."""
        tables: tuple[dict[Any, cp_model.IntVar], ...] = (
            self.sold, self.freeze, self.given_up, self.left, self.cooked, self.worth, self.fresh,
            self.thaw, self.frozen, self.level, self.discarded, self.bought,
            self.second_frozen, self.second_level, self.unlabelled, self.in_store,
        )  # fmt: skip
        return (
            {var.index for table in tables for var in table.values()}
            | {var.index for var in self.worth_frozen}
            | {var.index for day in self.heat for _, var in day}
        )

    def _lot(self, i: int, lot: LotCard) -> None:
        cards, model = self.cards, self.model
        for d in range(lot.arrives, min(lot.end, cards.days - 1) + 1):
            key = (i, d)
            if d <= lot.last_sold and cards.demand[lot.fruit][d]:
                self.sold[key] = model.new_int_var(0, min(lot.units, cards.demand[lot.fruit][d]), f"s{key}")
            if d <= lot.last_peak:
                self.freeze[key] = model.new_int_var(0, lot.units, f"f{key}")
            for r in self._recipes_with(lot.fruit) if d <= lot.last_cooked else ():
                self.cooked[i, d, r] = model.new_int_var(0, lot.units, f"c{key}.{r}")
            if lot.last_cooked >= d:
                self.given_up[key] = model.new_int_var(0, lot.units, f"g{key}")
            self.left[key] = model.new_int_var(0, lot.units, f"l{key}")
        if lot.end >= cards.days:
            self.worth[i] = model.new_int_var(0, lot.units, f"w{i}")

    def _lots_by_day(self) -> None:
        """The same variables by what rules ask of them: one pass, not one for each day."""
        self.cooked_of_lot: defaultdict[tuple[int, int], list[cp_model.IntVar]] = defaultdict(list)
        """By lot and day."""
        self.cooked_on: defaultdict[tuple[int, int, int], list[tuple[int, cp_model.IntVar]]] = defaultdict(
            list
        )
        """By day, recipe and fruit, with the lot."""
        self.frozen_on: defaultdict[tuple[int, int], list[cp_model.IntVar]] = defaultdict(list)
        """By fruit and day."""
        for (i, d, r), var in self.cooked.items():
            self.cooked_of_lot[i, d].append(var)
            self.cooked_on[d, r, self.cards.lots[i].fruit].append((i, var))
        for (i, d), var in self.freeze.items():
            self.frozen_on[self.cards.lots[i].fruit, d].append(var)

    def _recipes_with(self, fruit: int) -> list[int]:
        name = self.cards.fruits[fruit].name
        recipes = self.cards.scenario.recipes
        fresh = {r for r, from_freezer in self.cards.makings if not from_freezer}
        return [r for r in sorted(fresh) if any(share.fruit == name for share in recipes[r].fruits)]

    def recipe_fruits(self, recipe: int) -> list[int]:
        """Indices of the fruits of a recipe, in its order."""
        index = self.cards.fruit_index
        return [index[share.fruit] for share in self.cards.scenario.recipes[recipe].fruits]

    def _mixes(self) -> None:
        cards, model = self.cards, self.model
        self.fresh: dict[tuple[int, Making, int], cp_model.IntVar] = {}
        self.thaw: dict[tuple[int, Making, int], cp_model.IntVar] = {}
        supply = [sum(lot.units for lot in cards.lots if lot.fruit == f) for f in range(len(cards.fruits))]
        stock = [sum(z.units for z in cards.frozen if z.fruit == f) for f in range(len(cards.fruits))]
        for d in range(cards.days):
            for making in cards.makings:
                share = cards.scenario.recipes[making[0]].frozen_share
                for f in self.recipe_fruits(making[0]):
                    key = (d, making, f)
                    if not making[1]:
                        self.fresh[key] = model.new_int_var(0, supply[f], f"q{key}")
                    if share > 0 and supply[f] + stock[f]:
                        self.thaw[key] = model.new_int_var(0, supply[f] + stock[f], f"t{key}")

    def _freezer(self) -> None:
        cards, model = self.cards, self.model
        room = sum(lot.units for lot in cards.lots) + sum(lot.units for lot in cards.frozen)
        rate = sum(rounded_down(each.freeze_kg_per_day, 1 / SCALE) for each in cards.kitchen.freezers)
        pairs = [(f, d) for f in range(len(cards.fruits)) for d in range(cards.days)]
        self.frozen = {key: model.new_int_var(0, rate, f"z{key}") for key in pairs}
        self.level = {key: model.new_int_var(0, room, f"v{key}") for key in pairs}
        self.discarded = {key: model.new_int_var(0, room, f"x{key}") for key in pairs}
        self.worth_frozen = [model.new_int_var(0, room, f"y{f}") for f in range(len(cards.fruits))]
        shared = pairs if cards.kitchen.second_freezer else []
        self.second_frozen = {key: model.new_int_var(0, rate, f"z2{key}") for key in shared}
        self.second_level = {key: model.new_int_var(0, room, f"v2{key}") for key in shared}

    def _freezer_boxes(self) -> None:
        """Boxes in use in the evening by fruit and day, of the kinds that may run out."""
        kinds = self.cards.kitchen.freezer_boxes
        self.boxes = {
            (f, d): self.model.new_int_var(0, kinds[fruit.box].count, f"boxes {f}.{d}")
            for f, fruit in enumerate(self.cards.fruits)
            if fruit.box is not None and may_run_out(self.cards, fruit.box)
            for d in range(self.cards.days)
        }

    def _people_and_trade(self) -> None:
        cards, model = self.cards, self.model
        self.staff = [model.new_bool_var(f"h{i}") for i in range(len(cards.staff))]
        self.heat = [
            [(cell, model.new_int_var(0, cell.minutes, f"heat {d}.{c}"))
             for c, cell in enumerate(heat_cells(cards, d))]
            for d in range(cards.days)
        ]  # fmt: skip
        used = [self._most_used(good.name) for good in cards.goods]
        most = [packs_for(good, units) for good, units in zip(cards.goods, used, strict=True)]
        self.bought = {
            (g, d): model.new_int_var(0, good.pack * most[g], f"b{g}.{d}")
            for g, good in enumerate(cards.goods)
            for d in (good.comes if good.any_quantity else good.comes[:1])
        }
        self.packs = {
            g: (model.new_int_var(0, most[g], f"packs {g}"), model.new_bool_var(f"ordered {g}"))
            for g, good in enumerate(cards.goods)
            if good.comes and not good.any_quantity
        }
        self.in_store = {
            (g, d): model.new_int_var(
                0, good.on_hand + sum(good.delivered) + good.pack * most[g], f"i{g}.{d}"
            )
            for g, good in enumerate(cards.goods)
            if used[g]
            for d in range(cards.days)
        }
        self.filled = [model.new_int_var(0, order.jars, f"o{i}") for i, order in enumerate(cards.orders)]
        self.whole = {i: model.new_bool_var(f"a{i}") for i, o in enumerate(cards.orders) if not o.parts}
        self.shop_missing = [model.new_int_var(0, row.jars, f"e{i}") for i, row in enumerate(cards.shop)]
        recipes = range(len(cards.scenario.recipes))
        self.started = {(d, r): model.new_bool_var(f"u{d}.{r}") for d in range(cards.days) for r in recipes}
        self.cooking_day = [model.new_bool_var(f"k{d}") for d in range(cards.days)]
        self.potting_day = [model.new_bool_var(f"p{d}") for d in range(cards.days)] if cards.two_days else []

    def _chores(self) -> None:
        """Jars labelled and not yet labelled by product and day, steps of labelling and whether fruit is
        taken out by day; empty where the kitchen has no such work."""
        cards, model = self.cards, self.model
        most = {p: cards.most_made[of.recipe] for p, of in enumerate(cards.products)}
        days = range(cards.days if cards.kitchen.labels else 0)
        self.labelled = {
            (p, d): model.new_int_var(0, jars, f"l{p}.{d}") for p, jars in most.items() for d in days[1:]
        }
        self.unlabelled = {
            (p, d): model.new_int_var(0, jars, f"j{p}.{d}") for p, jars in most.items() for d in days
        }
        steps = len(cards.scenario.people) * (cards.kitchen.close - cards.kitchen.open) // STEP
        self.label_steps = [model.new_int_var(0, steps if d else 0, f"labelling {d}") for d in days]
        taking = range(cards.days if take_out_minutes(cards) else 0)
        self.takes_out = [model.new_bool_var(f"takes out {d}") for d in taking]

    def _held(self) -> None:
        """By held row whether it holds (it does), and by row and card whether such a batch meets it."""
        rows = {h: row for h, row in enumerate(self.cards.scenario.held) if row.hold}
        self.holds = {h: self.model.new_int_var(1, 1, f"holds {h}") for h in rows}
        self.meets = {
            (h, m): self.model.new_bool_var(f"meets {h}.{m}")
            for h, row in rows.items()
            for m in can_meet(self.cards, row)
        }

    def _most_used(self, good: str) -> int:
        """More of a good than all batches of the horizon can use."""
        cards = self.cards
        return sum(
            max(
                (
                    -(-used * jars // sum(c.kept))
                    for c in cards.batches
                    if c.recipe == r and (used := cards.uses(c).get(good, 0))
                ),
                default=0,
            )
            for r, jars in enumerate(cards.most_made)
        )

    def kg_made(self, day: int, making: Making) -> Linear:
        """Units of prepared fruit in the batches of a making."""
        indices = self.cards.by_making[making]
        return weighted([self.count[day][m] for m in indices], [self.cards.batches[m].fruit for m in indices])

    def jars_made(self, day: int, product: int) -> Linear:
        """Jars of a product made on a day."""
        kept = {m: n for m, card in enumerate(self.cards.batches) if (n := self.cards.kept(card, product))}
        return weighted([self.count[day][m] for m in kept], kept.values())

    def shipped(self, day: int, product: int) -> Linear:
        """Jars of a product that orders took by the end of a day."""
        mine = enumerate(self.cards.orders)
        return total(self.filled[i] for i, o in mine if o.product == product and o.due <= day)

    def settled(self, day: int, product: int) -> Linear:
        """Settled jars of a product that are not shipped by the end of a day."""
        cards = self.cards
        made = [self.jars_made(d, product) for d in range(max(0, day - cards.kitchen.settle_days + 1))]
        return cards.products[product].jars_on_hand + total(made) - self.shipped(day, product)

    def labelled_left(self, day: int, product: int) -> Linear:
        """Labelled jars of a product that are not shipped by the end of a day."""
        labelled = total(self.labelled[product, d] for d in range(1, day + 1))
        return self.cards.products[product].jars_on_hand + labelled - self.shipped(day, product)

    def chore_minutes(self, day: int) -> Linear:
        """Minutes of labelling and of taking out what is cooked tomorrow."""
        labelling = [STEP * self.label_steps[day]] if self.label_steps else []
        taking = [take_out_minutes(self.cards) * self.takes_out[day]] if self.takes_out else []
        return total([*labelling, *taking])

    def drawn_to_freeze(self, fruit: int, day: int) -> Linear:
        """Units as picked that leave fresh lots of a fruit for the freezer."""
        return total(self.frozen_on[fruit, day])

    def freezing_minutes(self, day: int) -> Linear:
        """Minutes of preparing to freeze on a day, times the common denominator of the rates."""
        per_unit, _ = freeze_minutes(self.cards)
        return total(a * self.drawn_to_freeze(f, day) for f, a in enumerate(per_unit))

    def in_each_freezer(self, day: int) -> list[tuple[Freezer, list[Linear], list[Linear]]]:
        """Each freezer with the units of each fruit left in it and frozen in it on a day."""
        kitchen, keys = self.cards.kitchen, [(f, day) for f in range(len(self.cards.fruits))]
        level: list[Linear] = [self.level[key] for key in keys]
        frozen: list[Linear] = [self.frozen[key] for key in keys]
        if kitchen.second_freezer is None:
            return [(kitchen.freezer, level, frozen)]
        apart: list[Linear] = [self.second_level[key] for key in keys]
        frozen_apart: list[Linear] = [self.second_frozen[key] for key in keys]
        rest = [of_all - part for of_all, part in zip(level, apart, strict=True)]
        frozen_rest = [of_all - part for of_all, part in zip(frozen, frozen_apart, strict=True)]
        return [(kitchen.freezer, rest, frozen_rest), (kitchen.second_freezer, apart, frozen_apart)]

    def thawed(self, fruit: int, day: int) -> Linear:
        """Units of a fruit that leave the freezer for the pans."""
        return total(var for (d, _, f), var in self.thaw.items() if d == day and f == fruit)
