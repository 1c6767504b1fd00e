"""The farms of the benchmarks: read without fault, the same each time, as full as their name says."""

from __future__ import annotations

import csv
import io
import tomllib
from collections import defaultdict

import pytest

from scheduler.bench.farms import FAMILIES, KG_A_DAY_AND_LITRE, PANS, SIZES, Farm, Size, read
from scheduler.domain.people import Skill
from tests.bench.instances import FOLDER, SMALL, as_text, file_of, kept, situation, unseen


@pytest.mark.parametrize("size", SIZES)
def test_farms_of_every_size_read_well(size: str) -> None:
    scenario = situation(Farm(size, 2.0, 1)).scenario
    known = SIZES[size]
    assert scenario.days == known.days
    assert len(scenario.fruits) == known.fruits
    assert len(scenario.kitchen.pans) == known.pans
    assert {pick.day for pick in scenario.picks} <= set(scenario.dates()[: known.picking])


@pytest.mark.parametrize("glut", [1.5, 2.0, 2.5])
@pytest.mark.parametrize("size", ["S", "M", "L"])
def test_the_highest_week_brings_as_much_as_said(size: str, glut: float) -> None:
    by_day: dict[str, float] = defaultdict(float)
    for row in csv.DictReader(io.StringIO(Farm(size, glut, 2).texts()["picks.csv"])):
        by_day[row["date"]] += float(row["kg"])
    kg = [by_day[day] for day in sorted(by_day)]
    highest = max(sum(kg[d : d + 7]) for d in range(len(kg)))
    capacity = 7 * KG_A_DAY_AND_LITRE * sum(litres for litres, _ in PANS[: SIZES[size].pans])
    assert highest / capacity == pytest.approx(glut, rel=0.02)


def test_a_farm_is_the_same_each_time_and_another_for_another_seed() -> None:
    assert Farm("S", 2.0, 1).texts() == Farm("S", 2.0, 1).texts()
    assert Farm("S", 2.0, 1).texts()["picks.csv"] != Farm("S", 2.0, 2).texts()["picks.csv"]


def test_families_are_short_of_cooks_or_of_room() -> None:
    farms = {family: Farm("M", 2.0, 0, family) for family in FAMILIES}
    scenarios = {family: situation(farm).scenario for family, farm in farms.items()}
    cooks = {name: sum(Skill.COOK in each.skills for each in farm.people) for name, farm in scenarios.items()}
    assert cooks["cooks"] == 1 < cooks["plain"]
    assert scenarios["freezer"].kitchen.freezer.kg < scenarios["plain"].kitchen.freezer.kg / 2


def test_a_farm_may_have_a_size_of_its_own() -> None:
    farm = Farm("two days", 2.0, 0, own=Size(2, 2, 1, 1, 4))
    scenario = read(farm.name, farm.texts()).scenario
    assert (scenario.days, len(scenario.fruits), len(scenario.kitchen.pans), len(scenario.people)) == (
        2,
        1,
        1,
        4,
    )


@pytest.mark.parametrize("farm", [farm for farm in kept() if farm.size in SMALL], ids=lambda farm: farm.name)
def test_the_files_are_what_is_drawn_today(farm: Farm) -> None:
    assert file_of(farm).read_text(encoding="utf-8") == as_text(farm), "run: python -m tests.bench.draw"
    assert tomllib.loads(as_text(farm)) == farm.texts()


def test_there_is_a_file_for_each_farm_and_none_for_those_unseen() -> None:
    assert {path.name for path in FOLDER.iterdir()} == {file_of(farm).name for farm in kept()}
    assert not set(unseen()) & set(kept())
    assert sum(path.stat().st_size for path in FOLDER.iterdir()) < 4_000_000
