"""What the habit has in hand as it goes through the days: stocks, sales, and the fruit of a batch."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from scheduler.cards import SCALE, SHARE, BatchCard, Cards
from scheduler.domain.kitchen import Thaw
from scheduler.model.freezers import must_be_cleared
from scheduler.plan_rows import Part
from scheduler.solve.freezers import what_is_saved
from scheduler.solve.kept import Rows

Take = dict[int, float]


@dataclass
class Stocks:
    """Stocks as the habit goes through the days."""

    cards: Cards
    fresh: Take = field(default_factory=dict)
    frozen: dict[int, float] = field(default_factory=dict)
    out_of_freezer: dict[int, float] = field(default_factory=dict)
    jars: dict[int, int] = field(default_factory=dict)
    """Jars of each product: on hand at the start, and made."""
    taken: int = 0
    """Jars of all products that orders due by today can have taken."""
    made: dict[int, int] = field(default_factory=dict)
    """Jars made of each recipe."""
    used: dict[tuple[str, int], float] = field(default_factory=dict)
    """Goods by the day on which they are used."""
    sold: dict[tuple[int, int], float] = field(default_factory=dict)
    freeze: dict[tuple[int, int], float] = field(default_factory=dict)
    cooked: dict[tuple[int, int, int], float] = field(default_factory=dict)
    count: list[list[int]] = field(default_factory=list)
    owed: list[list[int]] = field(default_factory=list)
    """Cards by day that boil the juice softened the day before."""
    thaws: float = math.inf
    """Units that still found room in the chiller last night to thaw for today."""
    boil_of: dict[int, int] = field(default_factory=dict)
    """For each card that softens, the quickest that boils its juice."""
    labelled: dict[tuple[int, int], int] = field(default_factory=dict)
    working: tuple[int, ...] = ()
    """The days on which anybody comes in."""
    due_jars: int = 0
    """Jars whose labels cannot be put off beyond today."""
    held: dict[int, int] = field(default_factory=dict)
    """By held row the card of the batch that meets it."""
    leave_by: int | None = None
    """The day by whose end some of what lies in the freezer must be cooked, if any."""


def as_it_was(k: Stocks, d: int, rows: Rows) -> None:
    """Do a day as an earlier plan did it."""
    cards = k.cards
    k.count.append([0] * len(cards.batches))
    for m, _ in rows.batches(d):
        k.count[d][m] += 1
        card = cards.batches[m]
        if m in k.boil_of:
            k.owed[d + 1].append(k.boil_of[m])
        for p in k.jars:
            k.jars[p] += cards.kept(card, p)
        k.made[card.recipe] = k.made.get(card.recipe, 0) + sum(card.kept)
        for name, units in cards.uses(card).items():
            k.used[name, d] = k.used.get((name, d), 0) + units
    left = rows.of_lot("left")
    k.fresh = {i: kg * SCALE for i in range(len(cards.lots)) if (kg := left((i, d))) > 0}
    for f in k.frozen:
        k.frozen[f] = SCALE * rows.frozen("left")((f, d))
        gone = rows.frozen("thawed")((f, d)) + rows.frozen("discarded")((f, d))
        k.out_of_freezer[f] = k.out_of_freezer.get(f, 0.0) + SCALE * gone
    k.labelled |= {(p, d): jars for p in k.jars if (jars := rows.labelled(p, d))}
    room_to_thaw(k, d)


def discard_past_its_date(k: Stocks, d: int) -> None:
    """Frozen fruit whose last day was before today, and what a freezer was cleared of and had no other room;
    the nearest date is thawed, and discarded, first."""
    cleared = d > 0 and must_be_cleared(k.cards, d - 1)
    saved = what_is_saved(k.cards, d - 1, k.frozen) if cleared else k.frozen
    for f in k.frozen:
        dated = sum(z.units for z in k.cards.frozen if z.fruit == f and 0 <= z.last < d)
        late = max(0.0, dated - k.out_of_freezer.get(f, 0.0), k.frozen[f] - saved[f])
        k.frozen[f] -= late
        k.out_of_freezer[f] = k.out_of_freezer.get(f, 0.0) + late


def sell(k: Stocks, d: int) -> None:
    """Oldest punnets first, up to what is asked for."""
    for f, demand in enumerate(k.cards.demand):
        wanted = float(demand[d])
        for i in oldest(k, f):
            if d <= k.cards.lots[i].last_sold and wanted > 0:
                part = min(wanted, k.fresh[i])
                k.sold[i, d] = part
                k.fresh[i] -= part
                wanted -= part


def oldest(k: Stocks, fruit: int) -> list[int]:
    lots = k.cards.lots
    return sorted((i for i in k.fresh if lots[i].fruit == fruit), key=lambda i: lots[i].last_cooked)


def missing(k: Stocks, card: BatchCard) -> int:
    """Jars that are still asked for of the product that a card makes and is asked for most."""
    mine = [p for p in k.jars if k.cards.kept(card, p)]
    return max((k.cards.wanted[p] - k.jars[p] for p in mine), default=0)


def mix_for(k: Stocks, d: int, card: BatchCard) -> tuple[Take, dict[int, float]] | None:
    """Fruit for one batch: units as picked from fresh lots, prepared units from the freezer by fruit."""
    cards = k.cards
    shares = cards.scenario.recipes[card.recipe].fruits
    fruits = [cards.fruit_index[share.fruit] for share in shares]
    older: float = cards.kitchen.older_share * card.kg
    lots: Take = {}
    frozen: dict[int, float] = {}
    there = [k.frozen[f] if card.from_freezer else _reachable(k, d, f, older) for f in fruits]
    if card.from_freezer and card.kg > k.thaws:
        return None
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
        spare = spare_of(k, d, f)
        for i in oldest(k, f):
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


def _reachable(k: Stocks, d: int, f: int, older: float) -> float:
    cards = k.cards
    keep = cards.fruits[f].keep / SHARE
    cookable = {i: units for i, units in spare_of(k, d, f).items() if d <= cards.lots[i].last_cooked}
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


def do(k: Stocks, d: int, m: int, lots: Take, frozen: dict[int, float], sign: int = 1) -> None:
    card = k.cards.batches[m]
    potted = k.cards.batches[k.boil_of.get(m, m)]
    k.count[d][m] += sign
    k.thaws -= sign * sum(frozen.values())
    if m in k.boil_of:
        (k.owed[d + 1].append if sign > 0 else k.owed[d + 1].remove)(k.boil_of[m])
    for p in k.jars:
        k.jars[p] += sign * k.cards.kept(potted, p)
    k.made[card.recipe] = k.made.get(card.recipe, 0) + sign * sum(potted.kept)
    for name, units in k.cards.uses(potted).items():
        used = (name, d + (m in k.boil_of))
        k.used[used] = k.used.get(used, 0) + sign * units
    for i, part in lots.items():
        k.fresh[i] -= sign * part
        key = (i, d, card.recipe)
        k.cooked[key] = k.cooked.get(key, 0.0) + sign * part
    for f, part in frozen.items():
        k.frozen[f] -= sign * part
        k.out_of_freezer[f] = k.out_of_freezer.get(f, 0.0) + sign * part


def made_on(k: Stocks, product: int, day: int) -> int:
    """Jars of a product for sale that the batches of a day make."""
    return sum(n * k.cards.kept(k.cards.batches[m], product) for m, n in enumerate(k.count[day]) if n)


def taken_by_orders(k: Stocks, d: int) -> int:
    """Jars that orders due by a day can have taken of what was made before it, those due first first.

    Orders that take no part delivery are left out: whether there was enough is not known yet.
    """
    settle, taken = k.cards.kitchen.settle_days, 0
    for p, of in enumerate(k.cards.products):
        made = [made_on(k, p, e) for e in range(len(k.count))]
        gone = 0
        due = sorted((o.due, o.jars) for o in k.cards.orders if o.product == p and o.parts and o.due <= d)
        for day, jars in due:
            ready = sum(made[: max(0, day - settle + 1)])
            if k.cards.kitchen.labels:
                ready = min(ready, sum(n for (q, e), n in k.labelled.items() if q == p and e <= day))
            gone += min(jars, of.jars_on_hand + ready - gone)
        taken += gone
    return taken


def goods_are_there(k: Stocks, d: int, potted: BatchCard) -> bool:
    """Whether the goods of a batch thought of today, potted today or tomorrow, are there within their dates,
    or in time to buy."""
    day, uses = d + (potted.part is Part.BOIL), k.cards.uses(potted)
    for good in k.cards.goods:
        units = uses.get(good.name, 0)
        if not units or (good.comes and good.comes[0] <= d):
            continue
        for first, there in ((0, good.on_hand), *good.lasting):
            used = sum(n for (name, when), n in k.used.items() if name == good.name and when >= first)
            if first <= day and used + units > there + sum(good.delivered[: d + 1]):
                return False
    return True


def undo(k: Stocks, d: int, m: int, lots: Take, frozen: dict[int, float]) -> None:
    do(k, d, m, lots, frozen, -1)


def give_up_what_has_no_room(k: Stocks, d: int) -> None:
    """What goes over soonest leaves a chiller that is too full for the night."""
    room = k.cards.kitchen.chiller.kg * SCALE
    lots = k.cards.lots
    for i in sorted(k.fresh, key=lambda i: lots[i].end):
        kept = sum(units for j, units in k.fresh.items() if lots[j].end > d)
        if kept <= room:
            return
        if lots[i].end > d:
            k.fresh[i] -= min(k.fresh[i], kept - room)


def room_to_thaw(k: Stocks, d: int) -> None:
    """The room that the chiller has left in the evening, for what is cooked from the freezer tomorrow."""
    if k.cards.kitchen.thaw is Thaw.OVERNIGHT:
        kept = sum(units for i, units in k.fresh.items() if k.cards.lots[i].end > d)
        k.thaws = k.cards.kitchen.chiller.kg * SCALE - kept


def _kept_for_punnets(k: Stocks, d: int, f: int) -> float:
    """Table fruit that tomorrow's punnets need beyond tomorrow's pick."""
    cards = k.cards
    if d + 1 >= cards.days:
        return 0.0
    coming = sum(lot.units for lot in cards.lots if lot.fruit == f and lot.table and lot.arrives == d + 1)
    return max(0.0, float(cards.demand[f][d + 1] - coming))


def spare_of(k: Stocks, d: int, f: int) -> Take:
    """What may leave each lot of a fruit, oldest first, once tomorrow's punnets are kept back."""
    keep = _kept_for_punnets(k, d, f)
    spare: Take = {}
    for i in sorted(oldest(k, f), key=lambda i: -k.cards.lots[i].last_sold):
        held = min(keep, k.fresh[i]) if d + 1 <= k.cards.lots[i].last_sold else 0.0
        keep -= held
        spare[i] = k.fresh[i] - held
    return spare
