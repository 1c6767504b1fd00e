"""The usual changes of a try as the intake reads them, and what they say of each."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest

from scheduler.domain.scenario import Scenario
from scheduler.drafts import usual
from scheduler.drafts.changes import changes
from scheduler.drafts.draft import Draft
from scheduler.errors import InputFaults
from scheduler.intake import situation_of

TUESDAY = date(2026, 8, 25)


@pytest.fixture
def draft(folder: Path) -> Draft:
    return Draft(folder)


def read(draft: Draft) -> Scenario:
    return situation_of(draft.texts, "quiet-week").scenario


@pytest.mark.parametrize(
    ("lever", "kg"),
    [
        (usual.PICKS, lambda s: {(p.day, p.fruit, p.grade): p.kg for p in s.picks}),
        (usual.SALES, lambda s: {(p.day, p.fruit, ""): p.kg for p in s.punnets}),
    ],
)
def test_a_percentage_scales_one_fruit_and_no_other(
    draft: Draft, lever: usual.Lever, kg: Callable[[Scenario], dict[tuple[date, str, str], float]]
) -> None:
    before = kg(read(draft))
    usual.by_percent(draft, lever, "strawberry", -25)
    factor = {"strawberry": 0.75}
    wanted = {key: round(mass * factor.get(key[1], 1), 1) for key, mass in before.items()}
    assert kg(read(draft)) == pytest.approx(wanted, abs=0.051)
    assert any(key[1] == "strawberry" for key in before)


def test_without_a_name_all_are_scaled_and_nothing_is_left_of_minus_a_hundred(draft: Draft) -> None:
    usual.by_percent(draft, usual.SALES, "", -100)
    assert {row.kg for row in read(draft).punnets} == {0.0}


def test_prices_change_where_they_stand(draft: Draft) -> None:
    usual.by_percent(draft, usual.PUNNET_PRICE, "raspberry", 10)
    usual.by_percent(draft, usual.JAR_PRICE, "strawberry jam", -50)
    usual.by_percent(draft, usual.GOOD_PRICE, "sugar", 100)
    now = read(draft)
    assert {fruit.name: fruit.table_value for fruit in now.fruits} == {
        "strawberry": 7.0,
        "raspberry": 9.9,
        "blackberry": 8.0,
    }
    assert [order.price for order in now.orders] == [2.1, 3.8, 4.4]
    assert next(good.price for good in now.goods if good.name == "sugar") == 2.2


def test_an_amount_with_a_unit_is_scaled_in_the_columns_unit(folder: Path) -> None:
    (folder / "picks.csv").write_text(
        "date,fruit,grade,kg\n2026-08-24,strawberry,table,3 st 4 lb\n", encoding="utf-8"
    )
    draft = Draft(folder)
    usual.by_percent(draft, usual.PICKS, "strawberry", 100)
    # 46 lb of exactly 0.45359237 kg (Weights and Measures Act 1985, schedule 1), twice, to 0.1 kg.
    assert [pick.kg for pick in read(draft).picks] == [41.7]


@pytest.mark.parametrize("percent", [-100.1, 400.1, float("nan"), float("inf")])
def test_a_percentage_beyond_its_range_is_refused(draft: Draft, percent: float) -> None:
    with pytest.raises(InputFaults, match="from -100 to 400 per cent"):
        usual.by_percent(draft, usual.PICKS, "strawberry", percent)
    assert not draft.changed


@pytest.mark.parametrize("percent", [-100.0, 400.0])
def test_the_ends_of_the_range_will_do(draft: Draft, percent: float) -> None:
    usual.by_percent(draft, usual.PICKS, "strawberry", percent)
    assert draft.changed == ("picks.csv",)


def test_what_no_row_is_of_is_refused(draft: Draft) -> None:
    with pytest.raises(InputFaults, match=r"stands in picks\.csv"):
        usual.by_percent(draft, usual.PICKS, "moonberry", 10)


def test_a_pan_out_of_use_is_out_on_each_day_once(draft: Draft) -> None:
    days = [TUESDAY + timedelta(days=n) for n in range(3)]
    usual.out_of_use(draft, "pan", "big copper", days[:2], "cracked")
    usual.out_of_use(draft, "pan", "big copper", days)
    usual.out_of_use(draft, "ring", "gas right", days[:1])
    rows = [(row.day, row.pan, row.ring, row.why) for row in read(draft).out]
    assert rows == [
        (days[0], "big copper", "", "cracked"),
        (days[1], "big copper", "", "cracked"),
        (days[2], "big copper", "", ""),
        (days[0], "", "gas right", ""),
    ]
    with pytest.raises(InputFaults, match="one planned day"):
        usual.out_of_use(draft, "pan", "big copper", [])


def test_who_is_away_offers_no_shift_on_these_days(draft: Draft) -> None:
    before = read(draft).shifts
    usual.away(draft, "Aoife", [TUESDAY])
    assert read(draft).shifts == tuple(s for s in before if (s.day, s.person) != (TUESDAY, "Aoife"))
    assert len(read(draft).shifts) == len(before) - 1
    with pytest.raises(InputFaults, match="days with a shift of Aoife"):
        usual.away(draft, "Aoife", [TUESDAY])


def test_the_freezer_holds_what_is_said(draft: Draft) -> None:
    before = read(draft).kitchen.freezer
    usual.freezer_kg(draft, 140.5)
    assert read(draft).kitchen.freezer == replace(before, kg=140.5)


def test_one_more_pan_is_like_its_twin(draft: Draft) -> None:
    before = read(draft).kitchen.pans
    usual.one_more_pan(draft, "big copper", "new copper")
    assert read(draft).kitchen.pans == (*before, replace(before[0], name="new copper"))
    with pytest.raises(InputFaults, match="one of big copper"):
        usual.one_more_pan(draft, "iron pot", "second")


def test_each_change_is_a_step_and_is_told_in_a_line(draft: Draft, folder: Path) -> None:
    before = Draft(folder)
    usual.freezer_kg(draft, 140)
    usual.by_percent(draft, usual.JAR_PRICE, "blackberry jam", 50)
    usual.away(draft, "Brendan", [TUESDAY])
    usual.out_of_use(draft, "pan", "big copper", [TUESDAY], "cracked")
    usual.one_more_pan(draft, "big copper", "new copper")
    assert changes(before, draft) == [
        "kitchen.toml, pans: added new copper, 22, 38, 0.5",
        "kitchen.toml, freezer: kg 280 → 140",
        "shifts.csv: removed 2026-08-25, Brendan, 09:00, 13:30, 0",
        "orders.csv, O-203 farm shop blackberry jam: price 4.40 → 6.60",
        "out.csv: added 2026-08-25, big copper, cracked",
    ]
    for _ in range(5):
        draft.undo()
    assert draft.can_undo  # out.csv was begun in a step of its own
    draft.undo()
    assert changes(before, draft) == []


def test_what_is_no_table_any_more_is_told_as_text(draft: Draft, folder: Path) -> None:
    before = Draft(folder)
    draft.write("kitchen.toml", "pan = ")
    draft.write("picks.csv", draft.texts["picks.csv"] + "\n\n")
    assert changes(before, draft) == ["kitchen.toml: its text.", "picks.csv: its text, not what it says."]


def test_a_recipe_that_goes_is_told_with_its_tables(draft: Draft, folder: Path) -> None:
    before, (recipes, *_) = Draft(folder), draft.sections("recipes.toml")
    grid = draft.grid(recipes)
    assert grid is not None
    draft.edit(recipes, grid.with_rows(grid.rows[:-1], grid.numbers[:-1]))
    lines = changes(before, draft)
    assert any(line.startswith(f"recipes.toml, recipes: removed {grid.rows[-1][0]}") for line in lines)
    assert any(f"{grid.rows[-1][0]}: fruit" in line for line in lines)
