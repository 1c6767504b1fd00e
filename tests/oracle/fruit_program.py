"""The fruit half of the oracle's program: fresh lots, punnets, freezer and the rank `spoiled`.

Rules 1 to 11 and the first goal, from the rule book alone. Every lot keeps its own rows, in the freezer
too (first in, first out by a yes-or-no of each lot and day), where the program may pool them.
Masses are in units of 0.1 kg and may be any real number, values of fruit thousandths of money.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property
from typing import Any

import highspy

from scheduler.domain.fruit import Fruit, Grade, Lot, Place
from scheduler.domain.kitchen import Freezer, Thaw
from scheduler.domain.scenario import Scenario
from scheduler.physics import keeping
from tests.oracle.cards_by_book import floor
from tests.oracle.day_limits import modes

Expression = Any  # highspy's linear expressions are untyped
Making = tuple[int, str, bool]  # day index, recipe, from_freezer
Lies = dict[int, list[tuple["FrozenLot", Expression]]]
"""By day, what is left of each frozen lot in the evening."""


@dataclass(frozen=True)
class FreshLot:
    """A fresh lot in whole numbers: units of 0.1 kg, days as index from the first planned day."""

    lot: Lot
    fruit: Fruit
    units: int
    arrives: int
    sell: int  # last days within each life
    peak: int
    last: int
    cook: int  # whole days of age within which it may be cooked
    life: int  # the same for fruit that came in at once


@dataclass(frozen=True)
class FrozenLot:
    fruit: Fruit
    name: str
    units: int
    made: int | None  # day index of freezing; None for a lot on hand
    last: int


class FruitProgram:
    """Variables and rules of the fruit; the kitchen's follow in the class built on this one."""

    def __init__(self, scenario: Scenario) -> None:
        self.scenario = scenario
        self.kitchen = scenario.kitchen
        self.days = range(scenario.days)
        self.cards = modes(scenario)
        self.highs: Any = highspy.Highs()  # type: ignore[no-untyped-call]
        self.highs.setOptionValue("output_flag", False)
        self.highs.setOptionValue("mip_rel_gap", 0.0)
        self.highs.setOptionValue("mip_abs_gap", 0.1)
        self.highs.setOptionValue("mip_feasibility_tolerance", 1e-7)
        self.active: dict[Making, Expression] = {
            (day, recipe, frozen): self.highs.addBinary()
            for day in self.days
            for recipe, frozen in dict.fromkeys((c.recipe, c.from_freezer) for c in self.cards)
        }
        self.drawn: dict[tuple[Making, str], list[Expression]] = defaultdict(list)  # fresh, as picked
        self.older: dict[Making, list[Expression]] = defaultdict(list)  # prepared, past its peak
        self.thaw: dict[tuple[Making, str], Expression] = {}
        self.values: list[Expression] = []  # terms of the rank `spoiled`
        self.saleable = 0.0
        self.fresh_rules()
        self.freezer_rules()

    # --- arithmetic ---

    def whole(self, most: float = math.inf) -> Expression:
        return self.highs.addIntegral(0, most)

    def mass(self, most: float = math.inf) -> Expression:
        return self.highs.addVariable(0, most)

    def add(self, terms: Iterable[Expression]) -> Expression:
        return self.highs.qsum(terms, initial=self.zero + 0)

    @cached_property
    def zero(self) -> Expression:
        return self.highs.addVariable(0, 0)

    def require(self, rule: Expression) -> None:
        self.highs.addConstr(rule)

    # --- fresh fruit: rules 1 to 5 ---

    def day_index(self, day: date) -> int:
        return (day - self.scenario.start).days

    @cached_property
    def fresh_lots(self) -> list[FreshLot]:
        found = []
        for lot in (*self.scenario.lots, *self.scenario.picks):
            if lot.place is Place.CHILLER:
                fruit, born = self.scenario.fruit(lot.fruit), self.day_index(lot.day)
                sell, peak, cook = (
                    self.days_alive(fruit, days, lot.warm_hours, lot.warm_celsius)
                    for days in (fruit.sell_days, fruit.peak_days, fruit.cook_days)
                )
                arrives, units = max(born, 0), round(lot.kg * 10)
                last = max(born + cook, arrives)  # a lot past its last day spoils on the day it comes
                life = self.days_alive(fruit, fruit.cook_days, 0.0, 0.0)
                found.append(FreshLot(lot, fruit, units, arrives, born + sell, born + peak, last, cook, life))
        return found

    def days_alive(self, fruit: Fruit, days_at_0c: float, warm_hours: float, warm_celsius: float) -> int:
        """Fruit breathes its stores away (mg of CO2 a kg): first in the yard, what is left in the chiller."""
        stores = days_at_0c * 24 * keeping.respiration(fruit.keeps_like, 0.0)
        stores -= warm_hours * keeping.respiration(fruit.keeps_like, warm_celsius)
        chilled = stores / keeping.respiration(fruit.keeps_like, self.kitchen.chiller.celsius)
        return floor((warm_hours + chilled) / 24)

    def fresh_rules(self) -> None:
        self.freeze: dict[tuple[str, int], list[Expression]] = defaultdict(list)  # as picked
        stands: dict[int, list[Expression]] = defaultdict(list)
        sold: dict[tuple[str, int], list[Expression]] = defaultdict(list)
        ends: dict[str, list[Expression]] = defaultdict(list)
        for lot in self.fresh_lots:
            left, worth = self.zero + lot.units, 100 * lot.fruit.kitchen_value
            born = self.day_index(lot.lot.day)
            for day in range(lot.arrives, min(lot.last, self.days[-1]) + 1):
                out = [self.lost(worth)]
                if lot.lot.grade is Grade.TABLE and day <= lot.sell:
                    out.append(self.mass())
                    sold[lot.fruit.name, day].append(out[-1])
                if day <= lot.peak:
                    out.append(self.mass())
                    self.freeze[lot.fruit.name, day].append(out[-1])
                if day - born <= lot.cook:
                    out += self.cooked(lot, day)
                stays = self.mass()
                self.require(left == self.add(out) + stays)
                left = stays
                if day < lot.last:
                    stands[day].append(stays)
            if lot.last <= self.days[-1]:
                self.values.append(worth * left)  # spoiled on its last day
            else:
                self.values.append(worth * left)
                share = min(1.0, (lot.last - self.days[-1]) / lot.life) if lot.life else 0.0
                part = self.mass()
                self.require(part <= left)
                self.values.append(-worth * share * part)
                ends[lot.fruit.name].append((1 - lot.fruit.preparation_loss) * part)
        self.parts, self.stands = ends, stands
        self.sales(sold)

    def lost(self, worth: float) -> Expression:
        """Given up on a day."""
        given_up = self.mass()
        self.values.append(worth * given_up)
        return given_up

    def cooked(self, lot: FreshLot, day: int) -> list[Expression]:
        draws = []
        for making in self.makings(day):
            recipe = self.scenario.recipe(making[1])
            if not making[2] and any(share.fruit == lot.fruit.name for share in recipe.fruits):
                draws.append(self.mass())
                self.drawn[making, lot.fruit.name].append(draws[-1])
                if day > lot.peak:
                    self.older[making].append((1 - lot.fruit.preparation_loss) * draws[-1])
        return draws

    def makings(self, day: int) -> list[Making]:
        return [making for making in self.active if making[0] == day]

    def sales(self, sold: Mapping[tuple[str, int], list[Expression]]) -> None:
        """Punnet demand, and what was not sold of the most that could be (rule 36)."""
        demand: dict[tuple[str, int], int] = defaultdict(int)
        for row in self.scenario.punnets:
            demand[row.fruit, self.day_index(row.day)] += round(row.kg * 10)
        for key, terms in sold.items():
            self.require(self.add(terms) <= demand[key])
        for fruit in self.scenario.fruits:
            extra = 100 * (fruit.table_value - fruit.kitchen_value)
            lots = [x for x in self.fresh_lots if x.fruit == fruit and x.lot.grade is Grade.TABLE]
            self.saleable += extra * most_saleable(lots, [demand[fruit.name, day] for day in self.days])
            self.values += [-extra * term for day in self.days for term in sold.get((fruit.name, day), [])]

    # --- freezer: rules 6 to 11 ---

    @cached_property
    def frozen_lots(self) -> dict[str, list[FrozenLot]]:
        """The lots of each fruit in the order in which they are thawed."""
        found = []
        for lot in self.scenario.lots:
            if lot.place is Place.FREEZER:
                assert lot.use_by is not None
                last = max(self.day_index(lot.use_by), 0)
                usable = self.day_index(lot.use_by) >= 0
                fruit = self.scenario.fruit(lot.fruit)
                found.append((lot.use_by, FrozenLot(fruit, lot.name, round(lot.kg * 10), None, last), usable))
        for fruit in self.scenario.fruits:
            for day in self.days:
                made = self.scenario.start + timedelta(days=day)
                last = day + floor(fruit.freezer_months * 30.4)
                name = f"{fruit.name} frozen {made}"
                found.append((made + timedelta(days=last - day), FrozenLot(fruit, name, 0, day, last), True))
        self.past = {lot.name for _, lot, usable in found if not usable}
        ordered = [lot for _, lot, _ in sorted(found, key=lambda row: (row[0], row[1].name))]
        return {f.name: [lot for lot in ordered if lot.fruit == f] for f in self.scenario.fruits}

    def freezer_rules(self) -> None:
        lies: Lies = defaultdict(list)
        for fruit in self.scenario.fruits:
            thawed: dict[int, list[Expression]] = defaultdict(list)
            before: dict[int, list[tuple[FrozenLot, Expression]]] = defaultdict(list)
            for lot in self.frozen_lots[fruit.name]:
                self.frozen_lot(lot, thawed, before, lies)
            for day in self.days:
                wanted = [making for making in self.makings(day) if self.may_thaw(making, fruit.name)]
                for making in wanted:
                    self.thaw[making, fruit.name] = self.mass()
                self.require(self.add(thawed[day]) == self.add(self.thaw[m, fruit.name] for m in wanted))
            self.kept(fruit, [left for lot, left in lies[self.days[-1]] if lot.fruit == fruit])
        for day in self.days:
            self.freezer_room(day, lies[day])

    def freezer_room(self, day: int, lies: list[tuple[FrozenLot, Expression]]) -> None:
        """Rules 8, 9, 51 and 57 to 60: every lot lies in the one freezer or the other, or in both."""
        kitchen = self.kitchen
        two = kitchen.second_freezer is not None
        apart = [self.mass() if two else self.zero + 0 for _ in lies]
        for (_, left), part in zip(lies, apart, strict=True):
            self.require(part <= left)
        if kitchen.room_free_from is not None and day >= self.day_index(kitchen.room_free_from):
            kg = sum(freezer.kg for freezer in kitchen.freezers) - kitchen.room_free_kg
            self.require(self.add(left for _, left in lies) <= round(kg * 10))
        for box in kitchen.freezer_boxes:
            packed = [f for f in self.scenario.fruits if f.freezer_box == box.name]
            boxes = [self.whole(box.count) for _ in packed]
            for fruit, number in zip(packed, boxes, strict=True):
                mine = [left for lot, left in lies if lot.fruit == fruit]
                self.require(self.add(mine) <= round(box.kg * 10) * number)
            self.require(self.add(boxes) <= box.count)
        for n, freezer in enumerate(kitchen.freezers):
            parts = [(lot, part if n else left - part) for (lot, left), part in zip(lies, apart, strict=True)]
            new = [(lot, part) for lot, part in parts if lot.made == day]
            use = 0 if self.out_of_use(freezer, day) else 10
            self.require(self.add(part for _, part in parts) <= round(freezer.kg * use))
            self.require(self.add(part for _, part in new) <= round(freezer.freeze_kg_per_day * use))
            boxed = [part / lot.fruit.frozen_kg_per_litre for lot, part in parts]
            trays = [(freezer.tray_litres_per_kg - 1 / x.fruit.frozen_kg_per_litre) * part for x, part in new]
            self.require(self.add(boxed + trays) <= freezer.litres * 10)
            tomorrow = [kg for (making, _), kg in self.thaw.items() if making[0] == day + 1]
            thawing = tomorrow if self.kitchen.thaw is Thaw.OVERNIGHT else []
            self.require(self.add([*self.stands[day], *thawing]) <= round(self.kitchen.chiller.kg * 10))

    def is_defrosted(self, freezer: Freezer, day: int) -> bool:
        on = freezer.defrost_on
        return on is not None and self.day_index(on) - 1 <= day <= self.day_index(on)

    def out_of_use(self, freezer: Freezer, day: int) -> bool:
        failed = freezer.fails_on is not None and day >= self.day_index(freezer.fails_on)
        return failed or self.is_defrosted(freezer, day)

    def is_cleared(self, freezer: Freezer, day: int) -> bool:
        """Whether fruit may be discarded before its date."""
        fails = freezer.fails_on is not None and day == self.day_index(freezer.fails_on)
        return fails or self.is_defrosted(freezer, day)

    def frozen_lot(
        self,
        lot: FrozenLot,
        thawed: dict[int, list[Expression]],
        before: dict[int, list[tuple[FrozenLot, Expression]]],
        lies: Lies,
    ) -> None:
        """One lot through its days; ``before`` holds what is left of those that come before it.

        A lot does not count as empty because it is discarded at the end of the day; ``lies`` is what is left
        after that.
        """
        fruit, left = lot.fruit, self.zero + lot.units
        most = lot.units or sum(x.units for x in self.fresh_lots if x.fruit == fruit)
        worth = 100 * fruit.kitchen_value / (1 - fruit.preparation_loss)
        for day in range(lot.made or 0, min(lot.last, self.days[-1]) + 1):
            stays, went = self.mass(), self.zero + 0
            if day == lot.made:
                frozen, drawn = self.mass(), self.add(self.freeze[fruit.name, day])
                self.require(frozen == (1 - fruit.preparation_loss) * drawn)
                left = left + frozen
            elif lot.name not in self.past:
                went, used = self.mass(most), self.highs.addBinary()
                thawed[day].append(went)
                self.require(went <= most * used)
                for earlier, rest in before[day]:
                    if earlier.made != day:  # today's fruit cannot be thawed, so it need not be gone
                        room = earlier.units or sum(x.units for x in self.fresh_lots if x.fruit == fruit)
                        self.require(rest <= room - room * used)
            self.require(left == went + stays)
            before[day].append((lot, stays))
            if day == lot.last:
                self.values.append(worth * stays)  # discarded
                continue
            left = stays
            if day != lot.made and any(self.is_cleared(each, day) for each in self.kitchen.freezers):
                left = self.mass()
                self.require(left <= stays)
                self.values.append(worth * (stays - left))  # lost
            lies[day].append((lot, left))

    def may_thaw(self, making: Making, fruit: str) -> bool:
        recipe = self.scenario.recipe(making[1])
        return recipe.frozen_share > 0 and any(share.fruit == fruit for share in recipe.fruits)

    def kept(self, fruit: Fruit, ends: list[Expression]) -> None:
        """What is left in the freezer at the end, and what all that is left may still be worth."""
        worth = 100 * fruit.kitchen_value / (1 - fruit.preparation_loss)
        left, part = self.add(ends), self.mass()
        self.require(part <= left)
        self.values += [worth * left, -worth * part]
        self.require(self.add([*self.parts[fruit.name], part]) <= fruit.wanted_later_kg * 10)

    @cached_property
    def spoiled(self) -> Expression:
        return self.add(self.values) + self.saleable


def most_saleable(lots: list[FreshLot], demand: list[int]) -> int:
    """Units of table grade that could have been sold: earliest last sell day first, day by day."""
    left = {lot.lot.name: lot.units for lot in lots}
    sold = 0
    for day, most in enumerate(demand):
        wanted = most
        for lot in sorted(lots, key=lambda lot: lot.sell):
            if lot.arrives <= day <= min(lot.sell, lot.last):
                taken = min(left[lot.lot.name], wanted)
                left[lot.lot.name] -= taken
                wanted -= taken
                sold += taken
    return sold
