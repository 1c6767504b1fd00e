"""Stock of the shop, packs and delivery days on screens and in files."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from io import StringIO

import kilbrack_sample as sample
import pytest
from rich.console import Console

from scheduler.domain.trade import ShopDemand, Weekday
from scheduler.plan_json import from_json, to_json
from scheduler.plan_rows import ShopStock
from scheduler.views import files, tables, trade_tables
from scheduler.views.dashboard.scenario import tables_of
from scheduler.views.summary import summary

PLAN, SITUATION = sample.plan(), sample.situation()
MONDAY, TUESDAY, WEDNESDAY = SITUATION.scenario.dates()[:3]
JAM = "strawberry jam"
JAR = sample.JAR
SHOP = (
    ShopStock(TUESDAY, JAM, JAR, jars=12, settled=7),
    ShopStock(WEDNESDAY, JAM, JAR, jars=12, settled=31),
    ShopStock(TUESDAY, "gooseberry jam", JAR, jars=6, settled=5),
)
ASKED = replace(SITUATION, scenario=replace(SITUATION.scenario, shop=(ShopDemand(TUESDAY, JAM, JAR, 12),)))


def test_the_shop_table_counts_what_is_missing_and_nothing_that_is_over() -> None:
    table = trade_tables.shop_table(replace(PLAN, shop=SHOP), SITUATION.scenario)
    assert list(table["at the end of"]) == ["Tue 7 Jul", "Tue 7 Jul", "Wed 8 Jul"]
    assert list(table["jars missing"]) == [1, 5, 0]
    assert trade_tables.shop_table(PLAN, SITUATION.scenario).empty


def test_the_shop_is_told_of_in_a_sentence() -> None:
    said = trade_tables.shop_said(replace(PLAN, shop=SHOP))
    assert said == "The shop misses jars on 1 of 2 days, at most 6 jars on one of them."
    assert "all that it asks for" in trade_tables.shop_said(replace(PLAN, shop=SHOP[1:2]))


def test_the_summary_lists_what_the_shop_misses() -> None:
    console = Console(file=StringIO(), width=100, record=True)
    console.print(summary(replace(PLAN, shop=SHOP), ASKED))
    text = console.export_text()
    assert "Jars missing in the shop" in text
    assert "jars missing from orders and shop" in text
    console.print(summary(replace(PLAN, shop=SHOP[1:2]), ASKED))
    assert "The shop has all that it asks for." in console.export_text()


def test_without_a_shop_nothing_is_said_of_it() -> None:
    assert "shop" not in tables.goal_words("short", SITUATION.scenario)
    assert "shop" in tables.goal_words("short", ASKED.scenario)
    assert "shop" not in tables.goal_words("money", ASKED.scenario)


@pytest.mark.parametrize(("packs", "told"), [(1, "40 kg (1 pack of 40 kg)"), (2, "80 kg (2 packs of 40 kg)")])
def test_what_is_bought_in_packs_says_how_many(packs: int, told: str) -> None:
    goods = tuple(replace(good, pack=40.0) for good in SITUATION.scenario.goods)
    bought = replace(PLAN.purchases[0], packs=packs, quantity=40.0 * packs)
    table = tables.purchase_table(
        replace(PLAN, purchases=(bought,)), replace(SITUATION.scenario, goods=goods)
    )
    assert list(table["quantity"]) == [told]
    assert "comes" not in table


def test_the_day_of_coming_is_told_where_it_is_another_than_that_of_need() -> None:
    first, *others = PLAN.purchases
    early = replace(first, comes=first.needed - timedelta(days=1))
    table = tables.purchase_table(replace(PLAN, purchases=(early, *others)), SITUATION.scenario)
    row = table[table["good"] == first.good].iloc[0]
    assert (row["comes"], row["needed on the morning of"]) == ("Thu 9 Jul", "Fri 10 Jul")


def test_the_scenario_shows_parts_packs_delivery_days_and_the_shop() -> None:
    good = replace(
        SITUATION.scenario.goods[0], pack=25.0, least_packs=2, delivery_days={Weekday.THU, Weekday.MON}
    )
    order = replace(SITUATION.scenario.orders[0], parts=False)
    shown = tables_of(replace(ASKED.scenario, goods=(good,), orders=(order,)))
    assert shown["Dry store"].iloc[0][["a pack", "least packs", "comes on"]].tolist() == [
        "25 kg",
        2,
        "Mon, Thu",
    ]
    assert list(shown["Orders"]["takes parts"]) == ["no"]
    assert shown["Asked for the shop"].iloc[0].tolist() == ["Tue 7 Jul", JAM, 12]


def test_a_plan_with_a_shop_and_packs_is_written_and_read() -> None:
    bought = replace(PLAN.purchases[0], packs=2, comes=PLAN.purchases[0].needed)
    plan = replace(PLAN, shop=SHOP, purchases=(bought,))
    assert from_json(to_json(plan)) == plan
    texts = files.plan_texts(plan)
    assert "2026-07-07,strawberry jam,jar 340,12,7\r\n" in texts["shop.csv"]
    assert texts["purchases.csv"].endswith(",2,2026-07-10\r\n")
