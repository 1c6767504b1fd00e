"""The guards of food safety when a scenario is read: fine, just inside, just over and far over.

Where the lines stand, and by which source, is tested with the guards themselves in tests/unit/law.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from scheduler.cli import check
from scheduler.domain.recipes import OtherIngredient
from scheduler.errors import Fault
from scheduler.finished import composition_of, process_of, warnings_of
from scheduler.intake import read_scenario
from scheduler.law.composition import Role
from scheduler.law.safety import Judge
from tests.unit.intake.spoil import Change, R, add, faults_of, swap

SPICE = '"cinnamon"\ng_per_kg = 2'


def other(name: str, role: str = "other") -> Change:
    """Put another ingredient in place of the blackberry jam's spice."""
    return swap(R, SPICE, f'"{name}"\ng_per_kg = 2\nrole = "{role}"')


def strawberry(old: str, new: str) -> Change:
    """Change the strawberry jam, the first recipe."""
    return swap(R, old, new)


def told(folder: Path, *changes: Change) -> Fault:
    """The one fault that the changes give; it points to a licensed process authority."""
    for change in changes:
        change(folder)
    faults = faults_of(folder)
    assert len(faults) == 1, faults
    (fault,) = faults
    assert fault.file == R
    assert "licensed process authority" in fault.remedy
    return fault


def warned(folder: Path, *changes: Change) -> tuple[str, ...]:
    """Warnings of a folder that is read in spite of the changes, those of the untouched folder left out."""
    before = warnings_of(read_scenario(folder).scenario)
    for change in changes:
        change(folder)
    return tuple(one for one in warnings_of(read_scenario(folder).scenario) if one not in before)


@pytest.mark.parametrize("name", ["sunflower oil", "garlic", "Red Onions", "chilli flakes", "butter"])
@pytest.mark.parametrize("role", ["other", "acid"])
def test_oil_and_low_acid_ingredients_are_refused_whatever_their_role(
    folder: Path, name: str, role: str
) -> None:
    fault = told(folder, other(name, role))
    assert (fault.where, fault.found) == ("recipe 3, other 1, key name", name)


def test_one_ingredient_is_refused_once(folder: Path) -> None:
    """Garlic oil is both oil and garlic."""
    assert told(folder, other("garlic oil")).allowed == "none"


def test_the_same_name_is_refused_wherever_it_stands(folder: Path) -> None:
    swap("fruits.csv", "blackberry,K", "courgette,K")(folder)
    for file in ("picks.csv", "punnets.csv", "lots.csv", R):
        text = (folder / file).read_text(encoding="utf-8")
        (folder / file).write_text(
            text.replace('"blackberry"', '"courgette"').replace(",blackberry,", ",courgette,")
        )
    other("courgettes")(folder)
    assert [fault.where for fault in faults_of(folder)] == [
        "recipe 3, fruit 1, key fruit",
        "recipe 3, other 1, key name",
    ]


@pytest.mark.parametrize("name", ["cinnamon", "vanilla bean", "black pepper", "rose water"])
def test_harmless_spices_are_read(folder: Path, name: str) -> None:
    assert warned(folder, other(name)) == ()


def test_an_ingredient_near_the_acid_line_is_warned_of(folder: Path) -> None:
    (warning,) = warned(folder, other("fresh ginger"))
    assert warning.startswith("blackberry jam. Take care: fruit near the acid line is fresh ginger")


@pytest.mark.parametrize("ph", ["3.4", "4.3"])
def test_acid_enough(folder: Path, ph: str) -> None:
    assert warned(folder, strawberry("ph = 3.4", f"ph = {ph}")) == ()


@pytest.mark.parametrize(
    ("ph", "why"), [("4.31", "hazard line of 4.6"), ("4.6", "From pH 4.6 on"), ("9", "botulism")]
)
def test_too_little_acid(folder: Path, ph: str, why: str) -> None:
    fault = told(folder, strawberry("ph = 3.4", f"ph = {ph}"))
    assert (fault.where, fault.found) == ("recipe 1, key ph", ph)
    assert "4.3" in fault.allowed
    assert why in fault.remedy


REFRACTOMETER = 'judged_by = "refractometer"'
CHILLED = 'heat_step = "chilled at 5 °C, approved 3 May"'


def test_60_per_cent_of_solids_need_no_heat_step(folder: Path) -> None:
    assert warned(folder, strawberry("final_solids = 0.64", "final_solids = 0.60")) == ()


@pytest.mark.parametrize("solids", ["0.59", "0.52"])
def test_fewer_solids_need_a_heat_step(folder: Path, solids: str) -> None:
    low = strawberry("final_solids = 0.64", f"final_solids = {solids}\n{REFRACTOMETER}")
    fault = told(folder, low)
    assert (fault.where, fault.found) == ("recipe 1, key final_solids", solids)
    assert "heat_step" in fault.remedy


def test_fewer_solids_are_read_with_a_heat_step_and_a_refractometer(folder: Path) -> None:
    low = strawberry("final_solids = 0.64", f"final_solids = 0.59\n{REFRACTOMETER}\n{CHILLED}")
    assert warned(folder, low) == ()


@pytest.mark.parametrize("judge", ["", 'judged_by = "cold plate"', 'judged_by = "thermometer"'])
def test_reduced_sugar_is_not_judged_by_plate_or_thermometer(folder: Path, judge: str) -> None:
    low = strawberry("final_solids = 0.64", f"final_solids = 0.59\n{CHILLED}\n{judge}")
    fault = told(folder, low)
    assert (fault.where, fault.allowed) == ("recipe 1, key judged_by", "refractometer")


def test_reduced_sugar_without_pectin_is_warned_of(folder: Path) -> None:
    low = swap(
        R,
        "lemons_per_kg = 0.5\nfinal_solids = 0.65",
        f"lemons_per_kg = 0.5\nfinal_solids = 0.59\n{REFRACTOMETER}\n{CHILLED}",
    )
    (warning,) = warned(folder, low)
    assert warning.startswith("blackberry jam. Take care: pectin is not named")


MONTHS = "ph = 3.4\nbest_before_months = "


@pytest.mark.parametrize(("months", "warnings"), [(1, 0), (12, 0), (13, 1), (24, 1)])
def test_best_before_within_the_life_of_a_full_sugar_jam(folder: Path, months: int, warnings: int) -> None:
    assert len(warned(folder, strawberry("ph = 3.4", f"{MONTHS}{months}"))) == warnings


@pytest.mark.parametrize("months", [25, 120])
def test_best_before_beyond_it(folder: Path, months: int) -> None:
    fault = told(folder, strawberry("ph = 3.4", f"{MONTHS}{months}"))
    assert fault.where == "recipe 1, key best_before_months"
    assert fault.allowed == "at most 2028-08-24"  # 24 months from the first day of the plan


@pytest.mark.parametrize(("months", "refused"), [(6, False), (7, True), (24, True)])
def test_best_before_of_reduced_sugar(folder: Path, months: int, refused: bool) -> None:
    low = strawberry("final_solids = 0.64", f"final_solids = 0.59\n{REFRACTOMETER}\n{CHILLED}")
    when = strawberry("ph = 3.4", f"{MONTHS}{months}")
    if refused:
        assert told(folder, low, when).allowed == "at most 2027-02-24"
    else:
        assert len(warned(folder, low, when)) == 1


@pytest.mark.parametrize(("solids", "until"), [("0.65", date(2027, 8, 24)), ("0.59", date(2026, 9, 24))])
def test_best_before_not_given_is_the_usual_life(folder: Path, solids: str, until: date) -> None:
    strawberry("final_solids = 0.64", f"final_solids = {solids}\n{REFRACTOMETER}\n{CHILLED}")(folder)
    scenario = read_scenario(folder).scenario
    recipe = scenario.recipes[0]
    assert recipe.best_before_months is None
    mix = composition_of(recipe, {fruit.name: fruit for fruit in scenario.fruits})
    assert process_of(recipe, mix, scenario.start).best_before == until


@pytest.mark.parametrize(
    ("name", "role"), [("cider vinegar", "vinegar"), ("cider vinegar", "other"), ("verjus", "vinegar")]
)
def test_vinegar_by_role_or_name_needs_an_approver(folder: Path, name: str, role: str) -> None:
    fault = told(folder, other(name, role))
    assert (fault.where, fault.found) == ("recipe 3, key approver", "not on record")


def test_vinegar_with_an_approver_is_read(folder: Path) -> None:
    approved = swap(R, "ph = 3.3", 'ph = 3.3\napprover = "process authority, letter of 3 May"')
    assert warned(folder, approved, other("cider vinegar", "vinegar")) == ()
    assert read_scenario(folder).scenario.recipes[2].approver == "process authority, letter of 3 May"


SPICED = '[[recipe.other]]\nname = "{name}"\nrole = "{role}"\ng_per_kg = {grams}\n'
CHUTNEY = swap(R, "ph = 3.3", 'ph = 3.3\nkind = "chutney"\napprover = "process authority, letter of 3 May"')


@pytest.mark.parametrize(
    ("role", "grams", "read"),
    [("vinegar", 51, True), ("vinegar", 1000, True), ("vinegar", 1001, False), ("other", 51, False)],
)
def test_a_chutney_takes_the_vinegar_that_it_needs_and_few_spices(
    folder: Path, role: str, grams: int, read: bool
) -> None:
    more = add(R, SPICED.format(name="malt vinegar" if read else "pepper", role=role, grams=grams))
    if read:
        warned(folder, CHUTNEY, more)
        recipe = read_scenario(folder).scenario.recipes[2]
        assert recipe.liquid_per_kg == pytest.approx(recipe.water_per_kg + grams / 1000)
    else:
        CHUTNEY(folder)
        more(folder)
        (fault,) = faults_of(folder)
        assert ("1000 g" if role == "vinegar" else "at most 50 g") in fault.allowed


def test_a_jam_takes_little_vinegar(folder: Path) -> None:
    approved = swap(R, "ph = 3.3", 'ph = 3.3\napprover = "process authority, letter of 3 May"')
    more = add(R, SPICED.format(name="malt vinegar", role="vinegar", grams=51))
    approved(folder)
    more(folder)
    (fault,) = faults_of(folder)
    assert fault.allowed.startswith("at most 50 g")


def test_all_guards_speak_at_once_and_once_each(folder: Path) -> None:
    strawberry("final_solids = 0.64", f"final_solids = 0.52\n{MONTHS.removeprefix('ph = 3.4')}36")(folder)
    strawberry("ph = 3.4", "ph = 4.7")(folder)
    add(R, '[[recipe.other]]\nname = "malt vinegar"\nrole = "vinegar"\ng_per_kg = 3')(folder)
    other("garlic")(folder)
    assert [fault.where for fault in faults_of(folder)] == [
        "recipe 1, key best_before_months",
        "recipe 1, key final_solids",
        "recipe 1, key judged_by",
        "recipe 1, key ph",
        "recipe 3, key approver",
        "recipe 3, other 1, key name",
    ]


@pytest.mark.parametrize(
    ("spoil", "where"),
    [
        (swap(R, 'fruit = "strawberry"', 'fruit = "strawbery"'), "recipe 1, fruit 1, key fruit"),
        (swap(R, "final_solids = 0.64", ""), "recipe 1, key final_solids"),
        (
            swap(R, 'fruit = "strawberry"', 'fruit = "strawberry"\nlow = 0.2\nhigh = 0.9'),
            "recipe 1, [[recipe.fruit]]",
        ),
        (swap(R, "sugar_per_kg = 0.9", "sugar_per_kg = 3"), "recipe 1, key final_solids"),
    ],
    ids=["unknown fruit", "missing value", "shares that do not add up", "too thick"],
)
def test_what_cannot_be_composed_is_told_once_and_the_other_recipes_are_still_guarded(
    folder: Path, spoil: Change, where: str
) -> None:
    spoil(folder)
    other("garlic")(folder)
    assert [fault.where for fault in faults_of(folder)] == [where, "recipe 3, other 1, key name"]


def test_without_a_first_day_there_is_no_best_before_to_judge(folder: Path) -> None:
    swap("kitchen.toml", "start = 2026-08-24", "")(folder)
    other("garlic")(folder)
    assert [fault.where for fault in faults_of(folder)] == ["key start"]


def test_another_ingredient_is_read(folder: Path) -> None:
    swap(R, SPICE, '"toasted almonds"\ng_per_kg = 12.5\nallergen = true')(folder)
    add(R, '[[recipe.other]]\nname = "citric acid"\nrole = "acid"\ng_per_kg = 3')(folder)
    assert read_scenario(folder).scenario.recipes[2].others == (
        OtherIngredient("toasted almonds", 12.5, Role.OTHER, allergen=True),
        OtherIngredient("citric acid", 3, Role.ACID),
    )
    assert read_scenario(folder).scenario.recipes[2].judged_by is Judge.COLD_PLATE


def test_the_check_command_prints_warnings_and_lets_the_scenario_pass(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    other("fresh [bold] ginger")(folder)
    check(folder)
    printed = " ".join(capsys.readouterr().out.split())
    assert "quiet-week reads well" in printed
    for warning in warnings_of(read_scenario(folder).scenario):
        assert " ".join(warning.split()) in printed
    assert "fresh [bold] ginger" in printed
