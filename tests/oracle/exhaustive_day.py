"""Whether a very small day can be placed, by following every course that it can take: rules 18 to 28.

No solver: the day is walked in steps of 5 minutes. In every step anything that may start is started by
anybody who may do it, or left; a state that was reached before is not followed again. What holds
pans, rings, places and oven is read off the state, so a day is a path through states.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import combinations, product

from scheduler.domain.kitchen import Kitchen
from scheduler.domain.people import Person, Skill, WorkRules
from tests.oracle.cards_by_book import BookCard, pan_kind, ring_kind, whole_pieces
from tests.oracle.day_limits import ANY, Turn, can_do, room_watts

STEP = 5
TEST = "set test"
CALL = "stand by"
Stage = tuple[str, int, int, int]  # kind of work, steps, share of a hand, people
Doing = tuple[tuple[int, int, int, str], ...]  # person, steps to go, share of a hand, kind of work; sorted
PUT_DOWN = (Skill.PREPARE, ANY)
"""What somebody who stands by may do meanwhile."""


@dataclass(frozen=True, order=True)
class Progress:
    """How far a batch is. Counts are steps; -1 is not yet begun."""

    pieces: tuple[int, ...]  # preparing not yet begun
    preparing: int = 0  # steps until the last piece begun is done
    jars: int = 0  # steps until they are washed; -1 is not yet begun
    loading: int = -1  # since the jars began to go in
    chain: int = -1  # since dissolve began
    washing: int = -1  # since washing began; before that -1 less the stages begun at this age of the chain


@dataclass(frozen=True)
class State:
    batches: tuple[Progress, ...]
    freezing: tuple[int, ...]  # pieces not yet begun
    chores: tuple[int, ...]  # pieces, for anybody, not yet begun
    doing: Doing
    stove: tuple[tuple[int, int], ...]
    """Where minutes in a row at the stove are limited: for each person, steps since a stretch began and since
    they were last at the stove; 0 and 0 between stretches."""


@dataclass(frozen=True)
class Start:
    """A thing that may begin now: of a kind of work, steps long, and the state of the batch after it."""

    kind: str
    steps: int
    share: int
    people: int
    batch: int
    after: Progress | None


class TinyDay:
    """A day with its batches, minutes of preparing to freeze, people who are in, and pieces of work that
    anybody may do at any time (labels, fruit taken out)."""

    def __init__(
        self,
        kitchen: Kitchen,
        batches: Sequence[BookCard],
        freezing: int,
        people: Sequence[tuple[Person, Turn]],
        rules: WorkRules,
        open_at: Sequence[int] | None = None,
        chores: Sequence[int] = (),
        starts: Sequence[int | None] | None = None,
    ) -> None:
        self.kitchen, self.people, self.rules = kitchen, people, rules
        self.freezing = tuple(sorted(minutes // STEP for minutes in whole_pieces(freezing)))
        self.chores = tuple(sorted(minutes // STEP for minutes in chores))
        held = sorted(zip(batches, starts or [None] * len(batches), strict=True), key=repr)
        self.batches = [card for card, _ in held]
        self.begins = [None if time is None else (time - kitchen.open) // STEP for _, time in held]
        self.length = (kitchen.close - kitchen.open) // STEP
        potting = any(card.jars for card in batches)
        self.watts = {of_gas: room_watts(kitchen, of_gas, potting) for of_gas in (False, True)}
        clock = range(kitchen.open, kitchen.close, STEP)
        self.open = [open_at is None or time in open_at for time in clock]
        self.clean = kitchen.clean_down_minutes // STEP if batches or freezing or chores else 0
        self.whole = kitchen.pans_per_cook
        self.load = kitchen.oven.load_minutes // STEP
        self.heat = kitchen.oven.heat_minutes // STEP
        self.hot = kitchen.oven.hot_minutes // STEP

    def can_be_placed(self) -> bool:
        """Try every choice of breaks; for each, every course of the day."""
        choices = product(*(turn.breaks or (None,) for _, turn in self.people))
        return any(self._with_breaks(breaks) for breaks in choices)

    def _with_breaks(self, breaks: Sequence[int | None]) -> bool:
        clock = [(self.kitchen.open + STEP * i, self.open[i]) for i in range(self.length)]
        self.free = []
        for (_, turn), pause in zip(self.people, breaks, strict=True):
            rest = range(pause, pause + turn.break_minutes) if pause is not None else range(0)
            self.free.append(
                [o and turn.shift.start <= c and c + STEP <= turn.leaves and c not in rest for c, o in clock]
            )
        stove = ((0, 0),) * len(self.people) if self.rules.longest_stove_minutes is not None else ()
        first = (0, State(tuple(map(self._fresh, self.batches)), self.freezing, self.chores, (), stove))
        reached, open_ends = {first}, [first]
        while open_ends:
            now, state = open_ends.pop()
            if self._done(state) and not state.doing and self._can_be_cleaned(now):
                return True
            if now == self.length:
                continue
            for after in self._begin(state, now, 0):
                if self._holds(after, now) and self._in_time(after, now):
                    found = (now + 1, self._later(after))
                    if found not in reached and self._bearable(found[1]):
                        reached.add(found)
                        open_ends.append(found)
        return False

    def _fresh(self, card: BookCard) -> Progress:
        pieces = tuple(sorted(minutes // STEP for minutes in card.pieces()))
        return Progress(pieces, jars=-1 if card.wash_jars else 0)

    def _can_be_cleaned(self, now: int) -> bool:
        """Whether somebody is free for the clean down at some time from now on."""
        begins = range(now, self.length - self.clean + 1)
        return not self.clean or any(all(row[at : at + self.clean]) for row in self.free for at in begins)

    def _done(self, state: State) -> bool:
        return not state.freezing and not state.chores and all(batch.washing >= 0 for batch in state.batches)

    # --- what may begin ---

    @cached_property
    def stages(self) -> list[dict[int, list[Stage]]]:
        """For each batch, what must begin when its chain is so many steps old."""
        found = []
        for card in self.batches:
            rows = [(card.soften, Skill.COOK), (card.strain, TEST)]
            rows += [(card.dissolve, Skill.COOK), (card.boil, Skill.COOK), (card.set_test, TEST)]
            rows += [(card.reboil, Skill.COOK), (card.set_test, TEST)] * card.reboils
            at = 0
            stages: dict[int, list[Stage]] = {}
            for minutes, kind in rows:
                if minutes:
                    stages.setdefault(at, []).append((kind, minutes // STEP, 1, 1))
                at += minutes // STEP
            fillers, ready = self.kitchen.fillers, (card.to_pot - card.stand_by) // STEP
            if card.stand_by:
                call = (CALL, card.stand_by // STEP, self.whole, max(1, fillers - 1))
                stages.setdefault(ready, []).append(call)
            if card.pot:
                potting = (Skill.FILL, card.pot // STEP, self.whole, fillers)
                stages.setdefault(card.to_pot // STEP, []).append(potting)
            found.append(stages)
        return found

    def _begin(self, state: State, now: int, first: int) -> Iterator[State]:
        """All states after something, or nothing more, begins; things begin in the order of ``_starts``."""
        forced = self._forced(state)
        if forced is not None:
            for begun in self._staffed(state, forced, now):
                yield from self._begin(begun, now, first)
            return
        yield state
        for place, start in enumerate(self._starts(state, now)):
            if place >= first or start.kind == Skill.PREPARE:
                for begun in self._staffed(state, start, now):
                    yield from self._begin(begun, now, 0)

    def _forced(self, state: State) -> Start | None:
        """The stage that follows without waiting and has not begun (marked by a half step)."""
        for b, batch in enumerate(state.batches):
            due = self.stages[b].get(batch.chain, [])
            if batch.washing < 0 and -1 - batch.washing < len(due):
                kind, steps, share, people = due[-1 - batch.washing]
                return Start(kind, steps, share, people, b, replace(batch, washing=batch.washing - 1))
        return None

    def _starts(self, state: State, now: int) -> Iterator[Start]:
        """What may begin now but need not."""
        for b, (batch, card) in enumerate(zip(state.batches, self.batches, strict=True)):
            if batch.jars == -1:
                steps = card.wash_jars // STEP
                yield Start(ANY, steps, self.whole, 1, b, replace(batch, jars=steps))
            if batch.loading == -1 and card.jars and batch.jars == 0:
                yield Start(ANY, self.load, self.whole, 1, b, replace(batch, loading=0))
            for steps in dict.fromkeys(batch.pieces):
                left = list(batch.pieces)
                left.remove(steps)
                after = replace(batch, pieces=tuple(left), preparing=max(batch.preparing, steps))
                yield Start(Skill.PREPARE, steps, self.whole, 1, b, after)
            in_time = self.begins[b] in (None, now)
            if in_time and batch.chain == -1 and not batch.pieces and not batch.preparing:
                yield Start("", 0, 0, 0, b, replace(batch, chain=0))
            if batch.chain >= card.chain // STEP and batch.washing < 0:
                yield Start(ANY, card.wash // STEP, self.whole, 1, b, replace(batch, washing=0))
        for steps in dict.fromkeys(state.freezing):
            yield Start(Skill.PREPARE, steps, self.whole, 1, -1, None)
        for steps in dict.fromkeys(state.chores):
            yield Start(ANY, steps, self.whole, 1, -1, None)

    def _staffed(self, state: State, start: Start, now: int) -> Iterator[State]:
        """The states in which one team or another has begun it."""
        if now + start.steps > self.length:
            return
        busy, called = [0] * len(self.people), [0] * len(self.people)
        kind = {TEST: Skill.COOK, CALL: Skill.FILL}.get(start.kind, start.kind)
        for person, _, share, done in state.doing:
            takes = self.whole if done == start.kind == TEST else share
            busy[person] += takes if CALL not in (done, start.kind) else 0
            called[person] += takes if not {done, start.kind} & set(PUT_DOWN) else 0
        able = [
            i
            for i, (person, _) in enumerate(self.people)
            if max(busy[i], called[i]) + start.share <= self.whole
            and (not kind or can_do(person, (kind,)))
            and all(self.free[i][now : now + start.steps])
        ]
        for team in combinations(able, start.people):
            doing = [*state.doing, *((i, start.steps, start.share, start.kind) for i in team)]
            batches, freezing, chores = list(state.batches), list(state.freezing), list(state.chores)
            if start.after is None:
                (chores if start.kind == ANY else freezing).remove(start.steps)
            else:
                batches[start.batch] = start.after
            rest = tuple(freezing), tuple(chores), tuple(sorted(doing))
            yield State(tuple(batches), *rest, state.stove)

    # --- what is held, and time going by ---

    def _holds(self, state: State, now: int) -> bool:
        """Whether pans, rings, places, jar oven and people present are enough in this step."""
        used: dict[object, int] = {}
        heating = False
        for batch, card in zip(state.batches, self.batches, strict=True):
            age, potted = batch.chain, card.chain // STEP
            if 0 <= age < potted and not self.open[now]:
                return False
            if age >= 0 and not batch.washing >= card.wash // STEP:
                used[pan_kind(card.pan)] = used.get(pan_kind(card.pan), 0) + 1
            if 0 <= age < card.hold // STEP:
                key = ("ring", ring_kind(card.ring))
                used[key] = used.get(key, 0) + 1
            if (card.to_pot - card.stand) // STEP <= age < potted:
                used["place"] = used.get("place", 0) + 1
            if batch.loading >= 0 and age < potted:
                used["oven"] = used.get("oven", 0) + card.jars
            if 0 <= age < card.cooking // STEP:
                heating = True
                used["power", card.on_gas] = used.get(("power", card.on_gas), 0) + card.watts
            hot = batch.loading - self.load - self.heat
            early = age == (card.to_pot - card.stand_by) // STEP
            ready = batch.loading >= 0 and 0 <= hot <= self.hot
            if card.jars and not ready and (early or age == card.to_pot // STEP):
                return False
        return self._enough(used, heating, now)

    def _enough(self, used: dict[object, int], heating: bool, now: int) -> bool:
        kitchen = self.kitchen
        pans, rings = [pan_kind(p) for p in kitchen.pans], [ring_kind(r) for r in kitchen.rings]
        return (
            all(used.get(kind, 0) <= pans.count(kind) for kind in pans)
            and all(used.get(("ring", kind), 0) <= rings.count(kind) for kind in rings)
            and (not kitchen.heatproof_places or used.get("place", 0) <= kitchen.heatproof_places)
            and used.get("oven", 0) <= kitchen.oven.jars
            and all(
                room is None or used.get(("power", of_gas), 0) <= room for of_gas, room in self.watts.items()
            )
            and (not heating or self._trained(now) >= kitchen.people_while_boiling)
        )

    def _trained(self, now: int) -> int:
        """People there who count beside a boiling pan."""
        rows = zip(self.people, self.free, strict=True)
        return sum(row[now] for (person, _), row in rows if not person.learner)

    def _bearable(self, state: State) -> bool:
        """Whether nobody has been at the stove for too long."""
        longest = self.rules.longest_stove_minutes
        return longest is None or all(STEP * (since - away) <= longest for since, away in state.stove)

    def _at_stove(self, state: State) -> tuple[tuple[int, int], ...]:
        """The stretches at the stove after this step."""
        minding = {person for person, _, _, kind in state.doing if kind in (Skill.COOK, TEST)}
        after = []
        for person, (since, away) in enumerate(state.stove):
            if person in minding:
                after.append((since + 1, 0))
            elif since and STEP * (away + 1) < self.rules.stove_rest_minutes:
                after.append((since + 1, away + 1))
            else:
                after.append((0, 0))
        return tuple(after)

    def _in_time(self, state: State, now: int) -> bool:
        """Whether what has still to be done can end before closing (a day cut short early)."""
        left = sum((*state.freezing, *state.chores)) * self.whole
        for b, (batch, card) in enumerate(zip(state.batches, self.batches, strict=True)):
            begins = self.begins[b]
            if begins is not None and begins <= now and batch.chain < 0:
                return False
            if batch.washing < 0:
                begun = max(batch.chain, 0)
                wait = 0 if batch.chain >= 0 else 1
                if now + wait + max(0, card.chain // STEP - begun) + card.wash // STEP > self.length + wait:
                    return False
                left += self.whole * (card.wash // STEP)
            late = batch.loading - self.load - self.heat - self.hot
            if batch.chain < card.to_pot // STEP and late > 0:
                return False
            left += self.whole * (sum(batch.pieces) + (self.load if batch.loading == -1 and card.jars else 0))
            left += self.whole * (card.wash_jars // STEP if batch.jars == -1 else 0)
            left += sum(
                n * s * p
                for at, due in self.stages[b].items()
                for kind, n, s, p in due
                if at > batch.chain and kind != CALL
            )
        going = sum(steps * share for _, steps, share, kind in state.doing if kind != CALL)
        return left + going <= self.whole * sum(sum(row[now:]) for row in self.free)

    def _later(self, state: State) -> State:
        """One step on; batches with the same card in order, so that mirror images are one state."""
        aged = []
        for batch, card in zip(state.batches, self.batches, strict=True):
            cap = self.load + self.heat + self.hot + 1
            # Before the wash: the stages of this step have begun.
            washing = min(batch.washing + 1, card.wash // STEP) if batch.washing >= 0 else -1
            chain = min(batch.chain + 1, card.chain // STEP) if batch.chain >= 0 else -1
            loading = min(batch.loading + 1, cap) if batch.loading >= 0 else -1
            if chain >= card.to_pot // STEP + 1:
                loading = cap  # the jars were hot in time
            jars = max(0, batch.jars - 1) if batch.jars >= 0 else -1
            preparing = max(0, batch.preparing - 1)
            aged.append(Progress(batch.pieces, preparing, jars, loading, chain, washing))
        ordered: list[Progress] = []
        kinds = list(zip(self.batches, self.begins, strict=True))
        for kind in dict.fromkeys(kinds):
            ordered += sorted(batch for batch, other in zip(aged, kinds, strict=True) if other == kind)
        doing = tuple(sorted((p, n - 1, share, kind) for p, n, share, kind in state.doing if n > 1))
        return State(tuple(ordered), state.freezing, state.chores, doing, self._at_stove(state))
