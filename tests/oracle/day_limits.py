"""The section "Day limits of the allocation" of the rule book, worked out a second time.

A limit is a row ``sum of work × batches (+ minutes of preparing to freeze) <= room``; the rows of hands
have their room in the shifts in use.
"""

from __future__ import annotations

from calendar import isleap
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from itertools import combinations, pairwise

from scheduler.domain.held import HeldBatch
from scheduler.domain.kitchen import Heat, Kitchen
from scheduler.domain.people import OVERTIME_STEP, Person, Shift, Skill, WorkRules
from scheduler.domain.scenario import Scenario
from scheduler.plan_rows import Part
from tests.oracle.cards_by_book import BookCard, book_cards, ceil, floor, pan_kind, ring_kind

ANY = "any"


@dataclass(frozen=True)
class Turn:
    """A shift with the overtime that is used of it."""

    shift: Shift
    overtime: int
    breaks: tuple[int, ...]  # where the break owed may start; empty where none is owed
    break_minutes: int
    steps: frozenset[int]  # of five minutes, by their start, in which the kitchen is open to it

    @property
    def leaves(self) -> int:
        return self.shift.end + self.overtime

    def usable(self, opens: int, closes: int) -> int:
        """Minutes present in a window, the kitchen being open, less the least overlap of the break owed."""
        present = {step for step in self.steps if opens <= step < closes}
        lost = [len(present.intersection(range(at, at + self.break_minutes, 5))) for at in self.breaks]
        return 5 * (len(present) - min(lost, default=0))

    def at_stove(self, opens: int, closes: int, rules: WorkRules) -> int:
        """The usable minutes that can be spent at the stove: a stretch, a rest, and again."""
        usable, longest = self.usable(opens, closes), rules.longest_stove_minutes
        if longest is None:
            return usable
        present = max(0, min(self.leaves, closes) - max(self.shift.start, opens))
        at_work = [minute % (longest + rules.stove_rest_minutes) < longest for minute in range(present)]
        return min(usable, sum(at_work))


@dataclass(frozen=True)
class Room:
    """One limit that does not depend on people: the work of a card and the room of a day."""

    name: str
    work: dict[BookCard, int]
    room: int


@dataclass(frozen=True)
class Hands:
    """One limit of a set of kinds of work: the work of a card and the window it must fall into."""

    kinds: tuple[str, ...]
    work: dict[BookCard, Fraction]
    opens: int
    closes: int


def open_steps(scenario: Scenario, day: date) -> list[int]:
    """The starts of all steps of five minutes of a day in which the kitchen is not closed."""
    closed = [row for row in scenario.closures if row.day == day]
    every = range(scenario.kitchen.open, scenario.kitchen.close, 5)
    return [step for step in every if not any(row.start <= step < row.end for row in closed)]


def kitchen_on(scenario: Scenario, day: date) -> Kitchen:
    """The kitchen without the pans and rings that are out of use on a day."""
    out = [row for row in scenario.out if row.day == day]
    pans = tuple(pan for pan in scenario.kitchen.pans if pan.name not in {row.pan for row in out})
    rings = tuple(ring for ring in scenario.kitchen.rings if ring.name not in {row.ring for row in out})
    return replace(scenario.kitchen, pans=pans, rings=rings)


def stands(scenario: Scenario, day: date, card: BookCard) -> list[tuple[str, str]]:
    """Names of pan and ring that a batch may have on a day: in use, and not ruled out."""
    kitchen = kitchen_on(scenario, day)
    barred = [row for row in scenario.held if (row.day, row.recipe, row.hold) == (day, card.recipe, False)]
    return [
        (pan.name, ring.name)
        for pan in kitchen.pans
        for ring in kitchen.rings
        if (pan_kind(pan), ring_kind(ring)) == (pan_kind(card.pan), ring_kind(card.ring))
        and all(row.pan not in ("", pan.name) or row.ring not in ("", ring.name) for row in barred)
    ]


def can_meet(scenario: Scenario, row: HeldBatch, card: BookCard) -> bool:
    """Whether a batch of the card can be the one that a held row asks for, at whatever time."""
    same = card.recipe == row.recipe and (row.kg is None or abs(card.units - 10 * row.kg) < 1.01)
    where = stands(scenario, row.day, card)
    return same and any(row.pan in ("", pan) and row.ring in ("", ring) for pan, ring in where)


def turns(scenario: Scenario) -> Iterator[Turn]:
    """Every shift offered with every overtime for which the break owed has a place, unless all is closed."""
    for shift in scenario.shifts:
        here = [step for step in open_steps(scenario, shift.day) if step >= shift.start]
        if not here or here[0] >= shift.end + shift.overtime_minutes:
            continue
        for overtime in range(0, shift.overtime_minutes + 1, OVERTIME_STEP):
            leaves = shift.end + overtime
            owed = scenario.work_rules.break_minutes(leaves - shift.start)
            places = tuple(break_starts(shift.start, leaves, owed, scenario.work_rules)) if owed else ()
            if places or not owed:
                yield Turn(shift, overtime, places, owed, frozenset(step for step in here if step < leaves))


def break_starts(arrives: int, leaves: int, owed: int, rules: WorkRules) -> Iterator[int]:
    """Where a break of ``owed`` minutes may start: inside, with no stretch of work too long."""
    for start in range(0, leaves, 5):
        before, after = start - arrives, leaves - start - owed
        if min(before, after) >= 5 and max(before, after) <= rules.longest_stretch_minutes:
            yield start


def can_do(person: Person, kinds: Iterable[str]) -> bool:
    return any(kind == ANY or kind in person.skills for kind in kinds)


def on_the_day(scenario: Scenario, turn: Turn) -> Person:
    """The person of a turn with the skills that rules 53 and 54 leave them on its day."""
    person, skills = scenario.person(turn.shift.person), set(Skill)
    if person.learner:
        skills.discard(Skill.COOK)
    if person.born and birthdays(person.born, turn.shift.day) < scenario.work_rules.boil_from_age:
        skills -= {Skill.COOK, Skill.FILL}
    return replace(person, skills=person.skills & skills)


def birthdays(born: date, day: date) -> int:
    """How many birthdays somebody has had; where a year has no 29 February that one is on 1 March."""
    years = range(born.year + 1, day.year + 1)
    on_leap_day = (born.month, born.day) == (2, 29)
    return sum(
        (date(year, 3, 1) if on_leap_day and not isleap(year) else date(year, born.month, born.day)) <= day
        for year in years
    )


def cooks_for(card: BookCard, rules: WorkRules) -> int:
    """How many must take turns at a batch."""
    longest = rules.longest_stove_minutes
    return 1 if longest is None or card.to_pot - card.stand <= longest else 2


def head(card: BookCard, kitchen: Kitchen) -> int:
    """Minutes from opening to the earliest begin of cooking."""
    oven = kitchen.oven
    longest = max(card.pieces(), default=0)
    hot = card.wash_jars + oven.load_minutes + oven.heat_minutes
    ready = hot + card.stand_by - card.to_pot if card.jars else 0
    return max(longest, ready, 0)


def fits(card: BookCard, scenario: Scenario) -> bool:
    kitchen, longest = scenario.kitchen, scenario.work_rules.longest_stove_minutes
    stages = (card.soften, card.strain, card.dissolve, card.boil, card.set_test, card.reboil)
    needed = head(card, kitchen) + card.chain + card.wash + kitchen.clean_down_minutes
    in_time = kitchen.open + needed <= kitchen.close
    return in_time and (longest is None or max(stages) <= longest)


def modes(scenario: Scenario) -> list[BookCard]:
    """The cards that fit a day, one for each kg and jars filled; a part only with one for its other day."""
    fit = [card for card in book_cards(scenario) if fits(card, scenario)]
    known = {(juice(card), card.part, card.pan, card.ring, card.filled): card for card in reversed(fit)}
    found = list(known.values())
    softened = {juice(card) for card in found if card.part is Part.SOFTEN}
    boiled = {juice(card) for card in found if card.part is Part.BOIL}
    return [card for card in found if card.part is Part.WHOLE or juice(card) in softened & boiled]


def juice(card: BookCard) -> tuple[object, ...]:
    """What tells one juice from another."""
    return card.recipe, card.from_freezer, card.units


@dataclass(frozen=True)
class Times:
    """One day if everybody came in for as long as they offer: first arriving, last leaving, and the first
    and last start of dissolving of every card that can be cooked."""

    opens: int
    closes: int
    first: dict[BookCard, int]
    last: dict[BookCard, int]


def times(scenario: Scenario, cards: list[BookCard], offered: Sequence[Turn]) -> Times:
    kitchen = scenario.kitchen

    someone = [(t.shift.person, on_the_day(scenario, t)) for t in offered]

    def present(need: int, able: set[str]) -> tuple[int, int] | None:
        if len(able) < need:
            return None
        mine = {name: [t for t in offered if t.shift.person == name] for name in able}
        come = sorted(min(t.shift.start for t in some) for some in mine.values())
        go = sorted((max(t.leaves for t in some) for some in mine.values()), reverse=True)
        return come[need - 1], go[need - 1]

    cooks = {name for name, person in someone if Skill.COOK in person.skills}
    people = present(kitchen.people_while_boiling, {name for name, person in someone if not person.learner})
    cook = present(1, cooks)
    fill = present(kitchen.fillers, {name for name, person in someone if Skill.FILL in person.skills})
    if people is None or cook is None:
        return Times(kitchen.open, kitchen.close, {}, {})
    today = offered[0].shift.day
    cards = [card for card in cards if stands(scenario, today, card)]
    steps = open_steps(scenario, today)
    opens = max(steps[0], min(t.shift.start for t in offered))
    closes = min(steps[-1] + 5, max(t.leaves for t in offered)) - kitchen.clean_down_minutes
    first = {c: max(opens + head(c, kitchen), people[0], cook[0]) for c in cards}
    last = {c: min(closes - c.chain - c.wash, min(people[1], cook[1]) - (c.to_pot - c.stand)) for c in cards}
    potted = [c for c in cards if c.part is not Part.SOFTEN]
    if fill:
        first |= {c: max(first[c], fill[0] - c.to_pot + c.stand_by) for c in potted}
        last |= {c: min(last[c], fill[1] - c.chain) for c in potted}
    there = frozenset(steps)
    starts = {
        c: [at for at in range(first[c], last[c] + 1, 5) if there.issuperset(range(at, at + c.chain, 5))]
        for c in cards
        if (fill or c not in potted) and len(cooks) >= cooks_for(c, scenario.work_rules)
    }
    can = [c for c, some in starts.items() if some]
    return Times(opens, closes, {c: starts[c][0] for c in can}, {c: starts[c][-1] for c in can})


def room_limits(kitchen: Kitchen, cards: list[BookCard], day: Times) -> list[Room]:
    """Pans, rings, heatproof places and the jar oven."""
    can = list(day.first)
    rooms = [Room("not today", {c: 1 for c in cards if c not in day.first}, 0)]
    if not can:
        return rooms
    for kind in dict.fromkeys(map(pan_kind, kitchen.pans)):
        held = {c: (day.first[c], c.chain + c.wash, day.closes) for c in can if pan_kind(c.pan) == kind}
        rooms += _in_turn([*map(pan_kind, kitchen.pans)].count(kind), held)
    for kind in dict.fromkeys(map(ring_kind, kitchen.rings)):
        on = {c: (day.first[c], c.hold, day.last[c] + c.hold) for c in can if ring_kind(c.ring) == kind}
        rooms += _in_turn([*map(ring_kind, kitchen.rings)].count(kind), on)
    oven, places = kitchen.oven, kitchen.heatproof_places
    potted = max(day.last[c] + c.chain for c in can)
    baking = oven.load_minutes + oven.heat_minutes
    rooms.append(Room("oven", {c: c.jars * (baking + c.pot) for c in can}, oven.jars * (potted - day.opens)))
    if places:
        off = min(day.first[c] + c.to_pot - c.stand for c in can)
        rooms.append(Room("heatproof", {c: c.stand + c.pot for c in can}, places * (potted - off)))
    return [*rooms, *_power_limits(kitchen, can, day)]


def room_watts(kitchen: Kitchen, of_gas: bool, potting: bool) -> int | None:
    """Watts for rings on gas or not, on a day on which anything is potted or not; None without a limit."""
    kw = kitchen.supply.gas_kw if of_gas else kitchen.supply.electric_kw
    if kw is None:
        return None
    oven = kitchen.oven.kw if potting and (kitchen.oven.heat is Heat.GAS) == of_gas else 0.0
    other = 0.0 if of_gas else kitchen.supply.other_electric_kw
    return floor(1000 * kw) - ceil(1000 * other) - ceil(1000 * oven)


def power_rooms(kitchen: Kitchen, cards: Sequence[BookCard]) -> Iterator[tuple[int, list[BookCard]]]:
    """Each room of watts, and the cards that share it: all on a supply, and those of them that are potted."""
    for of_gas in (False, True):
        mine = [card for card in cards if card.on_gas == of_gas]
        for potting, some in ((False, mine), (True, [card for card in mine if card.jars])):
            room = room_watts(kitchen, of_gas, potting)
            if room is not None:
                yield room, some


def _power_limits(kitchen: Kitchen, can: list[BookCard], day: Times) -> Iterator[Room]:
    """Rings that draw so much or more, as many at once as the room feeds: one after the other."""
    for room, cards in power_rooms(kitchen, can):
        for watts in {card.watts for card in cards}:
            strong = [card for card in cards if card.watts >= watts]
            kinds = {ring_kind(card.ring) for card in strong}
            at_once = max(room, 0) // watts
            if at_once < sum(ring_kind(ring) in kinds for ring in kitchen.rings):
                on = {c: (day.first[c], c.cooking, day.last[c] + c.cooking) for c in strong}
                yield from _in_turn(at_once, on)


def _in_turn(count: int, held: dict[BookCard, tuple[int, int, int]]) -> Iterator[Room]:
    """Batches one after the other on equal places, from every first start on, whole and in parts."""
    for start in {begin for begin, _, _ in held.values()}:
        mine = {card: length for card, (begin, length, _) in held.items() if begin >= start}
        span = max(held[card][2] for card in mine) - start
        yield Room("minutes", dict(mine), count * span)
        for k in range(1, 9):
            shares = {}
            for card, length in mine.items():
                whole, rest = divmod((k + 1) * length, span)
                shares[card] = span * whole if rest else k * length
            yield Room(f"in {k}", shares, count * k * span)


def hands_limits(kitchen: Kitchen, cards: list[BookCard], day: Times) -> list[Hands]:
    """One limit for every set of kinds of work."""
    always = (kitchen.open, kitchen.close)
    windows = dict.fromkeys((Skill.PREPARE, ANY, Skill.COOK, Skill.FILL), always)
    windows[Skill.PREPARE] = (kitchen.open, kitchen.close - kitchen.clean_down_minutes)
    if day.first:
        stove = max(day.last[c] + c.to_pot - c.stand for c in day.first)
        windows[Skill.COOK] = (min(day.first.values()), stove)
        pots = min(day.first[c] + c.to_pot - c.stand_by for c in day.first)
        windows[Skill.FILL] = (pots, max(day.last[c] + c.chain for c in day.first))
    limits = []
    for size in range(1, len(windows) + 1):
        for kinds in combinations(windows, size):
            work = {c: sum((_work(c, kind, kitchen) for kind in kinds), Fraction()) for c in cards}
            if Skill.FILL in kinds and not {Skill.PREPARE, ANY} & set(kinds):
                called = max(kitchen.fillers - 1, 1)
                work = {c: minutes + called * c.stand_by for c, minutes in work.items()}
            opens, closes = min(windows[k][0] for k in kinds), max(windows[k][1] for k in kinds)
            limits.append(Hands(kinds, work, opens, closes))
    return limits


def heat_cells(
    opens: int, closes: int, offered: Sequence[Turn], steps: Sequence[int]
) -> Iterator[tuple[int, list[Turn]]]:
    """The cook window cut at every arriving and leaving, and where the kitchen opens or closes.

    Length and the turns all through each cell; ``steps`` are those in which the kitchen is open.
    """
    marks = {time for turn in offered for time in (turn.shift.start, turn.leaves)}
    marks |= {step for step in steps if step - 5 not in steps}
    marks |= {step + 5 for step in steps if step + 5 not in steps}
    inside = {time for time in marks if opens < time < closes}
    for start, end in pairwise(sorted({opens, closes} | inside)):
        if start not in steps:
            continue
        yield end - start, [turn for turn in offered if turn.shift.start <= start and turn.leaves >= end]


def _work(card: BookCard, kind: str, kitchen: Kitchen) -> Fraction:
    """Person-minutes of one kind of work that a batch takes."""
    if kind == Skill.PREPARE:
        return Fraction(card.prepare)
    if kind == Skill.COOK:
        return Fraction(card.to_pot - card.stand, kitchen.pans_per_cook)
    if kind == Skill.FILL:
        return Fraction(kitchen.fillers * card.pot)
    return Fraction((kitchen.oven.load_minutes if card.jars else 0) + card.wash_jars + card.wash)
