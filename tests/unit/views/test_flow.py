"""The way of fruit: what enters a place leaves it, and the whole agrees with the plan's balance."""

from __future__ import annotations

import pandas as pd
import pytest

from scheduler.plan_rows import totals
from scheduler.views.charts import fruit_flow
from scheduler.views.flow_table import FREEZER, FRESH, flow_table
from scheduler.views.look import DARK, LIGHT, Look
from tests.unit.views.kilbrack_sample import plan, situation

SCENARIO = situation().scenario
FRUITS = [fruit.name for fruit in SCENARIO.fruits]
DAYS = SCENARIO.dates()


@pytest.mark.parametrize("fruits", [FRUITS, FRUITS[:1], FRUITS[1:3]])
@pytest.mark.parametrize("days", [DAYS, DAYS[2:4], DAYS[-1:]])
def test_what_enters_fresh_and_freezer_leaves_them(fruits: list[str], days: tuple[object, ...]) -> None:
    table = flow_table(plan(), SCENARIO, fruits, days)  # type: ignore[arg-type]
    for place in (FRESH, FREEZER):
        came, went = (table.loc[table[side] == place, "kg"].sum() for side in ("to", "from"))
        assert came == pytest.approx(went, abs=0.1 * len(fruits) + 0.05 * len(table))


def test_the_ends_are_the_totals_of_the_plan() -> None:
    table, whole = flow_table(plan(), SCENARIO, FRUITS, DAYS), totals(plan())
    ends = table.groupby("to")["kg"].sum()
    assert ends.get("sold", 0.0) == pytest.approx(whole.sold, abs=0.2)
    assert ends.get("cooked", 0.0) == pytest.approx(whole.cooked + whole.thawed, abs=0.3)
    assert ends.get("given up", 0.0) == pytest.approx(whole.given_up, abs=0.2)


def test_fruits_that_are_not_asked_for_have_no_band() -> None:
    assert set(flow_table(plan(), SCENARIO, FRUITS[:1], DAYS)["fruit"]) <= {FRUITS[0]}


@pytest.mark.parametrize("look", [LIGHT, DARK])
def test_the_picture_has_a_band_for_each_row_and_names_its_places(look: Look) -> None:
    table = flow_table(plan(), SCENARIO, FRUITS, DAYS)
    drawn = fruit_flow(table, SCENARIO, look).data[0]
    assert list(drawn.link.value) == table["kg"].tolist()
    ends = {name.split("<br>")[0] for name in drawn.node.label if name}
    assert {place for place in [*table["from"], *table["to"]] if place != FRESH} == ends


@pytest.mark.parametrize("frozen", [0.1, 60.0, 100.0])
def test_the_freezer_stands_wholly_in_the_picture_and_alone_is_moved(frozen: float) -> None:
    ways = [("picked", FRESH, 100.0), (FRESH, FREEZER, frozen), (FREEZER, "kept frozen", frozen)]
    if frozen < 100:
        ways.append((FRESH, "sold", 100 - frozen))
    table = pd.DataFrame(
        [(*ends, FRUITS[0], kg) for *ends, kg in ways],
        columns=["from", "to", "fruit", "kg"],
    )
    node = fruit_flow(table, SCENARIO, LIGHT).data[0].node
    (at,) = [place for place, x in enumerate(node.x) if x is not None]
    assert node.label[at].startswith("freezer<br>")
    half = frozen / 100 / 2
    assert half - 1e-9 <= node.y[at] <= 1 - half + 1e-9
    assert [y is None for y in node.y] == [x is None for x in node.x]
