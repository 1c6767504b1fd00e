"""Rules of life on fruit that stood in the yard: fine, just inside and just over, worked by hand.

Strawberries breathe 135 mg at 20 °C and 16 at 0 °C (UC Davis, Strawberry produce facts; see
``physics/data/respiration.csv``), so they live 135 ÷ 16 = 8.4375 times as fast. The chiller is at 0 °C: an
hour at 20 °C takes 8.4375 hours of a life and is itself one hour of age, so the last day comes 7.4375 ÷ 24 =
0.30990 days sooner. One day sooner at 24 ÷ 7.4375 = 3.2269 hours: 3.22 lies just inside, 3.23 just over.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from scheduler.auditor import audit
from scheduler.auditor.farm import Farm
from scheduler.cards import MONEY, SCALE
from scheduler.domain.kitchen import Chiller
from scheduler.domain.scenario import Situation
from scheduler.making import make_cards
from scheduler.plan_rows import JarDay, Plan
from scheduler.planner import make_plan

from . import day_of_one_pan as one_pan
from . import day_of_two_pans as two_pans
from . import worked_days as hand
from .breaking import goal
from .day_of_two_pans import LAST_DAY_LOT
from .worked_days import MONDAY, PICKED_MONDAY


def warmed(situation: Situation, lot: str, hours: float, celsius: float = 20.0, **other: float) -> Situation:
    """``lot`` stood warm, and its fruit has ``other`` lives or uses."""
    farm = situation.scenario

    def stood(each: object) -> object:
        return replace(each, warm_hours=hours, warm_celsius=celsius) if each.name == lot else each

    fruits = (replace(farm.fruits[0], **other), *farm.fruits[1:])
    lots, picks = tuple(map(stood, farm.lots)), tuple(map(stood, farm.picks))
    return replace(situation, scenario=replace(farm, fruits=fruits, lots=lots, picks=picks))


def rules(situation: Situation, plan: Plan, spoiled: float) -> set[str]:
    """Names of the findings, with the goal restated at what the fruit is worth now."""
    _, restated = goal("spoiled", spoiled)(situation, plan)
    return {finding.rule for finding in audit(situation, restated)}


@pytest.mark.parametrize(
    ("hours", "cook_days"),
    [
        (0.0, 3),
        (3.22, 2),  # 3 − 0.9979
        (24 / 7.4375, 2),  # an error of rounding is forgiven
        (3.23, 1),  # 3 − 1.0010
        (9.68, 0),  # 3 − 2.9999
        (9.69, -1),  # 3 − 3.0029: over when it came
        (48.0, -12),  # 3 − 14.875
    ],
)
def test_cards_and_auditor_have_the_life_worked_by_hand(hours: float, cook_days: int) -> None:
    situation = warmed(one_pan.SITUATION, PICKED_MONDAY, hours)
    assert make_cards(situation).lots[0].last_cooked == cook_days
    assert Farm(situation).fresh[PICKED_MONDAY].cook_days == cook_days


@pytest.mark.parametrize(
    ("hours", "celsius", "cook_days"),
    [
        (0.0, 0.0, 2),  # 71.25 ÷ 16 = 4.453125 times as fast at 10 °C: 8.90625 days last two
        (6.0, 10.0, 2),  # as warm as the chiller: nothing lost
        (6.0, 20.0, 1),  # 0.25 + (8.90625 − 0.25 × 8.4375) ÷ 4.453125 = 1.776
        (24.0, 0.0, 2),  # 1 + (8.90625 − 1) ÷ 4.453125 = 2.775: a cold yard gains
        (48.0, 0.0, 3),  # 2 + (8.90625 − 2) ÷ 4.453125 = 3.551
    ],
)
def test_what_the_yard_leaves_is_lived_at_the_chillers_temperature(
    hours: float, celsius: float, cook_days: int
) -> None:
    situation = warmed(one_pan.SITUATION, PICKED_MONDAY, hours, celsius, cook_days=8.90625)
    kitchen = replace(situation.scenario.kitchen, chiller=Chiller(kg=10.0, celsius=10.0))
    situation = replace(situation, scenario=replace(situation.scenario, kitchen=kitchen))
    assert make_cards(situation).lots[0].last_cooked == cook_days
    assert Farm(situation).fresh[PICKED_MONDAY].cook_days == cook_days


@pytest.mark.parametrize(("hours", "share"), [(0.0, 3 / 3), (3.22, 2 / 3), (3.23, 1 / 3), (9.0, 0.0)])
def test_what_is_left_counts_the_share_of_a_fresh_life(hours: float, share: float) -> None:
    situation = warmed(one_pan.SITUATION, PICKED_MONDAY, hours, sell_days=3.0, peak_days=3.0)
    (card,) = make_cards(situation).lots
    assert card.left_value == int(2.0 * MONEY / SCALE * share + 1e-6)
    if share:
        # left 1.0 kg × 2, of which 0.3 kg are wanted later
        assert rules(situation, one_pan.PLAN, 2.00 - 0.3 * 2 * share) == set()


@pytest.mark.parametrize(
    ("hours", "found"),
    [(1.0, set()), (6.45, set()), (6.46, {"sell-life"})],  # 2 − 0.30990 × 6.45 = 0.0012; 6.46: −0.0019
)
def test_table_fruit_is_sold_while_the_yard_left_it_a_sell_life(hours: float, found: set[str]) -> None:
    lives = {"sell_days": 2.0, "peak_days": 4.5, "cook_days": 4.5}
    situation = warmed(one_pan.SITUATION, PICKED_MONDAY, hours, **lives)
    share = (4 if hours == 1.0 else 2) / 4  # 4.5 − 0.31 = 4.19; 4.5 − 2.0 = 2.5
    lost = 0.0 if hours < 6.46 else -6.0 * (5 - 2)  # nothing could be sold, and 6.0 kg were
    assert rules(situation, one_pan.PLAN, 2.00 - 0.3 * 2 * share + lost) == found


@pytest.mark.parametrize(
    ("hours", "share", "found"),
    # past its peak it is older fruit too, and the batch may hold little of that
    [(0.0, 1, set()), (3.22, 2 / 3, set()), (3.23, 1 / 3, {"freeze-peak", "older-share"})],
)
def test_fruit_is_frozen_while_the_yard_left_it_a_peak(hours: float, share: float, found: set[str]) -> None:
    situation = warmed(two_pans.SITUATION, PICKED_MONDAY, hours, sell_days=2.0)
    # of 2.1 kg wanted later 2.0 come from the freezer and 0.1 from this lot: 4.00 + 0.1 × 2 × share saved
    assert rules(situation, two_pans.PLAN, 6.60 + 0.1 * 2 * (1 - share)) == found


@pytest.mark.parametrize(
    ("hours", "found"),
    [(0.0, set()), (1.61, set()), (1.62, {"cook-life"})],  # 3.5 − 0.30990 × 1.61 = 3.0011; 1.62: 2.9980
)
def test_fruit_is_cooked_while_the_yard_left_it_a_life(hours: float, found: set[str]) -> None:
    situation = warmed(two_pans.SITUATION, LAST_DAY_LOT, hours, cook_days=3.5)  # cooked three days old
    assert rules(situation, two_pans.PLAN, 6.60) == found


@pytest.mark.parametrize(
    ("hours", "share", "found"),
    [
        (0.0, 2 / 2, set()),
        (3.22, 1 / 2, set()),
        (3.23, 0, {"spoiled"}),
    ],  # with 2 days nothing is left on Tuesday
)
def test_fruit_is_kept_while_the_yard_left_it_another_day(
    hours: float, share: float, found: set[str]
) -> None:
    situation = warmed(one_pan.SITUATION, PICKED_MONDAY, hours, sell_days=2.0, peak_days=2.0, cook_days=2.0)
    assert rules(situation, one_pan.PLAN, 2.00 - 0.3 * 2 * share) == found


OVER = warmed(one_pan.SITUATION, PICKED_MONDAY, 12.0)  # 3 − 12 × 0.30990 = −0.72
ALL_SPOILED = hand.plan(
    {"spoiled": 24.0, "short": 0.0, "money": 0.0, "tidiness": 0.0},  # 12 kg × 2; none of it could be sold
    lots=(hand.lot_day(MONDAY, PICKED_MONDAY, arrived=12.0, spoiled=12.0),),
    jars=(JarDay(MONDAY, "strawberry jam", hand.JAR, made=0, shipped=0, left=0),),
)


def test_fruit_that_was_over_when_it_came_spoils_that_day() -> None:
    assert audit(OVER, ALL_SPOILED) == ()
    given_up = replace(ALL_SPOILED, lots=(hand.lot_day(MONDAY, PICKED_MONDAY, arrived=12.0, given_up=12.0),))
    assert {finding.rule for finding in audit(OVER, given_up)} == {"spoiled"}
    found = " ".join(str(finding) for finding in audit(OVER, one_pan.PLAN))
    assert "none: its life was over before it came to the chiller" in found


def test_the_planner_lets_fruit_spoil_that_was_over_when_it_came() -> None:
    plan = make_plan(OVER)
    assert plan.lots == ALL_SPOILED.lots
    assert plan.batches == ()
    assert audit(OVER, plan) == ()


def test_a_warm_morning_is_never_better_for_the_plan() -> None:
    values = [
        make_plan(warmed(one_pan.SITUATION, PICKED_MONDAY, hours, wanted_later_kg=1.0)).goals[0].best
        for hours in (0.0, 2.0, 5.0, 12.0)
    ]
    assert values == sorted(values)
    assert values[0] < values[-1]
