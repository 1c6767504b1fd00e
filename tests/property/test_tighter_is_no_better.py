"""A limit set, or tightened, on the glut week makes its plan no better; and each of them can bind.

The allocation of the glut week is solved to proof: value of fruit lost and jars missing, a jar counted as one
of money. By the day limits this is a bound of whole plans; that whole plans obey each limit is for the
auditor to say (``test_every_rule_matters``).
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path

import pytest

from scheduler.cards import MONEY
from scheduler.domain.days import Closure
from scheduler.domain.held import HeldBatch, OutOfUse
from scheduler.domain.kitchen import FreezerBox, Labels, Supply
from scheduler.domain.people import Skill
from scheduler.domain.recipes import OtherIngredient
from scheduler.domain.scenario import Scenario
from scheduler.domain.trade import ShopDemand, Weekday
from scheduler.intake import read_scenario
from scheduler.making import make_cards
from scheduler.model import mip
from scheduler.model.allocation import AllocationModel
from tests.property.without import Farming, changed

WEEK = Path(__file__).parents[2] / "scenarios" / "glut-week"
GLUT = read_scenario(WEEK).scenario
DAYS = GLUT.dates()


def kitchen(**fields: object) -> Farming:
    return changed("kitchen", **fields)


def people(**fields: object) -> Farming:
    return changed("people", **fields)


def rules(**fields: object) -> Farming:
    return changed("work_rules", **fields)


def goods(**fields: object) -> Farming:
    return changed("goods", **fields)


def oven(**fields: object) -> Farming:
    return kitchen(oven=lambda it: replace(it, **fields))


def freezer(**fields: object) -> Farming:
    return kitchen(freezer=lambda it: replace(it, **fields))


def closed(day: date, start: int, end: int) -> Farming:
    return lambda farm: replace(farm, closures=(*farm.closures, Closure(day, start, end, "")))


def first_only(part: str) -> Farming:
    """All but the last pan, ring or person."""
    return kitchen(**{part: lambda rows: rows[:-1]})


def both(*changes: Farming) -> Farming:
    def change(farm: Scenario) -> Scenario:
        for each in changes:
            farm = each(farm)
        return farm

    return change


def asked_for(jars: int) -> Farming:
    """So many jars of each recipe are to be left in the shop each evening."""
    return lambda farm: replace(
        farm,
        shop=tuple(ShopDemand(day, r.name, r.jar, jars) for day in farm.dates() for r in farm.recipes),
    )


def learners_but_one(farm: Scenario) -> Scenario:
    return replace(farm, people=(farm.people[0], *(replace(each, learner=True) for each in farm.people[1:])))


def too_young(farm: Scenario) -> Scenario:
    """Everybody but the two who cook is seventeen."""
    return replace(
        farm,
        people=tuple(
            each if Skill.COOK in each.skills else replace(each, born=date(2009, 1, 1))
            for each in farm.people
        ),
    )


def almonds(farm: Scenario) -> Scenario:
    return changed("recipes", others=(OtherIngredient("almonds", 5.0, allergen=True),))(farm)


TIGHTER: dict[str, Farming] = {
    "a pan less": first_only("pans"),
    "two rings": both(first_only("rings"), first_only("rings")),
    "gas at once": kitchen(supply=Supply(gas_kw=12.0)),
    "gas in the bottles": kitchen(supply=Supply(gas_kg=4.0)),
    "jars in the oven": oven(jars=26),
    "jars to wash": oven(wash_jars_per_hour=15.0),
    "sample": kitchen(sample_jars=6),
    "scrap": kitchen(scrap_share=0.1),
    "racks": kitchen(rack_jars=100),
    "shelves": kitchen(shelf_jars=200),
    "labels": kitchen(labels=Labels(4.0, 7)),
    "settling": kitchen(settle_days=2),
    "cook life": changed("fruits", cook_days=lambda days: days / 2, peak_days=lambda days: days / 2),
    "chiller": kitchen(chiller=lambda it: replace(it, kg=60.0)),
    "freezer": freezer(kg=60.0),
    "freezing rate": freezer(freeze_kg_per_day=10.0),
    "room kept free": kitchen(room_free_kg=150.0, room_free_from=DAYS[-1]),
    "boxes": both(kitchen(freezer_boxes=(FreezerBox("box", 5.0, 20),)), changed("fruits", freezer_box="box")),
    "defrost day": freezer(defrost_on=DAYS[3]),
    "freezer failure": freezer(fails_on=DAYS[4]),
    "closed day": closed(DAYS[2], 0, 1440),
    "closed hour": both(*(closed(day, 600, 660) for day in DAYS)),
    "a pan out of use": lambda farm: replace(
        farm, out=tuple(OutOfUse(day, farm.kitchen.pans[0].name, "", "") for day in DAYS)
    ),
    "batches held": lambda farm: replace(
        farm, held=tuple(HeldBatch(day, "gooseberry jam", "big copper") for day in DAYS[:3])
    ),
    "a recipe ruled out": lambda farm: replace(
        farm, held=tuple(HeldBatch(day, farm.recipes[0].name, hold=False) for day in DAYS)
    ),
    "clean down": kitchen(clean_down_minutes=45),
    "full wash after an allergen": both(kitchen(full_wash_minutes=60), almonds),
    "full wash after a stain": both(kitchen(full_wash_minutes=60), changed("recipes", stains=True)),
    "people beside a pan": kitchen(people_while_boiling=6),
    "hours of the week": people(hours_week=12.0),
    "rest": rules(rest_minutes=24 * 60),
    "stove minutes": rules(longest_stove_minutes=30),
    "learners": learners_but_one,
    "age at the boil": both(rules(boil_from_age=18), too_young),
    "no part deliveries": both(changed("orders", parts=False), kitchen(sample_jars=0)),
    "stock of the shop": asked_for(30),
    "packs too dear to come": both(
        goods(on_hand=0.0, pack=1000.0, lead_days=3, delivery_days=frozenset({Weekday.SUN})),
        lambda farm: replace(farm, deliveries=()),
    ),
    "goods past their date": goods(best_before=DAYS[1]),
    "late deliveries": both(
        goods(lead_days=30, on_hand=lambda n: n / 2), changed("deliveries", at=18 * 60)
    ),
}  # fmt: skip


LOOSER = {"no part deliveries": both(changed("orders", parts=True), kitchen(sample_jars=0))}
"""What a limit is tightened from, where the week has it already and tighter would not bind."""


@cache
def least(change: Farming | None = None) -> float:
    """The least money lost on fruit, and jars missing at one each, that the allocation can reach."""
    situation = read_scenario(WEEK)
    if change is not None:
        situation = replace(situation, scenario=change(situation.scenario))
    model = AllocationModel(make_cards(situation))
    model.model.minimize(model.goals["spoiled"] + MONEY * model.goals["short"])
    answer = mip.solve(model.model, model.masses, 900.0, 1, 0, lambda value, bound: False, gap=0.0)
    assert answer.objective is not None
    assert answer.bound == pytest.approx(answer.objective, rel=1e-6)
    return answer.objective / MONEY


@pytest.mark.parametrize("name", TIGHTER)
def test_a_tighter_limit_makes_the_glut_week_no_better(name: str) -> None:
    assert least(TIGHTER[name]) > least(LOOSER.get(name)) + 0.01, "it does not even bind"
