"""The habit to beat: oldest fruit first, biggest pan first, freeze the rest until the freezer is full.

Written as a capable cook would do it: everybody who offers comes in while their week lasts, punnets
are sold first, orders decide between recipes, tomorrow's punnets are kept out of the freezer, and no
more is frozen than is wanted later; jars are labelled as soon as anybody is in and has the time. It obeys
the same rules and is audited like any plan.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from functools import partial

from scheduler.cards import SHARE, BatchCard, Cards
from scheduler.domain.people import Skill
from scheduler.model.allocation import AllocationModel
from scheduler.model.day import DayWork, Presence, label_minutes, presence
from scheduler.model.given import day_work
from scheduler.model.hours import can_meet
from scheduler.model.limits import batch_limits, freeze_work, hands_limits
from scheduler.model.mip import solve
from scheduler.model.power import gas_left
from scheduler.model.stove import cooks_for
from scheduler.solve.chores import add_chores, can_be_labelled, days_of_chores, due_jars
from scheduler.solve.days import Days, Found
from scheduler.solve.freezers import free_in_boxes, free_space, has_room, must_leave_by
from scheduler.solve.kept import Kept, Rows, Within, within
from scheduler.solve.settings import Clock
from scheduler.solve.staffing import with_all_hands
from scheduler.solve.stocks import (
    Stocks,
    Take,
    as_it_was,
    discard_past_its_date,
    do,
    give_up_what_has_no_room,
    goods_are_there,
    missing,
    mix_for,
    oldest,
    room_to_thaw,
    sell,
    spare_of,
    taken_by_orders,
    undo,
)

ENOUGH_DAYS, FAR = 10, 2.0
"""Days after which the pace is known, and how many times the time given counts as far longer."""


def habit(
    cards: Cards,
    model: AllocationModel,
    days: Days,
    clock: Clock,
    kept: Kept | None = None,
    *,
    patient: bool = True,
) -> Found | None:
    """A plan by habit, or None where time ran out or the days could not be placed; if not ``patient`` also
    where it is going to by far."""
    made = by_the_day(cards, days, clock, kept, patient=patient)
    return None if made is None else completed(made, model, days, clock, kept)


@dataclass(frozen=True)
class HabitDays:
    """What habit did, day after day, and who was asked to be in."""

    kitchen: Stocks
    staff: tuple[int, ...]


def by_the_day(
    cards: Cards, days: Days, clock: Clock, kept: Kept | None = None, *, patient: bool = True
) -> HabitDays | None:
    """What habit does, every day placed. Days that are kept are done as they were; habit sets in after
    them."""
    kitchen = Stocks(cards, frozen=dict.fromkeys(range(len(cards.fruits)), 0.0))
    for z in cards.frozen:
        kitchen.frozen[z.fruit] += z.units * (z.last >= 0)
    kitchen.jars = {p: of.jars_on_hand for p, of in enumerate(cards.products)}
    kitchen.owed = [[] for _ in range(cards.days)]
    for softened, boiled in cards.two_days:
        quickest = min(boiled, key=lambda m: cards.batches[m].chain)
        kitchen.boil_of |= dict.fromkeys(softened, quickest)
    picks = [sum(lot.units for lot in cards.lots if lot.arrives == d) for d in range(cards.days)]
    first = kept.days if kept else 0
    before = [i for i in Rows(cards, kept.plan).staff() if cards.staff[i].day < first] if kept else []
    later = sorted(range(first, cards.days), key=lambda d: -picks[d])
    staff = with_all_hands(cards, tuple(before), tuple(later))
    kitchen.working = tuple(sorted({cards.staff[i].day for i in staff}))
    for d in range(first):
        assert kept is not None
        as_it_was(kitchen, d, Rows(cards, kept.plan))
    for d in range(first, cards.days):
        if clock.over or (not patient and _hopeless(clock, d - first, cards.days - first)):
            return None
        _one_day(kitchen, d, staff, days)
    return HabitDays(kitchen, staff)


def _hopeless(clock: Clock, done: int, days: int) -> bool:
    """Whether at the pace of the days done the others would take far longer than there is time."""
    return done >= ENOUGH_DAYS and clock.spent / done * days > FAR * clock.seconds


def _one_day(k: Stocks, d: int, staff: tuple[int, ...], days: Days) -> None:
    cards = k.cards
    for i, lot in enumerate(cards.lots):
        if lot.arrives == d:
            k.fresh[i] = float(lot.units)
        if lot.end < d:
            k.fresh.pop(i, None)
    discard_past_its_date(k, d)
    k.leave_by = must_leave_by(cards, d, k.frozen.values())
    sell(k, d)
    people = _in(k, d, staff)
    k.taken = taken_by_orders(k, d)
    k.due_jars = due_jars(k, d, _owed(k, d, people), days)
    k.count.append([k.owed[d].count(m) for m in range(len(cards.batches))])
    takes = _cook(k, d, [i for i in staff if cards.staff[i].day == d], partial(_may_drip, k, d, staff, days))
    for take in takes[_placeable(k, d, takes, people, days) :]:
        undo(k, d, *take)
    work = _freeze(k, d, people, days)
    give_up_what_has_no_room(k, d)
    room_to_thaw(k, d)
    add_chores(k, d, work, days)


def _in(k: Stocks, d: int, staff: tuple[int, ...]) -> tuple[Presence, ...]:
    """Everybody who is in on a day."""
    return tuple(sorted(presence(k.cards, k.cards.staff[i]) for i in staff if k.cards.staff[i].day == d))


def _may_drip(k: Stocks, d: int, staff: tuple[int, ...], days: Days, m: int) -> bool:
    """Whether a card softens nothing, or its juice has a drip stand tonight and can be boiled tomorrow."""
    if m not in k.boil_of:
        return True
    taken = len(k.owed[d]) + sum(k.count[d][soft] for soft in k.boil_of)
    if d + 1 >= k.cards.days or taken >= k.cards.kitchen.drip_stands.count:
        return False
    tomorrow = tuple(sorted([*k.owed[d + 1], k.boil_of[m]]))
    racks = k.cards.kitchen.rack_jars
    if racks is not None and sum(k.cards.batches[n].jars for n in tomorrow) > racks:
        return False
    work = day_work(k.cards, d + 1, tomorrow, 0, _in(k, d + 1, staff))
    jars = due_jars(k, d + 1, _owed(k, d + 1, work.people), days)
    return days.placed(replace(work, labelling=label_minutes(k.cards, jars)))


def _placeable(
    k: Stocks,
    d: int,
    takes: list[tuple[int, Take, dict[int, float]]],
    people: tuple[Presence, ...],
    days: Days,
) -> int:
    """How many of the batches, in the order they were thought of, can be placed (found by halving).

    The juice of yesterday's fruit comes before them all, and the batches held are all of them kept.
    """
    today = [m for h, m in k.held.items() if k.cards.scenario.held[h].day == k.cards.dates[d]]
    low, high = sum(m not in k.owed[d] for m in today), len(takes)
    while low < high:
        middle = (low + high + 1) // 2
        if days.likely(_day_of(k, d, takes[:middle], people)):
            low = middle
        else:
            high = middle - 1
    least = sum(m not in k.owed[d] for m in today)
    while low > least and not days.placed(_day_of(k, d, takes[:low], people)):
        low -= 1
    return low


def _day_of(
    k: Stocks, d: int, takes: list[tuple[int, Take, dict[int, float]]], people: tuple[Presence, ...]
) -> DayWork:
    """The day with these batches, yesterday's juice and labels that are due, before anything is frozen."""
    tried = tuple(sorted([*k.owed[d], *(m for m, _, _ in takes)]))
    return day_work(k.cards, d, tried, 0, people, k.held, label_minutes(k.cards, k.due_jars))


def _owed(k: Stocks, d: int, people: tuple[Presence, ...]) -> DayWork:
    """The juice of yesterday's fruit alone."""
    return day_work(k.cards, d, tuple(sorted(k.owed[d])), 0, people)


def _batches(k: Stocks, d: int) -> tuple[int, ...]:
    return tuple(m for m, n in enumerate(k.count[d]) for _ in range(n))


def _cook(
    k: Stocks, d: int, staff: list[int], may_drip: Callable[[int], bool]
) -> list[tuple[int, Take, dict[int, float]]]:
    """Fill the day: the fruit that goes over soonest, the recipe most asked for, the biggest pan."""
    cards = k.cards
    loads = [(limit.minutes, limit.capacity) for limit in batch_limits(cards, d)]
    for limit in hands_limits(cards, d):
        other = limit.once + limit.chores * label_minutes(cards, k.due_jars)
        loads.append((limit.work, sum(limit.usable.get(i, 0) for i in staff) - other))
    loads += gas_left(cards, k.count[:d], k.boil_of)
    if cards.kitchen.rack_jars is not None:
        loads.append((tuple(card.jars for card in cards.batches), cards.kitchen.rack_jars))
    taken: list[tuple[int, Take, dict[int, float]]] = []
    cooks = sum(Skill.COOK in cards.staff[i].skills for i in staff)
    able = [cooks_for(cards.scenario.work_rules, card) <= cooks for card in cards.batches]
    with_fruit = [m for m, card in enumerate(cards.batches) if card.fruit and able[m]]

    def took(some: Iterable[int], held: bool = False) -> int | None:
        """The first of some cards of which a batch could be added."""
        for m in sorted(some, key=lambda m: _rank(k, d, m)):
            card = cards.batches[m]
            fits = all(
                sum(n * row[j] for j, n in enumerate(k.count[d]) if n) + row[m] <= room for row, room in loads
            )
            potted = cards.batches[k.boil_of.get(m, m)]
            mix = mix_for(k, d, card) if fits and _worth_making(k, d, potted, held) else None
            labelled = can_be_labelled(k, d + (m in k.boil_of))
            if mix is not None and labelled and may_drip(m):
                do(k, d, m, *mix)
                taken.append((m, *mix))
                return m
        return None

    _hold(k, d, lambda some: took(set(some).intersection(with_fruit), held=True))
    while took(with_fruit) is not None:
        pass
    return taken


def _hold(k: Stocks, d: int, took: Callable[[Iterable[int]], int | None]) -> None:
    """Batches held come first; the juice of yesterday's fruit may meet a row, too."""
    owed = list(k.owed[d])
    for h, row in enumerate(k.cards.scenario.held):
        if row.hold and row.day == k.cards.dates[d]:
            some = can_meet(k.cards, row)
            m = next((m for m in owed if m in some), None)
            if m is not None:
                owed.remove(m)
            else:
                m = took(some)
            if m is not None:
                k.held[h] = m


def _rank(k: Stocks, d: int, m: int) -> tuple[float, ...]:
    cards = k.cards
    card = cards.batches[m]
    fruits = [cards.fruit_index[share.fruit] for share in cards.scenario.recipes[card.recipe].fruits]
    lots = [
        cards.lots[i].last_cooked
        for f in fruits
        for i in k.fresh
        if cards.lots[i].fruit == f and k.fresh[i] > 1
    ]
    soonest = min(lots, default=cards.days + 99)
    if card.from_freezer:
        soonest = soonest + 1000 if k.leave_by is None else k.leave_by
    return (soonest, -missing(k, cards.batches[k.boil_of.get(m, m)]), -card.kg, card.chain)


def _worth_making(k: Stocks, d: int, card: BatchCard, held: bool) -> bool:
    """Room for the jars, goods in the store (or in time to buy), and from the freezer only for orders, or
    if it is held."""
    cards = k.cards
    if k.made.get(card.recipe, 0) + sum(card.kept) > cards.most_made[card.recipe]:
        return False
    shelves = cards.kitchen.shelf_jars
    if shelves is not None and sum(k.jars.values()) - k.taken + sum(card.kept) > shelves:
        return False
    if card.from_freezer and missing(k, card) <= 0 and not held:
        return False
    return goods_are_there(k, d, card)


def _freeze(k: Stocks, d: int, people: tuple[Presence, ...], days: Days) -> DayWork:
    """What is at its peak and not asked for tomorrow, oldest first, as far as room and hands go. The work of
    the day with it."""
    cards = k.cards
    drawn: Take = {}
    came: dict[int, float] = {}
    rate, room, litres, tray = free_space(cards, d, k.frozen)
    for f, fruit in enumerate(cards.fruits):
        spare = spare_of(k, d, f)
        boxed = {g: units + came.get(g, 0.0) for g, units in k.frozen.items()}
        wanted = max(0.0, min(fruit.wanted_later - k.frozen[f], free_in_boxes(cards, boxed, f)))
        for i in oldest(k, f):
            lot = cards.lots[i]
            if d > lot.last_peak:
                continue
            keep = fruit.keep / SHARE
            part = max(0.0, min(spare[i] * keep, rate, room, litres / tray, wanted))
            drawn[i] = part / keep
            came[f] = came.get(f, 0.0) + part
            rate, room, litres, wanted = rate - part, room - part, litres - part * tray, wanted - part
    share = 1.0
    work = _work(k, d, people, drawn, share)
    while share > 0.1 and not (
        days.answer(work).timetable is not None
        and has_room(cards, d, k.frozen, {f: u * share for f, u in came.items()})
    ):
        share -= 0.5
        work = _work(k, d, people, drawn, share)
    for i, units in drawn.items() if share > 0.1 else ():
        k.freeze[i, d] = units * share
        k.fresh[i] -= units * share
    for f, units in came.items() if share > 0.1 else ():
        k.frozen[f] += units * share
    return work


def _work(k: Stocks, d: int, people: tuple[Presence, ...], drawn: Take, share: float) -> DayWork:
    """A day's work with a share of what is drawn for freezing."""
    by_fruit = [0.0] * len(k.cards.fruits)
    for i, units in drawn.items():
        by_fruit[k.cards.lots[i].fruit] += units * share
    freezing = freeze_work(k.cards, tuple(by_fruit))
    labelling = label_minutes(k.cards, k.due_jars)
    return day_work(k.cards, d, _batches(k, d), freezing, people, k.held, labelling)


def completed(
    made: HabitDays, model: AllocationModel, days: Days, clock: Clock, kept: Kept | None = None
) -> Found | None:
    """Let the model complete what habit leaves open (what to give up, which order to fill first)."""
    k, staff = made.kitchen, made.staff
    given: Within = within(model.x, kept) if kept else {}
    x = model.x
    busy = {d for d in range(k.cards.days) if any(k.count[d])} | {
        d for (_, d), u in k.freeze.items() if u > 0
    }
    busy |= days_of_chores(k)
    fixed = {var.index: float(k.count[d][m]) for d, row in enumerate(x.count) for m, var in enumerate(row)}
    fixed |= {var.index: float(i in staff and k.cards.staff[i].day in busy) for i, var in enumerate(x.staff)}
    for table, mine in ((x.sold, k.sold), (x.freeze, k.freeze)):
        fixed |= {var.index: mine.get(key, 0.0) for key, var in table.items()}
    fixed |= {var.index: k.cooked.get(key, 0.0) for key, var in x.cooked.items()}
    fixed |= {var.index: float(k.labelled.get(key, 0)) for key, var in x.labelled.items()}
    rows = k.cards.scenario.held
    fixed |= {
        var.index: float(k.held.get(h) == m)
        for (h, m), var in x.meets.items()
        if k.cards.dates.index(rows[h].day) not in days.kept
    }
    fixed = {index: value for index, value in fixed.items() if index not in given}
    fixed[model.avoid.index] = 0.0
    model.model.minimize(1_000_000_000 * model.goals["short"] + model.goals["spoiled"])
    seconds = max(5.0, clock.left)
    answer = solve(
        model.model, model.masses, seconds, 1, 0, lambda *_: False, fixed=fixed, within=given
    )  # fmt: skip
    if answer.values is None:
        return None
    allocation = model.read(answer.values)
    timetables = [days.answer(days.work(allocation, d)).timetable for d in range(k.cards.days)]
    if any(timetable is None for timetable in timetables):
        return None
    return Found(allocation, tuple(timetable for timetable in timetables if timetable is not None))
