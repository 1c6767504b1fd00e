"""One kitchen day as a PyJobShop model: rules 18 to 28 of the rule book, with named people.

PyJobShop can express every rule of the timetable but one: a break that moves while it must leave enough
people in the kitchen. So where a break is owed the day asks for one person while boiling (the cook of
the pan is that person); where none is owed, any number is checked against the hours people are in.
Times are steps of 5 minutes from opening.
"""

from __future__ import annotations

from collections.abc import Callable, Container
from dataclasses import dataclass, replace
from functools import cache, partial
from itertools import combinations, count, islice, pairwise
from random import Random

from pyjobshop import Model, Renewable, SolveStatus, Task

from scheduler.domain.held import HeldBatch
from scheduler.domain.kitchen import Kitchen
from scheduler.domain.people import Person, Skill
from scheduler.domain.scenario import Situation
from tests.kitchens import random_kitchen
from tests.kitchens_of_hands import kitchen_of_hands
from tests.kitchens_of_kinds import kitchen_of_jars, kitchen_of_kinds
from tests.oracle.cards_by_book import BookCard, pan_kind, ring_kind, whole_pieces
from tests.oracle.day_limits import (
    ANY,
    Turn,
    can_do,
    kitchen_on,
    modes,
    on_the_day,
    open_steps,
    room_watts,
    turns,
)
from tests.supplies import with_hands_enough, with_supply

STEP = 5


@dataclass(frozen=True)
class KitchenDay:
    """What a day must place: batches (a pan and a ring of their kind each), work beside them, people who are
    in.

    The rows of the scenario that hold a batch are of the first batches, one after the other; those that rule
    out name either a pan or a ring.
    """

    situation: Situation
    batches: tuple[BookCard, ...]
    freezing: int  # minutes of preparing to freeze
    people: tuple[tuple[Person, Turn], ...]
    labelling: int = 0  # minutes
    taking_out: int = 0  # minutes, in one piece

    @property
    def kitchen(self) -> Kitchen:
        return self.situation.scenario.kitchen


def random_day(
    seed: int, kinds: bool = False, supply: bool = False, hands: bool = False, jars: bool = False
) -> KitchenDay | None:
    """The first day of a random kitchen with a random load; None if the kitchen has no cards.

    With ``kinds`` the kitchen makes more than jam, and softens fruit or boils juice on the day. With
    ``supply`` its electricity and gas are limited, and its hands are not; with ``hands`` some of its people
    are learners, or too young for hot sugar. With ``jars`` it washes them, and pots in two sizes.
    """
    rng = Random(f"day {seed}")
    of_hands = partial(kitchen_of_hands, stove=False)
    of_jars = kitchen_of_jars if jars else random_kitchen
    kitchen_of = kitchen_of_kinds if kinds else of_hands if hands else of_jars
    situation = kitchen_of(seed, days=(1, 1), people=(1, 3), hours=(4, 7))
    if supply:
        situation = with_supply(seed, with_hands_enough(situation))
    scenario, kitchen = situation.scenario, situation.scenario.kitchen
    cards = modes(scenario)
    if not cards:
        return None
    offered = [turn for turn in turns(scenario) if turn.shift.day == scenario.start]
    people = []
    for person in scenario.people:
        mine = [turn for turn in offered if turn.shift.person == person.name]
        if mine and rng.random() < 0.9:
            turn = rng.choice(mine)
            people.append((on_the_day(scenario, turn), turn))
    if any(turn.breaks for _, turn in people):
        scenario = replace(scenario, kitchen=replace(kitchen, people_while_boiling=1))
    batches = tuple(rng.choice(cards) for _ in range(rng.randint(1, 5)))
    return KitchenDay(replace(situation, scenario=scenario), batches, 5 * rng.randint(0, 12), tuple(people))


class DrawnDays:
    """The first days of a draw by their seeds, but for some, and what PyJobShop says of each."""

    def __init__(self, draw: Callable[[int], KitchenDay | None], days: int, but: Container[int] = ()) -> None:
        self.draw = cache(draw)
        self.answer = cache(lambda seed: can_be_placed(self.day(seed)))
        self.seeds = list(islice((n for n in count() if n not in but and self.draw(n) is not None), days))

    def day(self, seed: int) -> KitchenDay:
        day = self.draw(seed)
        assert day is not None
        return day


def can_be_placed(day: KitchenDay, seconds: float = 60.0) -> bool:
    """Whether PyJobShop finds a timetable or proves that there is none."""
    model = DayModel(day)
    if not model.everyone_needed_is_in:
        return False
    result = model.model.solve(time_limit=seconds, num_workers=2, display=False)
    assert result.status in (SolveStatus.OPTIMAL, SolveStatus.FEASIBLE, SolveStatus.INFEASIBLE), result.status
    return result.status is not SolveStatus.INFEASIBLE


class DayModel:
    """Tasks on pans, rings, places, oven and people."""

    def __init__(self, day: KitchenDay) -> None:
        self.day, self.kitchen, self.model = day, day.kitchen, Model()
        self.model.set_objective()  # any timetable will do
        self.length = (self.kitchen.close - self.kitchen.open) // STEP
        self.everyone_needed_is_in = True
        add = self.model.add_renewable
        in_use = kitchen_on(day.situation.scenario, day.situation.scenario.start)
        self.pans = [(pan_kind(pan), pan.name, self.model.add_machine()) for pan in in_use.pans]
        self.rings = [(ring_kind(ring), ring.name, self.model.add_machine()) for ring in in_use.rings]
        self.oven = add(self.kitchen.oven.jars)
        self.places = add(self.kitchen.heatproof_places or len(day.batches))
        potting = any(card.jars for card in day.batches)
        rooms = {of_gas: room_watts(self.kitchen, of_gas, potting) for of_gas in (False, True)}
        self.power = {of_gas: (room, add(max(room, 0))) for of_gas, room in rooms.items() if room is not None}
        self.enough = add(len(day.batches), breaks=self.too_few())
        self.kitchen_open = add(1000, breaks=self.closed())
        self.worked: list[Task] = []
        self.hands = [add(self.kitchen.pans_per_cook, breaks=self.away(turn)) for _, turn in day.people]
        # Who stands by may prepare, wash or load meanwhile, but not cook, pot up or stand by for another.
        self.calls = {
            id(hand): add(self.kitchen.pans_per_cook, breaks=self.away(turn))
            for hand, (_, turn) in zip(self.hands, day.people, strict=True)
        }
        self.eyes = {id(hand): self.model.add_machine() for hand in self.hands}  # for one set test at a time
        for hand, (_, turn) in zip(self.hands, day.people, strict=True):
            self.rest(hand, turn)
        rows = day.situation.scenario.held
        holding = [*(row for row in rows if row.hold), *[None] * len(day.batches)]
        for card, row in zip(day.batches, holding, strict=False):
            self.batch(card, row)
        for minutes in whole_pieces(day.freezing):
            self.work(minutes, Skill.PREPARE)
        for minutes in [day.taking_out] if day.taking_out else []:
            self.work(minutes, ANY)
        pieces = [(minutes, self.work(minutes, ANY)) for minutes in whole_pieces(day.labelling)]
        for (minutes, piece), (same, after) in pairwise(pieces):
            if minutes == same:  # in an order, by which no timetable is lost and much time saved
                self.model.add_start_before_start(piece, after)
        if self.worked and self.kitchen.clean_down_minutes:
            before, last = list(self.worked), self.work(self.kitchen.clean_down_minutes, ANY)
            for task in before:
                self.model.add_end_before_start(task, last)

    def closed(self) -> list[tuple[int, int]]:
        """When nobody may work, step by step."""
        scenario = self.day.situation.scenario
        open_at = open_steps(scenario, scenario.start)
        shut = [step for step in range(self.length) if self.kitchen.open + STEP * step not in open_at]
        return [(step, step + 1) for step in shut]

    def steps(self, clock: int) -> int:
        return min(max(0, clock - self.kitchen.open) // STEP, self.length)

    def away(self, turn: Turn) -> list[tuple[int, int]]:
        """When somebody is not in."""
        arrives, leaves = self.steps(turn.shift.start), self.steps(turn.leaves)
        return [(a, b) for a, b in ((0, arrives), (leaves, self.length)) if a < b]

    def too_few(self) -> list[tuple[int, int]]:
        """When fewer people are in than a boiling pan needs, breaks aside."""
        trained = [turn for person, turn in self.day.people if not person.learner]
        inside = [(self.steps(t.shift.start), self.steps(t.leaves)) for t in trained]
        few = [
            step
            for step in range(self.length)
            if sum(a <= step < b for a, b in inside) < self.kitchen.people_while_boiling
        ]
        return [(step, step + 1) for step in few]

    def rest(self, hand: Renewable, turn: Turn) -> None:
        """The break: it may start before opening or end after closing."""
        if turn.breaks:
            first, last = ((at - self.kitchen.open) // STEP for at in (turn.breaks[0], turn.breaks[-1]))
            length = turn.break_minutes // STEP
            if first + length <= 0 or last >= self.length:
                return  # it can be taken outside opening hours
            starts = range(max(first, 0), min(last, self.length - length) + 1)
            task = self.model.add_task(earliest_start=starts[0], latest_start=starts[-1])
            whole = self.kitchen.pans_per_cook
            self.model.add_mode(task, [hand, self.calls[id(hand)]], length, [whole, whole])
            assert first >= 0, "a break across opening is not in these days"
            assert last <= self.length - length, "a break across closing is not in these days"

    def task(self, idle: bool = False) -> Task:
        return self.model.add_task(latest_end=self.length, allow_idle=idle)

    def begin(self, clock: int, task: Task) -> None:
        """The task begins at a time of day: one of that length does, and ends when the other begins."""
        before = self.model.add_task(earliest_start=0, latest_start=0)
        self.model.add_mode(before, [self.model.add_machine()], (clock - self.kitchen.open) // STEP)
        self.model.add_end_at_start(before, task)

    def work(
        self, minutes: int, kind: str, people: int = 1, testing: bool = False, draws: BookCard | None = None
    ) -> Task:
        """A task of ``people`` different people who can do a kind of work; a cook minds several pans.

        ``draws`` is the card whose ring is on meanwhile.
        """
        room, power = self.power.get(draws.on_gas, (0, None)) if draws else (0, None)
        watts = [draws.watts] if draws and power else []
        self.everyone_needed_is_in &= all(n <= room for n in watts)
        task, whole = self.task(), 1 if kind == Skill.COOK else self.kitchen.pans_per_cook
        self.worked.append(task)
        able = [
            hand
            for hand, (person, _) in zip(self.hands, self.day.people, strict=True)
            if can_do(person, (kind,))
        ]
        teams = list(combinations(able, people))
        self.everyone_needed_is_in &= bool(teams)
        stage = [self.kitchen_open, *self.stage_resources.get(kind, [])]
        for team in teams:
            others = [*stage, *(self.eyes[id(hand)] for hand in team if testing), *([power] if power else [])]
            called = [self.calls[id(hand)] for hand in team if kind in (Skill.COOK, Skill.FILL)]
            self.model.add_mode(
                task,
                [*team, *called, *others],
                minutes // STEP,
                [whole] * (people + len(called)) + [1] * len(stage) + [0] * testing + watts,
            )
        return task

    def stand_by(self, minutes: int, pot: Task) -> None:
        """Somebody is within call to pot up, until potting starts."""
        task, people = self.task(), max(1, self.kitchen.fillers - 1)
        able = [
            self.calls[id(hand)]
            for hand, (person, _) in zip(self.hands, self.day.people, strict=True)
            if can_do(person, (Skill.FILL,))
        ]
        self.everyone_needed_is_in &= len(able) >= people
        for team in combinations(able, people):
            demands = [*[self.kitchen.pans_per_cook] * people, 1]
            self.model.add_mode(task, [*team, self.kitchen_open], minutes // STEP, demands)
        self.model.add_end_at_start(task, pot)

    @property
    def stage_resources(self) -> dict[str, list[Renewable]]:
        return {Skill.COOK: [self.enough], Skill.FILL: [self.places]}

    def batch(self, card: BookCard, row: HeldBatch | None = None) -> None:
        """All stages of one batch, and what they hold; a row says where it stands and when it begins."""
        model = self.model
        again = [(card.reboil, False), (card.set_test, True)] * card.reboils
        rows = [(card.soften, False), (card.strain, True), (card.dissolve, False), (card.boil, False)]
        rows += [(card.set_test, True), *again]
        chain = cook = [self.work(n, Skill.COOK, testing=alone, draws=card) for n, alone in rows if n]
        if card.pot:
            chain = [*cook, *self.potting(card)]
        for one, other in pairwise(chain):
            model.add_end_at_start(one, other)
        pot, wash = chain[-1], self.work(card.wash, ANY)
        model.add_end_before_start(pot, wash)
        pieces = [self.work(minutes, Skill.PREPARE) for minutes in card.pieces()]
        for piece in pieces:
            model.add_end_before_start(piece, cook[0])
        if row and row.start is not None:
            self.begin(row.start, cook[0])
        pans = self.allowed("pan", self.pans, pan_kind(card.pan), card, row)
        rings = self.allowed("ring", self.rings, ring_kind(card.ring), card, row)
        if not pans or not rings:
            self.everyone_needed_is_in = False
            return
        self.hold(pans, card.chain, cook[0], wash)
        ring_until = cook[-1] if self.kitchen.heatproof_places else pot
        self.hold(rings, card.hold, cook[0], ring_until)

    def allowed(self, kind: str, owned: list, like: object, card: BookCard, row: HeldBatch | None) -> list:  # type: ignore[type-arg]
        """The pans or rings like the card's that are not ruled out for it; of those the one of its row."""
        scenario = self.day.situation.scenario
        out = {getattr(r, kind) for r in scenario.held if not r.hold and r.recipe == card.recipe}
        named = getattr(row, kind) if row else ""
        return [it for same, name, it in owned if same == like and name not in out and named in ("", name)]

    def potting(self, card: BookCard) -> list[Task]:
        """Standing and potting up, into jars that are hot."""
        model, oven = self.model, self.kitchen.oven
        stand, pot = self.task(), self.work(card.pot, Skill.FILL, self.kitchen.fillers)
        model.add_mode(stand, [self.places, self.kitchen_open], card.stand // STEP, [1, 1])
        load = self.work(oven.load_minutes, ANY)
        if card.wash_jars:
            model.add_end_before_start(self.work(card.wash_jars, ANY), load)
        model.add_end_before_start(load, pot, (oven.heat_minutes + card.stand_by) // STEP)
        model.add_start_before_end(pot, load, -(oven.heat_minutes + oven.hot_minutes) // STEP)
        self.hold([self.oven], oven.load_minutes, load, pot, card.jars)
        if card.stand_by:
            self.stand_by(card.stand_by, pot)
        return [stand, pot]

    def hold(self, choice: list, least: int, first: Task, last: Task, demand: int = 0) -> None:  # type: ignore[type-arg]
        """Hold one of ``choice`` from the start of ``first`` to the end of ``last``."""
        task = self.task(idle=True)
        for resource in choice:
            self.model.add_mode(task, resource, least // STEP, demand)
        self.model.add_start_at_start(task, first)
        self.model.add_end_at_end(task, last)
