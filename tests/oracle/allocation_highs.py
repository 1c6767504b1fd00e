"""The allocation over days as a mixed-integer program for HiGHS, written from the rule book alone.

It shares only ``scheduler.domain`` and ``scheduler.physics`` with the program. Masses are in units of 0.1 kg,
values of fruit thousandths of money, money cents.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from functools import cached_property
from itertools import combinations

import highspy

from scheduler.domain.kitchen import Thaw
from scheduler.domain.people import Skill
from scheduler.domain.scenario import Scenario, Situation
from scheduler.physics import gas
from scheduler.plan_rows import Part
from tests.oracle.cards_by_book import BookCard, ceil, floor, pan_kind, ring_kind
from tests.oracle.day_limits import (
    ANY,
    Hands,
    Times,
    Turn,
    can_do,
    can_meet,
    cooks_for,
    hands_limits,
    heat_cells,
    juice,
    kitchen_on,
    on_the_day,
    open_steps,
    power_rooms,
    room_limits,
    times,
    turns,
)
from tests.oracle.fruit_program import Expression, Making
from tests.oracle.jar_program import JarProgram

RANKS = ("spoiled", "short", "money", "tidiness")
CLOSE = {"spoiled": 0.5, "short": 0.01, "money": 0.5, "tidiness": 0.01}  # forgiven when a rank is held


def best(situation: Situation, ranks: Iterable[str] = RANKS, slack: bool = True) -> dict[str, float]:
    """The best value of each rank, those before it held within their slack.

    Without ``slack`` each rank is held at its best. A slack is spent by the next rank only; then the
    value that this rank's solution happened to reach is frozen, so that with slack only the first two
    ranks have one right answer.
    """
    program = Allocation(situation.scenario)
    found: dict[str, float] = {}
    caps: dict[str, float] = {}
    for rank in ranks:
        found[rank], reached = program.least(rank, caps)
        caps = {name: reached[name] for name in caps}
        caps[rank] = found[rank] + (program.allowance(rank, found[rank]) if slack else 0)
    return found


class Allocation(JarProgram):
    """All variables and rules; ``least`` solves for one rank."""

    def __init__(self, scenario: Scenario) -> None:
        super().__init__(scenario)
        self.mix_rules()
        self.juice_rules()
        self.gas_rule()
        self.label_rules()
        self.taking_out: dict[int, Expression] = {}
        self.take_out_rule()
        self.people_rules()
        self.store_rules()
        self.order_rules()
        self.starts = self.add(self.cooked_days())

    def possible(self) -> bool:
        """Whether any plan obeys all rules."""
        self.highs.minimize(self.zero + 0)
        status = self.highs.getModelStatus()
        assert status in (highspy.HighsModelStatus.kOptimal, highspy.HighsModelStatus.kInfeasible), status
        return bool(status == highspy.HighsModelStatus.kOptimal)

    def least(self, rank: str, caps: Mapping[str, float]) -> tuple[float, dict[str, float]]:
        """The least value of ``rank`` under ``caps``, and the values of all ranks there."""
        rows = [self.highs.addConstr(self.goal(name) <= cap + CLOSE[name]) for name, cap in caps.items()]
        self.highs.minimize(self.goal(rank))
        status = self.highs.getModelStatus()
        assert status == highspy.HighsModelStatus.kOptimal, status
        reached = {name: round(self.highs.val(self.goal(name)), 3) for name in RANKS}
        for row in reversed(rows):
            self.highs.removeConstr(row)
        return reached[rank], reached

    def allowance(self, rank: str, value: float) -> float:
        slack = self.scenario.slack
        if rank == "spoiled":
            cheapest = min(fruit.kitchen_value for fruit in self.scenario.fruits)
            return slack.spoiled_share * value + slack.spoiled_kg * cheapest * 1000 if value > 0.5 else 0
        share = {"short": slack.short_share, "money": slack.money_share}.get(rank, 0.0)
        return share * abs(value)

    def goal(self, rank: str) -> Expression:
        goals = {"spoiled": self.spoiled, "short": self.short, "money": self.money, "tidiness": self.starts}
        return goals[rank]

    # --- mixes and batches: rules 7 and 12 to 17, and the day limits ---

    def batches(self, making: Making) -> list[tuple[BookCard, Expression]]:
        day, recipe, frozen = making
        return [
            (card, self.made[day, card])
            for card in self.cards
            if (card.recipe, card.from_freezer) == (recipe, frozen)
        ]

    def mix_rules(self) -> None:
        for making, active in self.active.items():
            recipe, batches = self.scenario.recipe(making[1]), self.batches(making)
            count, kg = (
                self.add(n for _, n in batches),
                self.add(card.units * n for card, n in batches if card.part is not Part.BOIL),
            )
            self.require(count <= 100 * len(self.kitchen.pans) * active)
            self.require(active <= count)
            all_frozen, parts = [], []
            for share in recipe.fruits:
                loss = self.scenario.fruit(share.fruit).preparation_loss
                fresh: Expression = self.mass()
                frozen: Expression = self.thaw.get((making, share.fruit), self.zero)
                prepared = (1 - loss) * self.add(self.drawn[making, share.fruit])
                self.require(fresh == prepared)
                self.require(share.low * kg <= fresh + frozen)
                self.require(fresh + frozen <= share.high * kg)
                all_frozen.append(frozen + 0)
                parts += [fresh, frozen]
            self.require(self.add(parts) == kg)
            if making[2]:
                self.require(self.add(all_frozen) == kg)
            else:
                self.require(self.add(all_frozen) <= recipe.frozen_share * kg)
                self.require(self.add(self.older[making]) <= self.kitchen.older_share * kg)
        for recipe in self.scenario.recipes:
            sizes = range(len(recipe.sizes))
            jars = self.add(self.jars_made(recipe.name, size, self.days[-1]) for size in sizes)
            self.require(sum(size.jars_on_hand for size in recipe.sizes) + jars <= recipe.most_jars)

    def juice_rules(self) -> None:
        """Rules 40 and 41: juice is boiled the day after; a drip stand for each batch of a day."""
        parts = [card for card in self.cards if card.part is not Part.WHOLE]
        for kind in {juice(card) for card in parts}:
            for day in [-1, *self.days]:
                softened, boiled = (
                    self.add(
                        n for (d, c), n in self.made.items() if (d, c.part, juice(c)) == (when, part, kind)
                    )
                    for when, part in ((day, Part.SOFTEN), (day + 1, Part.BOIL))
                )
                self.require(softened == boiled)
        for day in self.days if parts else ():
            dripping = self.add(self.made[day, card] for card in parts)
            self.require(dripping <= self.kitchen.drip_stands.count)

    def gas_rule(self) -> None:
        """Rule 43, in kWh."""
        if self.kitchen.supply.gas_kg is not None:
            burnt = [
                c.watts * (c.soften + c.on_heat) / 60_000 * n for (_, c), n in self.made.items() if c.on_gas
            ]
            self.require(self.add(burnt) <= self.kitchen.supply.gas_kg * gas.PROPANE_KWH_PER_KG)

    def take_out_rule(self) -> None:
        """Rule 68."""
        kitchen = self.kitchen
        minutes = 5 * ceil(kitchen.take_out_minutes / 5) if kitchen.thaw is Thaw.OVERNIGHT else 0
        for day in self.days[:-1] if minutes else ():
            thawed = self.add(kg for (making, _), kg in self.thaw.items() if making[0] == day + 1)
            self.taking_out[day] = self.highs.addBinary()
            self.require(thawed <= kitchen.chiller.kg * 10 * self.taking_out[day])
            self.chores[day].append(minutes * self.taking_out[day])

    # --- people: rules 24, 29 to 32, and hands of the day limits ---

    def people_rules(self) -> None:
        self.turns: dict[Turn, Expression] = {turn: self.highs.addBinary() for turn in turns(self.scenario)}
        for day in self.days:
            self.day_limits(day)
        for person in self.scenario.people:
            weeks: dict[object, list[Expression]] = defaultdict(list)
            days: dict[int, list[tuple[Turn, Expression]]] = defaultdict(list)
            for turn, used in self.turns.items():
                if turn.shift.person == person.name:
                    weeks[turn.shift.day.isocalendar()[:2]].append((turn.leaves - turn.shift.start) * used)
                    days[self.day_index(turn.shift.day)].append((turn, used))
            for week in weeks.values():
                self.require(self.add(week) <= person.hours_week * 60)
            for day in self.days:
                self.require(self.add(used for _, used in days[day]) <= 1)
                for today, used in days[day]:
                    for next_day, again in days[day + 1]:
                        if next_day.shift.start + 1440 - today.leaves < self.scenario.work_rules.rest_minutes:
                            self.require(used + again <= 1)

    def day_limits(self, day: int) -> None:
        here = [(t, x) for t, x in self.turns.items() if self.day_index(t.shift.day) == day]
        busy, potting = self.highs.addBinary(), self.highs.addBinary()
        freezing = self.freezing_minutes(day)
        day_times = times(self.scenario, self.cards, [t for t, _ in here])
        self.held_rule(day, day_times)
        in_use = kitchen_on(self.scenario, self.scenario.dates()[day])
        for room in room_limits(in_use, self.cards, day_times):
            self.require(self.add(w * self.made[day, c] for c, w in room.work.items()) <= room.room)
        for hands in hands_limits(self.kitchen, self.cards, day_times):
            done = [float(w) * self.made[day, c] for c, w in hands.work.items()]
            at_stove = hands.kinds == (Skill.COOK,)
            given = [
                (
                    turn.at_stove(hands.opens, hands.closes, self.scenario.work_rules)
                    if at_stove
                    else turn.usable(hands.opens, hands.closes)
                )
                * used
                for turn, used in here
                if can_do(on_the_day(self.scenario, turn), hands.kinds)
            ]
            beside = freezing if Skill.PREPARE in hands.kinds else self.zero + 0
            cleaned = self.kitchen.clean_down_minutes * (ANY in hands.kinds) * busy
            chores = self.chores[day] if ANY in hands.kinds else []
            self.require(self.add([*done, beside, *chores, cleaned]) <= self.add(given))
            if at_stove:
                self.heat_limits(day, hands, here, self.add(given))
        if day in self.taking_out:
            self.require(self.taking_out[day] <= self.add(used for _, used in here))
        for making in self.makings(day):
            self.require(self.active[making] <= busy)
        potted = self.add(self.made[day, card] for card in self.cards if card.pot)
        self.require(potted <= 100 * len(self.kitchen.pans) * potting)
        someone = [(on_the_day(self.scenario, turn), used) for turn, used in here]
        cooks = self.add(used for person, used in someone if Skill.COOK in person.skills)
        fillers = self.add(used for person, used in someone if Skill.FILL in person.skills)
        trained = self.add(used for person, used in someone if not person.learner)
        self.require(self.kitchen.people_while_boiling * busy <= trained)
        self.require(self.kitchen.fillers * potting <= fillers)
        self.require(busy <= cooks)
        long = [card for card in self.cards if cooks_for(card, self.scenario.work_rules) == 2]
        if long:
            turns = self.highs.addBinary()
            batches = self.add(self.made[day, card] for card in long)
            self.require(batches <= 100 * len(self.kitchen.pans) * turns)
            self.require(2 * turns <= cooks)

    def held_rule(self, day: int, day_times: Times) -> None:
        """Rule 71, as Hall's condition (1935, from memory): any rows of a day are met by as many batches."""
        date = self.scenario.dates()[day]
        rows = [row for row in self.scenario.held if row.hold and row.day == date]
        for size in range(1, len(rows) + 1):
            for some in combinations(rows, size):
                batches = [
                    self.made[day, card]
                    for card, first in day_times.first.items()
                    if any(
                        can_meet(self.scenario, row, card)
                        and (row.start is None or first <= row.start <= day_times.last[card])
                        for row in some
                    )
                ]
                self.require(self.add(batches) >= size)

    def heat_limits(
        self, day: int, cook: Hands, here: list[tuple[Turn, Expression]], usable: Expression
    ) -> None:
        """Pans are on the heat only while enough people, one of them a cook, are in."""
        used, minutes = dict(here), []
        steps = open_steps(self.scenario, self.scenario.dates()[day])
        for length, through in heat_cells(cook.opens, cook.closes, list(used), steps):
            minutes.append(self.mass(length))
            cooks = [t for t in through if can_do(on_the_day(self.scenario, t), (Skill.COOK,))]
            trained = [t for t in through if not self.scenario.person(t.shift.person).learner]
            everybody = length * self.add(used[turn] for turn in trained)
            self.require(self.kitchen.people_while_boiling * minutes[-1] <= everybody)
            self.require(minutes[-1] <= length * self.add(used[turn] for turn in cooks))
        hot = self.add(minutes)
        self.require(hot <= usable)
        kitchen = kitchen_on(self.scenario, self.scenario.dates()[day])
        owned = [*map(pan_kind, kitchen.pans), *map(ring_kind, kitchen.rings)]
        for kind in dict.fromkeys(owned):
            mine = [c for c in self.cards if kind in (pan_kind(c.pan), ring_kind(c.ring))]
            heated = self.add((c.to_pot - c.stand) * self.made[day, c] for c in mine)
            self.require(heated <= owned.count(kind) * hot)
        for room, cards in power_rooms(self.kitchen, self.cards):
            drawn = self.add(card.watts / 1000 * card.cooking * self.made[day, card] for card in cards)
            self.require(drawn <= room / 1000 * hot)

    def freezing_minutes(self, day: int) -> Expression:
        """Minutes of preparing to freeze on a day."""
        return self.add(
            6 / fruit.prepare_kg_per_hour * self.add(self.freeze[fruit.name, day])
            for fruit in self.scenario.fruits
        )

    def cooked_days(self) -> list[Expression]:
        starts = []
        for day in self.days:
            for recipe in self.scenario.recipes:
                cooks = self.highs.addBinary()
                starts.append(cooks)
                for making in self.makings(day):
                    if making[1] == recipe.name:
                        self.require(self.active[making] <= cooks)
        return starts

    @cached_property
    def money(self) -> Expression:
        pay = []
        for turn, used in self.turns.items():
            person, minutes = self.scenario.person(turn.shift.person), turn.shift.end - turn.shift.start
            least = self.scenario.work_rules.least_paid_minutes
            minutes += max(0, least - minutes - turn.overtime)
            cents = floor(100 * person.pay * minutes / 60 + 0.5)
            pay.append((cents + floor(100 * person.overtime_pay * turn.overtime / 60 + 0.5)) * used)
        energy = [card.energy * n for (_, card), n in self.made.items()]
        return self.add([*pay, *energy, *self.bought, *self.sales_value])
