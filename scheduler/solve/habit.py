"""The habit to beat: oldest fruit first, biggest pan first, freeze the rest until the freezer is full.

Written as a capable cook would do it: everybody who offers comes in while their week lasts, punnets
are sold first, orders decide between recipes, tomorrow's punnets are kept out of the freezer, and no
more is frozen than is wanted later. It obeys the same rules and is audited like any plan.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial

from scheduler.cards import SCALE, SHARE, BatchCard, Cards, rounded_down
from scheduler.domain.people import Skill
from scheduler.model.allocation import AllocationModel
from scheduler.model.day import DayWork, Presence, presence
from scheduler.model.limits import batch_limits, freeze_work, hands_limits
from scheduler.model.mip import solve
from scheduler.model.stove import cooks_for
from scheduler.solve.days import Days
from scheduler.solve.joined import Found
from scheduler.solve.settings import Clock
from scheduler.solve.staffing import with_all_hands

Take = dict[int, float]


@dataclass
class _Kitchen:
    """Stocks as the habit goes through the days."""

    cards: Cards
    fresh: Take = field(default_factory=dict)
    frozen: dict[int, float] = field(default_factory=dict)
    out_of_freezer: dict[int, float] = field(default_factory=dict)
    jars: dict[int, int] = field(default_factory=dict)
    used: dict[str, float] = field(default_factory=dict)
    sold: dict[tuple[int, int], float] = field(default_factory=dict)
    freeze: dict[tuple[int, int], float] = field(default_factory=dict)
    cooked: dict[tuple[int, int, int], float] = field(default_factory=dict)
    count: list[list[int]] = field(default_factory=list)
    owed: list[list[int]] = field(default_factory=list)
    """Cards by day that boil the juice softened the day before."""
    boil_of: dict[int, int] = field(default_factory=dict)
    """For each card that softens, the quickest that boils its juice."""


def habit(cards: Cards, model: AllocationModel, days: Days, clock: Clock) -> Found | None:
    """A plan by habit, or None where time ran out or the days could not be placed."""
    kitchen = _Kitchen(cards, frozen=dict.fromkeys(range(len(cards.fruits)), 0.0))
    for z in cards.frozen:
        kitchen.frozen[z.fruit] += z.units * (z.last >= 0)
    for r, recipe in enumerate(cards.scenario.recipes):
        kitchen.jars[r] = recipe.jars_on_hand
    kitchen.owed = [[] for _ in range(cards.days)]
    for softened, boiled in cards.two_days:
        quickest = min(boiled, key=lambda m: cards.batches[m].chain)
        kitchen.boil_of |= dict.fromkeys(softened, quickest)
    picks = [sum(lot.units for lot in cards.lots if lot.arrives == d) for d in range(cards.days)]
    staff = with_all_hands(cards, (), tuple(sorted(range(cards.days), key=lambda d: -picks[d])))
    for d in range(cards.days):
        if clock.over:
            return None
        _one_day(kitchen, d, staff, days)
    return _as_allocation(kitchen, model, staff, days, clock)


def _one_day(k: _Kitchen, d: int, staff: tuple[int, ...], days: Days) -> None:
    cards = k.cards
    for i, lot in enumerate(cards.lots):
        if lot.arrives == d:
            k.fresh[i] = float(lot.units)
        if lot.end < d:
            k.fresh.pop(i, None)
    _discard_past_its_date(k, d)
    _sell(k, d)
    people = _in(k, d, staff)
    k.count.append([k.owed[d].count(m) for m in range(len(cards.batches))])
    takes = _cook(k, d, [i for i in staff if cards.staff[i].day == d], partial(_may_drip, k, d, staff, days))
    for take in takes[_placeable(k, d, takes, people, days) :]:
        _undo(k, d, *take)
    _freeze(k, d, people, days)
    _give_up_what_has_no_room(k, d)


def _in(k: _Kitchen, d: int, staff: tuple[int, ...]) -> tuple[Presence, ...]:
    """Everybody who is in on a day."""
    return tuple(sorted(presence(k.cards, k.cards.staff[i]) for i in staff if k.cards.staff[i].day == d))


def _may_drip(k: _Kitchen, d: int, staff: tuple[int, ...], days: Days, m: int) -> bool:
    """Whether a card softens nothing, or its juice has a drip stand tonight and can be boiled tomorrow."""
    if m not in k.boil_of:
        return True
    taken = len(k.owed[d]) + sum(k.count[d][soft] for soft in k.boil_of)
    if d + 1 >= k.cards.days or taken >= k.cards.kitchen.drip_stands.count:
        return False
    tomorrow = tuple(sorted([*k.owed[d + 1], k.boil_of[m]]))
    return days.answer(DayWork(tomorrow, 0, _in(k, d + 1, staff))).timetable is not None


def _discard_past_its_date(k: _Kitchen, d: int) -> None:
    """Frozen fruit whose last day was before today; the nearest date is thawed first."""
    for f in k.frozen:
        dated = sum(z.units for z in k.cards.frozen if z.fruit == f and 0 <= z.last < d)
        late = max(0.0, dated - k.out_of_freezer.get(f, 0.0))
        k.frozen[f] -= late
        k.out_of_freezer[f] = k.out_of_freezer.get(f, 0.0) + late


def _placeable(
    k: _Kitchen,
    d: int,
    takes: list[tuple[int, Take, dict[int, float]]],
    people: tuple[Presence, ...],
    days: Days,
) -> int:
    """How many of the batches, in the order they were thought of, can be placed (found by halving).

    The juice of yesterday's fruit comes before them all.
    """
    low, high = 0, len(takes)
    while low < high:
        middle = (low + high + 1) // 2
        tried = tuple(sorted([*k.owed[d], *(m for m, _, _ in takes[:middle])]))
        if days.answer(DayWork(tried, 0, people)).timetable is None:
            high = middle - 1
        else:
            low = middle
    return low


def _batches(k: _Kitchen, d: int) -> tuple[int, ...]:
    return tuple(m for m, n in enumerate(k.count[d]) for _ in range(n))


def _sell(k: _Kitchen, d: int) -> None:
    """Oldest punnets first, up to what is asked for."""
    for f, demand in enumerate(k.cards.demand):
        wanted = float(demand[d])
        for i in _oldest(k, f):
            if d <= k.cards.lots[i].last_sold and wanted > 0:
                part = min(wanted, k.fresh[i])
                k.sold[i, d] = part
                k.fresh[i] -= part
                wanted -= part


def _oldest(k: _Kitchen, fruit: int) -> list[int]:
    lots = k.cards.lots
    return sorted((i for i in k.fresh if lots[i].fruit == fruit), key=lambda i: lots[i].last_cooked)


def _cook(
    k: _Kitchen, d: int, staff: list[int], may_drip: Callable[[int], bool]
) -> list[tuple[int, Take, dict[int, float]]]:
    """Fill the day: the fruit that goes over soonest, the recipe most asked for, the biggest pan."""
    cards = k.cards
    loads = [(limit.minutes, limit.capacity) for limit in batch_limits(cards, d)]
    loads += [(limit.work, sum(limit.usable.get(i, 0) for i in staff)) for limit in hands_limits(cards, d)]
    taken = []
    cooks = sum(Skill.COOK in cards.staff[i].skills for i in staff)
    able = [cooks_for(cards.scenario.work_rules, card) <= cooks for card in cards.batches]
    with_fruit = [m for m, card in enumerate(cards.batches) if card.fruit and able[m]]
    while True:
        for m in sorted(with_fruit, key=lambda m: _rank(k, d, m)):
            card = cards.batches[m]
            fits = all(
                sum(n * row[j] for j, n in enumerate(k.count[d]) if n) + row[m] <= room for row, room in loads
            )
            potted = cards.batches[k.boil_of.get(m, m)]
            mix = _mix(k, d, card) if fits and _worth_making(k, d, potted) else None
            if mix is not None and may_drip(m):
                _do(k, d, m, *mix)
                taken.append((m, *mix))
                break
        else:
            return taken


def _rank(k: _Kitchen, d: int, m: int) -> tuple[float, ...]:
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
    return (soonest + 1000 * card.from_freezer, -_missing(k, card.recipe), -card.kg, card.chain)


def _missing(k: _Kitchen, recipe: int) -> int:
    return sum(order.jars for order in k.cards.orders if order.recipe == recipe) - k.jars[recipe]


def _worth_making(k: _Kitchen, d: int, card: BatchCard) -> bool:
    """Room for the jars, goods in the store (or in time to buy), and from the freezer only for orders."""
    cards = k.cards
    if k.jars[card.recipe] + card.jars > cards.scenario.recipes[card.recipe].most_jars:
        return False
    if card.from_freezer and _missing(k, card.recipe) <= 0:
        return False
    uses = cards.uses(card)
    for good in cards.goods:
        need = k.used.get(good.name, 0) + uses.get(good.name, 0)
        if uses.get(good.name) and need > good.on_hand + sum(good.delivered[: d + 1]) and d < good.lead:
            return False
    return True


def _mix(k: _Kitchen, d: int, card: BatchCard) -> tuple[Take, dict[int, float]] | None:
    """Fruit for one batch: units as picked from fresh lots, prepared units from the freezer by fruit."""
    cards = k.cards
    shares = cards.scenario.recipes[card.recipe].fruits
    fruits = [cards.fruit_index[share.fruit] for share in shares]
    older: float = cards.kitchen.older_share * card.kg
    lots: Take = {}
    frozen: dict[int, float] = {}
    there = [k.frozen[f] if card.from_freezer else _reachable(k, d, f, older) for f in fruits]
    parts = _parts(
        [(s.low * card.kg, min(s.high * card.kg, t)) for s, t in zip(shares, there, strict=True)], card.kg
    )
    if parts is None:
        return None
    for f, part in zip(fruits, parts, strict=True):
        if card.from_freezer:
            frozen[f] = part
            continue
        need = part * SHARE / cards.fruits[f].keep
        spare = _spare(k, d, f)
        for i in _oldest(k, f):
            lot = cards.lots[i]
            if d > lot.last_cooked:
                continue
            past = d > lot.last_peak
            limit = older * SHARE / cards.fruits[f].keep if past else need
            take = min(need, spare[i], limit)
            if take > 0:
                lots[i] = take
                need -= take
                older -= take * cards.fruits[f].keep / SHARE * past
        if need > 1e-6:
            return None
    return lots, frozen


def _reachable(k: _Kitchen, d: int, f: int, older: float) -> float:
    cards = k.cards
    keep = cards.fruits[f].keep / SHARE
    cookable = {i: units for i, units in _spare(k, d, f).items() if d <= cards.lots[i].last_cooked}
    past = sum(units for i, units in cookable.items() if d > cards.lots[i].last_peak) * keep
    return min(past, older) + sum(u for i, u in cookable.items() if d <= cards.lots[i].last_peak) * keep


def _parts(bands: list[tuple[float, float]], whole: float) -> list[float] | None:
    """Shares of a mix within their bands, as much of the first fruit as can be; None if there are none."""
    if any(low > high + 1e-9 for low, high in bands) or sum(high for _, high in bands) < whole - 1e-9:
        return None
    parts = [low for low, _ in bands]
    rest = whole - sum(parts)
    for n, (low, high) in enumerate(bands):
        more = min(rest, high - low)
        parts[n] += more
        rest -= more
    return parts if abs(rest) < 1e-6 else None


def _do(k: _Kitchen, d: int, m: int, lots: Take, frozen: dict[int, float], sign: int = 1) -> None:
    card = k.cards.batches[m]
    potted = k.cards.batches[k.boil_of.get(m, m)]
    k.count[d][m] += sign
    if m in k.boil_of:
        (k.owed[d + 1].append if sign > 0 else k.owed[d + 1].remove)(k.boil_of[m])
    k.jars[card.recipe] += sign * potted.jars
    for name, units in k.cards.uses(potted).items():
        k.used[name] = k.used.get(name, 0) + sign * units
    for i, part in lots.items():
        k.fresh[i] -= sign * part
        key = (i, d, card.recipe)
        k.cooked[key] = k.cooked.get(key, 0.0) + sign * part
    for f, part in frozen.items():
        k.frozen[f] -= sign * part
        k.out_of_freezer[f] = k.out_of_freezer.get(f, 0.0) + sign * part


def _undo(k: _Kitchen, d: int, m: int, lots: Take, frozen: dict[int, float]) -> None:
    _do(k, d, m, lots, frozen, -1)


def _freeze(k: _Kitchen, d: int, people: tuple[Presence, ...], days: Days) -> None:
    """What is at its peak and not asked for tomorrow, oldest first, as far as room and hands go."""
    cards, freezer = k.cards, k.cards.kitchen.freezer
    tray = freezer.tray_litres_per_kg * 1000 / SCALE
    rate = float(rounded_down(freezer.freeze_kg_per_day, 1 / SCALE))
    drawn: Take = {}
    came: dict[int, float] = {}
    room = freezer.kg * SCALE - sum(k.frozen.values())
    litres = freezer.litres * 1000 - sum(u * cards.fruits[f].box_volume / 1000 for f, u in k.frozen.items())
    for f, fruit in enumerate(cards.fruits):
        spare = _spare(k, d, f)
        wanted = max(0.0, fruit.wanted_later - k.frozen[f])
        for i in _oldest(k, f):
            lot = cards.lots[i]
            if d > lot.last_peak:
                continue
            keep = fruit.keep / SHARE
            part = max(0.0, min(spare[i] * keep, rate, room, litres / tray, wanted))
            drawn[i] = part / keep
            came[f] = came.get(f, 0.0) + part
            rate, room, litres, wanted = rate - part, room - part, litres - part * tray, wanted - part
    share = 1.0
    while share > 0.1 and not _placed(k, d, people, days, {i: u * share for i, u in drawn.items()}):
        share -= 0.5
    for i, units in drawn.items() if share > 0.1 else ():
        k.freeze[i, d] = units * share
        k.fresh[i] -= units * share
    for f, units in came.items() if share > 0.1 else ():
        k.frozen[f] += units * share


def _give_up_what_has_no_room(k: _Kitchen, d: int) -> None:
    """What goes over soonest leaves a chiller that is too full for the night."""
    room = k.cards.kitchen.chiller.kg * SCALE
    lots = k.cards.lots
    for i in sorted(k.fresh, key=lambda i: lots[i].end):
        kept = sum(units for j, units in k.fresh.items() if lots[j].end > d)
        if kept <= room:
            return
        if lots[i].end > d:
            k.fresh[i] -= min(k.fresh[i], kept - room)


def _kept_for_punnets(k: _Kitchen, d: int, f: int) -> float:
    """Table fruit that tomorrow's punnets need beyond tomorrow's pick."""
    cards = k.cards
    if d + 1 >= cards.days:
        return 0.0
    coming = sum(lot.units for lot in cards.lots if lot.fruit == f and lot.table and lot.arrives == d + 1)
    return max(0.0, float(cards.demand[f][d + 1] - coming))


def _spare(k: _Kitchen, d: int, f: int) -> Take:
    """What may leave each lot of a fruit, oldest first, once tomorrow's punnets are kept back."""
    keep = _kept_for_punnets(k, d, f)
    spare: Take = {}
    for i in sorted(_oldest(k, f), key=lambda i: -k.cards.lots[i].last_sold):
        held = min(keep, k.fresh[i]) if d + 1 <= k.cards.lots[i].last_sold else 0.0
        keep -= held
        spare[i] = k.fresh[i] - held
    return spare


def _placed(k: _Kitchen, d: int, people: tuple[Presence, ...], days: Days, drawn: Take) -> bool:
    by_fruit = [0.0] * len(k.cards.fruits)
    for i, units in drawn.items():
        by_fruit[k.cards.lots[i].fruit] += units
    return (
        days.answer(DayWork(_batches(k, d), freeze_work(k.cards, tuple(by_fruit)), people)).timetable
        is not None
    )


def _as_allocation(
    k: _Kitchen, model: AllocationModel, staff: tuple[int, ...], days: Days, clock: Clock
) -> Found | None:
    """Let the model complete what habit leaves open (what to give up, which order to fill first)."""
    x = model.x
    busy = {d for d in range(k.cards.days) if any(k.count[d])} | {
        d for (_, d), u in k.freeze.items() if u > 0
    }
    fixed = {var.index: float(k.count[d][m]) for d, row in enumerate(x.count) for m, var in enumerate(row)}
    fixed |= {var.index: float(i in staff and k.cards.staff[i].day in busy) for i, var in enumerate(x.staff)}
    for table, mine in ((x.sold, k.sold), (x.freeze, k.freeze)):
        fixed |= {var.index: mine.get(key, 0.0) for key, var in table.items()}
    fixed |= {var.index: k.cooked.get(key, 0.0) for key, var in x.cooked.items()}
    fixed[model.avoid.index] = 0.0
    model.model.minimize(1_000_000_000 * model.goals["short"] + model.goals["spoiled"])
    answer = solve(model.model, model.masses, max(5.0, clock.left), 1, 0, lambda *_: False, fixed=fixed)
    if answer.values is None:
        return None
    allocation = model.read(answer.values)
    timetables = [days.answer(days.work(allocation, d)).timetable for d in range(k.cards.days)]
    if any(timetable is None for timetable in timetables):
        return None
    return Found(allocation, tuple(timetable for timetable in timetables if timetable is not None))
