"""The farms of the benchmarks: read without fault, the same each time, as full as their name says."""

from __future__ import annotations

import csv
import io
from collections import defaultdict
from pathlib import Path

import pytest

from scheduler.domain.people import Skill
from scheduler.intake import read_scenario
from tests.bench.farms import FAMILIES, KG_A_DAY_AND_LITRE, PANS, SIZES, texts


@pytest.mark.parametrize("size", SIZES)
def test_farms_of_every_size_read_well(size: str, tmp_path: Path) -> None:
    for name, text in texts(size, 2.0, 1).items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    scenario = read_scenario(tmp_path).scenario
    known = SIZES[size]
    assert scenario.days == known.days
    assert len(scenario.fruits) == known.fruits
    assert len(scenario.kitchen.pans) == known.pans
    assert {pick.day for pick in scenario.picks} <= set(scenario.dates()[: known.picking])


@pytest.mark.parametrize("glut", [1.5, 2.0, 2.5])
@pytest.mark.parametrize("size", ["S", "M", "L"])
def test_the_highest_week_brings_as_much_as_said(size: str, glut: float) -> None:
    by_day: dict[str, float] = defaultdict(float)
    for row in csv.DictReader(io.StringIO(texts(size, glut, 2)["picks.csv"])):
        by_day[row["date"]] += float(row["kg"])
    kg = [by_day[day] for day in sorted(by_day)]
    highest = max(sum(kg[d : d + 7]) for d in range(len(kg)))
    capacity = 7 * KG_A_DAY_AND_LITRE * sum(litres for litres, _ in PANS[: SIZES[size].pans])
    assert highest / capacity == pytest.approx(glut, rel=0.02)


def test_a_farm_is_the_same_each_time_and_another_for_another_seed() -> None:
    assert texts("S", 2.0, 1) == texts("S", 2.0, 1)
    assert texts("S", 2.0, 1)["picks.csv"] != texts("S", 2.0, 2)["picks.csv"]


def test_families_are_short_of_cooks_or_of_room(tmp_path: Path) -> None:
    read = {}
    for family in FAMILIES:
        folder = tmp_path / family
        folder.mkdir()
        for name, text in texts("M", 2.0, 3, family).items():
            (folder / name).write_text(text, encoding="utf-8")
        read[family] = read_scenario(folder).scenario
    cooks = {name: sum(Skill.COOK in person.skills for person in farm.people) for name, farm in read.items()}
    assert cooks["cooks"] == 1 < cooks["plain"]
    assert read["freezer"].kitchen.freezer.kg < read["plain"].kitchen.freezer.kg / 2
