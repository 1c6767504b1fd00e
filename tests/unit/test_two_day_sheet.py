"""The batch sheet of jelly, cordial, fruit butter and chutney: by hand, by day, and against the cards."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest

from scheduler.batch_sheet import BatchSheet, stages_of
from scheduler.cards import Cards
from scheduler.domain.kitchen import DripStands, Pan
from scheduler.domain.scenario import Scenario
from scheduler.law.composition import Kind
from scheduler.making import make_cards
from scheduler.pan_sheets import PanSheet
from scheduler.panful import Rule
from scheduler.plan_rows import Part
from scheduler.sheet import Sheet, sheet
from tests.kitchens import random_kitchen
from tests.unit.auditor import worked_days as hand
from tests.unit.test_sheet import cards_of, scenario

JELLY = {
    "kind": Kind.JELLY, "soften_minutes": 20, "strained_share": 0.6, "water_per_kg": 0.5, "sugar_per_kg": 0.8,
    "strain_kg_per_hour": 60.0,
}  # fmt: skip


def jelly(
    recipe: dict[str, Any] | None = None, kitchen: dict[str, Any] | None = None, litres: float = 7.5
) -> Scenario:
    """The kitchen worked by hand, with one drip stand, and its jam made a jelly."""
    return scenario(JELLY | (recipe or {}), {"drip_stands": DripStands(1, litres)} | (kitchen or {}))


def of(farm: Scenario) -> Sheet:
    return sheet(cards_of(farm), farm.recipes[0])


def only(farm: Scenario, part: Part) -> PanSheet:
    (pan,) = of(farm).of(part)
    return pan


def best(farm: Scenario, part: Part) -> BatchSheet:
    found = only(farm, part).largest
    assert found is not None
    return found


def planned(batch: BatchSheet) -> dict[str, int]:
    return {stage.name: stage.planned for stage in (*batch.minutes, batch.total)}


def test_the_first_day_worked_by_hand() -> None:
    """Formulas as in ``tests/unit/auditor/worked_days.py``.

    kg        the pan: 8 litres ÷ (1 + 0.5) = 5.33; the stand: 7.5 ÷ 1.5 = 5.0
    prepare   5.0 ÷ 0.98 ÷ 8 × 60 = 38.3 min, so 40
    soften    7.5 kg of 0.5 ÷ 7.5 = 6.67 % solids: 4.1868 − 6.67 × 0.02135 = 4.0445 kJ/(kg K);
              7.5 × 4.0445 × 99.97 ÷ 1.5 kW ÷ 60 = 33.7 min, and 20 of simmering: 55
    strain    7.5 kg ÷ 60 kg/h: 7.5 min, so 10;   juice 0.6 × 7.5 = 4.5 kg
    """
    pan = only(jelly(), Part.SOFTEN)
    batch = pan.largest
    assert batch is not None
    assert (pan.room_kg, pan.limit_kg) == (pytest.approx(5.3333, abs=0.0001), pytest.approx(5.0))
    assert batch == pan.full
    assert batch.kg == 5.0
    assert batch.water_kg == pytest.approx(2.5)
    assert batch.strained_kg == pytest.approx(4.5)
    assert [portion.picked_kg for portion in batch.fruit] == [pytest.approx(5.102, abs=0.001)]
    assert planned(batch) == {
        "prepare": 40, "soften": 55, "strain": 10, "wash pan": 10, "soften to drip stand": 65,
    }  # fmt: skip
    assert pan.pottable_kg is None


def test_the_next_day_worked_by_hand() -> None:
    """kg        the pan: 8 ÷ (0.6 × 1.5 + 0.8 ÷ 1.587) = 5.70; softened: 5.0
    jam       (3.0 × 0.10 + 4.0) ÷ 0.65 = 6.6154 kg;   jars 6.6154 × 0.98 ÷ 0.34 = 19.07, so 19
    water off 4.5 + 4.0 − 6.6154 = 1.8846 kg;   boil 1.8846 ÷ 2.393 × 60 = 47.3 min, so 50
    dissolve  8.5 kg of 4.3 ÷ 8.5 = 50.6 % solids: 3.1067 kJ/(kg K) × 8.5 × 99.97 = 2640 kJ, and 4 kg of
              sugar take 16 kJ/kg to dissolve: (2640 + 64) ÷ 90 = 30.04 min, so 35
    pot up    19 ÷ 120 × 60 = 9.5 min, so 10
    last jar  20 min, 0.0396 m deep, 4.969 W/K: exp(−1200 × 4.969 ÷ (6.6154 × 2900)) = 0.7329;
              20 + 83.77 × 0.7329 = 81.4 °C
    """
    pan = only(jelly(), Part.BOIL)
    batch = pan.largest
    assert batch is not None
    assert (pan.room_kg, pan.limit_kg) == (pytest.approx(5.6976, abs=0.001), 5.0)
    assert (batch.kg, batch.card.jars, batch.card.sugar, batch.card.lemons) == (5.0, 19, 40, 5)
    assert batch.strained_kg == pytest.approx(4.5)
    assert (batch.fruit, batch.water_kg) == ((), 0.0)
    assert batch.panful.jam_kg == pytest.approx(6.6154, abs=0.0001)
    assert batch.panful.water_off_kg == pytest.approx(1.8846, abs=0.0001)
    assert batch.card.last_jar_c == pytest.approx(81.4, abs=0.1)
    assert planned(batch) == {
        "dissolve": 35, "boil": 50, "tests and re-boils": 5, "stand": 5, "pot up": 10, "wash pan": 10,
        "dissolve to last jar": 105,
    }  # fmt: skip


def test_a_jar_costs_what_both_days_take_and_its_fruit_once() -> None:
    """5.102 kg at 2.00, 4 kg of sugar, 5 lemons, 25 g of pectin, 19 jars and lids; 3 kW for 55 and 85 min."""
    first, second = best(jelly(), Part.SOFTEN).cost, best(jelly(), Part.BOIL).cost
    wanted = {
        "strawberry": 10.2041, "sugar": 4.0, "lemons": 2.0, "pectin": 0.5, "jar 340 g": 9.5, "lid 63 mm": 1.9,
        "energy": 0.33 + 0.51,
    }  # fmt: skip
    assert dict(first.materials) == pytest.approx({"strawberry": 10.2041, "energy": 0.33}, abs=0.001)
    assert dict(second.materials) == pytest.approx(wanted, abs=0.001)
    assert second.a_jar == pytest.approx(sum(wanted.values()) / 19, abs=0.001)
    # preparing 40, washing 10 + 10, loading 5 at 16.50; cooking 65 + 90 at 18; filling 10 at 15
    assert first.pay == pytest.approx((50 * 16.5 + 65 * 18) / 60)
    assert second.pay == pytest.approx((65 * 16.5 + 155 * 18 + 10 * 15) / 60)
    assert second.a_jar_with_pay == pytest.approx(second.a_jar + second.pay / 19)
    assert (first.a_jar, first.a_jar_with_pay) == (None, None)


def test_pay_of_both_days_is_unknown_where_that_of_one_is() -> None:
    farm = replace(jelly(), people=tuple(p for p in jelly().people if p.name == "Ciara"))
    assert best(farm, Part.BOIL).cost.pay is None
    assert best(farm, Part.BOIL).cost.a_jar is not None


@pytest.mark.parametrize(
    ("litres", "kg"),
    [(7.5, 5.0), (7.49, 4.9), (8.0, 5.3), (20.0, 5.3)],
    ids=["stand", "just under", "pan, just", "pan"],
)
def test_the_lesser_of_pan_and_stand_limits_what_is_softened(litres: float, kg: float) -> None:
    assert best(jelly(litres=litres), Part.SOFTEN).kg == kg
    assert best(jelly(litres=litres), Part.BOIL).kg == kg


def test_no_more_juice_is_boiled_than_the_pan_holds() -> None:
    """Sugar of 1.2 kg: 8 ÷ (0.9 + 1.2 ÷ 1.587) = 4.83 kg, though 5.0 are softened."""
    farm = jelly({"sugar_per_kg": 1.2, "final_solids": 0.75})
    assert only(farm, Part.BOIL).room_kg == pytest.approx(4.83, abs=0.005)
    assert best(farm, Part.BOIL).kg == 4.8
    assert best(farm, Part.SOFTEN).kg == 5.0


def test_juice_comes_from_the_same_pan_else_from_the_smallest_that_takes_it() -> None:
    """The cup softens 2.5 litres ÷ 1.5 = 1.6 kg and boils the juice of 2.5 ÷ 1.404 = 1.7 kg."""
    pans = (hand.LARGE, Pan("cup", 5.0, 30.0, 0.5), Pan("pot", 8.0, 30.0, 0.5))
    boiled = {pan.pan.names[0]: pan.largest for pan in of(jelly({}, {"pans": pans})).of(Part.BOIL)}
    names = {}
    for name, batch in boiled.items():
        assert batch is not None
        assert batch.softened is not None
        assert batch.softened.kg == batch.kg
        names[name] = (batch.kg, pans[batch.softened.card.pan].name)
    assert names == {"large pan": (5.0, "large pan"), "cup": (1.7, "pot"), "pot": (2.8, "large pan")}


def test_without_a_drip_stand_nothing_is_softened_and_no_juice_is_boiled() -> None:
    found = of(jelly(litres=0.0))
    assert found.parts == (Part.SOFTEN,)
    (pan,) = found.pans
    assert pan.largest is None
    assert [refusal.rule for refusal in pan.refused_by] == [Rule.TOO_LITTLE]


@pytest.mark.parametrize(
    ("part", "rule", "recipe", "kitchen"),
    [
        (Part.SOFTEN, Rule.DAY_TOO_SHORT, {}, {"close": 480 + 94}),
        (Part.SOFTEN, Rule.PAN_TOO_WIDE, {}, {"rings": (replace(hand.LEFT, largest_pan_cm=39.0),)}),
        (Part.BOIL, Rule.BOILS_TOO_LONG, {"longest_boil_minutes": 49}, {}),
        (Part.BOIL, Rule.LAST_JAR_COLD, {}, {"potting_limit_c": 82.0}),
    ],
)
def test_a_full_pan_is_refused_on_its_own_day(
    part: Part, rule: Rule, recipe: dict[str, Any], kitchen: dict[str, Any]
) -> None:
    pan = only(jelly(recipe, kitchen), part)
    assert pan.refusal is not None
    assert pan.refusal.rule is rule
    assert pan.largest is None or pan.largest.refusal is None


def test_limits_of_both_days_are_kept_to_the_last_step() -> None:
    """Just inside what the cases above break: 50 min of boil, 81 °C, 20 + 65 + 10 min of the day."""
    farm = jelly({"longest_boil_minutes": 50}, {"potting_limit_c": 81.0})
    assert only(farm, Part.BOIL).refusal is None
    assert only(jelly({}, {"close": 480 + 95}), Part.SOFTEN).refusal is None


def two_day_cards(seed: int) -> Cards:
    """A random kitchen that makes jelly of its first recipe."""
    situation = random_kitchen(seed)
    farm = situation.scenario
    made = replace(farm.recipes[0], **JELLY, longest_boil_minutes=240)
    kitchen = replace(farm.kitchen, drip_stands=DripStands(1, 6.0))
    return make_cards(
        replace(situation, scenario=replace(farm, recipes=(made, *farm.recipes[1:]), kitchen=kitchen))
    )


@pytest.mark.parametrize("seed", range(25))
def test_the_plan_has_no_batch_larger_than_the_sheet(seed: int) -> None:
    cards = two_day_cards(seed)
    for pan in sheet(cards, cards.scenario.recipes[0]).pans:
        if pan.ring is None:
            continue
        place = (0, cards.pans.index(pan.pan), cards.rings.index(pan.ring))
        mine = [c for c in cards.batches if (c.recipe, c.pan, c.ring) == place and c.part is pan.part]
        fresh = {card.kg: card for card in mine if not card.from_freezer}
        if pan.largest is None:
            assert not fresh
            continue
        assert max(fresh, default=0) <= pan.largest.card.kg
        same = fresh.get(pan.largest.card.kg)
        assert same is None or replace(same, fill_step=0) == replace(pan.largest.card, fill_step=0)


@pytest.mark.parametrize("seed", range(25))
def test_minutes_of_neither_day_fall_with_kg(seed: int) -> None:
    cards = two_day_cards(seed)
    for pan in sheet(cards, cards.scenario.recipes[0]).pans:
        for less, more in pairwise(pan.curve):
            assert less.card.kg < more.card.kg
            few, many = (stages_of(batch.card, cards.scenario)[1] for batch in (less, more))
            assert (few.median, few.planned, few.most) <= (many.median, many.planned, many.most)


def test_butter_is_softened_strained_and_boiled_in_one_day() -> None:
    """0.8 of 4.9 kg (8 ÷ 1.63 litres) is kept: 3.92 kg."""
    farm = scenario({"kind": Kind.BUTTER, "soften_minutes": 20, "strained_share": 0.8, "sugar_per_kg": 0.6})
    batch = best(farm, Part.WHOLE)
    assert batch.strained_kg == pytest.approx(0.8 * batch.kg)
    names = [stage.name for stage in (*batch.minutes, batch.total)]
    assert names == [
        "prepare", "soften", "strain", "dissolve", "boil", "tests and re-boils", "stand", "pot up",
        "wash pan", "soften to last jar",
    ]  # fmt: skip
    assert batch.total.planned == batch.card.chain


@pytest.mark.parametrize("kind", [Kind.CHUTNEY, Kind.CORDIAL])
def test_what_does_not_set_has_no_minutes_of_tests(kind: Kind) -> None:
    farm = jelly({"kind": kind}) if kind is Kind.CORDIAL else scenario({"kind": kind})
    batch = of(farm).pans[-1].largest
    assert batch is not None
    names = {stage.name for stage in batch.minutes}
    assert names.isdisjoint({"tests and re-boils", "stand"})
    assert {"dissolve", "boil", "pot up"} <= names
    assert batch.total.median == batch.total.most
