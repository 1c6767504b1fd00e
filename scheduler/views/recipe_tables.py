"""A recipe's batch sheet as tables and sentences, the same in a terminal and on the dashboard."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import pandas as pd

from scheduler.batch_sheet import BatchSheet, Stage
from scheduler.cards import SCALE
from scheduler.domain.kitchen import Kitchen
from scheduler.domain.recipes import Recipe
from scheduler.domain.scenario import Scenario
from scheduler.languages import message, say, spoken
from scheduler.law.naming import Finding, Verdict
from scheduler.pan_sheets import PanSheet
from scheduler.plan_rows import Part, StageKind
from scheduler.sheet import Sheet
from scheduler.views import batch_text, words

MINUTES_READ = message(
    "Where three stand: half of the batches stay within the first, the plan keeps the "
    "second free, 95 in 100 stay within the third."
)
HANDS_READ = message("Preparing is counted for one pair of hands.")
FRUIT_READ = message(
    "Fruit at the middle of its bands; jars and minutes allow for the worst mix within them."
)
TWO_DAYS = message(
    "Made on two days: fruit softens and is tipped into the bag of a drip stand, where its "
    "juice drips overnight; on the next day the juice is boiled with its sugar and potted."
)
BOTH_DAYS = message("Fruit, energy and pay of both days; the fruit is counted once.")
DAY_TITLES = {
    Part.WHOLE: "",
    Part.SOFTEN: message("First day: soften and strain"),
    Part.BOIL: message("Next day: boil the juice"),
}
_LEAST_KG = 0.05


@dataclass(frozen=True, slots=True)
class Column:
    """A batch to show, under its name, and the pan it is in."""

    name: str
    pan: PanSheet
    batch: BatchSheet


def batches(sheet: Sheet, part: Part) -> list[Column]:
    """The batches of a part to show: the full pan, and the largest safe batch if that is less."""
    found = []
    for pan in sheet.of(part):
        name = pan_name(pan, sheet)
        if isinstance(pan.full, BatchSheet):
            found.append(
                Column(
                    say("{name}, full", name=name) + (say(", refused") if pan.full.refusal else ""),
                    pan,
                    pan.full,
                )
            )
        if pan.largest and pan.largest != pan.full:
            found.append(Column(say("{name}, largest safe", name=name), pan, pan.largest))
    return found


def pan_name(pan: PanSheet, sheet: Sheet) -> str:
    """Its equal pans, and the heat where the kitchen has several."""
    several = len({each.ring.ring.heat for each in sheet.pans if each.ring}) > 1
    heat = say(" on {heat}", heat=spoken(pan.ring.ring.heat)) if several and pan.ring else ""
    return say(" or ").join(pan.pan.names) + heat


def softened_in(batch: BatchSheet, sheet: Sheet) -> str:
    """The pan in which the fruit of a batch of juice is softened."""
    assert batch.softened is not None
    place = batch.softened.card.pan, batch.softened.card.ring
    return next(pan_name(pan, sheet) for pan in sheet.of(Part.SOFTEN) if pan.best and _place(pan) == place)


def _place(pan: PanSheet) -> tuple[int, int]:
    assert pan.best is not None
    return pan.best.card.pan, pan.best.card.ring


def stages_in(recipe: Recipe, part: Part) -> list[StageKind]:
    """The stages of a part from when cooking begins to the last jar, whatever their minutes."""
    found = []
    if part is not Part.BOIL:
        found += [StageKind.SOFTEN] if recipe.soften_minutes else []
        found += [StageKind.STRAIN] if recipe.strained_share is not None else []
    if part is not Part.SOFTEN:
        test = [StageKind.SET_TEST, StageKind.REBOIL, StageKind.STAND] if recipe.tested else []
        found += [StageKind.DISSOLVE, StageKind.BOIL, *test, StageKind.POT_UP]
    return found


def tested(recipe: Recipe, part: Part) -> bool:
    """Whether batches of a part are tested for a set, so that chance has a part in their minutes."""
    return recipe.tested and part is not Part.SOFTEN


def minutes_read(recipe: Recipe, part: Part, kitchen: Kitchen) -> str:
    """How the minutes of a part are to be read, and why its pan is washed for longer than others."""
    told = [spoken(MINUTES_READ)] if tested(recipe, part) else []
    told += [] if part is Part.BOIL else [spoken(HANDS_READ)]
    if kitchen.full_wash_minutes is not None and recipe.leaves_traces:
        reasons = {say("it holds an allergen"): recipe.has_allergen, say("its fruit stains"): recipe.stains}
        why = words.listed([reason for reason, holds in reasons.items() if holds])
        told.append(say("Its pan is washed in full before the next batch, as {why}.", why=why))
    return " ".join(told)


def strained_name(recipe: Recipe) -> str:
    """What a bag or sieve lets through."""
    return say("juice") if recipe.two_days else say("sieved pulp")


def boiled_to(recipe: Recipe) -> str:
    """What the temperature at the end of the boil is called: what is not tested does not set."""
    return say("sets here at") if recipe.tested else say("boiled here to")


def quantity_table(sheet: Sheet, scenario: Scenario, part: Part) -> pd.DataFrame:
    """What goes into each batch of a part and what comes out, a column for each."""
    shown = batches(sheet, part)
    rows = _goes_in(sheet, shown, part)
    if sheet.recipe.strained_share is not None and part is not Part.BOIL:
        name = say("juice by the morning") if part is Part.SOFTEN else strained_name(sheet.recipe)
        rows[name] = [words.mass(each.batch.strained_kg) for each in shown]
    if part is Part.SOFTEN:
        rows[say("fruit that the pan takes")] = [words.mass(each.pan.room_kg) for each in shown]
        rows[say("fruit that a drip stand takes")] = [words.mass(each.pan.limit_kg or 0.0) for each in shown]
    else:
        rows |= _comes_out(sheet, scenario, shown)
    return _frame(rows, shown)


def _goes_in(sheet: Sheet, shown: Sequence[Column], part: Part) -> dict[str, list[str]]:
    recipe, cards = sheet.recipe, [each.batch.card for each in shown]
    rows: dict[str, list[str]] = {}
    if part is Part.BOIL:
        rows[say("juice")] = [words.mass(each.batch.strained_kg) for each in shown]
        rows[say("of fruit, prepared")] = [words.mass(each.batch.kg) for each in shown]
        rows[say("softened in")] = [softened_in(each.batch, sheet) for each in shown]
    else:
        for place, share in enumerate(recipe.fruits):
            portions = [each.batch.fruit[place] for each in shown]
            rows[say("{fruit}, prepared", fruit=share.fruit)] = [
                words.mass(portion.prepared_kg) for portion in portions
            ]
            rows[say("{fruit}, as picked", fruit=share.fruit)] = [
                words.mass(portion.picked_kg) for portion in portions
            ]
        if recipe.water_per_kg:
            rows[say("water")] = [words.mass(each.batch.water_kg) for each in shown]
    if part is not Part.SOFTEN:
        rows[say("sugar")] = [words.mass(card.sugar / SCALE) for card in cards]
        if recipe.lemons_per_kg:
            rows[say("lemons")] = [f"{card.lemons}" for card in cards]
        if recipe.pectin_g_per_kg:
            rows[say("pectin")] = [f"{card.pectin} g" for card in cards]
        told = [batch_text.others(recipe, each.batch.kg) for each in shown]
        rows |= {name: [each[name] for each in told] for name in (told[0] if told else ())}
    return rows


def _comes_out(sheet: Sheet, scenario: Scenario, shown: Sequence[Column]) -> dict[str, list[str]]:
    cards = [each.batch.card for each in shown]
    jars = {say("full jars"): [f"{card.jars}" for card in cards]}
    if sheet.recipe.more_sizes:
        jars[say("in sizes")] = [words.filled(card.filled, sheet.recipe) for card in cards]
    if any(card.kept != card.filled for card in cards):
        jars[say("for sale")] = [words.filled(card.kept, sheet.recipe) for card in cards]
    return jars | {
        say("preserve made"): [words.mass(each.batch.panful.jam_kg) for each in shown],
        say("water to drive off"): [words.mass(each.batch.panful.water_off_kg) for each in shown],
        boiled_to(sheet.recipe): [words.degrees(card.set_c) for card in cards],
        say("last jar"): [words.degrees(card.last_jar_c) for card in cards],
        say("potted at least at"): [words.degrees(scenario.kitchen.potting_limit_c, None)] * len(shown),
    }


def minutes_table(sheet: Sheet, part: Part) -> pd.DataFrame:
    """Minutes by stage, a column for each batch of a part; see ``MINUTES_READ``."""
    shown = batches(sheet, part)
    found = [{stage_name(stage.name): minutes(stage) for stage in _all_stages(each.batch)} for each in shown]
    names = dict.fromkeys(stage_name(stage.name) for each in shown for stage in _all_stages(each.batch))
    return _frame({name: [stages.get(name, "") for stages in found] for name in names}, shown)


def _all_stages(batch: BatchSheet) -> tuple[Stage, ...]:
    return (*batch.minutes, batch.total)


def cost_table(sheet: Sheet, currency: str, part: Part) -> pd.DataFrame:
    """Money for each batch of a part, of juice for both days; and for a jar without and with pay."""
    shown = batches(sheet, part)
    rows: dict[str, list[str]] = {}
    for each in shown:
        cost = each.batch.cost
        lines = [*cost.materials, (say("pay"), cost.pay)]
        if cost.jars:
            lines += [(say("a jar, without pay"), cost.a_jar), (say("a jar, with pay"), cost.a_jar_with_pay)]
        for name, amount in lines:
            told = say("nobody can do it") if amount is None else words.money(amount, currency)
            rows.setdefault(name, []).append(told)
    return _frame(rows, shown)


def stage_name(name: str) -> str:
    """A line of a batch's minutes as it is called: a stage, or from one stage to the end."""
    first, to, last = name.partition(" to ")
    if not to or name == StageKind.FREEZE:
        return spoken(name)
    return say("{first} to {last}", first=spoken(first), last=spoken(last))


def minutes(stage: Stage) -> str:
    """Median, planned and 95 % minutes, or the one number where they are the same."""
    found = (stage.median, stage.planned, stage.most)
    return f"{found[0]}" if len(set(found)) == 1 else " / ".join(map(str, found))


def remarks(sheet: Sheet) -> list[str]:
    """What stands in the way of full pans, and what to know of the recipe."""
    told = [
        f"{spoken(DAY_TITLES[part])}. {line}" if DAY_TITLES[part] else line
        for part in sheet.parts
        for line in refusals(sheet, part)
    ]
    return [*told, *sheet.warnings]


def refusals(sheet: Sheet, part: Part) -> list[str]:
    """What stands in the way of a full pan of a part, pan by pan."""
    told = []
    for pan in sheet.of(part):
        name = pan_name(pan, sheet)
        if pan.largest is None:
            told.append(
                say(
                    "{name}: no safe batch. {refusals}",
                    name=name,
                    refusals=" ".join(map(str, pan.refused_by)),
                )
            )
        elif pan.refusal is not None:
            told.append(
                say(
                    "{name}: a full pan is refused, {mass} is the most. {refusal}",
                    name=name,
                    mass=words.mass(pan.largest.kg),
                    refusal=pan.refusal,
                )
            )
    return [*told, *_other_day(sheet, part)]


def _other_day(sheet: Sheet, part: Part) -> list[str]:
    """What softens without a pan for its juice, and whose juice cannot be had."""
    if part is not Part.SOFTEN:
        return []
    if Part.BOIL not in sheet.parts:
        return [say("No pan softens this fruit, so there is no juice to boil.")]
    boiled = max((pan.largest.kg for pan in sheet.of(Part.BOIL) if pan.largest), default=0.0)
    if not boiled:
        return [say("No pan boils the juice safely, so none is softened: see the next day.")]
    softened = max(pan.largest.kg for pan in sheet.of(part) if pan.largest)
    if softened <= boiled:
        return []
    return [
        say(
            "Soften {mass} at the most: no pan boils the juice of more. Use less, or a larger pan.",
            mass=words.mass(boiled),
        )
    ]


def pottable(pan: PanSheet) -> str:
    """How much preserve is potted in time; empty where nothing is potted."""
    if pan.pottable_kg is None:
        return ""
    least, most = pan.pottable_kg
    if most < _LEAST_KG:
        return say("no batch is potted in time")
    if pan.curve and most >= pan.curve[-1].jam_kg:
        if least < _LEAST_KG:
            return say("every batch up to a full pan is potted in time")
        return say(
            "a batch of {mass} of preserve or more is potted in time, up to a full pan",
            mass=words.mass(least),
        )
    return say(
        "a batch of {mass} to {mass2} of preserve is potted in time",
        mass=words.mass(least),
        mass2=words.mass(most),
    )


def by_place(names: Sequence[Finding]) -> dict[str, dict[Verdict, list[Finding]]]:
    """Findings by jurisdiction and verdict."""
    found: dict[str, dict[Verdict, list[Finding]]] = {}
    for name in names:
        found.setdefault(name.jurisdiction, {}).setdefault(name.verdict, []).append(name)
    return found


def verdicts(findings: dict[Verdict, list[Finding]]) -> str:
    """``may be called jam or extra jam; may not be called reduced sugar jam``."""
    said = {
        Verdict.MAY: message("may be called {names}"),
        Verdict.MAY_NOT: message("may not be called {names}"),
        Verdict.NOT_KNOWN: message("not known whether it may be called {names}"),
    }
    told = [
        spoken(said[v]).format(names=say(" or ").join(f.name for f in findings[v]))
        for v in Verdict
        if v in findings
    ]
    return "; ".join(told)


def standing(findings: dict[Verdict, list[Finding]]) -> str:
    """Whether the figures behind the findings were read."""
    return "" if all(f.verified for fs in findings.values() for f in fs) else say("not verified")


def _frame(rows: dict[str, list[str]], shown: Sequence[Column]) -> pd.DataFrame:
    frame = pd.DataFrame.from_dict(rows, orient="index", columns=[each.name for each in shown])
    return frame.reset_index(names="")
