"""Both levels at once on a tiny kitchen: every set of batches of every day is tried, one by one.

A set is kept if the day can be placed by exhaustion with some people (no solver); for each choice of kept
sets the flows of fruit are then optimised under the rules of fruit, mixes, store and orders, without
the day limits of the allocation, so that these are put to the test too.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import date
from functools import cache
from itertools import combinations_with_replacement, permutations, product

import highspy

from scheduler.domain.fruit import Place
from scheduler.domain.people import Person
from scheduler.domain.scenario import Scenario, Situation
from tests.oracle.allocation_highs import Allocation
from tests.oracle.cards_by_book import BookCard
from tests.oracle.day_limits import Turn, can_meet, kitchen_on, on_the_day, open_steps, stands, turns
from tests.oracle.exhaustive_day import TinyDay

MOST_BATCHES = 3
Batches = tuple[BookCard, ...]
Team = tuple[tuple[Person, Turn], ...]
Span = tuple[int, int]  # least and most minutes of preparing to freeze
Option = tuple[Team, list[Span]]
Starts = tuple[tuple[int | None, ...], ...]


class Flows(Allocation):
    """The allocation with people and day limits left out; minutes of preparing to freeze stay."""

    def people_rules(self) -> None:
        self.turns = {}
        self.minutes = [self.mass() for _ in self.days]
        for day, minutes in enumerate(self.minutes):
            self.require(minutes == self.freezing_minutes(day))

    def least_spoiled(self, chosen: tuple[Batches, ...], freezing: tuple[Span, ...]) -> float | None:
        """The least value spoiled with just these batches and minutes of freezing within these spans."""
        for (day, card), count in self.made.items():
            self.highs.changeColBounds(count.index, chosen[day].count(card), chosen[day].count(card))
        for (low, high), var in zip(freezing, self.minutes, strict=True):
            self.highs.changeColBounds(var.index, low, high)
        self.highs.minimize(self.spoiled)
        if self.highs.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            return None
        return float(self.highs.val(self.spoiled))


def least_spoiled(situation: Situation) -> float:
    """The joined optimum of the first rank, in thousandths of money."""
    flows = Flows(situation.scenario)
    days = [day_choices(situation.scenario, day, flows.cards) for day in flows.days]
    found = set()
    for chosen in product(*days):
        sets = tuple(batches for batches, _ in chosen)
        rooms = {
            spans
            for pick in product(*(options for _, options in chosen))
            if teams_agree(situation.scenario, [team for team, _ in pick])
            for spans in product(*(spans for _, spans in pick))
        }
        found |= {flows.least_spoiled(sets, spans) for spans in without_smaller(rooms)}
    return min((value for value in found if value is not None), default=math.inf)


def day_choices(scenario: Scenario, day: int, cards: list[BookCard]) -> list[tuple[Batches, list[Option]]]:
    """Sets of batches that can be placed, each with the teams that can and the freezing beside it."""
    found: list[tuple[Batches, list[Option]]] = []
    placed: dict[Batches, dict[Team, list[Span]]] = {}
    for size in range(MOST_BATCHES + 1):
        for batches in combinations_with_replacement(cards, size):
            smaller = [placed.get((*batches[:i], *batches[i + 1 :]), {}) for i in range(size)]
            teams = [t for t in day_teams(scenario, day) if all(t in less for less in smaller)]
            free = ((None,) * size,)
            options = {team: freezing_spans(scenario, batches, team, free) for team in teams}
            placed[batches] = {team: spans for team, spans in options.items() if spans}
            # What is held is no easier to place with a batch less, so it is looked at last.
            held = ways_to_hold(scenario, scenario.dates()[day], batches)
            kept = {team: freezing_spans(scenario, batches, team, held) for team in placed[batches]}
            if some := [(team, spans) for team, spans in kept.items() if spans]:
                found.append((batches, some))
    assert not any(len(batches) == MOST_BATCHES for batches, _ in found), "too large to try every plan"
    return found


def ways_to_hold(scenario: Scenario, day: date, batches: Batches) -> Starts:
    """When the batches of a day may begin (None: at any time), a way for each choice of batches that meet the
    held rows; none if one is ruled out or a row cannot be met. Pans and rings have no twins here."""
    rows = [row for row in scenario.held if row.hold and row.day == day]
    if not all(stands(scenario, day, card) for card in batches):
        return ()
    found = set()
    for chosen in permutations(range(len(batches)), len(rows)):
        pairs = dict(zip(chosen, rows, strict=True))
        if all(can_meet(scenario, row, batches[b]) for b, row in pairs.items()):
            found.add(tuple(pairs[b].start if b in pairs else None for b in range(len(batches))))
    return tuple(found)


def day_teams(scenario: Scenario, day: int) -> Iterator[Team]:
    """Every choice of a shift, with overtime, or a day off for each person."""
    here = [turn for turn in turns(scenario) if (turn.shift.day - scenario.start).days == day]
    offers = [
        [None, *((on_the_day(scenario, turn), turn) for turn in here if turn.shift.person == person.name)]
        for person in scenario.people
    ]
    for choice in product(*offers):
        yield tuple(row for row in choice if row is not None)


@cache
def freezing_spans(scenario: Scenario, batches: Batches, team: Team, held: Starts) -> list[Span]:
    """The minutes of preparing to freeze that can be placed beside the batches, held in one of these ways.

    In spans, for more is not always harder: 35 minutes are two short pieces, 30 are one long one.
    Empty if the batches cannot be placed at all.
    """
    hours = sum(
        lot.kg / scenario.fruit(lot.fruit).prepare_kg_per_hour
        for lot in (*scenario.lots, *scenario.picks)
        if lot.place is Place.CHILLER
    )
    spans: list[Span] = []
    day = team[0][1].shift.day if team else None
    open_at = open_steps(scenario, day) if day else []
    kitchen = kitchen_on(scenario, day) if day else scenario.kitchen

    def placed(minutes: int) -> bool:
        rules = scenario.work_rules
        days = (TinyDay(kitchen, batches, minutes, team, rules, open_at, starts=starts) for starts in held)
        return any(each.can_be_placed() for each in days)

    if not placed(0):
        return spans
    low: int | None = 0
    for minutes in range(5, 5 * math.ceil(12 * hours) + 6, 5):
        if not placed(minutes):
            spans += [(low, minutes - 5)] if low is not None else []
            low = None
        elif low is None:
            low = minutes - 5
    return [*spans, (low, minutes)] if low is not None else spans


def teams_agree(scenario: Scenario, teams: list[Team]) -> bool:
    """Rest between one day and the next, and hours of the week."""
    hours: dict[tuple[str, tuple[int, int]], int] = {}
    leaves: dict[str, tuple[int, int]] = {}
    for day, team in enumerate(teams):
        for person, turn in team:
            before = leaves.get(person.name)
            if before and before[0] == day - 1:
                rest = 24 * 60 - before[1] + turn.shift.start
                if rest < scenario.work_rules.rest_minutes:
                    return False
            leaves[person.name] = (day, turn.leaves)
            week = (person.name, turn.shift.day.isocalendar()[:2])
            hours[week] = hours.get(week, 0) + turn.leaves - turn.shift.start
            if hours[week] > person.hours_week * 60:
                return False
    return True


def without_smaller(rooms: set[tuple[Span, ...]]) -> Iterator[tuple[Span, ...]]:
    """Only those that do not lie within another on every day."""
    for room in rooms:
        if not any(
            other != room and all(a[0] <= b[0] and b[1] <= a[1] for a, b in zip(other, room, strict=True))
            for other in rooms
        ):
            yield room
