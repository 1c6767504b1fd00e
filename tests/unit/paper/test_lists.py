"""What to pick, to take from the freezer and to order: the plan's own kg, dates and money."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from scheduler.domain.fruit import Grade
from scheduler.domain.kitchen import Thaw
from scheduler.domain.trade import Delivery
from scheduler.paper import print_pdf
from scheduler.paper.lists import picks, purchases, thaw
from scheduler.plan_rows import Stage, StageKind
from tests.unit.paper.reading import text
from tests.unit.views import kilbrack_sample as sample

PLAN, FARM = sample.plan(), sample.situation().scenario


def kg(said: str) -> float:
    return float(said.removesuffix(" kg").replace(",", ""))


def test_picks_are_every_fruit_and_grade_of_each_day() -> None:
    found = picks(PLAN, FARM)
    assert found is not None
    assert found["days"][0]["name"] == "Mon 6 Jul"
    assert sum(kg(row["kg"]) for day in found["days"] for row in day["rows"]) == pytest.approx(
        sum(lot.kg for lot in FARM.picks)
    )
    assert all(kg(day["total"]) == sum(kg(row["kg"]) for row in day["rows"]) for day in found["days"])


def test_what_is_to_be_picked_is_told_before_grading() -> None:
    listed = (replace(FARM.picks[0], kg=60.0, grade=Grade.TABLE),)
    found = picks(PLAN, replace(FARM, picked=listed))
    assert found is not None
    assert found["days"][0]["rows"] == [
        {"letters": "S", "fruit": "strawberry", "grade": "table", "kg": "60.0 kg"}
    ]


def test_fruit_is_taken_out_the_evening_before_by_lot_with_its_date() -> None:
    found = thaw(PLAN, FARM)
    assert found is not None
    (day,) = found["days"]
    assert (day["name"], day["for"], day["total"]) == ("Wed 8 Jul evening", "for Thu 9 Jul", "9.0 kg")
    assert day["rows"] == [
        {
            "letters": "G",
            "lot": "gooseberry bag 2025",
            "kg": "9.0 kg",
            "use_by": "Thu 20 Aug 2026",
            "for": "gooseberry jam",
        }
    ]


def test_where_it_is_somebodys_work_its_time_stands_there() -> None:
    wednesday = FARM.start + timedelta(days=2)
    chore = Stage(wednesday, "", StageKind.TAKE_OUT, 870, 885, ("Maeve",))
    found = thaw(replace(PLAN, stages=(*PLAN.stages, chore)), FARM)
    assert found is not None
    assert found["days"][0]["name"] == "Wed 8 Jul 14:30–14:45, Maeve"


def test_fruit_that_thaws_in_the_pan_is_taken_out_on_the_day() -> None:
    farm = replace(FARM, kitchen=replace(FARM.kitchen, thaw=Thaw.PAN))
    found = thaw(PLAN, farm)
    assert found is not None
    assert found["days"][0]["name"] == "Thu 9 Jul"
    assert "Straight into the pan" in text(print_pdf("thaw", PLAN, farm))


def test_purchases_stand_under_their_last_day_to_order_and_add_up() -> None:
    found = purchases(PLAN, FARM)
    assert found is not None
    (day,) = found["days"]
    assert (day["name"], day["total"], found["total"]) == ("Wed 8 Jul", "€223.00", "€223.00")
    assert [(row["good"], row["amount"], row["comes"], row["cost"]) for row in day["rows"]] == [
        ("sugar", "80 kg", "Fri 10 Jul", "€88.00"),
        ("jar 340", "300 jars", "Sat 11 Jul", "€135.00"),
    ]


def test_packs_and_what_is_on_its_way_are_told() -> None:
    sugar = replace(PLAN.purchases[0], packs=4, quantity=100.0, comes=FARM.start + timedelta(days=3))
    farm = replace(
        FARM,
        goods=(replace(FARM.goods[0], pack=25.0), *FARM.goods[1:]),
        deliveries=(Delivery(FARM.start, "jar 340", 360, 600),),
    )
    told = text(print_pdf("purchases", replace(PLAN, purchases=(sugar,)), farm))
    assert "100 kg (4 packs of 25 kg)" in told
    assert "Already ordered and paid for" in told
    assert "360 jars" in told
    assert "Mon 6 Jul, 10:00" in told
