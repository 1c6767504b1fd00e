"""Work beside the batches in words and tables: which jars are labelled, what is taken out of the freezer."""

from __future__ import annotations

from datetime import date, timedelta

import pandas as pd

from scheduler.domain.kitchen import Kitchen, Thaw
from scheduler.languages import say
from scheduler.plan_rows import FreezerDay, JarDay, Plan, Stage, StageKind
from scheduler.views import words

LEAST_KG = 0.05
"""What shows as 0.1 kg."""


def about(stage: Stage, plan: Plan) -> str:
    """What a stage of no batch is done to: ``24 strawberry jam, 12 blackcurrant jam``; empty where its name
    says it."""
    if stage.kind is StageKind.FREEZE:
        frozen = [row for row in plan.freezer if row.day == stage.day and row.frozen > LEAST_KG]
        return ", ".join(f"{row.fruit} {words.mass(row.frozen)}" for row in frozen)
    if stage.kind is StageKind.LABEL:
        rows = [row for row in plan.jars if row.day == stage.day and row.labelled]
        return ", ".join(f"{row.labelled} {_named(row, plan)}" for row in rows)
    return lots_for(plan, stage.day + timedelta(days=1)) if stage.kind is StageKind.TAKE_OUT else ""


def _named(row: JarDay, plan: Plan) -> str:
    """The recipe of a row, with the jar where it is potted in several sizes."""
    sizes = {each.jar for each in plan.jars if each.recipe == row.recipe}
    return row.recipe if len(sizes) == 1 else f"{row.recipe} ({row.jar})"


def lots_for(plan: Plan, day: date) -> str:
    """The lots that are thawed for a day, with their kg."""
    return ", ".join(f"{row.lot} {words.mass(row.thawed)}" for row in thawed_for(plan, day))


def thawed_for(plan: Plan, day: date) -> list[FreezerDay]:
    """The rows of the freezer from which anything is thawed for a day."""
    return [row for row in plan.freezer if row.day == day and row.thawed > LEAST_KG]


def done_by(plan: Plan, day: date, kind: StageKind) -> str:
    """When and by whom a kind of work is done on a day: ``14:00–14:30, Maeve``; empty if it is not."""
    stages = sorted((s for s in plan.stages if (s.day, s.kind) == (day, kind)), key=lambda s: s.start)
    return "; ".join(f"{words.clock(s.start)}–{words.clock(s.end)}, {', '.join(s.people)}" for s in stages)


def told_of(plan: Plan, day: date, kind: StageKind) -> str:
    """When a kind of work of no batch is done on a day, by whom, and to what: all its pieces in one line."""
    first = next(stage for stage in plan.stages if (stage.day, stage.kind) == (day, kind))
    what = f": {said}" if (said := about(first, plan)) else ""
    return f"{done_by(plan, day, kind)}{what}"


def label_table(plan: Plan) -> pd.DataFrame:
    """A row for each day and recipe of which jars are labelled."""
    rows = sorted((row for row in plan.jars if row.labelled), key=lambda row: (row.day, row.recipe))
    return pd.DataFrame(
        {
            say("day"): [words.day_name(row.day) for row in rows],
            say("recipe"): [_named(row, plan) for row in rows],
            say("jars to label"): [row.labelled for row in rows],
            say("when and who"): [done_by(plan, row.day, StageKind.LABEL) for row in rows],
        }
    )


def chores(kitchen: Kitchen) -> pd.DataFrame:
    """What a scenario says of this work: ``work`` and ``figure``."""
    rows = []
    if kitchen.labels:
        rows.append((say("jars labelled by one person in an hour"), f"{kitchen.labels.jars_per_hour:g}"))
        rows.append((say("labelled within days after potting"), f"{kitchen.labels.within_days}"))
    if kitchen.take_out_minutes and kitchen.thaw is Thaw.OVERNIGHT:
        rows.append(
            (
                say("taking fruit out of the freezer"),
                f"{kitchen.take_out_minutes} min",
            )
        )
    if kitchen.clean_down_minutes:
        rows.append(
            (
                say("clean down at the end of a day"),
                f"{kitchen.clean_down_minutes} min",
            )
        )
    return pd.DataFrame(rows, columns=[say("work"), say("figure")])
