"""Kinds of preserve in a scenario folder: fine, just inside and just over for each rule."""

from __future__ import annotations

from pathlib import Path

import pytest

from scheduler.domain.kitchen import DripStands
from scheduler.domain.recipes import Recipe
from scheduler.finished import into_pan_kg_per_kg, jam_kg_per_kg
from scheduler.intake import read_scenario
from scheduler.law.composition import Kind
from tests.unit.intake.spoil import Case, Change, K, R, assert_told_once, faults_of, swap

REFRACTOMETER = 'judged_by = "refractometer"'
CHILLED = 'heat_step = "chilled, as approved"'
STANDS = "[drip_stands]\ncount = 1\nlitres = 8"


def stands(text: str = STANDS) -> Change:
    return swap(K, "[chiller]", f"{text}\n\n[chiller]")


def strawberry(kind: str, *keys: str, sugar: float = 0.5, solids: float = 0.65) -> Change:
    """Make another kind of the strawberry jam, the first recipe; its fruit has solids of 8 %."""

    def change(folder: Path) -> None:
        lines = "\n".join((f'kind = "{kind}"', *keys, f"sugar_per_kg = {sugar}"))
        swap(R, "sugar_per_kg = 0.9", lines)(folder)
        swap(R, "final_solids = 0.64", f"final_solids = {solids}")(folder)

    return change


def both(*changes: Change) -> Change:
    def change(folder: Path) -> None:
        for each in changes:
            each(folder)

    return change


def jelly(
    *more: str, minutes: int = 30, share: float | None = 0.6, water: float = 0.3, solids: float = 0.65
) -> Change:
    keys = [*more, f"soften_minutes = {minutes}", f"water_per_kg = {water}"]
    return strawberry("jelly", *keys, *([f"strained_share = {share}"] if share else []), solids=solids)


def recipe(folder: Path) -> Recipe:
    return read_scenario(folder).scenario.recipes[0]


def test_without_the_new_keys_all_is_jam_and_there_is_no_stand(folder: Path) -> None:
    scenario = read_scenario(folder).scenario
    assert scenario.kitchen.drip_stands == DripStands(0, 0.0)
    for each in scenario.recipes:
        assert (each.kind, each.soften_minutes, each.strained_share) == (Kind.JAM, 0, None)
        assert (each.kept_share, each.strain_kg_per_hour) == (1.0, 60.0)


def test_a_jelly_and_its_stand_are_read(folder: Path) -> None:
    both(stands(), jelly(), swap(R, "soften_minutes = 30", "soften_minutes = 30\nstrain_kg_per_hour = 45"))(
        folder
    )
    assert read_scenario(folder).scenario.kitchen.drip_stands == DripStands(1, 8.0)
    made = recipe(folder)
    assert (made.kind, made.two_days, made.tested) == (Kind.JELLY, True, True)
    assert (made.soften_minutes, made.strained_share, made.strain_kg_per_hour) == (30, 0.6, 45.0)


@pytest.mark.parametrize(
    ("kind", "keys"),
    [
        ("jam", ()),
        ("jam", ("soften_minutes = 40", "water_per_kg = 0.3")),
        ("jam", ("soften_minutes = 1",)),
        ("marmalade", ("soften_minutes = 90", "water_per_kg = 1")),
        ("fruit butter", ("soften_minutes = 5", "strained_share = 1")),
        ("fruit butter", ("soften_minutes = 20", "strained_share = 0.05")),
        ("jelly", ("soften_minutes = 5", "strained_share = 0.99")),
        ("cordial", ("soften_minutes = 5", "strained_share = 0.05")),
        ("chutney", ('approver = "process authority, 3 May"',)),
    ],
)
def test_every_kind_is_read_just_inside_its_rules(folder: Path, kind: str, keys: tuple[str, ...]) -> None:
    sugar = 0.05 if "strained_share = 0.05" in keys else 0.5
    both(stands(), strawberry(kind, *keys, sugar=sugar))(folder)
    assert recipe(folder).kind == kind


JUST_OVER: dict[str, Case] = {
    "an unknown kind": (strawberry("jely"), R, "recipe 1, key kind", "Did you mean 'jelly'?"),
    "jelly softened too briefly": (
        both(stands(), jelly(minutes=4)),
        R,
        "recipe 1, key soften_minutes",
        "at least 5",
    ),
    "cordial not softened": (
        both(stands(), strawberry("cordial", "strained_share = 0.6")),
        R,
        "recipe 1, key soften_minutes",
        "for cordial",
    ),
    "fruit butter not softened": (
        strawberry("fruit butter", "strained_share = 0.9"),
        R,
        "recipe 1, key soften_minutes",
        "for fruit butter",
    ),
    "jelly without a strained share": (
        both(stands(), jelly(share=None)),
        R,
        "recipe 1, key strained_share",
        "Weigh what passes",
    ),
    "fruit butter without a strained share": (
        strawberry("fruit butter", "soften_minutes = 20"),
        R,
        "recipe 1, key strained_share",
        "from 0.05 to 1",
    ),
    "jelly of which all passes": (
        both(stands(), jelly(share=1)),
        R,
        "recipe 1, key strained_share",
        "below 1",
    ),
    "cordial of which all passes": (
        both(stands(), strawberry("cordial", "soften_minutes = 20", "strained_share = 1")),
        R,
        "recipe 1, key strained_share",
        "below 1",
    ),
    "too small a strained share": (
        both(stands(), jelly(share=0.04)),
        R,
        "recipe 1, key strained_share",
        "from 0.05 to 1",
    ),
    "strained jam": (
        strawberry("jam", "soften_minutes = 20", "strained_share = 0.9"),
        R,
        "recipe 1, key strained_share",
        "none for jam",
    ),
    "strained marmalade": (
        strawberry("marmalade", "strained_share = 1"),
        R,
        "recipe 1, key strained_share",
        "none for marmalade",
    ),
    "strained chutney": (
        strawberry("chutney", "strained_share = 0.9", 'approver = "process authority"'),
        R,
        "recipe 1, key strained_share",
        "none for chutney",
    ),
    "straining too slow to plan": (
        both(stands(), jelly(), swap(R, "soften_minutes", "strain_kg_per_hour = 0.9\nsoften_minutes")),
        R,
        "recipe 1, key strain_kg_per_hour",
        "from 1 to 1000",
    ),
    "jelly without a stand": (jelly(), K, "[drip_stands]", "for the juice of 'strawberry jam'"),
    "cordial with no stand left": (
        both(
            stands(STANDS.replace("count = 1", "count = 0")),
            strawberry("cordial", "soften_minutes = 20", "strained_share = 0.6"),
        ),
        K,
        "[drip_stands], key count",
        "at least 1 drip stand",
    ),
    "stand too small": (
        # half a kg of fruit and 1.2 kg of water a kg take 1.1 litres
        both(stands(STANDS.replace("litres = 8", "litres = 1.09")), jelly(water=1.2)),
        K,
        "[drip_stands], key litres",
        "at least 1.1 litres",
    ),
    "stand of no size, told once": (
        both(stands("[drip_stands]\ncount = 1"), jelly()),
        K,
        "[drip_stands], key litres",
        "1 to 100",
    ),
    "half a stand": (stands(STANDS.replace("= 1", "= 1.5")), K, "[drip_stands], key count", "0 to 50"),
    "too many stands": (stands(STANDS.replace("= 1", "= 51")), K, "[drip_stands], key count", "0 to 50"),
    "too large a stand": (stands(STANDS.replace("= 8", "= 101")), K, "[drip_stands], key litres", "1 to 100"),
    "chutney without an approver": (strawberry("chutney"), R, "recipe 1, key approver", "named person"),
    "thin cordial without a heat step": (
        both(
            stands(),
            strawberry("cordial", REFRACTOMETER, "soften_minutes = 20", "strained_share = 0.6", solids=0.59),
        ),
        R,
        "recipe 1, key final_solids",
        "heat_step",
    ),
}


@pytest.mark.parametrize("case", JUST_OVER.values(), ids=JUST_OVER)
def test_just_over_is_told_once(folder: Path, case: Case) -> None:
    assert_told_once(folder, case)


def test_a_stand_that_just_holds_the_least_batch_will_do(folder: Path) -> None:
    both(stands(STANDS.replace("litres = 8", "litres = 1.1")), jelly(water=1.2))(folder)
    assert recipe(folder).kind is Kind.JELLY


def test_stands_without_juice_are_no_fault(folder: Path) -> None:
    stands(STANDS.replace("count = 1", "count = 0"))(folder)
    assert read_scenario(folder).scenario.kitchen.drip_stands.count == 0


def test_the_balance_is_that_of_what_passes(folder: Path) -> None:
    """By hand: 0.6 kg of juice of 8 % and 0.5 kg of sugar hold 0.548 kg of solids; 0.6 × 1.3 + 0.5 go in."""
    both(stands(), jelly())(folder)
    scenario = read_scenario(folder).scenario
    fruits = {fruit.name: fruit for fruit in scenario.fruits}
    assert fruits["strawberry"].solids == 0.08
    assert jam_kg_per_kg(scenario.recipes[0], fruits) == pytest.approx(0.548 / 0.65)
    assert into_pan_kg_per_kg(scenario.recipes[0]) == pytest.approx(1.28)


@pytest.mark.parametrize(("solids", "told"), [(0.43, False), (0.428, True)])
def test_no_water_is_added_by_boiling(folder: Path, solids: float, told: bool) -> None:
    """0.548 kg of solids in 1.28 kg are 42.8 % before any boiling."""
    both(stands(), jelly(CHILLED, REFRACTOMETER, solids=solids))(folder)
    if not told:
        assert recipe(folder).final_solids == solids
        return
    (fault,) = faults_of(folder)
    assert (fault.file, fault.where) == (R, "recipe 1, key final_solids")
    assert "kg of jelly out of 1.28 kg" in fault.found
    assert fault.allowed.startswith("more than 0.43")


def test_all_but_a_tenth_boiled_away_is_told_by_what_passes(folder: Path) -> None:
    """0.1 kg of pulp of 8 % with 0.3 kg of water, no sugar: 0.008 kg of solids, at 30 % 0.027 of 0.13 kg."""
    keys = (CHILLED, REFRACTOMETER, "soften_minutes = 20", "strained_share = 0.1", "water_per_kg = 0.3")
    strawberry("fruit butter", *keys, sugar=0, solids=0.30)(folder)
    assert jam_kg_per_kg(recipe(folder), {f.name: f for f in read_scenario(folder).scenario.fruits}) < 0.03
    swap(R, "final_solids = 0.3", "final_solids = 0.63")(folder)
    (fault,) = faults_of(folder)
    assert "0.01 kg of fruit butter out of 0.13 kg" in fault.found


def test_a_pan_is_of_use_if_it_holds_the_juice_or_the_fruit(folder: Path) -> None:
    """1.5 litres at half fill hold 0.46 kg of jam with its sugar; 0.5 kg of fruit to soften take 0.65."""
    small = swap(K, "litres = 9\n", "litres = 1.5\n")
    both(stands(), jelly(), small)(folder)
    assert recipe(folder).kind is Kind.JELLY


def test_a_pan_must_hold_the_water_that_fruit_softens_in(folder: Path) -> None:
    """A jam whose pulp is softened in 2.9 litres a kg needs 0.5 × 3.9 ÷ 0.5 litres, and its sugar more."""
    for name in ("raspberry jam", "blackberry jam"):
        swap(R, f'name = "{name}"', f'name = "{name}"\nsoften_minutes = 30\nwater_per_kg = 2.9')(folder)
    both(
        strawberry("fruit butter", "soften_minutes = 20", "strained_share = 0.2", "water_per_kg = 2.9"),
        swap(K, "litres = 9\n", "litres = 3.8\n"),
    )(folder)
    (fault,) = faults_of(folder)
    assert (fault.where, "at least 3.9 litres" in fault.allowed) == ("pan 4, key litres", True)
    swap(K, "litres = 3.8\n", "litres = 3.9\n")(folder)
    assert recipe(folder).kind is Kind.BUTTER
