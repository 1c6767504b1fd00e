"""The day timetables of an allocation: solved once, remembered, counted."""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field, replace

from scheduler.cards import Cards
from scheduler.model.allocation import Allocation
from scheduler.model.day import DayTimetable, DayWork, presence
from scheduler.model.given import day_work
from scheduler.plan_rows import Timetables
from scheduler.solve.place import Answer, Times, Verdict, place, pooled_times

LITTLE_EFFORT = 0.01
"""Deterministic seconds where one batch more or less on a day does not matter."""
MORE_EFFORT = 1.0
"""Deterministic seconds for a day that was left undecided and stands in the way."""


@dataclass(frozen=True)
class Found:
    """An allocation whose every day has a timetable."""

    allocation: Allocation
    timetables: tuple[DayTimetable, ...]


@dataclass
class Days:
    """Answers by work; equal days are placed once."""

    cards: Cards
    workers: int
    seed: int
    known: dict[DayWork, Answer] = field(default_factory=dict)
    pooled: dict[DayWork, Times | None] = field(default_factory=dict)
    """The times of a day with people pooled, as far as little effort finds them."""
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
            allocation.label_work(self.cards, day),
            allocation.taking_out(self.cards, day),
        )

    def answer(self, work: DayWork) -> Answer:
        """Place one day's work."""
        if work not in self.known:
            self.known[work] = place(self.cards, work, seed=self.seed, times=self.pooled.get(work))
        return self.known[work]

    def likely(self, work: DayWork) -> bool:
        """Whether a day has a timetable with its people pooled, found with little effort: as a rule they can
        be named then. A day that has none may still be placed with more effort."""
        if work in self.known:
            return self.known[work].timetable is not None
        if work not in self.pooled:
            _, self.pooled[work] = pooled_times(self.cards, work, LITTLE_EFFORT, self.seed)
        return self.pooled[work] is not None

    def placed(self, work: DayWork) -> bool:
        """Whether a day has a timetable with names."""
        return self.answer(work).timetable is not None

    def decide(self, work: DayWork) -> tuple[Verdict, DayWork]:
        """The verdict on one day's work, and the work that it is about.

        Where a day is left undecided a part of it, too much by itself, is often refuted at once, and the day
        with it; only then is it tried harder.
        """
        verdict = self.answer(work).verdict
        if verdict is not Verdict.UNDECIDED:
            return verdict, work
        for part in self._parts(work):
            if self.answer(part).verdict is Verdict.REFUTED:
                return Verdict.REFUTED, part
        answer = self.known[work] = place(self.cards, work, MORE_EFFORT, self.seed)
        return answer.verdict, work

    def _parts(self, work: DayWork) -> Iterator[DayWork]:
        """A batch less of each pan class, the batches of one class alone, and of all but one."""
        if work.pins:  # a batch that is pinned cannot be left out
            return
        pans = [self.cards.batches[m].pan for m in work.batches]
        classes = sorted(set(pans), key=lambda pan: -pans.count(pan))
        for some in classes:
            last = len(pans) - 1 - pans[::-1].index(some)
            yield replace(work, batches=work.batches[:last] + work.batches[last + 1 :])
        for alone in (True, False) if len(classes) > 1 else ():
            for some in classes if alone or len(classes) > 2 else ():
                kept = tuple(m for m, pan in zip(work.batches, pans, strict=True) if (pan == some) is alone)
                yield replace(work, batches=kept, freezing=0)

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
