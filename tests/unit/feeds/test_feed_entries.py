"""What is told to whom: everybody's own work, the kitchen's batches, deliveries and order dates."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from scheduler.domain.recipes import JarSize, OtherIngredient
from scheduler.domain.trade import Delivery
from scheduler.feeds.entry import KITCHEN, ORDERS, Entry, of_person, quarters, title
from scheduler.feeds.publishing import Changes, entries_of, feeds_of
from scheduler.feeds.work import PHASES, work_entries
from scheduler.law.cautions import Hazard, cautions_about
from scheduler.law.safety import Judge
from scheduler.plan_rows import OF_NO_BATCH, Plan, StageKind
from scheduler.views.batch_text import essentials
from tests.unit.views import jelly_days
from tests.unit.views import kilbrack_sample as sample

PLAN, FARM = sample.plan(), sample.situation().scenario


def of(feed: str, day: date | None = None, plan: Plan = PLAN) -> list[Entry]:
    return [each for each in entries_of(plan, FARM) if each.feed == feed and day in (None, each.day)]


@pytest.mark.parametrize(
    ("given", "told"),
    [((480, 540), (480, 540)), ((484, 494), (480, 495)), ((535, 555), (525, 555)), ((500, 505), (495, 510))],
)
def test_times_go_back_to_the_quarter_and_last_one_at_least(
    given: tuple[int, int], told: tuple[int, int]
) -> None:
    assert quarters(*given) == told


def test_every_stage_is_told_to_whoever_does_it_and_to_nobody_else() -> None:
    names = {batch.id: batch.recipe for batch in PLAN.batches}
    found = {person.name: of(of_person(person.name)) for person in FARM.people}
    for stage in PLAN.stages:
        for name, entries in found.items():
            phase = stage.kind.value if stage.kind in OF_NO_BATCH else PHASES.get(stage.kind, "nobody's")
            told = [
                each
                for each in entries
                if (each.day, each.category) == (stage.day, phase)
                and names.get(stage.batch, "") in each.summary
                and each.start is not None
                and each.end is not None
                and each.start <= stage.start < each.end + 15
            ]
            if name in stage.people:
                assert told, (name, stage)
    cooks = {person for stage in PLAN.stages if stage.kind is StageKind.BOIL for person in stage.people}
    for name, entries in found.items():
        assert any(each.category == "cook" for each in entries) == (name in cooks)


def test_a_cook_sees_the_batch_sheet_in_short_with_cautions() -> None:
    cooking = next(each for each in of(of_person("Aoife"), sample.START) if each.category == "cook")
    assert cooking.summary == "Cook: S strawberry jam"
    assert cooking.location == "the big copper, front left"
    text = cooking.description
    assert "Dissolve 15 min, boil 25 min, set test 5 min, re-boil 10 min, set test 5 min." in text
    assert "strawberry 10.0 kg; water 0.5 kg; sugar 9.0 kg; 10 lemons" in text
    assert "Boil to 104.4 °C (64 °Brix), then test for a set on the cold plate" in text
    assert "Fills 46 jars; the last jar at 85 °C or hotter." in text
    for caution in cautions_about(Hazard.HOT_SUGAR):
        assert caution.text in text
    assert cooking.alarm == 10


@pytest.mark.parametrize(
    ("category", "hazard"),
    [
        ("prepare", Hazard.LOW_ACID),
        ("prepare", Hazard.ALLERGENS),
        ("jars", Hazard.GLASS),
        ("pot up", Hazard.GLASS),
        ("pot up", Hazard.HOT_SUGAR),
        ("wash pan", Hazard.ALLERGENS),
        ("shift", Hazard.TIRED_HANDS),
    ],
)
def test_each_hazard_is_told_where_it_arises(category: str, hazard: Hazard) -> None:
    texts = [caution.text for caution in cautions_about(hazard)]
    told = [each for each in work_entries(PLAN, FARM) if each.category == category]
    assert told
    assert all(any(text in each.description for text in texts) for each in told)


def test_an_allergen_stands_out_and_others_are_weighed() -> None:
    spiced = replace(
        FARM.recipes[0],
        others=(OtherIngredient("hazelnut", 20.0, allergen=True), OtherIngredient("ginger", 1.5)),
    )
    farm = replace(FARM, recipes=(spiced, *FARM.recipes[1:]))
    batch = PLAN.batches[0]
    assert "hazelnut (ALLERGEN) 200 g; ginger 15 g" in essentials(batch, PLAN, farm)[0]


@pytest.mark.parametrize(
    ("judge", "said"),
    [
        (Judge.REFRACTOMETER, "Boil to 64 °Brix on the refractometer"),
        (Judge.THERMOMETER, "Boil to 104.4 °C (64 °Brix)."),
        (Judge.COLD_PLATE, "cold plate, pan off the heat."),
    ],
)
def test_the_end_of_the_boil_is_judged_as_the_recipe_says(judge: Judge, said: str) -> None:
    recipe = replace(FARM.recipes[0], judged_by=judge, heat_step="chilled at once")
    told = essentials(PLAN.batches[0], PLAN, replace(FARM, recipes=(recipe, *FARM.recipes[1:])))
    assert any(said in line for line in told)
    assert "Then: chilled at once." in told


def test_sizes_are_told_where_there_are_several() -> None:
    recipe = replace(FARM.recipes[0], more_sizes=(JarSize("jar 220", "lid 58", 0.22),))
    batch = replace(PLAN.batches[0], filled=(30, 24))
    told = essentials(batch, PLAN, replace(FARM, recipes=(recipe, *FARM.recipes[1:])))
    assert any("30 × jar 340 and 24 × jar 220" in line for line in told)


def test_fruit_of_several_batches_is_shared_and_the_freezer_named() -> None:
    thursday = [each for each in of(KITCHEN) if each.summary.startswith("G ")]
    assert [each.summary for each in thursday] == ["G gooseberry jam from the freezer, 40 jars"]
    assert "gooseberry 9.0 kg from the freezer" in thursday[0].description
    mixed = next(each for each in of(KITCHEN, sample.START) if each.summary.startswith("RC "))
    assert "raspberry 3.5 kg; redcurrant 1.5 kg" in mixed.description


def test_shifts_are_told_to_the_minute_with_overtime_and_break() -> None:
    shift, pause = (
        next(each for each in of(of_person("Noel"), sample.START) if each.category == category)
        for category in ("shift", "break")
    )
    assert (shift.start, shift.end, shift.alarm) == (480, 990, 60)
    assert "08:00 to 16:30, the last 30 min as overtime." in shift.description
    assert (pause.start, pause.end) == (720, 750)
    assert pause.description.startswith("30 min.")


def test_the_kitchen_has_a_line_for_each_batch_with_all_hands() -> None:
    entries = [each for each in of(KITCHEN) if each.category == "batch"]
    assert len(entries) == len(PLAN.batches)
    first = next(each for each in entries if each.day == sample.START and each.place == "the big copper")
    assert (first.start, first.end) == (600, 690)
    assert "• boil 25 min: Aoife" in first.description
    assert "• pot up 20 min: Maeve, Noel" in first.description
    assert "• stand 10 min\n" in first.description


def test_juice_of_two_days_is_told_on_both() -> None:
    plan, farm = jelly_days.plan(), jelly_days.situation().scenario
    kitchen = [each for each in entries_of(plan, farm) if each.feed == KITCHEN and "jelly" in each.summary]
    softened, boiled = sorted(kitchen, key=lambda each: each.day)
    assert softened.summary.endswith("redcurrant jelly, soften")
    assert "Drips overnight; its juice is boiled Fri 10 Jul in steel twelve" in softened.description
    assert "the juice of 4.0 kg of fruit; sugar 3.2 kg" in boiled.description
    assert "The juice of what was softened Thu 9 Jul" in boiled.description


def test_order_dates_deliveries_and_dues_have_their_days() -> None:
    farm = replace(
        FARM, deliveries=(Delivery(sample.START, "sugar", 25.0), Delivery(sample.START, "jar 340", 90.0, 630))
    )
    told = {each.summary: each for each in entries_of(PLAN, farm) if each.feed == ORDERS}
    days = {summary: (each.day.day, each.start, each.alarm) for summary, each in told.items()}
    assert days == {
        "Last day to order sugar: 80 kg": (8, None, 480),
        "Delivery of sugar: 80 kg": (10, None, 480),
        "Last day to order jar 340: 300 jars": (8, None, 480),
        "Delivery of jar 340: 300 jars": (11, None, 480),
        "Delivery of sugar: 25 kg": (6, None, 480),
        "Delivery of jar 340: 90 jars": (6, 630, 30),
        "Due: 90 strawberry jam, the farm shop (O-1)": (9, None, 480),
        "Due: 60 raspberry and redcurrant jam, Kilbrack café (O-2), 12 missing": (10, None, 480),
        "Due: 40 gooseberry jam, the farm shop (O-3)": (12, None, 480),
    }
    assert told["Delivery of jar 340: 90 jars"].end == 645


def test_pay_prices_and_customers_are_nobody_elses_business() -> None:
    customers = {order.customer for order in FARM.orders}
    for each in entries_of(PLAN, FARM):
        words = f"{each.summary} {each.description} {each.location}"
        assert "€" not in words
        assert "EUR" not in words
        if each.feed != ORDERS:
            assert not any(customer in words for customer in customers)


def test_feeds_are_people_kitchen_and_orders_whatever_people_are_called() -> None:
    called = replace(FARM.people[0], name=KITCHEN)
    feeds = feeds_of(replace(FARM, people=(called, *FARM.people)))
    assert len(set(feeds)) == len(feeds) == len(FARM.people) + 3
    assert [title(feed) for feed in feeds].count(KITCHEN) == 2


def test_changes_are_said_in_words() -> None:
    assert str(Changes(0, 0, 0, ())) == "Nothing changes"
    assert str(Changes(1, 0, 2, (of_person("Aoife"),))) == "1 entry new, 0 changed, 2 cancelled, for Aoife"
    said = "0 entries new, 3 changed, 0 cancelled, for Aoife, Noel and the kitchen"
    assert str(Changes(0, 3, 0, (of_person("Aoife"), of_person("Noel"), KITCHEN))) == said
