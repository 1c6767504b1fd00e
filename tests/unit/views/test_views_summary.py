"""The terminal summary and the --json object tell the plan's own numbers."""

import io
import json
from dataclasses import replace
from datetime import date

import kilbrack_sample as sample
import pytest
from rich.console import Console

from scheduler.languages import ENGLISH, IMPERIAL, speaking
from scheduler.plan_rows import Plan, totals
from scheduler.views import tables, words
from scheduler.views.dashboard.week import _against, difference
from scheduler.views.saving_table import saving_table
from scheduler.views.summary import as_json, summary

PLAN, SITUATION = sample.plan(), sample.situation()


def _text(plan: Plan = PLAN, width: int = 80) -> str:
    console = Console(width=width, record=True, file=io.StringIO())
    console.print(summary(plan, SITUATION))
    return console.export_text()


def test_json_object_has_exactly_the_agreed_keys() -> None:
    found = json.loads(json.dumps(as_json(PLAN, SITUATION, [])))
    assert set(found) == {"status", "goals", "days", "kg", "jars", "seconds", "findings", "habit"}
    assert [set(goal) for goal in found["goals"]] == [
        {"name", "value", "best", "bound", "gap", "unit", "slack"}
    ] * 4
    assert [goal["name"] for goal in found["goals"]] == ["spoiled", "short", "money", "tidiness"]
    assert found["days"] == {"placed": 7, "refuted": 2, "undecided": 0}
    agreed = "picked opening sold cooked frozen trimmed given_up spoiled left thawed"
    assert set(found["kg"]) == set(agreed.split())
    assert found["jars"] == {"made": totals(PLAN).made, "short": 12}
    assert set(found["habit"]) == {"kg", "jars"}
    assert found["habit"]["jars"]["short"] == 46


def test_json_kg_balance() -> None:
    kg = as_json(PLAN, SITUATION, [])["kg"]
    went = sum(kg[name] for name in ("sold", "cooked", "frozen", "trimmed", "given_up", "spoiled", "left"))
    assert kg["picked"] + kg["opening"] == pytest.approx(went, abs=0.01)


def test_json_findings_are_text_and_habit_may_be_missing() -> None:
    found = as_json(replace(PLAN, habit=None), SITUATION, [ValueError("pan-clash")])
    assert found["findings"] == ["pan-clash"]
    assert found["habit"] is None


def test_json_refuses_a_plan_of_other_input() -> None:
    with pytest.raises(ValueError, match="other input"):
        as_json(replace(PLAN, input_hash="x"), SITUATION, [])


@pytest.mark.parametrize("width", [80, 120])
def test_summary_fits_and_tells_the_headlines(width: int) -> None:
    text = _text(width=width)
    assert max(len(line) for line in text.splitlines()) <= width
    for told in ("238.0 kg sold fresh", "118.3 kg of fruit lost", "12 jars missing", "strawberry", "€812.40",
                 "0.79 %", "Wed 8 Jul", "€9.50 above its best, of €9.50 allowed", "Boiling sugar",
                 "jars missing from orders: 24 weighted jars", "Local food law"):  # fmt: skip
        assert told in " ".join(text.replace("│", " ").split()), told


def test_no_amount_or_heading_is_cut_at_80_columns_and_lost_value_is_explained() -> None:
    goals = tuple(
        replace(g, value=-12_345.67, best=-12_345.67, bound=-13_345.67) if g.name == "money" else g
        for g in PLAN.goals
    )
    text = _text(replace(PLAN, goals=goals))
    assert "…" not in text
    assert "−€12,345.67" in text
    assert "left over with no use" in " ".join(text.split())


def test_the_card_and_the_sentence_tell_one_difference_from_habit_in_pounds() -> None:
    habit = totals(PLAN)
    with speaking(ENGLISH, IMPERIAL):
        said = _against(habit.left - 1.38, habit.left, "kg", -1)[0]
        assert said == "3.0 lb less than by habit"  # 1.38 ÷ 0.45359237
        assert difference(replace(habit, left=habit.left - 1.38), habit).startswith("3.0 lb less")


def test_summary_says_when_nothing_is_missing() -> None:
    full = tuple(replace(line, filled=line.jars) for line in PLAN.orders)
    text = _text(replace(PLAN, orders=full, purchases=(), habit=None))
    assert "All 3 orders are filled." in text
    assert "Nothing to buy" in text
    assert "jars missing" not in text.split("Goals")[0].split("The days")[0].replace("0 jars missing", "")


def test_missing_jars_are_called_weighted_only_where_orders_weigh_differently() -> None:
    scenario = SITUATION.scenario
    even = replace(scenario, orders=tuple(replace(order, weight=1) for order in scenario.orders))
    told = [tables.goal_table(PLAN, each).set_index("goal")["in this plan"] for each in (scenario, even)]
    missing = tables.GOAL_WORDS["short"]
    assert [column[missing] for column in told] == ["24 weighted jars", "24 jars"]
    # The weighted jars are those that the plan's own orders miss, by their weights.
    weights = {order.name: order.weight for order in scenario.orders}
    assert sum(weights[line.order] * (line.jars - line.filled) for line in PLAN.orders) == 24


def test_slack_says_how_much_was_used_and_what_it_reached() -> None:
    spoiled, short, *rest = PLAN.goals
    none = replace(PLAN, goals=(replace(spoiled, slack=0.0), short, *rest[1:]))
    assert tables.slack_used(none, SITUATION.scenario) == []
    unused = replace(PLAN, goals=(replace(spoiled, value=spoiled.best), short))
    [line] = tables.slack_used(unused, SITUATION.scenario)
    assert "€0.00 above its best, of €9.50 allowed" in line


def test_difference_from_habit_names_what_differs_and_hides_nothing_left_over() -> None:
    ours = totals(PLAN)
    same = difference(ours, ours)
    assert not any(sign.isdigit() for sign in same)
    habit = replace(ours, given_up=ours.given_up + 40, left=ours.left - 30, short=ours.short + 1)
    assert difference(ours, habit) == (
        "40.0 kg less fruit lost, 30.0 kg more left in the chiller at the end, "
        "1 jar fewer missing from orders."
    )


def test_days_have_no_column_for_what_is_never_done() -> None:
    assert "sold kg" in tables.load_table(PLAN)
    winter = replace(PLAN, lots=(), freezer=())
    assert {"sold kg", "frozen kg"}.isdisjoint(tables.load_table(winter))


def test_goods_to_buy_add_up() -> None:
    told = tables.bought(PLAN, SITUATION.scenario)
    units = {good.name: good.unit for good in SITUATION.scenario.goods}
    for good in {purchase.good for purchase in PLAN.purchases}:
        amount = sum(purchase.quantity for purchase in PLAN.purchases if purchase.good == good)
        assert f"{good} {words.quantity(amount, units[good])}" in told


def test_saving_is_the_difference_of_both_totals() -> None:
    saving = saving_table(PLAN).set_index("")
    assert saving.loc["fruit lost, kg", "difference"] == "-40.0"
    assert saving.loc["jars made", "difference"] == "+61"
    assert saving.loc["jars missing from orders", "difference"] == "-34"


def test_fates_of_each_fruit_add_up_to_what_came_in() -> None:
    frame = tables.fates(PLAN, SITUATION.scenario)
    for fruit in ("strawberry", "raspberry", "redcurrant"):
        came = sum(row.arrived for row in PLAN.lots if row.fruit == fruit)
        assert frame.loc[fruit].sum() == pytest.approx(came, abs=0.01)


@pytest.mark.parametrize(
    ("said", "found"),
    [
        (words.clock(485), "08:05"),
        (words.mass(-0.01), "0.0 kg"),
        (words.mass(1234.56), "1,234.6 kg"),
        (words.money(-3, "EUR"), "−€3.00"),
        (words.money(12, "SEK"), "SEK 12.00"),
        (words.quantity(300, "jars"), "300 jars"),
        (words.percent(0.0079), "0.79 %"),
        (words.percent(0.0), "0.0 %"),
        (words.quantity(3, "each"), "3"),
        (words.day_span(date(2026, 7, 6), date(2026, 7, 12)), "6 Jul to 12 Jul 2026"),
        (words.day_span(date(2026, 11, 2), date(2027, 1, 24)), "2 Nov 2026 to 24 Jan 2027"),
        (words.jars(1), "1 jar"),
        (words.hours(450), "7h30"),
        (words.day_name(sample.START), "Mon 6 Jul"),
    ],
)
def test_words(said: str, found: str) -> None:
    assert said == found


def test_letters_name_the_fruit_with_most_kg_first() -> None:
    batch = next(b for b in PLAN.batches if "redcurrant" in b.recipe)
    assert words.letters(batch, PLAN, SITUATION.scenario) == "RC"
