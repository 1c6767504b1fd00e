"""The search on small farms finds what it found before, in as many steps; no figure depends on a machine."""

from __future__ import annotations

import pytest

from tests.bench.gate import CLOSE, GATES, Gate, expected, measure

AGAIN = "if the search was meant to change: python -m tests.bench.gate"
REACHED = ("best", "bound")


def test_every_farm_has_its_rows() -> None:
    assert {farm: len(rows) for farm, rows in expected().items()} == {g.farm.name: g.goals for g in GATES}


def test_the_farms_lose_fruit_and_teach_cuts() -> None:
    rows = [row for mine in expected().values() for row in mine]
    assert sum(row["goal"] == "spoiled" and float(row["best"]) > 0 for row in rows) >= 4
    assert len({row["farm"] for row in rows if int(row["cuts"]) > 0}) >= 3
    assert {row["goal"] for row in rows} == {"spoiled", "short", "money", "tidiness"}


@pytest.mark.parametrize("gate", GATES, ids=lambda gate: gate.farm.name)
def test_the_search_goes_as_before(gate: Gate) -> None:
    now, before = measure(gate), expected()[gate.farm.name]
    assert [row["goal"] for row in now] == [row["goal"] for row in before]
    for row, kept in zip(now, before, strict=True):
        for name in REACHED:
            assert row[name] == pytest.approx(float(kept[name]), abs=CLOSE), f"{row['goal']}; {AGAIN}"
        counts = {name: str(row[name]) for name in row if name not in REACHED}
        assert counts == {name: kept[name] for name in counts}, AGAIN
