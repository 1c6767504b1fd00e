"""The days of the planner's plan, placed once more by PyJobShop and by the planner's own timetable.

PyJobShop's model of a day is the tests' own. It asks for one person beside a pan where breaks are owed, not
for as many as the kitchen does: its days are no harder than the planner's.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from pyjobshop import SolveStatus

from scheduler.bench.measure import course_of
from scheduler.cards import Cards
from scheduler.domain.scenario import Situation
from scheduler.model.day import DayWork, presence
from scheduler.model.given import day_work
from scheduler.plan_rows import Batch, Plan, StageKind
from scheduler.solve.place import Verdict, place
from tests.bench.case import TIMETABLE, Case, Outcome, timed
from tests.oracle.cards_by_book import BookCard, pan_kind, ring_kind
from tests.oracle.day_limits import modes, on_the_day, turns
from tests.oracle.day_pyjobshop import DayModel, KitchenDay

ANSWERS = {
    SolveStatus.OPTIMAL: "placed",
    SolveStatus.FEASIBLE: "placed",
    SolveStatus.INFEASIBLE: "refuted",
}
OURS = "ours"
"""The level under which the time of the planner's own timetables of the same days is kept."""


def days_by_pyjobshop(case: Case) -> Outcome:
    """Place each day; ``spent`` has the time of both, ``counts`` how many days each placed."""
    outcome = Outcome(course_of(case.situation.scenario), False, 0.0)
    if case.plan is None:
        outcome.remark = "the planner had no plan"
        return outcome
    cooked = sorted({batch.day for batch in case.plan.batches})
    cards = case.cards
    counts = {"days": len(cooked), "placed": 0, "refuted": 0, "undecided": 0, "placed by us": 0}
    for day in cooked:
        clock = timed()
        counts["placed by us"] += place(cards, as_work(cards, case.plan, day)).verdict is Verdict.PLACED
        outcome.spent["days", OURS] = outcome.spent.get(("days", OURS), 0.0) + clock()
        clock = timed()
        model = DayModel(as_kitchen_day(case.situation, case.plan, day)).model
        seconds = case.seconds / len(cooked)
        status = model.solve(time_limit=seconds, num_workers=case.workers, display=False).status
        counts[ANSWERS.get(status, "undecided")] += 1
        outcome.spent["days", TIMETABLE] = outcome.spent.get(("days", TIMETABLE), 0.0) + clock()
    outcome.counts, outcome.seconds = counts, sum(outcome.spent.values())
    return outcome


def freezing_on(plan: Plan, day: date) -> int:
    """Minutes of preparing to freeze on a day."""
    rows = (row for row in plan.stages if (row.day, row.kind) == (day, StageKind.FREEZE))
    return sum(row.end - row.start for row in rows)


def as_work(cards: Cards, plan: Plan, day: date) -> DayWork:
    """A day of a plan in the planner's own terms."""
    d = cards.dates.index(day)
    names = [person.name for person in cards.scenario.people]
    shifts = {(names.index(row.person), row.leaves) for row in plan.shifts if row.day == day}
    staff = (s for s in cards.staff if s.day == d and (s.person, s.leave) in shifts)
    people = tuple(sorted(presence(cards, each) for each in staff))
    batches = (_card(cards, batch) for batch in plan.batches if batch.day == day)
    return day_work(cards, d, tuple(sorted(batches)), freezing_on(plan, day), people)


def _card(cards: Cards, batch: Batch) -> int:
    """The card of a batch."""
    (only,) = (
        m
        for m, card in enumerate(cards.batches)
        if cards.scenario.recipes[card.recipe].name == batch.recipe
        and batch.pan in cards.pans[card.pan].names
        and batch.ring in cards.rings[card.ring].names
        and (card.from_freezer, card.fill_step) == (batch.from_freezer, batch.fill_step)
    )
    return only


def as_kitchen_day(situation: Situation, plan: Plan, day: date) -> KitchenDay:
    """A day of a plan in the terms of the rule book."""
    scenario = replace(
        situation.scenario, start=day, kitchen=replace(situation.scenario.kitchen, people_while_boiling=1)
    )
    shifts = {(row.person, row.leaves) for row in plan.shifts if row.day == day}
    people = tuple(
        (on_the_day(scenario, turn), turn)
        for turn in turns(scenario)
        if turn.shift.day == day and (turn.shift.person, turn.leaves) in shifts
    )
    batches = tuple(_book_card(situation, batch) for batch in plan.batches if batch.day == day)
    return KitchenDay(replace(situation, scenario=scenario), batches, freezing_on(plan, day), people)


def _book_card(situation: Situation, batch: Batch) -> BookCard:
    kitchen = situation.scenario.kitchen
    (pan,) = (pan for pan in kitchen.pans if pan.name == batch.pan)
    (ring,) = (ring for ring in kitchen.rings if ring.name == batch.ring)
    (only,) = (
        card
        for card in modes(situation.scenario)
        if (card.recipe, card.from_freezer, card.step) == (batch.recipe, batch.from_freezer, batch.fill_step)
        and pan_kind(card.pan) == pan_kind(pan)
        and ring_kind(card.ring) == ring_kind(ring)
    )
    return only
