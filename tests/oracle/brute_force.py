"""Both levels at once on a tiny kitchen: every set of batches of every day is tried, one by one.

A set is kept if the day can be placed by exhaustion with some people (no solver); for each choice of kept
sets the flows of fruit are then optimised under the rules of fruit, mixes, store and orders, without
the day limits of the allocation, so that these are put to the test too.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import cache
from itertools import combinations_with_replacement, product

import highspy

from scheduler.domain.fruit import Place
from scheduler.domain.people import Person
from scheduler.domain.scenario import Scenario, Situation
from tests.oracle.allocation_highs import Allocation
from tests.oracle.cards_by_book import BookCard
from tests.oracle.day_limits import Turn, turns
from tests.oracle.exhaustive_day import TinyDay

MOST_BATCHES = 3
Batches = tuple[BookCard, ...]
Team = tuple[tuple[Person, Turn], ...]


class Flows(Allocation):
    """The allocation with people and day limits left out; pieces of preparing to freeze stay."""

    def people_rules(self) -> None:
        self.turns = {}
        self.pieces = [self.whole() for _ in self.days]
        for day, pieces in enumerate(self.pieces):
            hours = [
                self.add(self.freeze[fruit.name, day]) / (10 * fruit.prepare_kg_per_hour)
                for fruit in self.scenario.fruits
            ]
            self.require(2 * self.add(hours) <= pieces)

    def least_spoiled(self, chosen: tuple[Batches, ...], pieces: tuple[int, ...]) -> int | None:
        """The least value spoiled with just these batches and at most these pieces."""
        for (day, card), count in self.made.items():
            self.highs.changeColBounds(count.index, chosen[day].count(card), chosen[day].count(card))
        for most, var in zip(pieces, self.pieces, strict=True):
            self.highs.changeColBounds(var.index, 0, most)
        self.highs.minimize(self.spoiled)
        if self.highs.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            return None
        return round(self.highs.val(self.spoiled))


def least_spoiled(situation: Situation) -> int:
    """The joined optimum of the first rank, in thousandths of money."""
    flows = Flows(situation.scenario)
    days = [day_choices(situation.scenario, day, flows.cards) for day in flows.days]
    found = set()
    for chosen in product(*days):
        sets = tuple(batches for batches, _ in chosen)
        rooms = {
            tuple(pieces for _, pieces in pick)
            for pick in product(*(options for _, options in chosen))
            if teams_agree(situation.scenario, [team for team, _ in pick])
        }
        found |= {flows.least_spoiled(sets, pieces) for pieces in without_smaller(rooms)}
    return min(value for value in found if value is not None)


def day_choices(
    scenario: Scenario, day: int, cards: list[BookCard]
) -> list[tuple[Batches, list[tuple[Team, int]]]]:
    """Sets of batches that can be placed, each with the teams that can and their most pieces to freeze."""
    found: list[tuple[Batches, list[tuple[Team, int]]]] = []
    placed: dict[Batches, dict[Team, int]] = {}
    for size in range(MOST_BATCHES + 1):
        for batches in combinations_with_replacement(cards, size):
            smaller = [placed.get((*batches[:i], *batches[i + 1 :]), {}) for i in range(size)]
            teams = [t for t in day_teams(scenario, day) if all(t in less for less in smaller)]
            options = {team: most_pieces(scenario, batches, team) for team in teams}
            placed[batches] = {team: most for team, most in options.items() if most is not None}
            if placed[batches]:
                found.append((batches, list(placed[batches].items())))
    assert not any(len(batches) == MOST_BATCHES for batches, _ in found), "too large to try every plan"
    return found


def day_teams(scenario: Scenario, day: int) -> Iterator[Team]:
    """Every choice of a shift, with overtime, or a day off for each person."""
    here = [turn for turn in turns(scenario) if (turn.shift.day - scenario.start).days == day]
    offers = [
        [None, *((person, turn) for turn in here if turn.shift.person == person.name)]
        for person in scenario.people
    ]
    for choice in product(*offers):
        yield tuple(row for row in choice if row is not None)


@cache
def most_pieces(scenario: Scenario, batches: Batches, team: Team) -> int | None:
    """The most pieces of preparing to freeze beside the batches; None if even none cannot be placed."""
    most = None
    hours = sum(
        lot.kg / scenario.fruit(lot.fruit).prepare_kg_per_hour
        for lot in (*scenario.lots, *scenario.picks)
        if lot.place is Place.CHILLER
    )
    for pieces in range(math.ceil(2 * hours) + 1):
        if not TinyDay(scenario.kitchen, batches, pieces, team).can_be_placed():
            break
        most = pieces
    return most


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


def without_smaller(rooms: set[tuple[int, ...]]) -> Iterator[tuple[int, ...]]:
    """Only those with no other that is at least as large on every day."""
    for room in rooms:
        if not any(o != room and all(a >= b for a, b in zip(o, room, strict=True)) for o in rooms):
            yield room
