"""Faults of dates of goods, what is opened, late deliveries, grading and stains; and how they are read."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from scheduler.domain.fruit import Grade
from scheduler.domain.scenario import Scenario
from scheduler.domain.trade import Delivery
from scheduler.intake import read_scenario
from tests.unit.intake.spoil import Case, R, add, assert_told_once, columns, swap

STORE, FRUITS = "store.csv", "fruits.csv"
LATE = "date,good,quantity,time\n2026-08-25,sugar,5,"


def picks(*lines: str) -> str:
    return "\n".join(("date,fruit,grade,kg,warm_hours,warm_celsius", *lines, ""))


CASES: dict[str, Case] = {
    "sugar by the stone": (
        swap(STORE, "sugar,kg,90", "sugar,kg,2 st"),
        STORE, "row 2, column on_hand", "from 0 to 1000000 in the good's own unit",
    ),
    "a date that no calendar has": (
        columns(STORE, 2, best_before="2026-09-31"), STORE, "row 2, column best_before", "calendar",
    ),
    "past its date already": (
        columns(STORE, 2, best_before="2026-08-23"), STORE, "row 2, column best_before", "Count it out",
    ),
    "opened for too long already": (
        columns(STORE, 2, opened="5", opened_use_by="2026-08-23"),
        STORE, "row 2, column opened_use_by", "Count it out",
    ),
    "more opened than there is": (  # 90 kg on hand
        columns(STORE, 2, opened="90.1", opened_use_by="2026-08-30"),
        STORE, "row 2, column opened", "at most on_hand (90)",
    ),
    "opened without a date": (
        columns(STORE, 2, opened="5"), STORE, "row 2, column opened_use_by", "or leave opened empty",
    ),
    "a date of nothing opened": (
        columns(STORE, 2, opened_use_by="2026-08-30"),
        STORE, "row 2, column opened", "leave opened_use_by empty",
    ),
    "opened it keeps longer": (
        columns(STORE, 2, best_before="2026-08-29", opened="5", opened_use_by="2026-08-30"),
        STORE, "row 2, column opened_use_by", "a day up to 2026-08-29 (best_before)",
    ),
    "a delivery at no time": (
        add("deliveries.csv", LATE + "noon"), "deliveries.csv", "row 2, column time", "HH:MM",
    ),
    "nothing left by grading": (
        columns(FRUITS, 2, grade_down_share="0.6", grading_loss="0.4"),
        FRUITS, "row 2, column grade_down_share", "less than 1 in all",
    ),
    "a loss in per cent": (
        columns(FRUITS, 2, grading_loss="5"), FRUITS, "row 2, column grading_loss", "Write 8 % as 0.08",
    ),
    "stains in words": (
        swap(R, "sugar_per_kg", 'stains = "yes"\nsugar_per_kg'), R, "recipe 1, key stains", "true or false",
    ),
    "a lot of the name that grading gives": (
        lambda folder: (
            columns(FRUITS, 2, grade_down_share="0.1")(folder),
            add("lots.csv", "strawberry kitchen 2026-08-30,strawberry,kitchen,1,chiller,2026-08-23,")(folder),
        ),
        "lots.csv", "row 4, column lot", "Rename the lot",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_a_fault_is_told(folder: Path, name: str) -> None:
    assert_told_once(folder, CASES[name])


def test_dates_of_goods_are_read(folder: Path) -> None:
    columns(STORE, 2, best_before="2026-08-30", opened="5", opened_use_by="2026-08-24")(folder)
    good = read_scenario(folder).scenario.goods[0]
    assert (good.best_before, good.opened, good.opened_use_by) == (date(2026, 8, 30), 5.0, date(2026, 8, 24))


def test_what_is_used_up_may_have_a_date_that_has_passed(folder: Path) -> None:
    swap(STORE, "sugar,kg,90", "sugar,kg,0")(folder)
    columns(STORE, 2, best_before="2026-08-23")(folder)
    assert read_scenario(folder).scenario.goods[0].on_hand == 0


def test_a_delivery_counts_from_the_next_day_where_it_comes_after_opening(folder: Path) -> None:
    add("deliveries.csv", LATE + "09:00\n2026-08-25,lemons,5,")(folder)
    late, in_time = read_scenario(folder).scenario.deliveries
    assert late == Delivery(date(2026, 8, 25), "sugar", 5.0, 9 * 60)
    assert late.counts_from(9 * 60) == in_time.counts_from(0) == date(2026, 8, 25)
    assert late.counts_from(9 * 60 - 5) == date(2026, 8, 26)


def test_a_recipe_stains_where_it_says_so(folder: Path) -> None:
    swap(R, "sugar_per_kg", "stains = true\nsugar_per_kg")(folder)
    first, *others = read_scenario(folder).scenario.recipes
    assert first.stains
    assert first.leaves_traces
    assert not any(recipe.stains for recipe in others)


# ---- grading ----


def graded(folder: Path, *lines: str, down: str = "0.15", loss: str = "0.05") -> Scenario:
    """The folder with these picks only, its strawberries graded like this."""
    columns(FRUITS, 2, grade_down_share=down, grading_loss=loss)(folder)
    (folder / "picks.csv").write_text(picks(*lines), encoding="utf-8")
    return read_scenario(folder).scenario


def lots(scenario: Scenario) -> dict[str, float]:
    return {lot.name: lot.kg for lot in scenario.picks}


TABLE, KITCHEN = "strawberry table 2026-08-24", "strawberry kitchen 2026-08-24"


def test_a_table_pick_is_a_table_lot_and_a_kitchen_lot(folder: Path) -> None:
    scenario = graded(folder, "2026-08-24,strawberry,table,100,3,18")
    assert lots(scenario) == {TABLE: 80.0, KITCHEN: 15.0}
    table, kitchen = scenario.picks
    assert (table.grade, kitchen.grade) == (Grade.TABLE, Grade.KITCHEN)
    assert (kitchen.day, kitchen.warm_hours, kitchen.warm_celsius) == (date(2026, 8, 24), 3.0, 18.0)
    assert [(lot.name, lot.kg) for lot in scenario.picked] == [(TABLE, 100.0)]


def test_a_kitchen_pick_loses_its_loss_and_takes_what_is_graded_down(folder: Path) -> None:
    scenario = graded(folder, "2026-08-24,strawberry,kitchen,20,,", "2026-08-24,strawberry,table,100,,")
    assert lots(scenario) == {KITCHEN: 34.0, TABLE: 80.0}  # 20 × 0.95 + 15


def test_what_stood_warm_for_another_time_is_a_lot_of_its_own(folder: Path) -> None:
    scenario = graded(folder, "2026-08-24,strawberry,table,100,3,18", "2026-08-24,strawberry,kitchen,20,5,18")
    assert lots(scenario) == {TABLE: 80.0, KITCHEN: 19.0, f"{KITCHEN} graded down": 15.0}
    assert [lot.warm_hours for lot in scenario.picks] == [3.0, 5.0, 3.0]


def test_nothing_is_over_stated(folder: Path) -> None:
    # 0.7 × 0.8 = 0.56, 0.7 × 0.15 = 0.105; 0.3 × 0.15 = 0.045, which is no lot
    few = ("2026-08-24,strawberry,table,0.7,,", "2026-08-25,strawberry,table,0.3,,")
    scenario = graded(folder, *few)
    assert lots(scenario) == {TABLE: 0.5, "strawberry table 2026-08-25": 0.2, KITCHEN: 0.1}


def test_other_fruit_and_lots_on_hand_stay_as_they_are(folder: Path) -> None:
    before = read_scenario(folder).scenario
    columns(FRUITS, 2, grade_down_share="0.15", grading_loss="0.05")(folder)
    after = read_scenario(folder).scenario
    assert after.lots == before.lots
    assert [lot for lot in after.picks if lot.fruit != "strawberry"] == [
        lot for lot in before.picks if lot.fruit != "strawberry"
    ]


def test_without_grading_picks_are_as_they_are_listed(folder: Path) -> None:
    scenario = read_scenario(folder).scenario
    assert scenario.picks == scenario.picked
