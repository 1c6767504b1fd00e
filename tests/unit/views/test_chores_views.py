"""Labels and taking out where a cook looks for them: notes, who does what, lists, tables, freezer page."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import kilbrack_sample as sample

from scheduler.domain.kitchen import Labels
from scheduler.plan_rows import Plan, Stage, StageKind
from scheduler.views import charts, chore_tables, tables
from scheduler.views.dashboard.calendar import kitchen_of
from scheduler.views.dashboard.scenario import tables_of
from scheduler.views.look import LIGHT

WEDNESDAY, THURSDAY = date(2026, 7, 8), date(2026, 7, 9)
BASE = sample.situation().scenario
FARM = replace(BASE, kitchen=replace(BASE.kitchen, labels=Labels(60.0, 5), take_out_minutes=10))
LABEL = Stage(WEDNESDAY, "", StageKind.LABEL, 840, 860, ("Maeve",))
TAKE_OUT = Stage(WEDNESDAY, "", StageKind.TAKE_OUT, 870, 880, ("Noel",))


def plan() -> Plan:
    """On Wednesday 12 jars of the first recipe and 8 of the second; what thaws on Thursday is taken out."""
    whole = sample.plan()
    jars = {FARM.recipes[0].name: 12, FARM.recipes[1].name: 8}
    rows = tuple(
        replace(row, labelled=jars.get(row.recipe, 0)) if row.day == WEDNESDAY else row for row in whole.jars
    )
    return replace(whole, jars=rows, stages=(*whole.stages, LABEL, TAKE_OUT))


PLAN = plan()
FIRST, SECOND = (recipe.name for recipe in FARM.recipes[:2])
(THAWED,) = [row for row in PLAN.freezer if row.day == THURSDAY and row.thawed]
LOT = f"{THAWED.lot} {THAWED.thawed:.1f} kg"


def test_the_notes_of_a_day_tell_who_labels_what_and_who_takes_what_out() -> None:
    assert set(kitchen_of(PLAN, FARM, (WEDNESDAY,))) == {
        f"Wed 8 Jul: label jars 14:00–14:20, Maeve: {jars_said()}.",
        f"Wed 8 Jul: take fruit out 14:30–14:40, Noel: {LOT}.",
    }
    assert kitchen_of(PLAN, FARM, (THURSDAY,)) == []


def test_a_task_in_two_pieces_is_one_note_and_a_size_is_no_jar_of_its_own() -> None:
    again = replace(LABEL, start=900, end=915, people=("Noel",))
    whole = replace(PLAN, stages=(*PLAN.stages, again))
    assert f"Wed 8 Jul: label jars 14:00–14:20, Maeve; 15:00–15:15, Noel: {jars_said()}." in kitchen_of(
        whole, FARM, (WEDNESDAY,)
    )
    (row,) = [row for row in PLAN.jars if row.day == WEDNESDAY and row.recipe == FIRST]
    sizes = replace(PLAN, jars=(*PLAN.jars, replace(row, jar="small jar")))
    assert f"12 {FIRST} ({row.jar}), " in chore_tables.about(LABEL, sizes)


def jars_said() -> str:
    order = [row.recipe for row in PLAN.jars if row.day == WEDNESDAY and row.labelled]
    return ", ".join(f"{12 if name == FIRST else 8} {name}" for name in order)


def test_everybody_sees_their_own_work_in_the_list_and_on_the_chart() -> None:
    lists = {name: tables.work_table(PLAN, FARM, WEDNESDAY, name) for name in ("Maeve", "Noel")}
    rows = {
        name: list(work[["from", "work", "on"]].itertuples(index=False, name=None))
        for name, work in lists.items()
    }
    assert ("14:00", "label jars", jars_said()) in rows["Maeve"]
    assert ("14:30", "take fruit out", LOT) in rows["Noel"]
    figure = charts.day_by_person(PLAN, FARM, WEDNESDAY, LIGHT)
    hovers = [data[1] for trace in figure.data if trace.type == "bar" for data in trace.customdata]
    assert any("label jars" in hover and f"12 {FIRST}" in hover for hover in hovers)
    assert any("take fruit out" in hover and LOT in hover for hover in hovers)
    assert {StageKind.LABEL, StageKind.TAKE_OUT} <= set(charts.stages_drawn(PLAN, StageKind))


def test_they_are_no_batch_in_any_table() -> None:
    assert "" not in tables.clock_times(PLAN)
    before, after = tables.load_table(sample.plan()), tables.load_table(PLAN)
    assert (before["batches"] == after["batches"]).all()


def test_jars_to_label_are_listed_with_when_and_who() -> None:
    rows = chore_tables.label_table(PLAN).to_dict("records")
    when = "14:00–14:20, Maeve"
    assert {(row["day"], row["recipe"], row["jars to label"], row["when and who"]) for row in rows} == {
        ("Wed 8 Jul", FIRST, 12, when),
        ("Wed 8 Jul", SECOND, 8, when),
    }
    assert chore_tables.label_table(sample.plan()).empty


def test_jars_of_each_recipe_say_how_many_are_labelled_only_where_there_are_labels() -> None:
    labelled = dict(
        zip(*(tables.recipe_table(PLAN, FARM)[name] for name in ("recipe", "labelled")), strict=True)
    )
    assert (labelled[FIRST], labelled[SECOND], sum(labelled.values())) == (12, 8, 20)
    assert "labelled" not in tables.recipe_table(PLAN, BASE)


def test_the_list_of_what_to_take_out_knows_when_and_who() -> None:
    assert chore_tables.done_by(PLAN, WEDNESDAY, StageKind.TAKE_OUT) == "14:30–14:40, Noel"
    assert chore_tables.done_by(PLAN, THURSDAY, StageKind.TAKE_OUT) == ""


def test_the_scenario_page_lists_this_work() -> None:
    rows = tables_of(FARM)["Work beside the batches"].to_dict("records")
    assert {(row["work"], row["figure"]) for row in rows} >= {
        ("jars labelled by one person in an hour", "60"),
        ("labelled within days after potting", "5"),
        ("taking fruit out of the freezer", "10 min"),
    }
