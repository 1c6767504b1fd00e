"""A plan as tables in the cook's words: the numbers behind every chart and the terminal summary."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import date
from itertools import pairwise
from typing import Any

import pandas as pd

from scheduler.domain.scenario import Scenario
from scheduler.plan import OF_NO_BATCH, Batch, Part, Plan, StageKind, Totals, totals
from scheduler.views import chore_tables, trade_tables, words
from scheduler.views.held_tables import SIGN, is_held
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
    frame.insert(0, "picked", [sum(r.arrived for r in plan.lots if r.fruit == name) for name in names])
    frame.insert(1, "on hand", [sum(r.opening for r in on_hand if r.fruit == name) for name in names])
    frame["thawed"] = [sum(r.thawed for r in plan.freezer if r.fruit == name) for name in names]
    discarded = [sum(r.discarded for r in plan.freezer if r.fruit == name) for name in names]
    frame["thrown away frozen"] = discarded
    frame.index = pd.Index([f"{f.letter} {f.name}" for f in scenario.fruits], name="fruit (kg)")
    return frame.round(1) + 0.0


def batch_table(plan: Plan, scenario: Scenario, days: Iterable[date] | None = None) -> pd.DataFrame:
    """One row per batch in the order of cooking, with its clock times; nothing where nothing is potted."""
    wanted = set(days) if days is not None else None
    times = clock_times(plan)
    chosen = [b for b in plan.batches if wanted is None or b.day in wanted]
    chosen.sort(key=lambda b: (b.day, times.get(b.id, (0, 0)), b.id))
    frame = _frame(
        chosen,
        {
            "day": lambda b: words.day_name(b.day),
            "fruit": lambda b: words.letters(b, plan, scenario),
            "recipe": lambda b: b.recipe + (" (from the freezer)" if b.from_freezer else ""),
            "part": lambda b: b.part.value,
            "ring": lambda b: b.ring,
            "pan": lambda b: b.pan,
            "on the ring": lambda b: words.clock(times[b.id][0]) if b.id in times else "",
            "potted by": lambda b: words.clock(times[b.id][1]) if b.id in times and b.jars else "",
            "fruit kg": lambda b: round(b.kg, 1),
            "jars": lambda b: b.jars or None,
            "sizes": lambda b: words.filled(b.filled, scenario.recipe(b.recipe)) if b.jars else "",
            "sugar kg": lambda b: round(b.sugar_kg, 1) if b.jars else None,
            "lemons": lambda b: b.lemons if b.jars else None,
            "pectin g": lambda b: round(b.pectin_g) if b.jars else None,
            "boiled to °C": lambda b: round(b.set_temperature_c, 1) if b.jars else None,
            "last jar °C": lambda b: round(b.last_jar_c, 1) if b.jars else None,
            "juice": lambda b: words.juice(b, plan),
            "held": lambda b: f"{SIGN} held" if is_held(b, plan, scenario) else "",
            "batch": lambda b: b.id,
        },
    )
    if not any(row.hold for row in scenario.held):
        frame = frame.drop(columns="held", errors="ignore")
    if all(len(scenario.recipe(b.recipe).sizes) == 1 for b in chosen):
        frame = frame.drop(columns="sizes", errors="ignore")
    if all(b.part is Part.WHOLE for b in chosen):
        return frame.drop(columns=["part", "juice"], errors="ignore")
    return frame.astype({"jars": "Int64", "lemons": "Int64", "pectin g": "Int64"})


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
            rows.append((s.start, s.end, s.kind.value, what, ", ".join(s.people)))
    for shift in plan.shifts:
        if shift.day == day and person in (None, shift.person):
            late = f" ({shift.overtime_minutes} min of it overtime)" if shift.overtime_minutes else ""
            rows.append((shift.start, shift.start, "arrives", "", shift.person))
            rows.append((shift.leaves, shift.leaves, "goes home", late.strip(), shift.person))
            if shift.break_start is not None:
                stop = shift.break_start + shift.break_minutes
                rows.append((shift.break_start, stop, "break", "", shift.person))
    rows.sort()
    return _frame(
        rows,
        {
            "from": lambda r: words.clock(r[0]),
            "to": lambda r: words.clock(r[1]),
            "work": lambda r: r[2],
            "on": lambda r: r[3],
            "who": lambda r: r[4],
        },
    )


def works_table(plan: Plan, scenario: Scenario, days: Sequence[date]) -> pd.DataFrame:
    """The stages of several days in order, each with its day."""
    frames = []
    for day in days:
        frame = work_table(plan, scenario, day)
        frame.insert(0, "day", words.day_name(day))
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
    busy = [row for row in rows if any(row[what] for what in ("batches", "frozen kg", "sold kg", "people"))]
    frame = pd.DataFrame(busy, columns=list(_day_load(plan, plan.as_of)))
    idle = [name for name in ("cooked kg", "frozen kg", "sold kg") if not frame[name].any()]
    return frame.drop(columns=idle)


def _day_load(plan: Plan, day: date) -> dict[str, Any]:
    batches = [b for b in plan.batches if b.day == day]
    shifts = [s for s in plan.shifts if s.day == day]
    worked = [s for s in plan.stages if s.day == day and s.kind is not StageKind.STAND_BY]
    work = sum((s.end - s.start) * len(s.people) for s in worked)
    present = sum(s.leaves - s.start - s.break_minutes for s in shifts)
    finish = next((f for f in plan.finishes if f.day == day), None)
    return {
        "day": words.day_name(day),
        "batches": len(batches),
        "jars": sum(b.jars for b in batches),
        "cooked kg": round(sum((b.fruit_kg for b in batches), 0.0), 1),
        "frozen kg": round(sum((r.frozen for r in plan.freezer if r.day == day), 0.0), 1),
        "sold kg": round(sum((r.sold for r in plan.lots if r.day == day), 0.0), 1),
        "people": len(shifts),
        "hours present": words.hours(present),
        "hours of work": words.hours(work),
        "ends": words.clock(finish.ends) if finish else "",
        "earliest end": words.clock(finish.bound) if finish else "",
    }


def freezer_table(plan: Plan, scenario: Scenario) -> pd.DataFrame:
    """Every freezer lot and day on which it holds or moves anything; of two freezers what lies in each."""
    rows = [r for r in plan.freezer if max(r.opening, r.frozen, r.left) > 0]
    kitchen = scenario.kitchen
    columns: dict[str, Callable[[Any], Any]] = {
        "day": lambda r: words.day_name(r.day),
        "lot": lambda r: r.lot,
        "use by": lambda r: r.use_by.isoformat(),
        "opening kg": lambda r: round(r.opening, 1),
        "frozen kg": lambda r: round(r.frozen, 1),
        "thawed kg": lambda r: round(r.thawed, 1),
        "thrown away kg": lambda r: round(r.discarded, 1),
        "left kg": lambda r: round(r.left, 1),
    }
    if kitchen.second_freezer:
        columns[f"in {kitchen.freezer.name} kg"] = lambda r: round(r.left - r.in_second, 1) + 0.0
        columns[f"in {kitchen.second_freezer.name} kg"] = lambda r: round(r.in_second, 1)
    return _frame(rows, columns)


def lot_table(plan: Plan, fruit: str | None = None) -> pd.DataFrame:
    """Every fresh lot and day, of all fruits or of one."""
    rows = [r for r in plan.lots if fruit in (None, r.fruit)]
    kinds = ("opening", "arrived", "sold", "cooked", "frozen", "given_up", "spoiled", "left")
    frame = _frame(rows, {"day": lambda r: words.day_name(r.day), "lot": lambda r: r.lot})
    for kind in kinds:
        frame[f"{kind.replace('_', ' ')} kg"] = [round(getattr(row, kind), 1) + 0.0 for row in rows]
    return frame


def order_table(plan: Plan, scenario: Scenario) -> pd.DataFrame:
    """Orders by due day, with the jars missing."""
    known = {order.name: order for order in scenario.orders}
    lines = sorted(plan.orders, key=lambda line: (line.due, line.order))
    return _frame(
        lines,
        {
            "due": lambda o: words.day_name(o.due),
            "order": lambda o: o.order,
            "for": lambda o: known[o.order].customer if o.order in known else "",
            "recipe": lambda o: words.product(o.recipe, o.jar, scenario),
            "jars ordered": lambda o: o.jars,
            "jars filled": lambda o: o.filled,
            "jars missing": lambda o: o.jars - o.filled,
        },
    )


def recipe_table(plan: Plan, scenario: Scenario) -> pd.DataFrame:
    """Jars of each recipe and size: on hand, made, labelled if there are labels, shipped, left."""
    products = [(recipe, size) for recipe in scenario.recipes for size in recipe.sizes]
    days = [[j for j in plan.jars if (j.recipe, j.jar) == (r.name, s.jar)] for r, s in products]
    columns: dict[str, Callable[[Any], Any]] = {
        "fruit": lambda row: words.recipe_letters(row[0][0], scenario),
        "recipe": lambda row: words.product(row[0][0].name, row[0][1].jar, scenario),
        "on hand": lambda row: row[0][1].jars_on_hand,
        "made": lambda row: sum(j.made for j in row[1]),
        "labelled": lambda row: sum(j.labelled for j in row[1]),
        "shipped": lambda row: sum(j.shipped for j in row[1]),
        "left": lambda row: row[1][-1].left if row[1] else row[0][1].jars_on_hand,
    }
    if scenario.kitchen.labels is None:
        del columns["labelled"]
    return _frame(list(zip(products, days, strict=True)), columns)


def purchase_table(plan: Plan, scenario: Scenario) -> pd.DataFrame:
    """What to buy, the last day to order first; when it comes only where that may be before it is needed."""
    rows = sorted(plan.purchases, key=lambda p: (p.order_by, p.needed, p.good))
    heads: dict[str, Callable[[Any], Any]] = {
        "last day to order": lambda p: words.day_name(p.order_by),
        "good": lambda p: p.good,
        "quantity": lambda p: trade_tables.amount(p, scenario),
        "comes": lambda p: words.day_name(p.arrives),
        "needed on the morning of": lambda p: words.day_name(p.needed),
        "cost": lambda p: words.money(p.cost, plan.currency),
    }
    if not trade_tables.comes_earlier(plan):
        del heads["comes"]
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
            "goal": lambda g: goal_words(g.name, scenario),
            "in this plan": lambda g: amount(g.value, g.unit),
            "best reached": lambda g: amount(g.best, g.unit),
            "proved bound": lambda g: amount(g.bound, g.unit),
            "gap": lambda g: words.percent(g.gap),
            "may give up": lambda g: amount(g.slack, g.unit),
        },
    )


GOAL_WORDS = {
    "spoiled": "value lost on fruit",
    "short": "jars missing from orders",
    "money": "money spent less orders paid",
    "tidiness": "recipes started",
}
"""Each goal in plain words; all are better when lower."""


def goal_words(name: str, scenario: Scenario) -> str:
    """A goal in plain words; jars are missing from the shop too where it asks for any."""
    return f"{GOAL_WORDS.get(name, name)}{' and shop' if name == 'short' and scenario.shop else ''}"


def slack_used(plan: Plan, scenario: Scenario) -> list[str]:
    """For each goal that may give something up for the next one: how much it did, and what that reached."""
    told = []
    for goal, after in pairwise(plan.goals):
        if goal.slack > 0:
            allowed = words.goal_amount(goal.slack, goal.unit, scenario)
            used = words.goal_amount(max(0.0, goal.value - goal.best), goal.unit, scenario)
            reached = words.goal_amount(after.value, after.unit, scenario)
            told.append(
                f"{goal_words(goal.name, scenario)}: {used} above its best, of {allowed} allowed; "
                f"{goal_words(after.name, scenario)}: {reached}"
            )
    return told


def saving_table(plan: Plan) -> pd.DataFrame:
    """This plan beside the habit planner's, or no rows where the habit found no plan."""
    if plan.habit is None:
        return _frame([], {name: lambda r: r for name in ("", "this plan", "by habit", "difference")})
    ours, habit = totals(plan), plan.habit
    rows: list[tuple[str, float, float, str]] = [
        ("fruit lost, kg", lost(ours), lost(habit), ".1f"),
        ("  given up, kg", ours.given_up, habit.given_up, ".1f"),
        ("  spoiled, kg", ours.spoiled, habit.spoiled, ".1f"),
        ("  thrown away from the freezer, kg", ours.discarded, habit.discarded, ".1f"),
        ("left in the chiller, kg", ours.left, habit.left, ".1f"),
        ("sold, kg", ours.sold, habit.sold, ".1f"),
        ("cooked fresh, kg", ours.cooked, habit.cooked, ".1f"),
        ("frozen, kg", ours.frozen, habit.frozen, ".1f"),
        ("jars made", ours.made, habit.made, "d"),
        ("jars missing from orders", ours.short, habit.short, "d"),
    ]
    return _frame(
        rows,
        {
            "": lambda r: r[0],
            "this plan": lambda r: f"{r[1]:{r[3]}}",
            "by habit": lambda r: f"{r[2]:{r[3]}}",
            "difference": lambda r: f"{r[1] - r[2] + 0:+{r[3]}}",
        },
    )


def lost(all_of: Totals) -> float:
    """kg of fruit that went to waste: given up, spoiled, or thrown away from the freezer."""
    return sum(float(getattr(all_of, name)) for name in LOST)


def _frame(rows: Iterable[Any], heads: dict[str, Callable[[Any], Any]]) -> pd.DataFrame:
    listed = list(rows)
    return pd.DataFrame({head: [cell(row) for row in listed] for head, cell in heads.items()})
