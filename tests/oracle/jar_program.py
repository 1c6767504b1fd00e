"""What becomes of batches as jars, from the rule book alone: store, labels, racks, shelves, orders, shop."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping

from scheduler.domain.scenario import Scenario
from scheduler.domain.trade import LEMONS, PECTIN, SUGAR, Good, Order
from tests.oracle.cards_by_book import BookCard, floor
from tests.oracle.fruit_program import Expression, FruitProgram


class JarProgram(FruitProgram):
    """How often each card is cooked on each day, and what becomes of its jars: rules 33 to 35, 47 to 50 and
    61 to 67."""

    def __init__(self, scenario: Scenario) -> None:
        super().__init__(scenario)
        self.made: dict[tuple[int, BookCard], Expression] = {
            (day, card): self.whole() for day in self.days for card in self.cards
        }
        self.chores: dict[int, list[Expression]] = {day: [] for day in self.days}  # minutes

    def jars_made(self, recipe: str, size: int, last: int) -> Expression:
        """Jars for sale of one size of a recipe that are made up to a day."""
        made = [(c, n) for (day, c), n in self.made.items() if c.recipe == recipe and day <= last]
        return self.add(card.for_sale[size] * n for card, n in made if card.for_sale)

    def label_rules(self) -> None:
        """Rules 66 and 67, but for what is shipped."""
        self.labelled: dict[tuple[str, int, int], Expression] = {}
        labels = self.kitchen.labels
        products = [(r.name, size) for r in self.scenario.recipes for size in range(len(r.sizes))]
        for day in self.days if labels else ():
            steps = self.whole()
            self.chores[day].append(5 * steps)
            for product in products:
                self.labelled[*product, day] = self.whole()
                so_far = self.labelled_by(*product, day)
                self.require(so_far <= self.jars_made(*product, day - 1))
                self.require(self.jars_made(*product, day - labels.within_days) <= so_far)
            today = self.add(self.labelled[*product, day] for product in products)
            self.require(12 * today <= labels.jars_per_hour * steps)

    def labelled_by(self, recipe: str, size: int, last: int) -> Expression:
        mine = ((key[2], n) for key, n in self.labelled.items() if key[:2] == (recipe, size))
        return self.add(n for day, n in mine if day <= last)

    def store_rules(self) -> None:
        self.bought: list[Expression] = []
        for good in self.scenario.goods:
            scale = 10 if good.name == SUGAR else 1
            undated, taken = self.dated(good, scale)
            stock, used = self.zero + undated, []
            for day in self.days:
                for row in self.scenario.deliveries:
                    late = row.at is not None and row.at > self.kitchen.open
                    if row.good == good.name and self.day_index(row.day) + late == day:
                        stock = stock + floor(row.quantity * scale)
                if day >= good.lead_days and good.comes_on(self.scenario.dates()[day]):
                    purchase = self.purchase(good, scale)
                    self.bought.append(100 * good.price / scale * purchase)
                    stock = stock + purchase
                today = self.add(self.uses(c, good.name) * n for (d, c), n in self.made.items() if d == day)
                self.require(self.add(taken[day]) <= today)
                used.append(today - self.add(taken[day]))
                self.require(self.add(used) <= stock)

    def dated(self, good: Good, scale: int) -> tuple[int, dict[int, list[Expression]]]:
        """Rule 61: units on hand that outlast the plan, and what each day takes of parts that have a date."""
        undated, taken = 0.0, defaultdict(list)
        for quantity, use_by in (
            (good.opened, good.opened_use_by),
            (good.on_hand - good.opened, good.best_before),
        ):
            if use_by is None:
                undated += quantity
                continue
            by_day = {day: self.mass() for day in self.days if day <= self.day_index(use_by)}
            self.require(self.add(by_day.values()) <= floor(quantity * scale))
            for day, part in by_day.items():
                taken[day].append(part)
        return floor(undated * scale), taken

    def purchase(self, good: Good, scale: int) -> Expression:
        """Units that come on one day: any, or none or at least the least order in whole packs."""
        if good.pack is None:
            return self.mass()
        packs, ordered = self.whole(), self.highs.addBinary()
        self.require(good.least_packs * ordered <= packs)
        self.require(packs <= 1000 * ordered)
        return round(good.pack * scale) * packs

    def uses(self, card: BookCard, good: str) -> int:
        recipe = self.scenario.recipe(card.recipe)
        by_name = {SUGAR: card.sugar, LEMONS: card.lemons, PECTIN: card.pectin}
        in_sizes = zip(recipe.sizes, card.filled, strict=False)
        return by_name.get(good, sum(n * ((size.jar == good) + (size.lid == good)) for size, n in in_sizes))

    def order_rules(self) -> None:
        inside = [o for o in self.scenario.orders if self.day_index(o.due) in self.days]
        filled = [(order, self.filled(order)) for order in inside]
        missing = [o.weight * (o.jars - x) for o, x in filled]
        stored: dict[int, list[Expression]] = {day: [] for day in self.days}
        products = [(r, place, jar) for r in self.scenario.recipes for place, jar in enumerate(r.sizes)]
        for recipe, place, size in products:
            mine = [
                (self.day_index(o.due), x) for o, x in filled if (o.recipe, o.jar) == (recipe.name, size.jar)
            ]
            for day in self.days:
                shipped = self.add(x for due, x in mine if due <= day)
                made = self.jars_made(recipe.name, place, day - self.kitchen.settle_days)
                ready = [made, self.labelled_by(recipe.name, place, day)] if self.kitchen.labels else [made]
                for jars in ready:
                    self.require(shipped <= jars + size.jars_on_hand)
                cold = self.jars_made(recipe.name, place, day - (self.kitchen.rack_jars is not None))
                stored[day].append(size.jars_on_hand + cold - shipped)
                for row in self.scenario.shop:
                    if (row.recipe, row.jar, self.day_index(row.day)) == (recipe.name, size.jar, day):
                        missing.append(self.mass())
                        for jars in ready:
                            self.require(jars + size.jars_on_hand - shipped + missing[-1] >= row.jars)
        self.room_for_jars(stored)
        self.short = self.add(missing)
        self.sales_value = [-round(100 * order.price) * x for order, x in filled]

    def room_for_jars(self, stored: Mapping[int, list[Expression]]) -> None:
        """Rules 64 and 65: racks for what is filled on a day, shelves for what has cooled."""
        for day in self.days:
            if self.kitchen.rack_jars is not None:
                filled = self.add(card.jars * self.made[day, card] for card in self.cards)
                self.require(filled <= self.kitchen.rack_jars)
            if self.kitchen.shelf_jars is not None:
                self.require(self.add(stored[day]) <= self.kitchen.shelf_jars)

    def filled(self, order: Order) -> Expression:
        """Jars filled of an order: any number, or all or none where no part of it is taken."""
        return self.whole(order.jars) if order.parts else order.jars * self.highs.addBinary()
