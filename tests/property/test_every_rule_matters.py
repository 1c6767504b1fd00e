"""Every rule of the model, taken away, leaves a sign: on some kitchen the auditor finds what it kept out.

The kitchens come from a search over seeds for small ones on which the rule binds. A limit that the timetable
implies leaves no sign; there the test is that it binds the allocation and that no plan is lost by it.
"""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass, replace
from functools import cache
from typing import Any
from unittest.mock import patch

import pytest

from scheduler.cards import MONEY
from scheduler.domain.kitchen import BLOCK
from scheduler.domain.people import BreakRule
from scheduler.domain.scenario import Situation
from scheduler.domain.trade import ANY_DAY
from scheduler.making import make_cards
from scheduler.model import chores, freezers, held, jars, mip, power, rules, trade
from scheduler.model.allocation import Allocation, AllocationModel
from scheduler.model.day import presence, take_out_minutes
from scheduler.model.given import day_work
from scheduler.model.rules import RULES, Rule
from scheduler.model.timetable import DayModel
from scheduler.planner import make_plan
from tests.property.farms_held import first_pan_out, holding, nothing_given, ruled_out
from tests.property.farms_of_goods import dated, delivered_late, staining, with_almonds
from tests.property.small_farms import (
    CLEANED,
    WASHED,
    all_can_do_all,
    at_most_at_the_stove,
    closed_in_between,
    dripping,
    four_more,
    in_one_box,
    in_oven,
    labelled,
    little_room,
    never_closed,
    nothing_left_at_the_end,
    old_enough_at,
    on_the_last_day,
    one_cook_of_two_pans,
    six_of_each,
    supplied,
    taken_out,
    tiny,
    trading,
    two_freezers,
)
from tests.property.without import (
    TO_THE_END,
    Change,
    changed,
    findings,
    groups,
    no_group,
    no_rule,
    told,
)


@dataclass(frozen=True)
class Sign:
    """What the auditor finds on a kitchen without a rule; ``also`` goes with it, as it would hide that."""

    finding: str
    kitchen: Situation
    also: tuple[Change, ...] = ()


def nothing_bought() -> Any:
    return patch.object(Allocation, "purchases", lambda *_: {})


def nothing_counted_anew() -> Any:
    return patch.object(AllocationModel, "_count_what_is_left", lambda *_: None)


def nothing_missing_counted_anew() -> Any:
    return patch.object(AllocationModel, "_count_what_is_missing", lambda *_: None)


def everybody_always_there() -> Any:
    return patch.object(DayModel, "absences", lambda *_: [])


ALLOCATION: dict[Rule, tuple[Sign, ...]] = {
    rules.fresh_lots_balance_day_by_day: (Sign("lot-balance", tiny(5)),),
    rules.punnets_sold_within_demand: (Sign("punnet-demand", tiny(13)),),
    rules.chiller_has_room_each_night: (Sign("chiller-room", tiny(9)),),
    rules.preparing_loses_its_share: (Sign("preparation-loss", tiny(5)),),
    rules.mixes_fill_their_batches: (Sign("draw-balance", tiny(15)), Sign("mix-band", tiny(0))),
    rules.frozen_and_older_fruit_within_their_shares: (
        Sign("frozen-share", tiny(9)),
        Sign("older-share", tiny(69)),
    ),
    # Lots of the freezer are read out from what is frozen and thawed, so they balance whatever the model
    # says: what it thaws beyond them is missing from the draws, what it forgets to discard from the goal.
    rules.freezer_balances_day_by_day: (Sign("draw-balance", tiny(26)),),
    rules.frozen_lots_leave_by_their_date: (Sign("goal-value", tiny(19)), Sign("freezer-room", tiny(48))),
    freezers.freezers_have_room: (
        Sign("freezer-room", tiny(19)),
        Sign("freezer-litres", tiny(8)),
        Sign("freezing-rate", tiny(8)),
    ),
    freezers.fruit_lies_in_one_freezer_or_the_other: (Sign("freezer-room", tiny(36, two_freezers)),),
    freezers.room_is_kept_free: (Sign("room-kept-free", tiny(2, nothing_left_at_the_end)),),
    freezers.fruit_has_boxes: (Sign("freezer-boxes", tiny(19, in_one_box)),),
    freezers.a_freezer_is_empty_while_it_is_defrosted: (
        Sign("defrost-day", tiny(0, on_the_last_day("defrost_on"))),
    ),
    freezers.a_freezer_that_failed_holds_nothing: (
        Sign("freezer-failure", tiny(0, on_the_last_day("fails_on"))),
    ),
    rules.one_shift_a_day_within_the_week: (
        Sign("hours-week", tiny(32, changed("people", hours_week=3.0))),
        Sign("rest", tiny(40, changed("work_rules", rest_minutes=1440))),
        # Being in twice on a day is worth no more than what both shifts have in common, and is paid for.
        Sign("shift-offered", tiny(57), (everybody_always_there,)),
    ),
    # Reading an allocation buys what is short, and has no day to buy it on where it cannot come in time.
    rules.goods_are_there_when_used: (Sign("store", tiny(32), (nothing_bought,)),),
    trade.goods_are_used_within_their_dates: (Sign("good-date", tiny(3, dated), (nothing_bought,)),),
    rules.jars_are_shipped_once_settled: (Sign("shipped", tiny(13)), Sign("most-jars", tiny(34))),
    jars.racks_hold_the_jars_of_a_day: (Sign("cooling-racks", tiny(0, little_room(rack_jars=16))),),
    jars.shelves_hold_the_jars_left: (Sign("shelf-room", tiny(0, little_room(shelf_jars=16))),),
    trade.orders_without_parts_are_filled_whole: (Sign("part-delivery", trading(2)),),
    # Reading an allocation counts anew what the shop misses; without the rule only the search is misled.
    trade.missing_shop_stock_counts: (Sign("goal-value", trading(3), (nothing_missing_counted_anew,)),),
    chores.jars_are_labelled_in_their_days: (Sign("labelled", tiny(7, labelled(30.0))),),
    chores.only_labelled_jars_leave: (Sign("labelled", tiny(5, labelled(30.0))),),
    rules.juice_is_boiled_the_day_after: (Sign("juice", dripping(6)),),
    rules.juice_has_its_drip_stands: (Sign("drip-stands", dripping(6, stands=1)),),
    power.gas_lasts_for_all_days: (Sign("gas", supplied(3)),),
    held.held_batches_are_cooked: (Sign("held", tiny(1, holding(("", "", None)))),),
    # Reading an allocation counts anew what is left; without the rule only the search is misled.
    rules.what_is_left_is_worth_what_is_wanted: (Sign("goal-value", tiny(15), (nothing_counted_anew,)),),
}

TIMETABLE: dict[str, Sign] = {
    "start wash ≥": Sign("stage-list", tiny(5)),
    "load start ≤": Sign("jars-hot", tiny(20, in_oven(heat_minutes=60))),
    "load start ≥": Sign("jars-hot", tiny(5, in_oven(hot_minutes=5))),
    "load wash jars ≤": Sign("jars-washed", tiny(5, WASHED)),
    "prepare start ≤": Sign("prepared-first", tiny(5)),
    "pan": Sign("pan-clash", tiny(0), (six_of_each("pans"),)),
    "ring": Sign("ring-clash", tiny(36), (six_of_each("rings"),)),
    "off": Sign("heatproof-places", tiny(42, changed("kitchen", heatproof_places=1))),
    "oven": Sign("oven-jars", tiny(0, in_oven(jars=14))),
    "power": Sign("power", supplied(42)),
    "at work closed": Sign("kitchen-closed", tiny(0, closed_in_between)),
    "clean down wash ≥": Sign("clean-down", tiny(1, CLEANED)),
    "clean down freeze ≥": Sign("clean-down", tiny(7, CLEANED)),
    "clean down label ≥": Sign("clean-down", tiny(7, labelled(30.0, clean_down_minutes=10))),
    "clean down take out ≥": Sign("clean-down", taken_out(16, clean_down_minutes=10)),
    "start =": Sign("held", tiny(0, holding(("", "", 60)))),
    "pan of =": Sign("pan-clash", tiny(4, holding(("right pan", "", None)))),
    "pan of ≥": Sign("held", tiny(0, holding(("left pan", "", None)))),
    "pan of ≤": Sign("ruled-out", tiny(0, ruled_out("left pan", ""))),
    "one pan apart": Sign("pan-clash", tiny(0, holding(("right pan", "", None)))),
    "ring of =": Sign("ring-clash", tiny(4, holding(("", "right ring", None)))),
    "ring of ≥": Sign("held", tiny(0, holding(("", "left ring", None)))),
    "ring of ≤": Sign("ruled-out", tiny(0, ruled_out("", "left ring"))),
    "one ring apart": Sign("ring-clash", tiny(0, holding(("", "right ring", None)))),
    "pan of ring of ≤": Sign("ruled-out", tiny(0, ruled_out("right pan", "right ring"))),
    "heat": Sign("people-while-boiling", tiny(32)),
    "does =": Sign("hands", tiny(5)),
    "from the stove to the stove ≥": Sign("stove-minutes", tiny(1, at_most_at_the_stove(45))),
    "away from the stove i": Sign("stove-minutes", tiny(1, at_most_at_the_stove(45))),
    # Where people pooled have a timetable, names often follow by themselves.
    "i": Sign("two-places", tiny(7), (no_group("pool"),)),
    "i apart": Sign("two-places", tiny(28, one_cook_of_two_pans), (no_group("pool"),)),
}

ELSEWHERE: dict[str, tuple[Change, Sign]] = {
    "people leave": (everybody_always_there, Sign("presence", tiny(20))),
    "closing": (told(changed("kitchen", close=lambda time: time + 60)), Sign("kitchen-hours", tiny(0))),
    "opening": (told(changed("kitchen", open=lambda time: time - 60)), Sign("kitchen-hours", tiny(22))),
    "breaks": (
        told(changed("work_rules", breaks=())),
        Sign("break", tiny(22, changed("work_rules", breaks=(BreakRule(120, 15),)))),
    ),
    "learners cook": (
        told(changed("people", learner=False)),
        Sign("learner", tiny(1, all_can_do_all(learner=True))),
    ),
    "learners beside a pan": (
        told(changed("people", learner=False)),
        Sign("people-while-boiling", tiny(1, all_can_do_all(learner=True))),
    ),
    "age": (told(changed("work_rules", boil_from_age=0)), Sign("boil-age", tiny(1, old_enough_at(18)))),
    "short shifts": (
        told(changed("work_rules", least_paid_minutes=0)),
        Sign("goal-value", tiny(0, changed("work_rules", least_paid_minutes=300))),
    ),
    "standing by": (
        told(changed("kitchen", keep_hot=True)),
        Sign("stand-by", tiny(10, changed("kitchen", keep_hot=False))),
    ),
    "closed times": (told(never_closed), Sign("kitchen-closed", tiny(0, closed_in_between))),
    "out of use": (told(nothing_given), Sign("out-of-use", tiny(0, first_pan_out))),
    "ruled out": (told(nothing_given), Sign("ruled-out", tiny(0, ruled_out("", "")))),
    "clean down": (told(changed("kitchen", clean_down_minutes=0)), Sign("clean-down", tiny(1, CLEANED))),
    "labels": (told(changed("kitchen", labels=None)), Sign("labelled", tiny(5, labelled(30.0)))),
    "pace of labels": (told(labelled(60.0)), Sign("label-work", tiny(7, labelled(30.0)))),
    "taking out": (told(changed("kitchen", take_out_minutes=0)), Sign("take-out", taken_out(1))),
    "full wash": (
        told(changed("kitchen", full_wash_minutes=None)),
        Sign("stage-list", tiny(0, with_almonds)),
    ),
    "washing jars": (
        told(changed("kitchen", oven=lambda oven: replace(oven, wash_jars_per_hour=None))),
        Sign("jars-washed", tiny(0, WASHED)),
    ),
    "sample": (
        told(changed("kitchen", sample_jars=0)),
        Sign("shipped", tiny(0, changed("kitchen", sample_jars=1))),
    ),
    "scrap": (
        told(changed("kitchen", scrap_share=0.0)),
        Sign("shipped", tiny(0, changed("kitchen", scrap_share=0.2))),
    ),
    "stains": (told(changed("recipes", stains=False)), Sign("stage-list", tiny(0, staining))),
    "late deliveries": (told(changed("deliveries", at=None)), Sign("store", tiny(2, delivered_late))),
    "sell life": (told(changed("fruits", sell_days=four_more)), Sign("sell-life", tiny(5))),
    "peak life": (told(changed("fruits", peak_days=four_more)), Sign("freeze-peak", tiny(5))),
    "cook life": (told(changed("fruits", cook_days=four_more)), Sign("cook-life", tiny(10))),
    "last day": (told(changed("fruits", cook_days=four_more)), Sign("spoiled", tiny(5))),
    "packs": (told(changed("goods", pack=None, least_packs=1)), Sign("packs", trading(1))),
    "delivery days": (told(changed("goods", delivery_days=ANY_DAY)), Sign("delivery-day", trading(9))),
    "lead days": (told(changed("goods", lead_days=0)), Sign("lead-time", tiny(32))),
}
"""What is no rule function and no group: domains of variables, by telling the planner of another farm."""

LIMITS: dict[Rule, Situation] = {
    rules.batches_fit_pans_rings_and_oven: tiny(20),
    rules.work_fits_the_hands_in_use: tiny(30),
    rules.pans_are_hot_only_with_people_there: tiny(16),
    rules.cooking_days_have_their_people: tiny(18),
    power.rings_draw_what_the_supply_gives: supplied(42),
    trade.goods_come_in_whole_packs: trading(1),
    chores.labels_take_their_time: tiny(40, labelled(6.0)),
    chores.fruit_is_taken_out_the_day_before: taken_out(4),
    rules.long_cooking_has_a_second_cook: tiny(10, at_most_at_the_stove(35)),
}
"""Implied by the timetable, or by how purchases are read out: they only spare the search what cannot be."""

NO_RULES: dict[str, Situation] = {
    "pool": tiny(36),  # implied by the people named
    "start ≤": tiny(36),  # orders of equal things, by which no timetable is lost
    "prepare ≤": tiny(6),
    "freeze ≤": tiny(36),
    "label ≤": tiny(10, labelled(6.0)),
    "away from the stove minding": tiny(1, at_most_at_the_stove(45)),  # implied by the people named, too
    "clean down prepare ≥": tiny(1, CLEANED),  # cooking follows, which washing and the clean down follow
    "clean down load ≥": tiny(1, CLEANED),
    "clean down start ≥": tiny(1, CLEANED),
}

SIGNS: dict[str, tuple[Change, Sign]] = {
    **{
        f"{rule.__name__}, {sign.finding}": (no_rule(rule), sign)
        for rule, several in ALLOCATION.items()
        for sign in several
    },
    **{group: (no_group(group), sign) for group, sign in TIMETABLE.items()},
    **ELSEWHERE,
}


def goals(situation: Situation) -> list[float]:
    """Values of spoiled, short and money in a plan; one with findings raises."""
    return [goal.value for goal in make_plan(situation, TO_THE_END).goals[:3]]


whole = cache(goals)
"""The same with the whole model, as long as nothing is taken away."""


@pytest.mark.parametrize("name", SIGNS)
def test_a_rule_taken_away_leaves_its_sign(name: str) -> None:
    gone, sign = SIGNS[name]
    assert whole(sign.kitchen)
    assert sign.finding in findings(sign.kitchen, gone, *sign.also)


@pytest.mark.parametrize("name", [name for name, (_, sign) in SIGNS.items() if sign.also])
def test_what_goes_with_a_rule_would_hide_its_sign(name: str) -> None:
    gone, sign = SIGNS[name]
    with suppress(LookupError):  # the plan cannot even be written down
        assert sign.finding not in findings(sign.kitchen, gone)


@pytest.mark.parametrize("limit", LIMITS, ids=lambda rule: rule.__name__)
def test_a_limit_binds_the_allocation_and_no_plan(limit: Rule) -> None:
    situation = LIMITS[limit]
    values, bound = whole(situation), least(situation)
    with no_rule(limit)():
        assert least(situation) < bound - 0.01
        assert goals(situation) == pytest.approx(values, abs=0.02)


@pytest.mark.parametrize("group", NO_RULES)
def test_what_is_no_rule_changes_no_plan(group: str) -> None:
    values = whole(NO_RULES[group])
    with no_group(group)() as gone:
        assert goals(NO_RULES[group]) == pytest.approx(values, abs=0.02)
    assert gone == {group}


def least(situation: Situation) -> float:
    """The least that the allocation alone can reach: money lost by fruit, a thousand times, and money."""
    model = AllocationModel(make_cards(situation))
    model.model.minimize(1000 * model.goals["spoiled"] + model.goals["money"])
    answer = mip.solve(model.model, model.masses, 60.0, 1, 0, lambda value, bound: False, gap=0.0)
    assert answer.objective is not None
    return answer.objective / MONEY


def test_every_rule_of_the_allocation_has_its_place() -> None:
    assert {*ALLOCATION, *LIMITS} == {*RULES}
    assert not ALLOCATION.keys() & LIMITS.keys()


def test_every_group_of_the_timetable_has_its_place() -> None:
    kitchens = {*(sign.kitchen for sign in TIMETABLE.values()), *NO_RULES.values()}
    found = {group for kitchen in kitchens for model in full_day(kitchen) for group, _ in groups(model.model)}
    assert found == {*TIMETABLE, *NO_RULES}


def full_day(situation: Situation) -> tuple[DayModel, DayModel]:
    """A first day of everything, pooled and named: everybody in, two equal batches, held if any are, work
    beside them."""
    cards = make_cards(situation)
    pieces = [card.pieces for card in cards.batches]
    most = max(range(len(pieces)), key=lambda m: len(pieces[m]) - len(set(pieces[m])))
    people = {staff.person: presence(cards, staff) for staff in cards.staff if staff.day == 0}
    pinned = {h: most for h, row in enumerate(situation.scenario.held) if row.hold}
    beside = (4 * BLOCK if cards.kitchen.labels else 0, take_out_minutes(cards))
    work = day_work(cards, 0, (most, most), 4 * BLOCK, tuple(sorted(people.values())), pinned, *beside)
    pooled, named = DayModel(cards, work), DayModel(cards, work)
    pooled.pool()
    named.name()
    return pooled, named
