"""The finished preserve of a recipe: grams by hand, its process, and warnings that refuse nothing."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from scheduler.domain.recipes import FruitShare, OtherIngredient
from scheduler.domain.scenario import Scenario
from scheduler.finished import (
    composition_of,
    concerns_of,
    into_pan_kg_per_kg,
    jam_kg_per_kg,
    process_of,
    usual_shares,
    warnings_of,
)
from scheduler.law.composition import Kind, Role
from scheduler.law.safety import Judge
from tests.kitchens import random_kitchen
from tests.unit.auditor.worked_days import STRAWBERRY_JAM

FARM: Scenario = random_kitchen(1, fruits=(4, 4)).scenario
FRUITS = {fruit.name: replace(fruit, solids=0.10) for fruit in FARM.fruits}
# A kg of fruit of 10 % solids and a kg of sugar hold 1.1 kg of solids: at 55 % they give 2 kg of preserve.
JAM = replace(
    STRAWBERRY_JAM,
    water_per_kg=0.2,
    lemons_per_kg=2,
    pectin_g_per_kg=8,
    final_solids=0.55,
    others=(OtherIngredient("almond", 20, allergen=True), OtherIngredient("citric acid", 3, Role.ACID)),
)
START = date(2026, 7, 6)


def fruits(*shares: tuple[str, float, float]) -> tuple[FruitShare, ...]:
    return tuple(FruitShare(*share) for share in shares)


def test_grams_for_100_g_are_those_of_a_kg_of_fruit_divided_by_twenty() -> None:
    assert jam_kg_per_kg(JAM, FRUITS) == pytest.approx(2.0)
    mix = composition_of(JAM, FRUITS)
    assert [(item.name, item.role, item.allergen) for item in mix.ingredients] == [
        ("strawberry", Role.FRUIT, False),
        ("sugar", Role.SUGAR, False),
        ("water", Role.WATER, False),
        ("lemon juice", Role.ACID, False),
        ("pectin", Role.PECTIN, False),
        ("almond", Role.OTHER, True),
        ("citric acid", Role.ACID, False),
    ]
    # two lemons of 45 g: common practice, from memory
    assert [item.grams for item in mix.ingredients] == pytest.approx([50, 50, 10, 4.5, 0.4, 1, 0.15])
    assert mix.soluble_solids == 0.55


def test_one_thing_under_one_role_is_added_up() -> None:
    more = (
        OtherIngredient("Lemon juice", 30, Role.ACID),
        OtherIngredient("hazelnuts", 10),
        OtherIngredient("hazelnut", 10, allergen=True),
    )
    mix = composition_of(replace(JAM, others=more), FRUITS)
    assert mix.grams(Role.ACID) == pytest.approx(4.5 + 1.5)
    (nuts,) = [item for item in mix.ingredients if item.role is Role.OTHER]
    assert (nuts.name, nuts.allergen) == ("hazelnuts", True)
    assert nuts.grams == pytest.approx(1)


def test_bands_are_filled_to_the_same_part_of_their_width() -> None:
    mixed = replace(JAM, fruits=fruits(("strawberry", 0.6, 0.8), ("gooseberry", 0.2, 0.4)))
    assert usual_shares(mixed) == pytest.approx((0.7, 0.3))


def test_more_out_than_in_is_no_preserve() -> None:
    with pytest.raises(ValueError, match="went in for 100 g of preserve"):
        composition_of(replace(JAM, final_solids=0.4), FRUITS)


@pytest.mark.parametrize(
    ("solids", "months", "until"),
    [(0.65, None, date(2027, 7, 6)), (0.55, None, date(2026, 8, 6)), (0.65, 9, date(2027, 4, 6))],
)
def test_the_process_says_how_it_is_judged_and_how_long_it_keeps(
    solids: float, months: int | None, until: date
) -> None:
    """Usual lives of 12 months, and of 1 below 60 %: common practice, from memory."""
    recipe = replace(
        JAM,
        final_solids=solids,
        best_before_months=months,
        judged_by=Judge.REFRACTOMETER,
        approver="process authority",
    )
    process = process_of(recipe, composition_of(recipe, FRUITS), START)
    assert (process.ph, process.judged_by, process.potted) == (3.2, Judge.REFRACTOMETER, START)
    assert (process.heat_step, process.approver) == ("hot fill", "process authority")
    assert process.best_before == until


def test_the_guards_see_the_other_ingredients() -> None:
    garlic = replace(JAM, final_solids=0.65, others=(OtherIngredient("garlic", 2),))
    (found,) = concerns_of(garlic, FRUITS, START)
    assert (found.refused, found.value) == (True, "garlic")


PLAIN = replace(JAM, final_solids=0.65, lemons_per_kg=0, pectin_g_per_kg=0, others=())


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({}, ["strawberry: low in pectin"]),  # So Easy to Preserve, 5th ed., group III
        ({"lemons_per_kg": 0.5}, []),
        ({"pectin_g_per_kg": 5}, []),
        ({"others": (OtherIngredient("citric acid", 3, Role.ACID),)}, []),
        ({"others": (OtherIngredient("cinnamon", 3),)}, ["strawberry: low in pectin"]),
        ({"fruits": fruits(("Strawberries", 1, 1))}, ["strawberry: low in pectin"]),
        # a quarter of high-pectin fruit sets a mix: common practice, no source
        ({"fruits": fruits(("strawberry", 0.75, 0.75), ("gooseberry", 0.25, 0.25))}, []),
        ({"fruits": fruits(("strawberry", 0.76, 0.76), ("gooseberry", 0.24, 0.24))}, ["strawberry: low"]),
        ({"fruits": fruits(("jostaberry", 1, 1))}, ["pectin of jostaberry is unknown"]),
        (
            {"fruits": fruits(("strawberry", 0.8, 0.8), ("jostaberry", 0.2, 0.2))},
            ["strawberry: low", "pectin of jostaberry is unknown"],
        ),
        ({"fruits": fruits(("jostaberry", 1, 1)), "lemons_per_kg": 1}, []),
    ],
)
def test_fruit_that_may_not_set_is_warned_of(changes: dict[str, object], words: list[str]) -> None:
    grown = (
        *FRUITS.values(),
        replace(FRUITS["strawberry"], name="Strawberries"),
        replace(FRUITS["strawberry"], name="jostaberry"),
    )
    scenario = replace(FARM, fruits=grown, recipes=(replace(PLAIN, **changes),))  # type: ignore[arg-type]
    warnings = warnings_of(scenario)
    assert len(warnings) == len(words)
    for warning, word in zip(warnings, words, strict=True):
        assert warning.startswith("strawberry jam. Take care: ")
        assert word in warning


# Half of a kg of fruit of 10 % and 0.2 kg of water passes: 0.6 kg with 0.05 kg of solids. 0.6 kg of sugar
# makes 1.2 kg of it, with 0.65 kg of solids; at 65 % that is 1 kg.
JELLY = replace(
    PLAIN, kind=Kind.JELLY, soften_minutes=30, strained_share=0.5, sugar_per_kg=0.6, lemons_per_kg=1
)


def test_of_a_jelly_only_what_passes_the_bag_counts() -> None:
    """Juice counts without the water in it: Council Directive 2001/113/EC, Annex I."""
    assert into_pan_kg_per_kg(JELLY) == pytest.approx(1.2)
    assert jam_kg_per_kg(JELLY, FRUITS) == pytest.approx(1.0)
    mix = composition_of(JELLY, FRUITS)
    assert mix.kind is Kind.JELLY
    assert {item.role: item.grams for item in mix.ingredients} == pytest.approx(
        {Role.FRUIT: 50, Role.SUGAR: 60, Role.WATER: 10, Role.ACID: 4.5}
    )
    # 200 g of water were used, of which 100 g stayed in the pulp: at least 500 - 100 g of juice a kg
    assert (mix.water_left_out, mix.fruit_at_least) == pytest.approx((10, 40))


@pytest.mark.parametrize("kind", Kind)
def test_the_finished_preserve_is_of_the_recipe_s_kind(kind: Kind) -> None:
    whole = replace(PLAIN, kind=kind, water_per_kg=0.5)
    sieved = replace(whole, strained_share=0.8)
    assert composition_of(whole, FRUITS).kind is kind
    assert composition_of(whole, FRUITS).water_left_out == 0
    assert (composition_of(sieved, FRUITS).water_left_out > 0) is kind.of_juice


def test_a_mix_of_fruits_is_strained_alike() -> None:
    mixed = replace(JELLY, fruits=fruits(("strawberry", 0.6, 0.6), ("gooseberry", 0.4, 0.4)))
    grams = {item.name: item.grams for item in composition_of(mixed, FRUITS).fruits}
    assert grams == pytest.approx({"strawberry": 30, "gooseberry": 20})


@pytest.mark.parametrize("kind", Kind)
def test_only_what_must_set_is_warned_of_its_pectin(kind: Kind) -> None:
    """Strawberries are low in pectin: So Easy to Preserve, 5th ed., group III."""
    recipe = replace(PLAIN, kind=kind, approver="process authority, 3 May")
    scenario = replace(FARM, fruits=tuple(FRUITS.values()), recipes=(recipe,))
    warned = any("low in pectin" in warning for warning in warnings_of(scenario))
    assert warned is (kind in (Kind.JAM, Kind.JELLY, Kind.MARMALADE))


def test_a_chutney_reaches_the_rule_of_its_approver() -> None:
    chutney = replace(PLAIN, kind=Kind.CHUTNEY, others=(OtherIngredient("malt", 40, Role.VINEGAR),))
    found = concerns_of(chutney, FRUITS, START)
    assert [(each.refused, each.what) for each in found] == [(True, "approver"), (False, "best before")]
    approved = replace(chutney, approver="process authority, 3 May")
    assert [each.what for each in concerns_of(approved, FRUITS, START)] == ["best before"]


def test_refusals_are_no_warnings() -> None:
    refused = replace(JAM, final_solids=0.65, ph=4.4, best_before_months=13)
    scenario = replace(FARM, fruits=tuple(FRUITS.values()), recipes=(refused,))
    (warning,) = warnings_of(scenario)
    assert "best before" in warning
