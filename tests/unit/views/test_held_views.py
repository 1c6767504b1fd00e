"""What is out of use and what is held, where a cook looks for it: calendar, notes, tables."""

from __future__ import annotations

from dataclasses import replace

import kilbrack_sample as sample

from scheduler.domain.held import HeldBatch, OutOfUse
from scheduler.views import charts, tables
from scheduler.views.charts.calendar import batch_hover
from scheduler.views.dashboard.calendar import kitchen_of
from scheduler.views.dashboard.scenario import tables_of
from scheduler.views.held_tables import SIGN, as_row, not_in, row_that_holds, told
from scheduler.views.look import LIGHT

PLAN = sample.plan()
FIRST = PLAN.batches[0]
DAY, BEGINS = FIRST.day, tables.clock_times(PLAN)[FIRST.id][0]
ROW = HeldBatch(DAY, FIRST.recipe, FIRST.pan, FIRST.ring, BEGINS)
NO = HeldBatch(DAY, FIRST.recipe, FIRST.pan, hold=False)
FREE = sample.situation().scenario
SCENARIO = replace(
    FREE,
    held=(ROW, NO),
    out=(OutOfUse(DAY, "", FREE.kitchen.rings[-1].name, "no gas"), OutOfUse(DAY, "old pan", "", "")),
)


def test_a_held_batch_has_a_sign_on_the_calendar_and_says_so() -> None:
    drawn = charts.day_by_ring(PLAN, SCENARIO, DAY, LIGHT)
    words = [text for trace in drawn.data if trace.type == "scatter" for text in trace.text]
    signed = [text for text in words if SIGN in text]
    assert len(signed) == 1
    assert signed[0].startswith(SIGN)
    assert SIGN not in str(charts.day_by_ring(PLAN, FREE, DAY, LIGHT))
    told = {batch.id for batch in PLAN.batches if "held" in batch_hover(batch, PLAN, SCENARIO).split("<br>")}
    assert told == {FIRST.id}


def test_the_table_of_batches_says_which_are_held_where_any_are() -> None:
    table = tables.batch_table(PLAN, SCENARIO)
    assert set(table.loc[table["held"] != "", "batch"]) == {FIRST.id}
    assert "held" not in tables.batch_table(PLAN, FREE)
    assert "held" not in tables.batch_table(PLAN, replace(FREE, held=(NO,)))


def test_the_notes_of_a_day_tell_what_is_out() -> None:
    ring = FREE.kitchen.rings[-1].name
    said = kitchen_of(PLAN, SCENARIO, (DAY,))
    assert [line.partition(": ")[2] for line in said] == [
        f"{ring} is out of use: no gas.",
        "old pan is out of use.",
    ]


def test_the_scenario_page_lists_what_is_out_and_what_is_held() -> None:
    shown = tables_of(SCENARIO)
    out = shown["Pans and rings out of use"]
    assert list(out["out of use"]) == [FREE.kitchen.rings[-1].name, "old pan"]
    assert list(out["why"]) == ["no gas", ""]
    first, second = shown["Batches held and ruled out"].to_dict("records")
    assert (first["pan"], first["ring"], first[""]) == (FIRST.pan, FIRST.ring, "held")
    assert (second["ring"], second["begins to cook"], second[""]) == ("", "", "ruled out")
    assert tables_of(FREE)["Batches held and ruled out"].empty


def test_the_row_of_a_batch_holds_that_batch_and_with_less_of_it_still_does() -> None:
    for batch in PLAN.batches:
        whole = as_row(batch, PLAN)
        assert row_that_holds(batch, PLAN, replace(FREE, held=(whole,))) == whole
    loose = as_row(FIRST, PLAN, time=False, pan=False, ring=False, size=False)
    assert loose == HeldBatch(DAY, FIRST.recipe)
    assert as_row(FIRST, PLAN) == HeldBatch(
        DAY, FIRST.recipe, FIRST.pan, FIRST.ring, BEGINS, round(FIRST.kg, 1)
    )
    assert row_that_holds(FIRST, PLAN, FREE) is None


def test_what_a_plan_made_before_does_not_keep_to_is_told() -> None:
    elsewhere = replace(ROW, start=BEGINS + 5)
    nothing = HeldBatch(DAY, "no such jam", hold=False)
    assert not_in((ROW, elsewhere, NO, nothing), PLAN) == {elsewhere, NO}


def test_a_row_is_told_in_the_cooks_words() -> None:
    row = HeldBatch(DAY, "strawberry jam", "big copper", "gas left", 515, 6.3)
    day = f"{DAY:%a} {DAY.day} {DAY:%b}"
    assert told(row) == f"{day}, strawberry jam in big copper on gas left at 08:35, 6.3 kg: held"
    assert told(HeldBatch(DAY, "strawberry jam", hold=False)) == f"{day}, strawberry jam: ruled out"


def test_held_is_signed_in_the_rows_of_batches_and_in_those_of_people() -> None:
    by_batch = charts.by_batch(PLAN, SCENARIO, (DAY,), LIGHT)
    names = [note.text for note in by_batch.layout.annotations]
    assert len(names) == sum(batch.day == DAY for batch in PLAN.batches)
    assert [SIGN in name for name in names].count(True) == 1
    by_person = charts.day_by_person(PLAN, SCENARIO, DAY, LIGHT)
    assert any(SIGN in text for trace in by_person.data if trace.type == "scatter" for text in trace.text)
    assert SIGN not in str(charts.day_by_person(PLAN, FREE, DAY, LIGHT))
