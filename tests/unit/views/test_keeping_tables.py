"""What the yard cost, worked by hand with the chiller at 0 °C.

Strawberries breathe 135 mg at 20 °C, 71.25 at 10 °C and 16 at 0 °C (UC Davis, Strawberry produce facts):
8.4375 and 4.453125 times as fast as in this chiller.
"""

from __future__ import annotations

from dataclasses import replace

import kilbrack_sample as sample
import pytest

from scheduler.domain.fruit import Grade, Lot
from scheduler.domain.kitchen import Chiller
from scheduler.domain.scenario import Situation
from scheduler.views import keeping_tables as tables

SAMPLE = sample.situation()


def farm(*warm: tuple[float, float], grade: Grade = Grade.TABLE, chiller_c: float = 0.0) -> Situation:
    """The sample farm with its first picks of strawberries (4 days to sell, 6 to cook) left warm."""
    scenario = SAMPLE.scenario
    picks = [lot for lot in scenario.picks if lot.fruit == "strawberry"]
    stood = [
        replace(lot, grade=grade, warm_hours=hours, warm_celsius=celsius)
        for lot, (hours, celsius) in zip(picks, warm, strict=False)
    ]
    rest = tuple(lot for lot in scenario.picks if lot.name not in {each.name for each in stood})
    kitchen = replace(scenario.kitchen, chiller=Chiller(200, chiller_c))
    return replace(SAMPLE, scenario=replace(scenario, kitchen=kitchen, picks=(*stood, *rest)))


def test_lots_that_stood_warm_have_a_row() -> None:
    table = tables.yard_table(farm((6.0, 20.0), (2.5, 10.0), (24.0, 20.0)), "strawberry")
    assert table.to_dict("records") == [
        {
            "lot": "strawberry table 2026-07-06",
            "warm": "6 h at 20 °C",
            "days lost": 1.9,  # 0.25 × 7.4375 = 1.859
            "of its life": "35 %",  # 0.25 × 8.4375 ÷ 6
            "sell by": "Wed 8 Jul",  # 4 − 1.859 = 2.14
            "cook by": "Fri 10 Jul",  # 6 − 1.859 = 4.14
        },
        {
            "lot": "strawberry table 2026-07-07",
            "warm": "2.5 h at 10 °C",
            "days lost": 0.4,  # 0.104167 × 3.453125 = 0.360
            "of its life": "8 %",
            "sell by": "Fri 10 Jul",  # 4 − 0.36 = 3.64
            "cook by": "Sun 12 Jul",  # 5.64
        },
        {
            "lot": "strawberry table 2026-07-08",
            "warm": "24 h at 20 °C",
            "days lost": 7.4,
            "of its life": "141 %",
            "sell by": "over when it came",  # 4 − 7.4375
            "cook by": "over when it came",
        },
    ]


def test_kitchen_grade_is_not_sold_and_other_fruit_is_not_shown() -> None:
    situation = farm((6.0, 20.0), grade=Grade.KITCHEN)
    (row,) = tables.yard_table(situation, "strawberry").to_dict("records")
    assert row["sell by"] == ""
    assert tables.yard_table(situation, "raspberry").empty


def test_fruit_that_came_in_at_once_has_no_rows() -> None:
    assert tables.yard_table(SAMPLE, "strawberry").empty


@pytest.mark.parametrize(("chiller_c", "lost"), [(0.0, 1.859), (10.0, 0.224), (20.0, 0.0)])
def test_the_warmer_the_chiller_the_less_the_yard_costs(chiller_c: float, lost: float) -> None:
    # at 10 °C: 0.25 × (8.4375 ÷ 4.453125 − 1) = 0.224
    (lot,) = [each for each in farm((6.0, 20.0)).scenario.picks if each.warm_hours]
    assert isinstance(lot, Lot)
    assert tables.days_lost(lot, "strawberry", chiller_c) == pytest.approx(lost, abs=0.001)
