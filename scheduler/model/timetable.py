"""The timetable of one day in steps of 5 minutes: stages on pans, rings, jar oven and people.

Two models share their batches: in the *pooled* one people are capacities, one for every set of kinds
of work; in the *named* one each stage is done by somebody. If the pooled model has no timetable, the
day has none; a pooled timetable still has to be given names.
"""

from __future__ import annotations

from dataclasses import dataclass

from ortools.sat.python import cp_model

from scheduler.cards import Cards, freeze_pieces
from scheduler.domain.kitchen import STEP
from scheduler.domain.people import Skill
from scheduler.model.day import ANY, DayWork, Place, Presence, stages_of
from scheduler.model.limits import MEANWHILE, Work, subsets_of_work
from scheduler.model.names import number_places, pinned
from scheduler.model.stove import away_from_stove
from scheduler.plan_rows import StageKind

WORK_OF = {
    StageKind.PREPARE: Work.PREPARE,
    StageKind.FREEZE: Work.PREPARE,
    StageKind.SOFTEN: Work.COOK,
    StageKind.STRAIN: Work.COOK,
    StageKind.DISSOLVE: Work.COOK,
    StageKind.BOIL: Work.COOK,
    StageKind.SET_TEST: Work.COOK,
    StageKind.REBOIL: Work.COOK,
    StageKind.STAND_BY: Work.FILL,
    StageKind.POT_UP: Work.FILL,
    StageKind.WASH: Work.ANY,
    StageKind.WASH_JARS: Work.ANY,
    StageKind.LOAD_JARS: Work.ANY,
    StageKind.LABEL: Work.ANY,
    StageKind.TAKE_OUT: Work.ANY,
    StageKind.CLEAN_DOWN: Work.ANY,
}
ONE_AT_A_TIME = (StageKind.SET_TEST, StageKind.STRAIN)
"""Stages at which a cook minds other pans, but does the same to no other."""


@dataclass(frozen=True, slots=True)
class Item:
    """Work that takes hands: where it starts, how long, how many people, whether a cook shares it."""

    batch: int
    kind: StageKind
    start: cp_model.LinearExpr
    steps: int
    hands: int

    @property
    def shared(self) -> bool:
        """Whether one cook minds several pans at this stage."""
        return WORK_OF[self.kind] is Work.COOK


def can_do(person: Presence, kind: Work) -> bool:
    """Whether somebody who is in may do a kind of work."""
    return kind is Work.ANY or Skill(kind) in person.skills


def _counts_all(kinds: frozenset[Work], more: frozenset[Work]) -> bool:
    """Whether the pool of ``more`` kinds of work counts all work of ``kinds``, standing by included."""
    return Work.FILL not in kinds or bool(kinds & MEANWHILE) == bool(more & MEANWHILE)


class DayModel:
    """Variables and rules of a day without its people; ``pool`` or ``name`` adds them."""

    def __init__(self, cards: Cards, work: DayWork) -> None:
        self.cards, self.work = cards, work
        self.model = cp_model.CpModel()
        self.batches = [cards.batches[m] for m in work.batches]
        self.steps = (cards.kitchen.close - cards.kitchen.open) // STEP
        self.items: list[Item] = []
        self.pinned = pinned(work)
        self.start = [self._start(b) for b in range(len(self.batches))]
        self.wash: list[cp_model.IntVar] = []
        self.load: dict[int, cp_model.IntVar] = {}
        self.pieces: list[cp_model.IntVar] = []
        self.clean: list[cp_model.IntVar] = []
        self.breaks: dict[int, cp_model.IntVar] = {}
        for b in range(len(self.batches)):
            self._stages(b)
        self._preparing()
        self._beside_the_batches()
        self._clean_down()
        self._closed_times()
        self._pans_and_rings()
        self.numbers = number_places(self)
        self._oven()
        self._power()
        self._break_starts()
        self._enough_people_while_boiling()
        self._equal_batches_in_order()

    def _start(self, b: int) -> cp_model.IntVar:
        card, opening = self.batches[b], self.cards.kitchen.open
        first = -(-(self.cards.earliest(card) - opening) // STEP)
        last = self.steps - (card.chain + card.wash) // STEP
        start = self.model.new_int_var(first, max(first - 1, last), f"start {b}")
        if b in self.pinned and self.pinned[b].start != ANY:
            self.model.add(start == (self.pinned[b].start - opening) // STEP)
        return start

    def _stages(self, b: int) -> None:
        card, kitchen = self.batches[b], self.cards.kitchen
        if card.standby:
            at = card.to_pot - card.standby
            ready = self.start[b] + at // STEP
            self.items.append(Item(b, StageKind.STAND_BY, ready, card.standby // STEP, kitchen.called))
        for kind, at, minutes in stages_of(card):
            if kind in WORK_OF:
                hands = kitchen.fillers if kind is StageKind.POT_UP else 1
                self.items.append(Item(b, kind, self.start[b] + at // STEP, minutes // STEP, hands))
        wash = self.model.new_int_var(0, self.steps - card.wash // STEP, f"wash {b}")
        self.model.add(wash >= self.start[b] + card.chain // STEP)
        self.wash.append(wash)
        self.items.append(Item(b, StageKind.WASH, wash + 0, card.wash // STEP, 1))
        if card.jars:
            self._jars(b)

    def _jars(self, b: int) -> None:
        card, kitchen = self.batches[b], self.cards.kitchen
        load_steps = kitchen.oven.load_minutes // STEP
        load = self.model.new_int_var(0, self.steps, f"load {b}")
        ready = load + load_steps + kitchen.oven.heat_minutes // STEP
        self.model.add(ready <= self.start[b] + (card.to_pot - card.standby) // STEP)
        self.model.add(ready + kitchen.oven.hot_minutes // STEP >= self.start[b] + card.to_pot // STEP)
        self.load[b] = load
        self.items.append(Item(b, StageKind.LOAD_JARS, load + 0, load_steps, 1))
        if card.wash_jars:
            steps = card.wash_jars // STEP
            washed = self.model.new_int_var(0, max(0, self.steps - steps), f"wash jars {b}")
            self.model.add(washed + steps <= load)
            self.items.append(Item(b, StageKind.WASH_JARS, washed + 0, steps, 1))

    def _preparing(self) -> None:
        for b, card in enumerate(self.batches):
            before = None
            for n, minutes in enumerate(card.pieces):
                piece = self.model.new_int_var(0, self.steps, f"prepare {b}.{n}")
                self.model.add(piece + minutes // STEP <= self.start[b])
                if before is not None and minutes == card.pieces[n - 1]:
                    self.model.add(before <= piece)
                before = piece
                self.pieces.append(piece)
                self.items.append(Item(b, StageKind.PREPARE, piece + 0, minutes // STEP, 1))

    def _beside_the_batches(self) -> None:
        """Pieces of work at any time of the day. What less work leaves of them fits where they were."""
        work = self.work
        self._pieces(StageKind.FREEZE, "freeze", freeze_pieces(work.freezing))
        self._pieces(StageKind.LABEL, "label", freeze_pieces(work.labelling))
        self._pieces(StageKind.TAKE_OUT, "take out", (work.taking_out,) if work.taking_out else ())

    def _pieces(self, kind: StageKind, name: str, pieces: tuple[int, ...]) -> None:
        before, last = None, 0
        for n, minutes in enumerate(pieces):
            piece = self.model.new_int_var(0, max(0, self.steps - minutes // STEP), f"{name} {n}")
            if before is not None and minutes == last:
                self.model.add(before <= piece)
            before, last = piece, minutes
            self.pieces.append(piece)
            self.items.append(Item(-1, kind, piece + 0, minutes // STEP, 1))

    def _clean_down(self) -> None:
        """The last work of a day that has any. With less to do it can only begin sooner."""
        steps = self.cards.kitchen.clean_down_minutes // STEP
        if not steps or not self.items:
            return
        clean = self.model.new_int_var(0, self.steps - steps, "clean down")
        for item in self.items:
            self.model.add(clean >= item.start + item.steps)
        self.clean.append(clean)
        self.items.append(Item(-1, StageKind.CLEAN_DOWN, clean + 0, steps, 1))

    def _closed_times(self) -> None:
        """Nothing goes on while the kitchen is closed, and no pan stands off the heat between two stages."""
        if not self.work.closed or not self.items:
            return
        model, opening = self.model, self.cards.kitchen.open
        spans = [(item.start, item.steps) for item in self.items]
        spans += [(start, card.chain // STEP) for start, card in zip(self.start, self.batches, strict=True)]
        work = [model.new_fixed_size_interval_var(start, steps, "at work") for start, steps in spans]
        shut = [
            model.new_fixed_size_interval_var((since - opening) // STEP, (until - since) // STEP, "closed")
            for since, until in self.work.closed
        ]
        model.add_cumulative(work + shut, [1] * len(work) + [len(work)] * len(shut), len(work))

    def capacity(self, place: Place) -> int:
        """How many pans or rings of a class are in use."""
        kind, number = place
        classes = self.cards.pans if kind == "pan" else self.cards.rings
        return len(classes[number].names) - self.work.out.count(place)

    def _pans_and_rings(self) -> None:
        model = self.model
        for p in range(len(self.cards.pans)):
            held = [
                model.new_interval_var(
                    self.start[b],
                    model.new_int_var(1, self.steps, f"pan held {b}"),
                    self.wash[b] + card.wash // STEP,
                    f"pan {b}",
                )
                for b, card in enumerate(self.batches)
                if card.pan == p
            ]
            model.add_cumulative(held, [1] * len(held), self.capacity(("pan", p)))
        for q in range(len(self.cards.rings)):
            on = [
                model.new_fixed_size_interval_var(self.start[b], self.cards.hold(card) // STEP, f"ring {b}")
                for b, card in enumerate(self.batches)
                if card.ring == q
            ]
            model.add_cumulative(on, [1] * len(on), self.capacity(("ring", q)))
        if self.cards.kitchen.heatproof_places:
            off = [
                model.new_fixed_size_interval_var(
                    self.start[b] + card.cooking // STEP, (card.stand + card.pot) // STEP, f"off {b}"
                )
                for b, card in enumerate(self.batches)
            ]
            model.add_cumulative(off, [1] * len(off), self.cards.kitchen.heatproof_places)

    def _oven(self) -> None:
        kitchen = self.cards.kitchen
        hot = [
            self.model.new_interval_var(
                load,
                self.model.new_int_var(1, self.steps, f"hot {b}"),
                self.start[b] + self.batches[b].chain // STEP,
                f"oven {b}",
            )
            for b, load in self.load.items()
        ]
        self.model.add_cumulative(hot, [self.batches[b].jars for b in self.load], kitchen.oven.jars)

    def _power(self) -> None:
        """What rings draw at once. The oven is on all day if anything is potted: less work is no harder."""
        potted = any(card.jars for card in self.batches)
        for supply in self.cards.supplies:
            drawn = {b: watts for b, card in enumerate(self.batches) if (watts := supply.drawn(card))}
            on = [
                self.model.new_fixed_size_interval_var(
                    self.start[b], self.batches[b].cooking // STEP, f"power {b}"
                )
                for b in drawn
            ]
            room = supply.beside_oven if potted else supply.watts
            self.model.add_cumulative(on, list(drawn.values()), room)

    def _break_starts(self) -> None:
        opening = self.cards.kitchen.open
        for person in self.work.people:
            if person.break_minutes:
                first = -(-(person.break_first - opening) // STEP)
                last = (person.break_last - opening) // STEP
                self.breaks[person.person] = self.model.new_int_var(first, last, f"break {person.person}")

    def absences(self, person: Presence) -> list[cp_model.IntervalVar]:
        """Intervals in which somebody is not there: before arriving, on the break, after leaving."""
        model = self.model
        gone = []
        arrive, leave = self._there(person)
        if arrive:
            gone.append(model.new_fixed_size_interval_var(0, arrive, f"before {person.person}"))
        if leave < self.steps:
            gone.append(
                model.new_fixed_size_interval_var(leave, self.steps - leave, f"after {person.person}")
            )
        if person.break_minutes:
            start = self.breaks[person.person]
            steps = person.break_minutes // STEP
            gone.append(model.new_fixed_size_interval_var(start, steps, f"on break {person.person}"))
        return gone

    def _there(self, person: Presence) -> tuple[int, int]:
        """From arriving to leaving, in steps of the day."""
        opening = self.cards.kitchen.open
        arrive = min(self.steps, max(0, -(-(person.start - opening) // STEP)))
        return arrive, min(self.steps, max(0, (person.leave - opening) // STEP))

    def _away_from_stove(self, person: Presence, most: int) -> list[cp_model.IntervalVar]:
        rules = self.cards.scenario.work_rules
        return away_from_stove(self.model, rules, self.steps, most, self._there(person))

    def _enough_people_while_boiling(self) -> None:
        least = self.cards.kitchen.people_while_boiling
        counted = [person for person in self.work.people if person.counted]
        gone = [interval for person in counted for interval in self.absences(person)]
        for b, card in enumerate(self.batches):
            heat = self.model.new_fixed_size_interval_var(self.start[b], card.cooking // STEP, f"heat {b}")
            self.model.add_cumulative([*gone, heat], [1] * len(gone) + [least], len(counted))

    def _equal_batches_in_order(self) -> None:
        """Those that nothing holds; the held ones come before them."""
        for b in range(1, len(self.batches)):
            if self.work.batches[b] == self.work.batches[b - 1] and b - 1 not in self.pinned:
                self.model.add(self.start[b - 1] <= self.start[b])

    def demand(self, item: Item) -> int:
        """What an item takes of the people, in shares of one cook who minds several pans."""
        return 1 if item.shared else self.cards.kitchen.pans_per_cook * item.hands

    def pool(self) -> None:
        """People as capacities: one for every set of kinds of work with people of its own."""
        k = self.cards.kitchen.pans_per_cook
        pools = {
            kinds: frozenset(p for p in self.work.people if any(can_do(p, kind) for kind in kinds))
            for kinds in subsets_of_work()
        }
        for kinds, pool in pools.items():
            if any(kinds < more and pool == pools[more] and _counts_all(kinds, more) for more in pools):
                continue
            mine = [
                item
                for item in self.items
                if WORK_OF[item.kind] in kinds and not (item.kind is StageKind.STAND_BY and kinds & MEANWHILE)
            ]
            tasks = [
                self.model.new_fixed_size_interval_var(item.start, item.steps, f"{item.kind} {item.batch}")
                for item in mine
            ]
            gone = [interval for person in sorted(pool) for interval in self.absences(person)]
            self.model.add_cumulative(
                tasks + gone, [self.demand(item) for item in mine] + [k] * len(gone), k * len(pool)
            )

        tests = [item for item in self.items if item.kind in ONE_AT_A_TIME]
        cooks = [person for person in self.work.people if can_do(person, Work.COOK)]
        spans = [
            self.model.new_fixed_size_interval_var(item.start, item.steps, f"test {item.batch}")
            for item in tests
        ]
        self.model.add_cumulative(spans, [1] * len(spans), len(cooks))
        if self.cards.scenario.work_rules.longest_stove_minutes is not None:
            self._cooks_take_turns(cooks)

    def _cooks_take_turns(self, cooks: list[Presence]) -> None:
        """Pans are minded by cooks on their stretches at the stove, whoever it is."""
        k, items = self.cards.kitchen.pans_per_cook, [item for item in self.items if item.shared]
        # The one stage of an easiest batch stands for many, each with a cook of its own: a stretch a step.
        most = sum(item.steps for item in items)
        minding = [
            self.model.new_fixed_size_interval_var(item.start, item.steps, f"minding {item.batch}")
            for item in items
        ]
        away = [each for cook in cooks for each in self._away_from_stove(cook, most)]
        demands = [1] * len(minding) + [k] * len(away)
        self.model.add_cumulative([*minding, *away], demands, k * len(cooks))

    def name(self) -> list[dict[int, cp_model.IntVar]]:
        """People by name: for each item, a literal for everybody who may do it."""
        k, rules = self.cards.kitchen.pans_per_cook, self.cards.scenario.work_rules
        chosen: list[dict[int, cp_model.IntVar]] = []
        busy: dict[int, list[tuple[cp_model.IntervalVar, int]]] = {p.person: [] for p in self.work.people}
        tests: dict[int, list[cp_model.IntervalVar]] = {p.person: [] for p in self.work.people}
        called: dict[int, list[tuple[cp_model.IntervalVar, int]]] = {p.person: [] for p in self.work.people}
        minding: dict[int, list[cp_model.IntervalVar]] = {p.person: [] for p in self.work.people}
        for n, item in enumerate(self.items):
            options = {}
            for person in self.work.people:
                if can_do(person, WORK_OF[item.kind]):
                    does = self.model.new_bool_var(f"does {n} {person.person}")
                    interval = self.model.new_optional_fixed_size_interval_var(
                        item.start, item.steps, does, f"i {n} {person.person}"
                    )
                    part = 1 if item.shared else k
                    if item.kind is not StageKind.STAND_BY:
                        busy[person.person].append((interval, part))
                    if WORK_OF[item.kind] not in MEANWHILE:
                        called[person.person].append((interval, part))
                    if item.kind in ONE_AT_A_TIME:
                        tests[person.person].append(interval)
                    if item.shared:
                        minding[person.person].append(interval)
                    options[person.person] = does
            self.model.add(cp_model.LinearExpr.sum(list(options.values())) == item.hands)
            chosen.append(options)
        for person in self.work.people:
            gone = [(interval, k) for interval in self.absences(person)]
            self.model.add_no_overlap(tests[person.person])
            # Without anybody standing by, what is done within call is part of what is done.
            both = [busy[person.person], called[person.person]]
            for done in both if any(card.standby for card in self.batches) else both[:1]:
                spans, parts = [span for span, _ in done + gone], [part for _, part in done + gone]
                self.model.add_cumulative(spans, parts, k)
            at_stove = minding[person.person]
            if rules.longest_stove_minutes is not None and at_stove:
                away = self._away_from_stove(person, len(at_stove))
                self.model.add_cumulative([*at_stove, *away], [1] * len(at_stove) + [k] * len(away), k)
        return chosen
