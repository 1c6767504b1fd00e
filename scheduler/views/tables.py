"""A plan as tables in the cook's words: the numbers behind every chart and the terminal summary."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import date
from itertools import pairwise
from typing import Any

import pandas as pd

from scheduler.domain.scenario import Scenario
from scheduler.languages import message, say, spoken
from scheduler.plan_rows import OF_NO_BATCH, Batch, Part, Plan, StageKind, Totals
from scheduler.views import chore_tables, trade_tables, words
from scheduler.views.held_tables import held_sign, is_held
from scheduler.views.look import FATES

LOST = ("given_up", "spoiled", "discarded")
"""Totals that went to waste: thrown away fresh, gone over, thrown away from the freezer."""


def fates(plan: Plan, scenario: Scenario, day: date | None = None) -> pd.DataFrame:
    """kg of each fruit by what became of it (columns ``FATES``), of the whole plan or of one day.

    Sold, given up, spoiled and left are kg as picked; cooked and frozen kg as prepared from fresh fruit;
    trimmed is the difference, so that a row adds up to what was picked and on hand. Of one day,
    left is what stands in the chiller that evening.
    """
    last = max((row.day for row in plan.lots), default=plan.as_of)
    rows: dict[str, dict[str, float]] = {}
    for fruit in scenario.fruits:
        lots = [r for r in plan.lots if r.fruit == fruit.name and day in (None, r.day)]
        cooked = sum(m.fresh_kg for m in plan.mixes if m.fruit == fruit.name and day in (None, m.day))
        frozen = sum(f.frozen for f in plan.freezer if f.fruit == fruit.name and day in (None, f.day))
        drawn = sum(r.cooked + r.frozen for r in lots)
        rows[fruit.name] = {
            "sold": sum(r.sold for r in lots),
            "cooked": cooked,
            "frozen": frozen,
            "trimmed": drawn - cooked - frozen,
            "given up": sum(r.given_up for r in lots),
            "spoiled": sum(r.spoiled for r in lots),
            "left": sum(r.left for r in lots if r.day == (day or last)),
        }
    frame = pd.DataFrame.from_dict(rows, orient="index", columns=list(FATES))
    # Adding up leaves errors near 1e-14, which would print as -0.0.
    return frame.round(3) + 0.0


def fate_table(plan: Plan, scenario: Scenario) -> pd.DataFrame:
    """One row per fruit: what came in, what became of it, and what the freezer gave."""
    frame = fates(plan, scenario)
    first = min((row.day for row in plan.lots), default=plan.as_of)
    names = [fruit.name for fruit in scenario.fruits]
    on_hand = [row for row in plan.lots if row.day == first]
    frame.insert(
        0, message("picked"), [sum(r.arrived for r in plan.lots if r.fruit == name) for name in names]
    )
    frame.insert(
        1, message("on hand"), [sum(r.opening for r in on_hand if r.fruit == name) for name in names]
    )
    frame[message("thawed")] = [sum(r.thawed for r in plan.freezer if r.fruit == name) for name in names]
    discarded = [sum(r.discarded for r in plan.freezer if r.fruit == name) for name in names]
    frame[message("thrown away frozen")] = discarded
    frame.index = pd.Index([f"{f.letter} {f.name}" for f in scenario.fruits], name=say("fruit (kg)"))
    return frame.rename(columns=spoken).round(1) + 0.0


def batch_table(plan: Plan, scenario: Scenario, days: Iterable[date] | None = None) -> pd.DataFrame:
    """One row per batch in the order of cooking, with its clock times; nothing where nothing is potted."""
    wanted = set(days) if days is not None else None
    times = clock_times(plan)
    chosen = [b for b in plan.batches if wanted is None or b.day in wanted]
    chosen.sort(key=lambda b: (b.day, times.get(b.id, (0, 0)), b.id))
    frame = _frame(
        chosen,
        {
            say("day"): lambda b: words.day_name(b.day),
            say("fruit"): lambda b: words.letters(b, plan, scenario),
            say("recipe"): lambda b: b.recipe + (say(" (from the freezer)") if b.from_freezer else ""),
            say("part"): lambda b: spoken(b.part),
            say("ring"): lambda b: b.ring,
            say("pan"): lambda b: b.pan,
            say("on the ring"): lambda b: words.clock(times[b.id][0]) if b.id in times else "",
            say("potted by"): lambda b: words.clock(times[b.id][1]) if b.id in times and b.jars else "",
            say("fruit kg"): lambda b: round(b.kg, 1),
            say("jars"): lambda b: b.jars or None,
            say("sizes"): lambda b: words.filled(b.filled, scenario.recipe(b.recipe)) if b.jars else "",
            say("sugar kg"): lambda b: round(b.sugar_kg, 1) if b.jars else None,
            say("lemons"): lambda b: b.lemons if b.jars else None,
            say("pectin g"): lambda b: round(b.pectin_g) if b.jars else None,
            say("boiled to °C"): lambda b: round(b.set_temperature_c, 1) if b.jars else None,
            say("last jar °C"): lambda b: round(b.last_jar_c, 1) if b.jars else None,
            say("juice"): lambda b: words.juice(b, plan),
            say("held"): lambda b: held_sign() if is_held(b, plan, scenario) else "",
            say("batch"): lambda b: b.id,
        },
    )
    if not any(row.hold for row in scenario.held):
        frame = frame.drop(columns=say("held"), errors="ignore")
    if all(len(scenario.recipe(b.recipe).sizes) == 1 for b in chosen):
        frame = frame.drop(columns=say("sizes"), errors="ignore")
    if all(b.part is Part.WHOLE for b in chosen):
        return frame.drop(columns=[say("part"), say("juice")], errors="ignore")
    return frame.astype({say("jars"): "Int64", say("lemons"): "Int64", say("pectin g"): "Int64"})


def clock_times(plan: Plan) -> dict[str, tuple[int, int]]:
    """Batch id → minutes from midnight when it goes on the ring and when its last jar is filled, or all of
    it is in the bag of a drip stand."""
    found: dict[str, tuple[int, int]] = {}
    for s in plan.stages:
        if s.kind in _FROM_RING_TO_JAR:
            start, end = found.get(s.batch, (s.start, s.end))
            found[s.batch] = min(start, s.start), max(end, s.end)
    return found


_FROM_RING_TO_JAR = frozenset(StageKind) - OF_NO_BATCH - {
    StageKind.PREPARE, StageKind.WASH_JARS, StageKind.LOAD_JARS, StageKind.STAND_BY, StageKind.WASH,
}  # fmt: skip


def work_table(plan: Plan, scenario: Scenario, day: date, person: str | None = None) -> pd.DataFrame:
    """A day's stages in order, of everybody or of one person, with arriving, the break and leaving."""
    by_id = {b.id: b for b in plan.batches}
    rows: list[tuple[int, int, str, str, str]] = []
    for s in plan.stages:
        if s.day == day and (person is None or person in s.people):
            batch = by_id.get(s.batch)
            what = _batch_words(batch, plan, scenario) if batch else chore_tables.about(s, plan)
            rows.append((s.start, s.end, spoken(s.kind), what, ", ".join(s.people)))
    for shift in plan.shifts:
        if shift.day == day and person in (None, shift.person):
            late = say("({n} min of it overtime)", n=shift.overtime_minutes) if shift.overtime_minutes else ""
            rows.append((shift.start, shift.start, say("arrives"), "", shift.person))
            rows.append((shift.leaves, shift.leaves, say("goes home"), late, shift.person))
            if shift.break_start is not None:
                stop = shift.break_start + shift.break_minutes
                rows.append((shift.break_start, stop, say("break"), "", shift.person))
    rows.sort()
    return _frame(
        rows,
        {
            say("from"): lambda r: words.clock(r[0]),
            say("to"): lambda r: words.clock(r[1]),
            say("work"): lambda r: r[2],
            say("on"): lambda r: r[3],
            say("who"): lambda r: r[4],
        },
    )


def works_table(plan: Plan, scenario: Scenario, days: Sequence[date]) -> pd.DataFrame:
    """The stages of several days in order, each with its day."""
    frames = []
    for day in days:
        frame = work_table(plan, scenario, day)
        frame.insert(0, say("day"), words.day_name(day))
        frames.append(frame)
    return pd.concat(frames, ignore_index=True)


def _batch_words(batch: Batch, plan: Plan, scenario: Scenario) -> str:
    return f"{words.letters(batch, plan, scenario)} {batch.recipe}, {batch.pan}, {batch.ring}"


def load_table(plan: Plan) -> pd.DataFrame:
    """One row per day on which anything is cooked, frozen or sold: how full the day is.

    Hours are of all people together. What is done on no day at all has no column.
    """
    days = sorted({r.day for r in plan.lots} | {b.day for b in plan.batches} | {r.day for r in plan.freezer})
    rows = [_day_load(plan, day) for day in days]
    busy = [
        row
        for row in rows
        if any(row[what] for what in (say("batches"), say("frozen kg"), say("sold kg"), say("people")))
    ]
    frame = pd.DataFrame(busy, columns=list(_day_load(plan, plan.as_of)))
    idle = [name for name in (say("cooked kg"), say("frozen kg"), say("sold kg")) if not frame[name].any()]
    return frame.drop(columns=idle)


def _day_load(plan: Plan, day: date) -> dict[str, Any]:
    batches = [b for b in plan.batches if b.day == day]
    shifts = [s for s in plan.shifts if s.day == day]
    worked = [s for s in plan.stages if s.day == day and s.kind is not StageKind.STAND_BY]
    work = sum((s.end - s.start) * len(s.people) for s in worked)
    present = sum(s.leaves - s.start - s.break_minutes for s in shifts)
    finish = next((f for f in plan.finishes if f.day == day), None)
    return {
        say("day"): words.day_name(day),
        say("batches"): len(batches),
        say("jars"): sum(b.jars for b in batches),
        say("cooked kg"): round(sum((b.fruit_kg for b in batches), 0.0), 1),
        say("frozen kg"): round(sum((r.frozen for r in plan.freezer if r.day == day), 0.0), 1),
        say("sold kg"): round(sum((r.sold for r in plan.lots if r.day == day), 0.0), 1),
        say("people"): len(shifts),
        say("hours present"): words.hours(present),
        say("hours of work"): words.hours(work),
        say("ends"): words.clock(finish.ends) if finish else "",
        say("earliest end"): words.clock(finish.bound) if finish else "",
    }


def freezer_table(plan: Plan, scenario: Scenario) -> pd.DataFrame:
    """Every freezer lot and day on which it holds or moves anything; of two freezers what lies in each."""
    rows = [r for r in plan.freezer if max(r.opening, r.frozen, r.left) > 0]
    kitchen = scenario.kitchen
    columns: dict[str, Callable[[Any], Any]] = {
        say("day"): lambda r: words.day_name(r.day),
        say("lot"): lambda r: r.lot,
        say("use by"): lambda r: r.use_by.isoformat(),
        say("opening kg"): lambda r: round(r.opening, 1),
        say("frozen kg"): lambda r: round(r.frozen, 1),
        say("thawed kg"): lambda r: round(r.thawed, 1),
        say("thrown away kg"): lambda r: round(r.discarded, 1),
        say("left kg"): lambda r: round(r.left, 1),
    }
    if kitchen.second_freezer:
        columns[say("in {name} kg", name=kitchen.freezer.name)] = lambda r: (
            round(r.left - r.in_second, 1) + 0.0
        )
        columns[say("in {name} kg", name=kitchen.second_freezer.name)] = lambda r: round(r.in_second, 1)
    return _frame(rows, columns)


def lot_table(plan: Plan, fruit: str | None = None) -> pd.DataFrame:
    """Every fresh lot and day, of all fruits or of one."""
    rows = [r for r in plan.lots if fruit in (None, r.fruit)]
    heads = {
        "opening": say("opening kg"),
        "arrived": say("arrived kg"),
        "sold": say("sold kg"),
        "cooked": say("cooked kg"),
        "frozen": say("frozen kg"),
        "given_up": say("given up kg"),
        "spoiled": say("spoiled kg"),
        "left": say("left kg"),
    }
    frame = _frame(rows, {say("day"): lambda r: words.day_name(r.day), say("lot"): lambda r: r.lot})
    for kind, head in heads.items():
        frame[head] = [round(getattr(row, kind), 1) + 0.0 for row in rows]
    return frame


def order_table(plan: Plan, scenario: Scenario) -> pd.DataFrame:
    """Orders by due day, with the jars missing."""
    known = {order.name: order for order in scenario.orders}
    lines = sorted(plan.orders, key=lambda line: (line.due, line.order))
    return _frame(
        lines,
        {
            say("due"): lambda o: words.day_name(o.due),
            say("order"): lambda o: o.order,
            say("for"): lambda o: known[o.order].customer if o.order in known else "",
            say("recipe"): lambda o: words.product(o.recipe, o.jar, scenario),
            say("jars ordered"): lambda o: o.jars,
            say("jars filled"): lambda o: o.filled,
            say("jars missing"): lambda o: o.jars - o.filled,
        },
    )


def recipe_table(plan: Plan, scenario: Scenario) -> pd.DataFrame:
    """Jars of each recipe and size: on hand, made, labelled if there are labels, shipped, left."""
    products = [(recipe, size) for recipe in scenario.recipes for size in recipe.sizes]
    days = [[j for j in plan.jars if (j.recipe, j.jar) == (r.name, s.jar)] for r, s in products]
    columns: dict[str, Callable[[Any], Any]] = {
        say("fruit"): lambda row: words.recipe_letters(row[0][0], scenario),
        say("recipe"): lambda row: words.product(row[0][0].name, row[0][1].jar, scenario),
        say("on hand"): lambda row: row[0][1].jars_on_hand,
        say("made"): lambda row: sum(j.made for j in row[1]),
        say("labelled"): lambda row: sum(j.labelled for j in row[1]),
        say("shipped"): lambda row: sum(j.shipped for j in row[1]),
        say("left"): lambda row: row[1][-1].left if row[1] else row[0][1].jars_on_hand,
    }
    if scenario.kitchen.labels is None:
        del columns[say("labelled")]
    return _frame(list(zip(products, days, strict=True)), columns)


def purchase_table(plan: Plan, scenario: Scenario) -> pd.DataFrame:
    """What to buy, the last day to order first; when it comes only where that may be before it is needed."""
    rows = sorted(plan.purchases, key=lambda p: (p.order_by, p.needed, p.good))
    heads: dict[str, Callable[[Any], Any]] = {
        say("last day to order"): lambda p: words.day_name(p.order_by),
        say("good"): lambda p: p.good,
        say("quantity"): lambda p: trade_tables.amount(p, scenario),
        say("comes"): lambda p: words.day_name(p.arrives),
        say("needed on the morning of"): lambda p: words.day_name(p.needed),
        say("cost"): lambda p: words.money(p.cost, plan.currency),
    }
    if not trade_tables.comes_earlier(plan):
        del heads[say("comes")]
    return _frame(rows, heads)


def bought(plan: Plan, scenario: Scenario) -> str:
    """What to buy of each good in all: ``sugar 20.2 kg, lemons 12``."""
    amounts = {
        good: sum(p.quantity for p in plan.purchases if p.good == good.name) for good in scenario.goods
    }
    return ", ".join(
        f"{good.name} {words.quantity(amount, good.unit)}" for good, amount in amounts.items() if amount > 0
    )


def goal_table(plan: Plan, scenario: Scenario) -> pd.DataFrame:
    """The goals in their order."""

    def amount(value: float, unit: str) -> str:
        return words.goal_amount(value, unit, scenario)

    return _frame(
        plan.goals,
        {
            say("goal"): lambda g: goal_words(g.name, scenario),
            say("in this plan"): lambda g: amount(g.value, g.unit),
            say("best reached"): lambda g: amount(g.best, g.unit),
            say("proved bound"): lambda g: amount(g.bound, g.unit),
            say("gap"): lambda g: words.percent(g.gap),
            say("may give up"): lambda g: amount(g.slack, g.unit),
        },
    )


GOAL_WORDS = {
    "spoiled": message("value lost on fruit"),
    "short": message("jars missing from orders"),
    "money": message("money spent less orders paid"),
    "tidiness": message("recipes started"),
}
"""Each goal in plain words; all are better when lower."""
GOALS_MEAN = message(
    "Value lost on fruit counts what is given up, spoiled, past its date, left over with "
    "no use, and table fruit that is not sold fresh. A start is a recipe on a day."
)
"""What cannot be told from the words of the goals: value may be lost though no kg is."""


def goal_words(name: str, scenario: Scenario) -> str:
    """A goal in plain words; jars are missing from the shop too where it asks for any."""
    if name == "short" and scenario.shop:
        return say("jars missing from orders and shop")
    return spoken(GOAL_WORDS.get(name, name))


def slack_used(plan: Plan, scenario: Scenario) -> list[str]:
    """For each goal that may give something up for the next one: how much it did, and what that reached."""
    told = []
    for goal, after in pairwise(plan.goals):
        if goal.slack > 0:
            allowed = words.goal_amount(goal.slack, goal.unit, scenario)
            used = words.goal_amount(max(0.0, goal.value - goal.best), goal.unit, scenario)
            reached = words.goal_amount(after.value, after.unit, scenario)
            told.append(
                say(
                    "{goal}: {used} above its best, of {allowed} allowed; {next}: {reached}",
                    goal=goal_words(goal.name, scenario),
                    used=used,
                    allowed=allowed,
                    next=goal_words(after.name, scenario),
                    reached=reached,
                )
            )
    return told


def lost(all_of: Totals) -> float:
    """kg of fruit that went to waste: given up, spoiled, or thrown away from the freezer."""
    return sum(float(getattr(all_of, name)) for name in LOST)


def _frame(rows: Iterable[Any], heads: dict[str, Callable[[Any], Any]]) -> pd.DataFrame:
    listed = list(rows)
    return pd.DataFrame({head: [cell(row) for row in listed] for head, cell in heads.items()})
