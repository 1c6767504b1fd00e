"""A day of the monolith: batches that may or may not be cooked, by people who may or may not be in.

The rules are those of ``scheduler.model.timetable`` with people pooled, for batches and people that are
decided at the same time. Of what farms may have besides jam and freezing it knows nothing, see
``can_be_stated``.
"""

from __future__ import annotations

from ortools.sat.python import cp_model

from scheduler.cards import Cards
from scheduler.domain.kitchen import STEP, Thaw
from scheduler.model.allocation import AllocationModel
from scheduler.model.decisions import total
from scheduler.model.limits import Work, may_do, subsets_of_work
from scheduler.plan_rows import Part
from tests.bench.peers.monolith_batches import DayBatches


def can_be_stated(cards: Cards) -> bool:
    """Whether a kitchen asks for no more than this model has."""
    kitchen, scenario = cards.kitchen, cards.scenario
    plain = all(
        card.part is Part.WHOLE and card.jars and not card.strain and not card.standby and not card.wash_jars
        for card in cards.batches
    )
    given = any((scenario.out, scenario.held, *cards.closed, cards.supplies, kitchen.labels))
    overnight = kitchen.thaw is Thaw.OVERNIGHT and kitchen.take_out_minutes
    stove = scenario.work_rules.longest_stove_minutes
    return plain and not given and not overnight and not kitchen.clean_down_minutes and stove is None


class DaySlots(DayBatches):
    """A day with its people."""

    def __init__(self, whole: AllocationModel, day: int) -> None:
        super().__init__(whole, day)
        self.breaks: dict[int, cp_model.IntVar] = {}
        self.gone = self._absences()
        self._pools()
        self._enough_people_while_boiling()

    def _absences(self) -> dict[int, list[cp_model.IntervalVar]]:
        """By person who is offered on this day, when they are not there, whichever staff card is used."""
        model, opening = self.model, self.cards.kitchen.open
        gone: dict[int, list[cp_model.IntervalVar]] = {}
        for i, staff in enumerate(self.cards.staff):
            if staff.day != self.day:
                continue
            used, mine = self.x.staff[i], gone.setdefault(staff.person, [])
            arrive = min(self.steps, max(0, -(-(staff.start - opening) // STEP)))
            leave = min(self.steps, max(0, (staff.leave - opening) // STEP))
            for begin, end in ((0, arrive), (leave, self.steps)):
                if begin < end:
                    mine.append(model.new_optional_fixed_size_interval_var(begin, end - begin, used, ""))
            if staff.break_minutes:
                first, last = ((at - opening) // STEP for at in staff.break_starts)
                rest = self.breaks[i] = model.new_int_var(first, last, f"break {i}")
                mine.append(
                    model.new_optional_fixed_size_interval_var(rest, staff.break_minutes // STEP, used, "")
                )
        for person, mine in gone.items():
            out = model.new_bool_var(f"{person} is out on {self.day}")
            cards = (i for i, s in enumerate(self.cards.staff) if (s.day, s.person) == (self.day, person))
            model.add(total(self.x.staff[i] for i in cards) + out == 1)
            mine.append(model.new_optional_fixed_size_interval_var(0, self.steps, out, ""))
        return gone

    def _who(self, kinds: frozenset[Work]) -> frozenset[int]:
        """Persons offered on this day who may do one of some kinds of work."""
        return frozenset(s.person for s in self.cards.staff if s.day == self.day and may_do(s, kinds))

    def _pools(self) -> None:
        k = self.cards.kitchen.pans_per_cook
        pools = {kinds: self._who(kinds) for kinds in subsets_of_work()}
        for kinds, pool in pools.items():
            if any(kinds < more and pool == pools[more] for more in pools):
                continue
            done = [each for kind in kinds for each in self.work[kind]]
            gone = [span for person in sorted(pool) for span in self.gone[person]]
            self.model.add_cumulative(
                [span for span, _ in done] + gone, [n for _, n in done] + [k] * len(gone), k * len(pool)
            )
        cooks = sorted(self._who(frozenset({Work.COOK})))
        gone = [span for person in cooks for span in self.gone[person]]
        self.model.add_cumulative(self.tests + gone, [1] * (len(self.tests) + len(gone)), len(cooks))

    def _enough_people_while_boiling(self) -> None:
        counted = {s.person for s in self.cards.staff if s.day == self.day and self.cards.counts(s)}
        gone = [span for person in sorted(counted) for span in self.gone[person]]
        least = self.cards.kitchen.people_while_boiling
        for heat in self.heats:
            self.model.add_cumulative([*gone, heat], [1] * len(gone) + [least], len(counted))
