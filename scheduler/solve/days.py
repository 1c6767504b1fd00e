"""The day timetables of an allocation: solved once, remembered, counted."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field

from scheduler.cards import Cards
from scheduler.model.allocation import Allocation
from scheduler.model.day import DayWork, presence
from scheduler.plan import Timetables
from scheduler.solve.place import Answer, Verdict, place


@dataclass
class Days:
    """Answers by work; equal days are placed once."""

    cards: Cards
    workers: int
    seed: int
    known: dict[DayWork, Answer] = field(default_factory=dict)

    def work(self, allocation: Allocation, day: int, staff: tuple[int, ...] | None = None) -> DayWork:
        """What a day of the allocation must place, with its own or other staff."""
        chosen = allocation.staff if staff is None else staff
        people = [presence(self.cards, self.cards.staff[i]) for i in chosen if self.cards.staff[i].day == day]
        return DayWork(
            allocation.batches(day),
            allocation.freeze_work(self.cards, day),
            tuple(sorted(people, key=lambda p: p.person)),
        )

    def answer(self, work: DayWork) -> Answer:
        """Place one day's work."""
        if work not in self.known:
            self.known[work] = place(self.cards, work, seed=self.seed)
        return self.known[work]

    def answers(self, allocation: Allocation) -> list[Answer]:
        """Place every day of an allocation, several at a time."""
        works = [self.work(allocation, day) for day in range(self.cards.days)]
        new = [work for work in dict.fromkeys(works) if work not in self.known]
        with ThreadPoolExecutor(self.workers) as pool:
            for work, answer in zip(
                new, pool.map(lambda w: place(self.cards, w, seed=self.seed), new), strict=True
            ):
                self.known[work] = answer
        return [self.known[work] for work in works]

    def counts(self) -> Timetables:
        """How many different days were placed, refuted, left undecided."""
        verdicts = [answer.verdict for answer in self.known.values()]
        return Timetables(*(verdicts.count(v) for v in (Verdict.PLACED, Verdict.REFUTED, Verdict.UNDECIDED)))
