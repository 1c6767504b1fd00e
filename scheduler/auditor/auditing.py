"""The audit: every rule of the rule book, in one list, recomputed for a situation and a plan."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from scheduler.auditor import (
    cards,
    chores,
    day,
    freezer,
    freezer_room,
    fruit,
    goals,
    good_dates,
    hands,
    header,
    held,
    jars,
    juice,
    mixes,
    people,
    power,
    store,
    stove,
    trade,
    whole_day,
)
from scheduler.auditor.case import Case
from scheduler.auditor.farm import Farm
from scheduler.auditor.finding import Finding
from scheduler.auditor.rows import sound_rows
from scheduler.domain.scenario import Situation
from scheduler.plan_rows import Plan

Check = Callable[[Case], Iterator[Finding]]

CHECKS: tuple[Check, ...] = (
    # the fruit, rules 1 to 5
    fruit.each_lot_has_one_row_a_day,
    fruit.each_day_of_a_lot_balances,
    fruit.each_lot_opens_with_what_was_left,
    fruit.each_pick_arrives_on_its_day,
    fruit.only_table_grade_within_sell_life_is_sold,
    fruit.fruit_is_frozen_within_peak_life,
    fruit.fruit_is_cooked_within_cook_life,
    fruit.fruit_spoils_at_the_end_of_its_last_day,
    fruit.sales_stay_within_punnet_demand,
    fruit.what_is_left_fits_the_chiller,
    # the freezer, rules 6, 7, 10 and 11
    freezer.each_frozen_lot_has_one_row_a_day,
    freezer.each_day_of_a_frozen_lot_balances,
    freezer.each_frozen_lot_opens_with_what_was_left,
    freezer.a_lot_is_frozen_on_its_own_day_only,
    freezer.freezing_loses_the_preparation_loss,
    freezer.cooking_loses_the_preparation_loss,
    freezer.frozen_lots_go_by_their_date,
    freezer.what_is_dated_first_is_thawed_first,
    freezer.fruit_frozen_today_is_not_thawed_today,
    # what the freezers hold, rules 8, 9 and 57 to 60
    freezer_room.what_is_left_fits_the_freezer_by_weight,
    freezer_room.what_is_left_fits_the_freezer_by_volume,
    freezer_room.freezing_stays_within_its_rate,
    freezer_room.room_is_kept_free,
    freezer_room.fruit_has_boxes,
    freezer_room.the_second_freezer_holds_a_part,
    freezer_room.a_freezer_is_empty_while_it_is_defrosted,
    freezer_room.a_freezer_that_failed_holds_nothing,
    # mixes and batches, rules 12 to 17, 40 and 41
    mixes.draws_add_up_to_what_each_lot_gives,
    mixes.draws_from_the_freezer_are_the_frozen_part_of_the_mix,
    mixes.the_mix_fills_the_batches,
    mixes.a_mix_lists_each_fruit_of_its_recipe_once,
    mixes.each_fruit_stays_within_its_band,
    mixes.the_freezer_gives_no_more_than_its_share,
    mixes.only_some_recipes_are_cooked_from_the_freezer_alone,
    mixes.older_fruit_stays_within_its_share,
    cards.batch_ids_are_unique,
    cards.each_fill_step_is_one_of_the_kitchen,
    cards.juice_fills_its_pan_as_it_says,
    cards.each_pan_fits_its_ring,
    cards.each_batch_has_a_card,
    cards.each_batch_is_as_on_its_card,
    mixes.no_more_jars_than_can_be_sold,
    juice.juice_is_of_a_batch_softened_the_day_before,
    juice.each_batch_that_softens_is_boiled_once,
    juice.only_juice_is_of_another_batch,
    juice.the_drip_stands_hold_all_juice,
    # a day's timetable, rules 18 to 24, 44 and 45
    day.times_are_multiples_of_five,
    day.stages_are_of_a_batch_on_its_day,
    day.preparing_is_cut_into_even_pieces,
    day.jars_are_loaded_once,
    day.cooking_runs_without_a_wait,
    day.each_pan_is_washed_when_it_is_empty,
    day.fruit_is_prepared_before_it_is_cooked,
    day.work_stays_within_kitchen_hours,
    day.a_pan_holds_one_batch_until_washed,
    day.a_ring_holds_one_batch,
    day.standing_pans_have_heatproof_places,
    day.jars_fit_the_oven,
    day.jars_are_hot_when_potting_starts,
    day.somebody_stands_by_for_an_early_set,
    day.freezing_has_its_preparing,
    # power and gas, rules 42 and 43
    power.rings_draw_no_more_than_the_supply_gives,
    power.the_bottles_hold_the_gas_that_is_burnt,
    whole_day.nothing_goes_on_while_the_kitchen_is_closed,
    whole_day.a_day_in_the_kitchen_ends_with_a_clean_down,
    # work beside the batches, rules 66 to 68
    chores.jars_are_labelled_in_their_days,
    chores.only_labelled_jars_leave,
    chores.labels_have_their_minutes,
    chores.fruit_is_taken_out_the_day_before,
    # hands and people, rules 25 to 32
    hands.each_stage_has_the_hands_it_needs,
    hands.everybody_works_inside_a_shift,
    hands.nobody_is_in_two_places,
    hands.enough_people_are_there_while_pans_boil,
    people.each_shift_in_use_is_offered,
    people.nobody_has_two_shifts_on_a_day,
    people.breaks_are_as_owed,
    people.hours_of_a_week_stay_within_the_most,
    people.there_is_rest_between_two_days,
    # who may do what, and for how long, rules 53 to 55
    stove.no_learner_minds_a_pan,
    stove.nobody_too_young_works_with_hot_sugar,
    stove.nobody_stands_at_the_stove_for_too_long,
    # the store and orders, rules 33 to 35
    store.the_store_never_runs_out,
    store.purchases_are_of_something,
    store.purchases_keep_their_lead_time,
    store.each_order_has_its_line,
    store.jars_balance_day_by_day,
    store.jars_settle_before_they_ship,
    # jars from shelf to shelf, rules 62 to 65
    jars.jars_are_washed_before_they_are_loaded,
    jars.jars_cool_on_racks,
    jars.jars_left_stand_on_shelves,
    # trade, rules 47 to 50
    trade.orders_without_parts_are_filled_whole,
    trade.the_shop_has_its_rows,
    trade.the_shop_has_what_is_settled,
    trade.goods_come_in_whole_packs,
    trade.goods_come_on_their_delivery_days,
    # dates of goods, rule 61
    good_dates.nothing_is_used_past_its_date,
    # what is given beforehand, rules 70 to 72
    held.nothing_out_of_use_is_used,
    held.each_held_row_has_a_batch_of_its_own,
    held.nothing_ruled_out_is_cooked,
    # goals, header and totals, rules 36 to 39
    goals.goals_are_the_four_in_rank,
    goals.goals_have_the_values_of_the_rows,
    goals.proofs_agree_with_themselves,
    header.the_header_is_that_of_the_situation,
    header.the_fresh_fruit_balances,
    header.the_habit_balances,
    header.reported_totals_are_sums_of_rows,
    header.each_finish_is_when_the_last_stage_ends,
)


def audit(situation: Situation, plan: Plan) -> tuple[Finding, ...]:
    """Every rule that ``plan`` breaks in ``situation``; empty for a sound plan.

    Never raises for a damaged plan: rows with a value of the wrong kind, an unknown name or a day
    outside the plan are findings (``damaged-row``, ``unknown-name``, ``unknown-day``), and the
    rules are recomputed from the other rows.
    """
    farm = Farm(situation)
    sound, findings = sound_rows(farm, plan)
    case = Case(farm, sound)
    for check in CHECKS:
        findings += check(case)
    return tuple(findings)
