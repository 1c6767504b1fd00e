"""The terminal summary and the --json object tell the plan's own numbers."""

import io
import json
from dataclasses import replace

import kilbrack_sample as sample
import pytest
from rich.console import Console

from scheduler.plan import Plan, totals
from scheduler.views import tables, words
from scheduler.views.summary import as_json, summary

PLAN, SITUATION = sample.plan(), sample.situation()


def _text(plan: Plan = PLAN, width: int = 80) -> str:
    console = Console(width=width, record=True, file=io.StringIO())
    console.print(summary(plan, SITUATION))
    return console.export_text()


def test_json_object_has_exactly_the_agreed_keys() -> None:
    found = json.loads(json.dumps(as_json(PLAN, SITUATION, [])))
    assert set(found) == {"status", "goals", "days", "kg", "jars", "seconds", "findings", "habit"}
    assert [set(goal) for goal in found["goals"]] == [
        {"name", "value", "best", "bound", "gap", "unit", "slack"}
    ] * 4
    assert [goal["name"] for goal in found["goals"]] == ["spoiled", "short", "money", "tidiness"]
    assert found["days"] == {"placed": 7, "refuted": 2, "undecided": 0}
    agreed = "picked opening sold cooked frozen trimmed given_up spoiled left thawed"
    assert set(found["kg"]) == set(agreed.split())
    assert found["jars"] == {"made": totals(PLAN).made, "short": 12}
    assert set(found["habit"]) == {"kg", "jars"}
    assert found["habit"]["jars"]["short"] == 46


def test_json_kg_balance() -> None:
    kg = as_json(PLAN, SITUATION, [])["kg"]
    went = sum(kg[name] for name in ("sold", "cooked", "frozen", "trimmed", "given_up", "spoiled", "left"))
    assert kg["picked"] + kg["opening"] == pytest.approx(went, abs=0.01)


def test_json_findings_are_text_and_habit_may_be_missing() -> None:
    found = as_json(replace(PLAN, habit=None), SITUATION, [ValueError("pan-clash")])
    assert found["findings"] == ["pan-clash"]
    assert found["habit"] is None


def test_json_refuses_a_plan_of_other_input() -> None:
    with pytest.raises(ValueError, match="other input"):
        as_json(replace(PLAN, input_hash="x"), SITUATION, [])


@pytest.mark.parametrize("width", [80, 120])
def test_summary_fits_and_tells_the_headlines(width: int) -> None:
    text = _text(width=width)
    assert max(len(line) for line in text.splitlines()) <= width
    for told in ("238.0 kg sold fresh", "118.3 kg of fruit lost", "12 jars missing", "strawberry", "€812.40",
                 "0.79 %", "Wed 8 Jul", "fills 21 more jars", "Boiling sugar", "Local food law"):  # fmt: skip
        assert told in " ".join(text.replace("│", " ").split()), told


def test_summary_says_when_nothing_is_missing() -> None:
    full = tuple(replace(line, filled=line.jars) for line in PLAN.orders)
    text = _text(replace(PLAN, orders=full, purchases=(), habit=None))
    assert "All 3 orders are filled." in text
    assert "Nothing to buy" in text
    assert "jars missing" not in text.split("Goals")[0].split("The days")[0].replace("0 jars missing", "")


def test_saving_is_the_difference_of_both_totals() -> None:
    saving = tables.saving_table(PLAN).set_index("")
    assert saving.loc["fruit lost, kg", "difference"] == "-40.0"
    assert saving.loc["jars made", "difference"] == "+61"
    assert saving.loc["jars missing from orders", "difference"] == "-34"


def test_fates_of_each_fruit_add_up_to_what_came_in() -> None:
    frame = tables.fates(PLAN, SITUATION.scenario)
    for fruit in ("strawberry", "raspberry", "redcurrant"):
        came = sum(row.arrived for row in PLAN.lots if row.fruit == fruit)
        assert frame.loc[fruit].sum() == pytest.approx(came, abs=0.01)


@pytest.mark.parametrize(
    ("said", "found"),
    [
        (words.clock(485), "08:05"),
        (words.kg(-0.01), "0.0 kg"),
        (words.kg(1234.56), "1,234.6 kg"),
        (words.money(-3, "EUR"), "−€3.00"),
        (words.money(12, "SEK"), "SEK 12.00"),
        (words.quantity(300, "jars"), "300 jars"),
        (words.percent(0.0079), "0.79 %"),
        (words.percent(0.0), "0.0 %"),
        (words.jars(1), "1 jar"),
        (words.hours(450), "7h30"),
        (words.day_name(sample.START), "Mon 6 Jul"),
    ],
)
def test_words(said: str, found: str) -> None:
    assert said == found


def test_letters_name_the_fruit_with_most_kg_first() -> None:
    batch = next(b for b in PLAN.batches if "redcurrant" in b.recipe)
    assert words.letters(batch, PLAN, SITUATION.scenario) == "RC"
