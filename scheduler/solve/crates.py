"""A crate more of each act, on each day: the allocation solved anew, batches, people and orders as they are.

Kilograms may all move: to other days, lots, the freezer, punnets. So an answer says what an act costs once
everything else has made the best of it. Whole variables stay, so each answer is a small linear program that
starts from the one before.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import highspy
import numpy as np
from ortools.sat.python import cp_model

from scheduler.cards import MONEY, SCALE, Cards
from scheduler.crates import CRATE_KG, Act, Crate
from scheduler.model.allocation import Allocation, AllocationModel
from scheduler.model.mip import costs_of, domains_of, loaded, rows_of
from scheduler.solve.settings import Clock

UNITS = CRATE_KG * SCALE
TRACE = 0.5
"""Card units, 50 g: a lot of less is not there."""
HAIR = 1e-6
"""Of a row: what a plan that was read out may be off by."""


def crates(cards: Cards, allocation: Allocation, days: range, clock: Clock) -> tuple[Crate, ...]:
    """What a crate is worth, day by day, as far as there is time."""
    asked = _Asked(AllocationModel(cards), allocation)
    found: list[Crate] = []
    for day in days:
        if clock.over:
            break
        found += asked.of_day(day)
    return tuple(found)


@dataclass
class _Lot:
    """A lot on a day: its variables by act and what lies there in the morning."""

    index: int
    there: float
    acts: dict[Act, list[cp_model.IntVar]]


class _Asked:
    """One linear program, asked again and again."""

    def __init__(self, model: AllocationModel, allocation: Allocation) -> None:
        self.model, self.cards, self.x = model, model.cards, model.x
        model.model.minimize(model.goals["spoiled"])
        domains = domains_of(model.model)
        values = np.array(allocation.values)
        whole = np.array([i not in model.masses for i in range(len(domains))])
        whole[[var.index for var in model.x.boxes.values()]] = False
        low = np.where(whole, values, np.array([float(domain[0]) for domain in domains]))
        high = np.where(whole, values, np.array([float(domain[-1]) for domain in domains]))
        low[model.avoid.index] = high[model.avoid.index] = 0.0
        rows = rows_of(model.model).without(())
        rows.low = [bound - HAIR for bound in rows.low]
        rows.high = [bound + HAIR for bound in rows.high]
        offset = model.model.proto.objective.offset
        self.high = high
        self.solver = loaded(rows, costs_of(model.model), offset, low, high, [False] * len(domains))
        self.values = values
        self.loss = self._solved()

    def _solved(self) -> float | None:
        """The least loss, card money; None where the bounds as they are allow nothing."""
        self.solver.run()
        if self.solver.getModelStatus() == highspy.HighsModelStatus.kUnknown:
            # From where the last answer left it, it may not be sure; from the start it is.
            self.solver.clearSolver()
            self.solver.run()
        if self.solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            return None
        return float(self.solver.getInfo().objective_function_value)

    def of_day(self, day: int) -> Iterator[Crate]:
        """Every lot that is there on a day."""
        if self.loss is None:
            return
        for lot in self._lots(day):
            for act, variables in lot.acts.items():
                now = sum(float(self.values[var.index]) for var in variables)
                yield self._crate(day, lot, act, now, self._loses(variables, now + UNITS))
            for act, more in ((Act.MORE, UNITS), (Act.LESS, -UNITS)):
                yield self._crate(day, lot, act, lot.there, self._with_other_crop(lot, more))

    def _lots(self, day: int) -> Iterator[_Lot]:
        x = self.x
        for i, lot in enumerate(self.cards.lots):
            if not lot.arrives <= day <= lot.end or (i, day) not in x.given_up:
                continue
            before = (i, day - 1)
            there = float(lot.units) if day == lot.arrives else float(self.values[x.left[before].index])
            if there <= TRACE:
                continue
            acts = {
                Act.SELL: [x.sold[i, day]] if (i, day) in x.sold else [],
                Act.COOK: list(x.cooked_of_lot.get((i, day), ())),
                Act.FREEZE: [x.freeze[i, day]] if (i, day) in x.freeze else [],
                Act.HOLD: [x.left[i, day]] if lot.end > day else [],
                Act.GIVE_UP: [x.given_up[i, day]],
            }
            yield _Lot(i, there, {act: variables for act, variables in acts.items() if variables})

    def _loses(self, variables: list[cp_model.IntVar], least: float) -> float | None:
        """What the whole loses more, card money, where these variables come to ``least`` at least."""
        indices = np.array([var.index for var in variables], dtype=np.int32)
        self.solver.addRow(least, highspy.kHighsInf, len(indices), indices, np.ones(len(indices)))
        loss = self._solved()
        self.solver.deleteRows(1, np.array([self.solver.getNumRow() - 1], dtype=np.int32))
        assert self.loss is not None
        return None if loss is None else loss - self.loss

    def _with_other_crop(self, lot: _Lot, more: float) -> float | None:
        """What the whole loses with so much more of a lot; what is given up counts from there, so that a
        crate which only goes to waste changes nothing."""
        (given_up,) = lot.acts[Act.GIVE_UP]
        mine = self._limited_by(lot.index) if more > 0 else [given_up.index]
        for index in mine:
            self.solver.changeColBounds(index, 0.0, self.high[index] + more)
        self.solver.changeColBounds(given_up.index, -more, self.high[given_up.index])
        loss = self._solved()
        for index in mine:
            self.solver.changeColBounds(index, 0.0, self.high[index])
        assert self.loss is not None
        return None if loss is None else loss - self.loss

    def _limited_by(self, i: int) -> list[int]:
        """Variables whose most is what there is of a lot, on any day."""
        x, fruit = self.x, self.cards.lots[i].fruit
        of_lot = [
            var
            for table in (x.sold, x.freeze, x.given_up, x.left)
            for key, var in table.items()
            if key[0] == i
        ]
        cooked = [var for key, var in x.cooked.items() if key[0] == i]
        mixed = [var for key, var in x.fresh.items() if key[2] == fruit]
        return [var.index for var in (*of_lot, *cooked, *mixed, *([x.worth[i]] if i in x.worth else []))]

    def _crate(self, day: int, lot: _Lot, act: Act, units: float, loss: float | None) -> Crate:
        card = self.cards.lots[lot.index]
        per_kg = None if loss is None else round(loss / MONEY / CRATE_KG, 4) + 0.0
        return Crate(
            self.cards.dates[day], card.name, self.cards.fruits[card.fruit].name, act,
            round(units / SCALE, 3) + 0.0, per_kg,
        )  # fmt: skip
