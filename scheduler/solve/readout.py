"""An allocation and its day timetables read out as the rows of a Plan."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Literal

from scheduler.cards import MONEY, SCALE, BatchCard, Cards
from scheduler.model.allocation import DUST, Allocation
from scheduler.model.day import DayTimetable, stages_of
from scheduler.model.freezers import must_be_cleared
from scheduler.plan_rows import (
    PLAN_SCHEMA,
    Batch,
    DayShift,
    Draw,
    Finish,
    FreezerDay,
    Goal,
    JarDay,
    LotDay,
    Mix,
    OrderLine,
    Part,
    Plan,
    Purchase,
    ShopStock,
    Stage,
    StageKind,
    Status,
    Timetables,
    Totals,
)
from scheduler.solve.freezers import in_each_freezer

DIGITS = 6  # of a kg: below what any scale shows, so that balances still add up


def kg(units: float) -> float:
    """Card units as kg."""
    return round(units / SCALE, DIGITS) + 0.0


def read_out(
    cards: Cards,
    allocation: Allocation,
    timetables: tuple[DayTimetable, ...],
    *,
    method: Literal["exact", "habit"],
    status: Status,
    goals: tuple[Goal, ...],
    counts: Timetables,
    seed: int,
    seconds: float,
    habit: Totals | None = None,
) -> Plan:
    """The Plan of a placed allocation."""
    batches, stages = _batches(cards, allocation, timetables)
    jars, orders = _jars(cards, allocation)
    freezer, thaws = _freezer(cards, allocation)
    return Plan(
        schema=PLAN_SCHEMA,
        kitchen_id=cards.scenario.kitchen_id,
        scenario=cards.scenario.name,
        as_of=cards.situation.as_of,
        input_hash=cards.situation.input_hash,
        currency=cards.scenario.currency,
        method=method,
        seed=seed,
        seconds=round(seconds, 2),
        status=status,
        timetables=counts,
        goals=goals,
        lots=_lots(cards, allocation),
        mixes=_mixes(cards, allocation),
        draws=_draws(cards, allocation, thaws),
        freezer=freezer,
        batches=batches,
        stages=stages,
        shifts=_shifts(cards, allocation, timetables),
        finishes=tuple(Finish(cards.dates[d], t.ends, t.bound) for d, t in enumerate(timetables) if t.tasks),
        jars=jars,
        orders=orders,
        purchases=_purchases(cards, allocation),
        habit=habit,
        shop=_shop(cards, allocation),
    )


def _lots(cards: Cards, a: Allocation) -> tuple[LotDay, ...]:
    rows = []
    for i, lot in enumerate(cards.lots):
        last = min(lot.end, cards.days - 1)
        grade = "table" if lot.table else "kitchen"
        before = 0.0
        on_hand = lot.name in {row.name for row in cards.scenario.lots}
        for d in range(lot.arrives, last + 1):
            key = (i, d)
            left = a.left.get(key, 0.0)
            spoils = d == lot.end
            opening = float(lot.units) if on_hand and d == lot.arrives else before
            rows.append(
                LotDay(
                    day=cards.dates[d], lot=lot.name, fruit=cards.fruits[lot.fruit].name, grade=grade,
                    opening=kg(opening), arrived=kg(lot.units if d == lot.arrives and not on_hand else 0),
                    sold=kg(a.sold.get(key, 0)),
                    cooked=kg(sum(v for (j, day, _), v in a.cooked.items() if (j, day) == key)),
                    frozen=kg(a.freeze.get(key, 0)), given_up=kg(a.given_up.get(key, 0)),
                    spoiled=kg(left if spoils else 0), left=kg(0 if spoils else left),
                )
            )  # fmt: skip
            before = 0.0 if spoils else left
    return tuple(sorted(rows, key=lambda row: (row.day, row.fruit, row.lot)))


def _mixes(cards: Cards, a: Allocation) -> tuple[Mix, ...]:
    rows = []
    for d, making, f in sorted({*a.fresh, *a.thaw}):
        fresh, thawed = a.fresh.get((d, making, f), 0), a.thaw.get((d, making, f), 0)
        recipe = cards.scenario.recipes[making[0]].name
        rows.append(Mix(cards.dates[d], recipe, making[1], cards.fruits[f].name, kg(fresh), kg(thawed)))
    return tuple(rows)


def _draws(cards: Cards, a: Allocation, thaws: list[Draw]) -> tuple[Draw, ...]:
    rows = [
        Draw(cards.dates[d], cards.scenario.recipes[r].name, False, cards.lots[i].name, kg(units))
        for (i, d, r), units in a.cooked.items()
    ]
    return tuple(sorted([*rows, *thaws], key=lambda row: (row.day, row.recipe, row.from_freezer, row.lot)))


@dataclass
class _Box:
    """A freezer lot while it is read out."""

    use_by: date
    name: str
    units: float


def _freezer(cards: Cards, a: Allocation) -> tuple[tuple[FreezerDay, ...], list[Draw]]:
    """Pooled freezer flows read out by lot, first dated first out; and the draws they give."""
    rows: list[FreezerDay] = []
    draws: list[Draw] = []
    for f, fruit in enumerate(cards.fruits):
        stock = [_Box(z.use_by, z.name, float(z.units)) for z in cards.frozen if z.fruit == f]
        for d, day in enumerate(cards.dates):
            wanted = {m: v for (e, m, g), v in a.thaw.items() if (e, g) == (d, f)}
            before = [(box, box.units) for box in stock]
            for making, name, units in _first_dated_out([b for b in stock if b.use_by >= day], wanted):
                draws.append(Draw(day, cards.scenario.recipes[making[0]].name, making[1], name, kg(units)))
            frozen = a.frozen.get((f, d), 0.0)
            if frozen:
                box = _Box(day + timedelta(days=fruit.freezer_days), f"{fruit.name} frozen {day}", 0.0)
                before.append((box, 0.0))
            lost = a.discarded.get((f, d), 0.0) if must_be_cleared(cards, d) else 0.0
            for box, opening in before:
                came = frozen if not opening and box.name == f"{fruit.name} frozen {day}" else 0.0
                remains = box.units + came
                gone = remains if box.use_by <= day else min(lost, remains)
                lost = max(0.0, lost - gone) if box.use_by >= day else lost
                rows.append(
                    FreezerDay(day, box.name, fruit.name, box.use_by, kg(opening), kg(came),
                               kg(opening - box.units), kg(gone), kg(remains - gone))
                )  # fmt: skip
                box.units = remains - gone
            stock = sorted((b for b, _ in before if b.units > DUST), key=lambda b: (b.use_by, b.name))
    rows.sort(key=lambda row: (row.day, row.fruit, row.use_by, row.lot))
    return in_each_freezer(cards, rows), draws


def _first_dated_out(
    stock: list[_Box], wanted: dict[tuple[int, bool], float]
) -> list[tuple[tuple[int, bool], str, float]]:
    """Take what each making wants from the boxes in order; who took what from which lot."""
    drawn = []
    for making in sorted(wanted):
        need = wanted[making]
        for box in stock:
            part = min(need, box.units)
            if part > DUST:
                box.units -= part
                need -= part
                drawn.append((making, box.name, part))
    return drawn


def _batches(
    cards: Cards, a: Allocation, timetables: tuple[DayTimetable, ...]
) -> tuple[tuple[Batch, ...], tuple[Stage, ...]]:
    batches: list[Batch] = []
    stages: list[Stage] = []
    dripping: list[Batch] = []
    people = [person.name for person in cards.scenario.people]
    for d, timetable in enumerate(timetables):
        todays = a.batches(d)
        day = cards.dates[d]
        first = [stages_of(cards.batches[m])[0][0] for m in todays]
        began = {t.batch: t.start for t in timetable.tasks if t.batch >= 0 and t.kind is first[t.batch]}
        names: dict[int, str] = {}
        yesterday, dripping = dripping, []
        for b in sorted(range(len(todays)), key=lambda b: (todays[b], began[b])):
            card = cards.batches[todays[b]]
            recipe = cards.scenario.recipes[card.recipe].name
            same = sum(1 for name in names.values() if name.startswith(f"{day.isoformat()} {recipe} #"))
            names[b] = f"{day.isoformat()} {recipe} #{same + 1}"
            juice = next((old for old in yesterday if _is_juice_of(card, recipe, old)), None)
            if juice:
                yesterday.remove(juice)
            batches.append(
                Batch(
                    id=names[b], day=day, recipe=recipe, from_freezer=card.from_freezer,
                    pan=cards.pans_in_use[d][card.pan][timetable.pans[b]],
                    ring=cards.rings_in_use[d][card.ring][timetable.rings[b]], fill_step=card.fill_step,
                    kg=kg(card.kg), filled=card.filled, sugar_kg=kg(card.sugar), lemons=card.lemons,
                    pectin_g=card.pectin, set_temperature_c=round(card.set_c, 2),
                    last_jar_c=round(card.last_jar_c, 2), part=card.part, juice_of=juice.id if juice else "",
                )
            )  # fmt: skip
            if card.part is Part.SOFTEN:
                dripping.append(batches[-1])
            stages += _standing(cards, names[b], d, began[b], card.to_pot - card.stand, card.stand)
        for task in timetable.tasks:
            who = tuple(people[person] for person in task.people)
            stages.append(Stage(day, names.get(task.batch, ""), task.kind, task.start, task.end, who))
    stages.sort(key=lambda s: (s.day, s.start, s.batch, s.end))
    return tuple(sorted(batches, key=lambda batch: batch.id)), tuple(stages)


def _is_juice_of(card: BatchCard, recipe: str, softened: Batch) -> bool:
    """Whether a card boils the juice of a batch of the day before."""
    juice = recipe, card.from_freezer, kg(card.kg)
    return card.part is Part.BOIL and juice == (softened.recipe, softened.from_freezer, softened.kg)


def _standing(cards: Cards, batch: str, d: int, began: int, after: int, minutes: int) -> list[Stage]:
    if not minutes:
        return []
    return [Stage(cards.dates[d], batch, StageKind.STAND, began + after, began + after + minutes, ())]


def _shifts(cards: Cards, a: Allocation, timetables: tuple[DayTimetable, ...]) -> tuple[DayShift, ...]:
    rows = []
    for i in a.staff:
        card = cards.staff[i]
        breaks = dict(timetables[card.day].breaks)
        rows.append(
            DayShift(
                day=cards.dates[card.day], person=cards.scenario.people[card.person].name,
                start=card.start, end=card.shift.end, overtime_minutes=card.leave - card.shift.end,
                break_start=breaks.get(card.person) if card.break_minutes else None,
                break_minutes=card.break_minutes,
            )
        )  # fmt: skip
    return tuple(sorted(rows, key=lambda row: (row.day, row.start, row.person)))


def _jars(cards: Cards, a: Allocation) -> tuple[tuple[JarDay, ...], tuple[OrderLine, ...]]:
    rows = []
    for p, of in enumerate(cards.products):
        left = of.jars_on_hand
        for d, day in enumerate(cards.dates):
            made = sum(n * cards.kept(cards.batches[m], p) for m, n in enumerate(a.count[d]) if n)
            due = [
                n
                for order, n in zip(cards.orders, a.filled, strict=True)
                if (order.product, order.due) == (p, d)
            ]
            left += made - sum(due)
            labelled = a.labelled.get((p, d), 0)
            rows.append(JarDay(day, *_named(cards, p), made, sum(due), left, labelled))
    lines = [
        OrderLine(order.name, *_named(cards, order.product), cards.dates[order.due], order.jars, n)
        for order, n in zip(cards.orders, a.filled, strict=True)
    ]
    return tuple(rows), tuple(lines)


def _named(cards: Cards, product: int) -> tuple[str, str]:
    """Names of a product's recipe and jar."""
    of = cards.products[product]
    return cards.scenario.recipes[of.recipe].name, of.jar


def _shop(cards: Cards, a: Allocation) -> tuple[ShopStock, ...]:
    return tuple(
        ShopStock(
            cards.dates[row.day], *_named(cards, row.product), row.jars,
            a.settled(cards, row.day, row.product),
        )
        for row in cards.shop
    )  # fmt: skip


def _purchases(cards: Cards, a: Allocation) -> tuple[Purchase, ...]:
    rows = []
    for bought in a.purchases(cards):
        good, comes, units = cards.goods[bought.good], cards.dates[bought.comes], bought.units
        in_packs = cards.scenario.goods[bought.good].pack is not None
        rows.append(
            Purchase(good.name, units / good.scale, cards.dates[bought.needed],
                     comes - timedelta(days=good.lead), round(units * good.price / MONEY, 2),
                     units // good.pack if in_packs else 0, comes)
        )  # fmt: skip
    return tuple(rows)
