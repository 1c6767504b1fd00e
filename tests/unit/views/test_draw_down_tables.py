"""What each freezer lot is kept for, and the frozen share of recipes."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from scheduler.plan_rows import totals
from scheduler.views.draw_down_tables import NEAR, lot_table, share_table
from tests.unit.views.kilbrack_sample import plan, situation

SCENARIO = situation().scenario
LAST = SCENARIO.dates()[-1]


def test_lots_stand_in_the_order_of_their_dates_and_balance() -> None:
    table = lot_table(plan(), SCENARIO)
    dates = {row.lot: row.use_by for row in plan().freezer}
    order = [dates[name.split(" ", 1)[1]] for name in table["lot"]]
    assert order == sorted(order)
    moved = totals(plan())
    there, left = table["there kg"].sum(), table["left kg"].sum()
    assert there - left == pytest.approx(moved.thawed + moved.discarded, abs=0.1 * len(table))


def test_a_lot_that_is_thawed_names_its_recipe_and_day() -> None:
    drawn = next(draw for draw in plan().draws if draw.from_freezer or draw.lot in _frozen())
    row = lot_table(plan(), SCENARIO).set_index("lot").loc[f"{_letter(drawn.lot)} {drawn.lot}"]
    assert drawn.recipe in row["kept for"]


@pytest.mark.parametrize(("days", "told"), [(NEAR, True), (NEAR + 1, False)])
def test_what_is_left_near_its_date_is_told(days: int, told: bool) -> None:
    """Fine a day further from its date, told on the edge."""
    rows = [row for row in plan().freezer if row.left > 1 and row.day == LAST]
    lot = rows[0].lot
    dated = tuple(
        replace(row, use_by=LAST + timedelta(days=days), thawed=0.0, discarded=0.0) if row.lot == lot else row
        for row in plan().freezer
    )
    table = lot_table(replace(plan(), freezer=dated), SCENARIO).set_index("lot")
    assert bool(table.loc[f"{_letter(lot)} {lot}", "take care"]) is told


def test_shares_are_the_mixes_of_each_recipe() -> None:
    table = share_table(plan()).set_index("recipe")
    for recipe in table.index:
        frozen = sum(mix.frozen_kg for mix in plan().mixes if mix.recipe == recipe)
        assert table.loc[recipe, "from the freezer kg"] == pytest.approx(frozen, abs=0.05)
    assert share_table(replace(plan(), mixes=())).empty


def _frozen() -> set[str]:
    return {row.lot for row in plan().freezer}


def _letter(lot: str) -> str:
    fruit = next(row.fruit for row in plan().freezer if row.lot == lot)
    return SCENARIO.fruit(fruit).letter
