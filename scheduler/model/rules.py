"""Rules of the allocation, one small function each, called in one visible list.

Names in the docstrings are those of the rule book.
"""

from __future__ import annotations

from collections.abc import Callable

from ortools.sat.python import cp_model

from scheduler.cards import SCALE, SHARE, Cards, rounded_down
from scheduler.domain.kitchen import Thaw
from scheduler.domain.people import Skill
from scheduler.model import chores, freezers, jars
from scheduler.model.decisions import Decisions, Linear, total, weighted
from scheduler.model.held import held_batches_are_cooked
from scheduler.model.limits import batch_limits, freeze_minutes, hands_limits, minding
from scheduler.model.power import gas_lasts_for_all_days, rings_draw_what_the_supply_gives
from scheduler.model.second_cook import long_cooking_has_a_second_cook
from scheduler.model.trade import (
    goods_are_used_within_their_dates,
    goods_come_in_whole_packs,
    missing_shop_stock_counts,
    orders_without_parts_are_filled_whole,
)

Rule = Callable[[Decisions], None]


def fresh_lots_balance_day_by_day(x: Decisions) -> None:
    """lot-balance, spoiled: what comes in is used or left; what is left on the last day spoils."""
    for i, lot in enumerate(x.cards.lots):
        for d in range(lot.arrives, min(lot.end, x.cards.days - 1) + 1):
            came: Linear | int = x.left[i, d - 1] if d > lot.arrives else lot.units
            used = [by[i, d] for by in (x.sold, x.freeze, x.given_up, x.left) if (i, d) in by]
            x.model.add(total([*used, *x.cooked_of_lot[i, d]]) == came)


def punnets_sold_within_demand(x: Decisions) -> None:
    """punnet-demand."""
    for f in range(len(x.cards.fruits)):
        for d, wanted in enumerate(x.cards.demand[f]):
            sold = [var for (i, day), var in x.sold.items() if day == d and x.cards.lots[i].fruit == f]
            if sold:
                x.model.add(total(sold) <= wanted)


def chiller_has_room_each_night(x: Decisions) -> None:
    """chiller-room: left overnight, before what spoils is counted out, and what thaws for tomorrow."""
    room = rounded_down(x.cards.kitchen.chiller.kg, 1 / SCALE)
    overnight = x.cards.kitchen.thaw is Thaw.OVERNIGHT
    for d in range(x.cards.days):
        kept: list[Linear] = [var for (i, day), var in x.left.items() if day == d and x.cards.lots[i].end > d]
        kept += [var for (day, _, _), var in x.thaw.items() if day == d + 1 and overnight]
        if kept:
            x.model.add(total(kept) <= room)


def preparing_loses_its_share(x: Decisions) -> None:
    """preparation-loss, for each making and for freezing."""
    for (d, (r, _), f), fresh in x.fresh.items():
        drawn = total(var for _, var in x.cooked_on[d, r, f])
        _keep_share(x, drawn, fresh, x.cards.fruits[f].keep)
    for (f, d), frozen in x.frozen.items():
        _keep_share(x, x.drawn_to_freeze(f, d), frozen, x.cards.fruits[f].keep)


def _keep_share(x: Decisions, drawn: Linear, prepared: cp_model.IntVar, keep: int) -> None:
    x.model.add(keep * drawn == SHARE * prepared)


def mixes_fill_their_batches(x: Decisions) -> None:
    """draw-balance, mix-band: the fruit of a making is the kg of its batches, in the recipe's bands."""
    for d in range(x.cards.days):
        for making in x.cards.makings:
            kg = x.kg_made(d, making)
            shares = x.cards.scenario.recipes[making[0]].fruits
            parts = []
            for share, f in zip(shares, x.recipe_fruits(making[0]), strict=True):
                part = total(table[d, making, f] for table in (x.fresh, x.thaw) if (d, making, f) in table)
                parts.append(part)
                if len(shares) > 1:
                    x.model.add(SHARE * part >= round(share.low * SHARE) * kg)
                    x.model.add(SHARE * part <= round(share.high * SHARE) * kg)
            x.model.add(total(parts) == kg)


def frozen_and_older_fruit_within_their_shares(x: Decisions) -> None:
    """frozen-share, older-share."""
    older = round(x.cards.kitchen.older_share * SHARE)
    for d in range(x.cards.days):
        for making in x.cards.makings:
            r, from_freezer = making
            kg = x.kg_made(d, making)
            share = x.cards.scenario.recipes[r].frozen_share
            fruits = x.recipe_fruits(r)
            thawed = [x.thaw[d, making, f] for f in fruits if (d, making, f) in x.thaw]
            if not from_freezer and thawed and share < 1:
                x.model.add(SHARE * total(thawed) <= round(share * SHARE) * kg)
            lots = x.cards.lots
            past = [
                x.cards.fruits[f].keep * var
                for f in fruits
                for i, var in x.cooked_on[d, r, f]
                if not from_freezer and d > lots[i].last_peak
            ]
            if past:
                x.model.add(total(past) <= older * kg)


def freezer_balances_day_by_day(x: Decisions) -> None:
    """freezer-balance, frozen-first (nothing frozen today is thawed today)."""
    for f in range(len(x.cards.fruits)):
        before: Linear | int = sum(z.units for z in x.cards.frozen if z.fruit == f and z.last >= 0)
        for d in range(x.cards.days):
            thawed = x.thawed(f, d)
            x.model.add(thawed <= before)
            x.model.add(x.level[f, d] == before + x.frozen[f, d] - thawed - x.discarded[f, d])
            before = x.level[f, d]


def frozen_lots_leave_by_their_date(x: Decisions) -> None:
    """frozen-date as cumulative inequalities; lots are read out by date afterwards (exact by exchange).

    Only lots on hand have dates within the horizon: fruit frozen within it outlasts it. Where a freezer must
    be cleared fruit may be discarded before its date (defrost-day, freezer-failure).
    """
    for f in range(len(x.cards.fruits)):
        out: list[Linear] = []
        mine = [z for z in x.cards.frozen if z.fruit == f and z.last >= 0]
        for d in range(x.cards.days):
            out += [x.thawed(f, d), x.discarded[f, d]]
            clearing = freezers.must_be_cleared(x.cards, d)
            if all(z.last != d for z in mine) and not clearing:
                x.model.add(x.discarded[f, d] == 0)
                continue
            dated = sum(z.units for z in mine if z.last <= d)
            x.model.add(total(out) >= dated)
            if clearing:
                continue
            some = x.model.new_bool_var(f"discards {f} {d}")
            x.model.add(x.discarded[f, d] == 0).only_enforce_if(~some)
            x.model.add(total(out) == dated).only_enforce_if(some)


def batches_fit_pans_rings_and_oven(x: Decisions) -> None:
    """pan-clash, ring-clash, heatproof-places, oven-jars as minutes of a day.

    Times the day's cooking, so that half a batch asks for half a day's people where counts are not whole yet:
    on twelve weeks of winter this halves what is left between money and its bound.
    """
    for d, margin in x.margins.items():
        for limit in batch_limits(x.cards, d):
            used = weighted(x.count[d], limit.minutes)
            x.model.add(used <= limit.capacity * (100 - margin) // 100 * x.cooking_day[d])


def work_fits_the_hands_in_use(x: Decisions) -> None:
    """hands, presence, two-places, freeze-work, label-work, take-out, clean-down as minutes of a day, for
    every set of kinds of work."""
    _, common = freeze_minutes(x.cards)
    for d, margin in x.margins.items():
        for limit in hands_limits(x.cards, d):
            work = weighted(x.count[d], limit.work) + limit.once * x.cooking_day[d]
            if limit.chores:
                work += limit.chores * x.chore_minutes(d)
            share = 100 - margin
            hands = total(n * share // 100 * x.staff[i] for i, n in limit.usable.items())
            if limit.freezing:
                x.model.add(common * (work - hands) + limit.freezing * x.freezing_minutes(d) <= 0)
            else:
                x.model.add(work <= hands)


def pans_are_hot_only_with_people_there(x: Decisions) -> None:
    """people-while-boiling, presence: a pan is on the heat only while enough people and a cook are in."""
    cards, least = x.cards, x.cards.kitchen.people_while_boiling
    cooking = [card.cooking for card in cards.batches]
    for d, margin in x.margins.items():
        for cell, heat in x.heat[d]:
            there, cooks = total(x.staff[i] for i in cell.everybody), total(x.staff[i] for i in cell.cooks)
            x.model.add(least * heat <= cell.minutes * there)
            x.model.add(heat <= cell.minutes * cooks)
        share = 100 - margin
        hot = total(heat for _, heat in x.heat[d])
        usable = total(n * x.staff[i] for i, n in minding(cards, d).items())
        x.model.add(cards.kitchen.pans_per_cook * hot <= usable)
        for p, pans in enumerate(cards.pans_in_use[d]):
            mine = [n * (card.pan == p) for n, card in zip(cooking, cards.batches, strict=True)]
            x.model.add(100 * weighted(x.count[d], mine) <= share * len(pans) * hot)
        for q, rings in enumerate(cards.rings_in_use[d]):
            mine = [n * (card.ring == q) for n, card in zip(cooking, cards.batches, strict=True)]
            x.model.add(100 * weighted(x.count[d], mine) <= share * len(rings) * hot)


def cooking_days_have_their_people(x: Decisions) -> None:
    """people-while-boiling and hands: enough people at all, a cook, and fillers where anything is potted."""
    kitchen, scenario = x.cards.kitchen, x.cards.scenario
    for d in range(x.cards.days):
        mine = [(x.staff[i], staff) for i, staff in enumerate(x.cards.staff) if staff.day == d]
        need = (
            (kitchen.people_while_boiling, [var for var, staff in mine if x.cards.counts(staff)]),
            (1, [var for var, staff in mine if Skill.COOK in staff.skills]),
        )
        for least, hands in need:
            x.model.add(total(hands) >= least * x.cooking_day[d])
        fillers = total(var for var, staff in mine if Skill.FILL in staff.skills)
        potting = x.potting_day[d] if x.potting_day else x.cooking_day[d]
        x.model.add(fillers >= kitchen.fillers * potting)
        for m, card in enumerate(x.cards.batches) if x.potting_day else ():
            if card.pot:
                x.model.add(x.count[d][m] == 0).only_enforce_if(~potting)
        for m, count in enumerate(x.count[d]):
            started = x.started[d, x.cards.batches[m].recipe]
            x.model.add(count == 0).only_enforce_if(~started)
        for r in range(len(scenario.recipes)):
            x.model.add_implication(x.started[d, r], x.cooking_day[d])


def juice_is_boiled_the_day_after(x: Decisions) -> None:
    """juice: what softens on a day is boiled on the next, nothing before the first or after the last."""
    for softened, boiled in x.cards.two_days:
        for d in range(x.cards.days + 1):
            before = total(x.count[d - 1][m] for m in softened) if d else 0
            after = total(x.count[d][m] for m in boiled) if d < x.cards.days else 0
            x.model.add(before == after)


def juice_has_its_drip_stands(x: Decisions) -> None:
    """drip-stands: one for each batch that softens, and for each whose juice is boiled that day."""
    mine = [m for softened, boiled in x.cards.two_days for m in (*softened, *boiled)]
    for d in range(x.cards.days) if mine else ():
        x.model.add(total(x.count[d][m] for m in mine) <= x.cards.kitchen.drip_stands.count)


def one_shift_a_day_within_the_week(x: Decisions) -> None:
    """shift-offered, hours-week, rest."""
    cards = x.cards
    rest = cards.scenario.work_rules.rest_minutes
    for p, person in enumerate(cards.scenario.people):
        mine = [(i, s) for i, s in enumerate(cards.staff) if s.person == p]
        by_day = {d: [(i, s) for i, s in mine if s.day == d] for d in range(cards.days)}
        for d in range(cards.days):
            x.model.add_at_most_one(x.staff[i] for i, _ in by_day[d])
            for leave in sorted({s.leave for _, s in by_day[d]}):
                late = [x.staff[i] for i, s in by_day[d] if s.leave >= leave]
                early = [x.staff[i] for i, s in by_day.get(d + 1, []) if s.start + 1440 - leave < rest]
                if early:
                    x.model.add_at_most_one(late + early)
        weeks = {cards.dates[s.day].isocalendar()[:2] for _, s in mine}
        for week in weeks:
            minutes = [
                s.present * x.staff[i] for i, s in mine if cards.dates[s.day].isocalendar()[:2] == week
            ]
            x.model.add(total(minutes) <= round(person.hours_week * 60))


def goods_are_there_when_used(x: Decisions) -> None:
    """store, lead-time: used so far is on hand, delivered or bought in time.

    What is in the store is carried from day to day: sums from the first day on would be days squared.
    """
    for g, good in enumerate(x.cards.goods):
        per_batch = [x.cards.uses(card).get(good.name, 0) for card in x.cards.batches]
        before: Linear | int = good.on_hand
        for d in range(x.cards.days) if any(per_batch) else ():
            came = [before, good.delivered[d], *([x.bought[g, d]] if (g, d) in x.bought else [])]
            x.model.add(x.in_store[g, d] == total(came) - weighted(x.count[d], per_batch))
            before = x.in_store[g, d]


def jars_are_shipped_once_settled(x: Decisions) -> None:
    """shipped, most-jars."""
    cards = x.cards
    for r, most in enumerate(cards.most_made):
        mine = [p for p, of in enumerate(cards.products) if of.recipe == r]
        x.model.add(total(x.jars_made(d, p) for d in range(cards.days) for p in mine) <= most)
    for p in range(len(cards.products)):
        for due in sorted({order.due for order in cards.orders if order.product == p}):
            x.model.add(x.settled(due, p) >= 0)


def what_is_left_is_worth_what_is_wanted(x: Decisions) -> None:
    """goal-value, saved: fruit left at the end counts only up to what is still wanted of it."""
    last = x.cards.days - 1
    for f, fruit in enumerate(x.cards.fruits):
        worth = [(i, var) for i, var in x.worth.items() if x.cards.lots[i].fruit == f]
        for i, var in worth:
            x.model.add(var <= x.left[i, last])
        x.model.add(x.worth_frozen[f] <= x.level[f, last])
        kept = fruit.keep * total(var for _, var in worth) + SHARE * x.worth_frozen[f]
        x.model.add(kept <= SHARE * fruit.wanted_later)


RULES: tuple[Rule, ...] = (
    fresh_lots_balance_day_by_day,
    punnets_sold_within_demand,
    chiller_has_room_each_night,
    preparing_loses_its_share,
    mixes_fill_their_batches,
    frozen_and_older_fruit_within_their_shares,
    freezer_balances_day_by_day,
    *freezers.RULES,
    frozen_lots_leave_by_their_date,
    batches_fit_pans_rings_and_oven,
    work_fits_the_hands_in_use,
    pans_are_hot_only_with_people_there,
    rings_draw_what_the_supply_gives,
    gas_lasts_for_all_days,
    cooking_days_have_their_people,
    long_cooking_has_a_second_cook,
    held_batches_are_cooked,
    juice_is_boiled_the_day_after,
    juice_has_its_drip_stands,
    one_shift_a_day_within_the_week,
    goods_are_there_when_used,
    goods_are_used_within_their_dates,
    goods_come_in_whole_packs,
    jars_are_shipped_once_settled,
    *jars.RULES,
    orders_without_parts_are_filled_whole,
    missing_shop_stock_counts,
    *chores.RULES,
    what_is_left_is_worth_what_is_wanted,
)


OF_TIME: tuple[Rule, ...] = (
    batches_fit_pans_rings_and_oven,
    work_fits_the_hands_in_use,
    pans_are_hot_only_with_people_there,
    rings_draw_what_the_supply_gives,
)
"""Those that margins make tighter."""


def most_batches(cards: Cards, day: int) -> tuple[int, ...]:
    """The most batches of each card that the limits of a day allow."""
    limits = batch_limits(cards, day)
    return tuple(
        min(limit.capacity // limit.minutes[m] for limit in limits if limit.minutes[m])
        for m in range(len(cards.batches))
    )
