"""The day timetables of an allocation: solved once, remembered, counted."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field

from scheduler.cards import Cards
from scheduler.model.allocation import Allocation
from scheduler.model.day import DayTimetable, DayWork, presence
from scheduler.model.given import day_work
from scheduler.plan import Timetables
from scheduler.solve.place import Answer, Verdict, place

MORE_EFFORT = 1.0
"""Deterministic seconds for a day that was left undecided and stands in the way."""


@dataclass
class Days:
    """Answers by work; equal days are placed once."""

    cards: Cards
    workers: int
    seed: int
    known: dict[DayWork, Answer] = field(default_factory=dict)
    kept: dict[int, DayWork] = field(default_factory=dict)
    """The works of days that are as in an earlier plan; their answers are known."""

    def keep(self, day: int, work: DayWork, timetable: DayTimetable) -> None:
        """Take the timetable of a day as given, whatever its work is."""
        self.kept[day] = work
        self.known[work] = Answer(Verdict.PLACED, timetable)

    def work(self, allocation: Allocation, day: int, staff: tuple[int, ...] | None = None) -> DayWork:
        """What a day of the allocation must place, with its own or other staff."""
        if day in self.kept:
            return self.kept[day]
        chosen = allocation.staff if staff is None else staff
        people = [presence(self.cards, self.cards.staff[i]) for i in chosen if self.cards.staff[i].day == day]
        return day_work(
            self.cards,
            day,
            allocation.batches(day),
            allocation.freeze_work(self.cards, day),
            tuple(sorted(people, key=lambda p: p.person)),
            allocation.held,
        )

    def answer(self, work: DayWork) -> Answer:
        """Place one day's work."""
        if work not in self.known:
            self.known[work] = place(self.cards, work, seed=self.seed)
        return self.known[work]

    def decide(self, work: DayWork) -> Answer:
        """Place one day's work, trying harder where it was left undecided."""
        answer = self.answer(work)
        if answer.verdict is Verdict.UNDECIDED:
            answer = self.known[work] = place(self.cards, work, MORE_EFFORT, self.seed)
        return answer

    def answers(self, allocation: Allocation, most_failures: int) -> dict[int, Answer]:
        """Place the days of an allocation, the fullest first, until more than so many have failed."""
        found: dict[int, Answer] = {}
        fullest = sorted(range(self.cards.days), key=lambda day: -sum(allocation.count[day]))
        with ThreadPoolExecutor(self.workers) as pool:
            for n in range(0, len(fullest), self.workers):
                some = fullest[n : n + self.workers]
                works = [self.work(allocation, day) for day in some]
                found |= dict(zip(some, pool.map(self.answer, works), strict=True))
                if sum(answer.timetable is None for answer in found.values()) > most_failures:
                    break
        return found

    def counts(self) -> Timetables:
        """How many different days were placed, refuted, left undecided."""
        verdicts = [answer.verdict for answer in self.known.values()]
        return Timetables(*(verdicts.count(v) for v in (Verdict.PLACED, Verdict.REFUTED, Verdict.UNDECIDED)))
