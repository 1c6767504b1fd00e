"""Rules 12 to 15 and 17: from lots to mixes to batches, and no more jars than can be sold."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import date

from scheduler.auditor.case import Case, making_name, making_of, repeated
from scheduler.auditor.finding import KG, Finding, kg, same


def draws_add_up_to_what_each_lot_gives(case: Case) -> Iterator[Finding]:
    """Rule 12: a day's draws are each fresh lot's cooked and each frozen lot's thawed."""
    drawn: dict[tuple[date, str], float] = defaultdict(float)
    for draw in case.plan.draws:
        drawn[draw.day, draw.lot] += draw.kg
        if draw.kg < -KG:
            where = f"{making_name(making_of(draw))}, lot {draw.lot}"
            yield Finding("draw-balance", where, kg(draw.kg), "0 or more")
    given = {(row.day, row.lot): row.cooked for row in case.lot_days.values()}
    given |= {(row.day, row.lot): row.thawed for row in case.freezer_days.values()}
    for day, lot in sorted(drawn.keys() | given.keys()):
        taken, gave = drawn.get((day, lot), 0.0), given.get((day, lot), 0.0)
        if not same(taken, gave):
            where = f"{day.isoformat()}, lot {lot}"
            yield Finding("draw-balance", where, f"{kg(taken)} drawn", f"{kg(gave)}, as the lot gives")


def draws_from_the_freezer_are_the_frozen_part_of_the_mix(case: Case) -> Iterator[Finding]:
    """Rule 12, per making and fruit."""
    for making in sorted(case.draws.keys() | case.mixes.keys()):
        drawn: dict[str, float] = defaultdict(float)
        mixed: dict[str, float] = defaultdict(float)
        for draw in case.draws.get(making, []):
            if draw.lot not in case.farm.fresh:
                drawn[case.farm.frozen[draw.lot].fruit.name] += draw.kg
        for mix in case.mixes.get(making, []):
            mixed[mix.fruit] += mix.frozen_kg
        for fruit in sorted(drawn.keys() | mixed.keys()):
            if not same(drawn[fruit], mixed[fruit]):
                where = f"{making_name(making)}, {fruit} from the freezer"
                yield Finding("draw-balance", where, f"{kg(mixed[fruit])} in the mix", kg(drawn[fruit]))


def the_mix_fills_the_batches(case: Case) -> Iterator[Finding]:
    """Rule 12: fresh + frozen = the kg of batches that use fruit; no mix and no draw without one."""
    for making in sorted(case.makings.keys() | case.mixes.keys() | case.draws.keys()):
        mixed = sum(mix.fresh_kg + mix.frozen_kg for mix in case.mixes.get(making, []))
        if making not in case.makings:
            yield Finding("draw-balance", making_name(making), "a mix or draw without fruit cooked", "none")
        elif not same(mixed, case.kg_of(making)):
            allowed = f"{kg(case.kg_of(making))}, as its batches use"
            yield Finding("draw-balance", making_name(making), f"{kg(mixed)} mixed", allowed)


def a_mix_lists_each_fruit_of_its_recipe_once(case: Case) -> Iterator[Finding]:
    """Rule 12: fruits of the recipe only, one row each, nothing negative."""
    for making, fruit in repeated(case.plan.mixes, lambda mix: (making_of(mix), mix.fruit)):
        where = f"{making_name(making)}, {fruit}"
        yield Finding("draw-balance", where, "more than one row", "one row")
    for mix in case.plan.mixes:
        where = f"{making_name(making_of(mix))}, {mix.fruit}"
        fruits = [share.fruit for share in case.farm.recipes[mix.recipe].fruits]
        if mix.fruit not in fruits:
            yield Finding("draw-balance", where, mix.fruit, " or ".join(fruits))
        if min(mix.fresh_kg, mix.frozen_kg) < -KG:
            found = f"{kg(mix.fresh_kg)} fresh, {kg(mix.frozen_kg)} frozen"
            yield Finding("draw-balance", where, found, "0 or more")


def each_fruit_stays_within_its_band(case: Case) -> Iterator[Finding]:
    """Rule 13."""
    for making in case.makings:
        total = case.kg_of(making)
        for share in case.farm.recipes[making[1]].fruits:
            rows = [mix for mix in case.mixes.get(making, []) if mix.fruit == share.fruit]
            part = sum(mix.fresh_kg + mix.frozen_kg for mix in rows)
            if not share.low * total - KG <= part <= share.high * total + KG:
                where = f"{making_name(making)}, {share.fruit}"
                allowed = f"{kg(share.low * total)} to {kg(share.high * total)}"
                yield Finding("mix-band", where, kg(part), allowed)


def the_freezer_gives_no_more_than_its_share(case: Case) -> Iterator[Finding]:
    """Rule 14."""
    for making, rows in case.mixes.items():
        _, name, from_freezer = making
        most = case.farm.recipes[name].frozen_share
        fresh, frozen = sum(mix.fresh_kg for mix in rows), sum(mix.frozen_kg for mix in rows)
        if from_freezer and fresh > KG:
            yield Finding("frozen-share", making_name(making), f"{kg(fresh)} fresh", "none")
        if not from_freezer and frozen > most * case.kg_of(making) + KG:
            allowed = f"at most {kg(most * case.kg_of(making))}"
            yield Finding("frozen-share", making_name(making), f"{kg(frozen)} frozen", allowed)


def only_some_recipes_are_cooked_from_the_freezer_alone(case: Case) -> Iterator[Finding]:
    """Rule 14: from_freezer needs a frozen_share of 1."""
    for making in case.makings:
        most = case.farm.recipes[making[1]].frozen_share
        if making[2] and most < 1 - 1e-9:
            found = f"wholly from the freezer, frozen_share {most:g}"
            yield Finding("frozen-share", making_name(making), found, "frozen_share 1")


def older_fruit_stays_within_its_share(case: Case) -> Iterator[Finding]:
    """Rule 15: fruit past its peak, as prepared, against the making's kg."""
    share = case.farm.kitchen.older_share
    for making, draws in case.draws.items():
        older = 0.0
        for draw in draws:
            lot = case.farm.fresh.get(draw.lot)
            if lot and lot.age(draw.day) > lot.peak_days:
                older += draw.kg * (1 - lot.fruit.preparation_loss)
        if older > share * case.kg_of(making) + KG:
            allowed = f"at most {kg(share * case.kg_of(making))}"
            yield Finding("older-share", making_name(making), f"{kg(older)} past its peak", allowed)


def no_more_jars_than_can_be_sold(case: Case) -> Iterator[Finding]:
    """Rule 17: jars on hand + jars made ≤ most_jars, of all sizes, where any are made."""
    for name, recipe in case.farm.recipes.items():
        made = sum(sum(case.for_sale(batch)) for batch in case.plan.batches if batch.recipe == name)
        there = sum(size.jars_on_hand for size in recipe.sizes)
        if made > 0 and there + made > recipe.most_jars:
            found = f"{there} on hand and {made} made"
            yield Finding("most-jars", name, found, f"at most {recipe.most_jars}")
