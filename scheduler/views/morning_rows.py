"""What matters on one day, in the order a cook asks: what needs a decision, the pans, hands, fruit, goods."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from scheduler.domain.scenario import Scenario
from scheduler.languages import message, say, say_many, spoken
from scheduler.plan_rows import Plan, StageKind
from scheduler.views import chore_tables, freezing_tables, tables, trade_tables, words

Row = tuple[str, str, str]
"""When or who, what, small print."""
DUST = 0.05
"""kg below which nothing is said."""


@dataclass(frozen=True, slots=True)
class Morning:
    """One day of a plan; every part may be empty."""

    numbers: tuple[tuple[str, str], ...]
    """A number and what it is."""
    urgent: tuple[str, ...]
    """What cannot wait until tomorrow, or is lost today."""
    pans: tuple[Row, ...]
    hands: tuple[Row, ...]
    fruit: tuple[Row, ...]
    goods: tuple[Row, ...]
    """What comes, goes out, is ordered or taken out today."""


def morning(plan: Plan, scenario: Scenario, day: date) -> Morning:
    """What a plan holds for a day."""
    return Morning(
        numbers=tuple(_numbers(plan, scenario, day)),
        urgent=tuple(_urgent(plan, scenario, day)),
        pans=tuple(_pans(plan, scenario, day)),
        hands=tuple(_hands(plan, day)),
        fruit=tuple(_fruit(plan, scenario, day)),
        goods=tuple(_goods(plan, scenario, day)),
    )


def _numbers(plan: Plan, scenario: Scenario, day: date) -> Iterator[tuple[str, str]]:
    picked = sum(lot.kg for lot in scenario.picked or scenario.picks if lot.day == day)
    batches = [batch for batch in plan.batches if batch.day == day]
    if picked > DUST:
        yield words.mass(picked), say("to pick")
    yield str(len(batches)), say_many("batch", "batches", len(batches))
    yield words.number(sum(batch.jars for batch in batches)), say("jars filled")
    yield str(sum(shift.day == day for shift in plan.shifts)), say("people in")
    ends = next((finish.ends for finish in plan.finishes if finish.day == day), None)
    if ends is not None:
        yield words.clock(ends), say("last work ends")


def _urgent(plan: Plan, scenario: Scenario, day: date) -> Iterator[str]:
    for bought in plan.purchases:
        if bought.order_by == day:
            amount = trade_tables.amount(bought, scenario)
            yield say(
                "Last day to order {good}: {amount}, for {day}.",
                good=bought.good,
                amount=amount,
                day=words.day_name(bought.needed),
            )
    for line in plan.orders:
        if line.due == day and line.filled < line.jars:
            missing = words.jars(line.jars - line.filled)
            yield say("{order} goes out today with {missing} missing.", order=line.order, missing=missing)
    for fruit in scenario.fruits:
        rows = [row for row in plan.lots if row.day == day and row.fruit == fruit.name]
        gone, over = sum(row.given_up for row in rows), sum(row.spoiled for row in rows)
        if gone > DUST:
            yield say("{mass} of {name} is given up today.", mass=words.mass(gone), name=fruit.name)
        if over > DUST:
            yield say("{mass} of {name} goes over today.", mass=words.mass(over), name=fruit.name)
    past = sum(row.discarded for row in plan.freezer if row.day == day)
    if past > DUST:
        yield say("{mass} leaves the freezer to be thrown away.", mass=words.mass(past))


def _pans(plan: Plan, scenario: Scenario, day: date) -> Iterator[Row]:
    batches = [batch for batch in plan.batches if batch.day == day]
    times = {
        batch.id: min(
            (stage.start for stage in plan.stages if stage.batch == batch.id and stage.kind in _ON_THE_RING),
            default=0,
        )
        for batch in batches
    }
    for batch in sorted(batches, key=lambda batch: (times[batch.id], batch.ring)):
        cooks = dict.fromkeys(
            name
            for stage in plan.stages
            if stage.batch == batch.id and stage.kind in _ON_THE_RING
            for name in stage.people
        )
        what = f"{words.letters(batch, plan, scenario)} {batch.recipe}, {words.mass(batch.kg)}"
        jars = f", {words.jars(batch.jars)}" if batch.jars else ""
        who = f"; {words.listed(list(cooks))}" if cooks else ""
        yield (
            words.clock(times[batch.id]),
            what + jars,
            say("{pan} on {ring}{who}", pan=batch.pan, ring=batch.ring, who=who),
        )


_ON_THE_RING = frozenset(
    {StageKind.SOFTEN, StageKind.DISSOLVE, StageKind.BOIL, StageKind.SET_TEST, StageKind.REBOIL}
)


def _hands(plan: Plan, day: date) -> Iterator[Row]:
    for shift in sorted((s for s in plan.shifts if s.day == day), key=lambda s: (s.start, s.person)):
        kinds = dict.fromkeys(
            spoken(stage.kind)
            for stage in sorted(plan.stages, key=lambda stage: stage.start)
            if stage.day == day and shift.person in stage.people
        )
        rest = (
            "" if shift.break_start is None else say("break at {time}", time=words.clock(shift.break_start))
        )
        over = (
            say("{overtime_minutes} min of overtime", overtime_minutes=shift.overtime_minutes)
            if shift.overtime_minutes
            else ""
        )
        yield (
            say("{first} to {last}", first=words.clock(shift.start), last=words.clock(shift.leaves)),
            f"{shift.person}: {', '.join(kinds) or say('nothing planned')}",
            ", ".join(part for part in (rest, over) if part),
        )


def _fruit(plan: Plan, scenario: Scenario, day: date) -> Iterator[Row]:
    frame = tables.fates(plan, scenario, day)
    for fruit in scenario.fruits:
        came = sum(row.arrived for row in plan.lots if row.day == day and row.fruit == fruit.name)
        on_hand = sum(row.opening for row in plan.lots if row.day == day and row.fruit == fruit.name)
        if came + on_hand <= DUST:
            continue
        fates = {name: float(frame.loc[fruit.name, name]) for name in _TOLD}  # type: ignore[arg-type]
        told = [f"{words.mass(kg)} {spoken(_TOLD[name])}" for name, kg in fates.items() if kg > DUST]
        yield (
            f"{fruit.letter} {fruit.name}",
            ", ".join(told) or say("nothing today"),
            say("{mass} comes in, {mass2} from before", mass=words.mass(came), mass2=words.mass(on_hand)),
        )


_TOLD = {
    "sold": message("to sell"),
    "cooked": message("to cook"),
    "frozen": message("to freeze"),
    "left": message("stays in the chiller"),
}


def _goods(plan: Plan, scenario: Scenario, day: date) -> Iterator[Row]:
    units = {good.name: good.unit for good in scenario.goods}
    for delivery in scenario.deliveries:
        if delivery.day == day:
            at = "" if delivery.at is None else say("at {time}", time=words.clock(delivery.at))
            yield (
                say("Comes"),
                f"{delivery.good}, {words.quantity(delivery.quantity, units[delivery.good])}",
                at,
            )
    for bought in plan.purchases:
        if bought.arrives == day:
            amount = trade_tables.amount(bought, scenario)
            yield (
                say("Comes"),
                f"{bought.good}, {amount}",
                say("ordered by {day}", day=words.day_name(bought.order_by)),
            )
    for line in plan.orders:
        if line.due == day:
            product = words.product(line.recipe, line.jar, scenario)
            yield (
                say("Goes out"),
                say("{filled} of {jars} {product}", filled=line.filled, jars=line.jars, product=product),
                line.order,
            )
    for out, cooked in freezing_tables.days_taken_out(plan, scenario):
        if out == day:
            when = say("for today") if cooked == day else say("for {day}", day=words.day_name(cooked))
            yield say("Take out"), chore_tables.lots_for(plan, cooked), when
    labelled = sum(row.labelled for row in plan.jars if row.day == day)
    if labelled:
        yield say("Label"), words.jars(labelled), say("of the days before")
    tomorrow = day + timedelta(days=1)
    closed = [closure for closure in scenario.closures if closure.day in (day, tomorrow)]
    for closure in closed:
        yield say("Closed"), words.closed(closure), say("today") if closure.day == day else say("tomorrow")
