"""Figures show the plan's own rows: lengths of bars, sums of stacks, letters, patterns, contrast."""

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import kilbrack_sample as sample
import pytest

from scheduler.plan_rows import Stage, StageKind
from scheduler.views import charts, tables, words
from scheduler.views.charts.people import lanes_of
from scheduler.views.look import DARK, LIGHT, Look, contrast, fate_fills, fruit_fill, ink_on, mixed

PLAN, SCENARIO = sample.plan(), sample.situation().scenario
THURSDAY = date(2026, 7, 9)
LOOKS = pytest.mark.parametrize("look", [LIGHT, DARK], ids=["light", "dark"])


def _bars(figure: Any) -> list[tuple[str, int, int]]:
    """(batch id, start, end) of every bar of a clock figure that belongs to a batch."""
    return sorted(
        (data[0], base, base + length)
        for trace in figure.data if trace.type == "bar"
        for data, base, length in zip(trace.customdata, trace.base, trace.x, strict=True) if data[0]
    )  # fmt: skip


@LOOKS
def test_calendar_draws_every_stage_of_the_day_to_scale(look: Look) -> None:
    drawn = (StageKind.DISSOLVE, StageKind.BOIL, StageKind.SET_TEST, StageKind.REBOIL, StageKind.STAND,
             StageKind.POT_UP, StageKind.WASH)  # fmt: skip
    wanted = sorted((s.batch, s.start, s.end) for s in PLAN.stages if s.day == THURSDAY and s.kind in drawn)
    assert _bars(charts.day_by_ring(PLAN, SCENARIO, THURSDAY, look)) == wanted


def test_calendar_of_days_is_the_sum_of_its_days() -> None:
    days = SCENARIO.dates()
    week = _bars(charts.week_by_ring(PLAN, SCENARIO, days, LIGHT))
    assert week == sorted(
        bar for day in days for bar in _bars(charts.day_by_ring(PLAN, SCENARIO, day, LIGHT))
    )


def test_calendar_labels_are_letters_then_jars() -> None:
    figure = charts.day_by_ring(PLAN, SCENARIO, THURSDAY, LIGHT)
    [labels] = [trace.text for trace in figure.data if trace.type == "scatter"]
    assert sorted(labels) == ["<b>G</b> 40", "<b>RC</b> 22", "<b>S</b> 23", "<b>S</b> 46"]


def test_only_the_reboil_allowance_is_hatched_on_the_ring() -> None:
    figure = charts.day_by_ring(PLAN, SCENARIO, THURSDAY, LIGHT)
    hatched = [
        data[1]
        for trace in figure.data if trace.type == "bar" and set(trace.marker.pattern.shape) == {"/"}
        for data in trace.customdata
    ]  # fmt: skip
    assert len(hatched) == 4
    assert all("re-boil" in hover and "allowance" in hover for hover in hatched)


def test_people_chart_has_all_their_stages() -> None:
    figure = charts.day_by_person(PLAN, SCENARIO, THURSDAY, LIGHT)
    wanted = sorted(
        (s.batch, s.start, s.end) for s in PLAN.stages if s.day == THURSDAY and s.batch for _ in s.people
    )
    assert _bars(figure) == wanted
    names = " ".join(note.text for note in figure.layout.annotations)
    assert all(shift.person in names for shift in PLAN.shifts if shift.day == THURSDAY)


def test_batches_one_below_the_other_have_all_their_stages_to_scale() -> None:
    days = SCENARIO.dates()
    figure = charts.by_batch(PLAN, SCENARIO, days, LIGHT)
    assert _bars(figure) == sorted((s.batch, s.start, s.end) for s in PLAN.stages if s.batch)
    assert len(figure.layout.annotations) == len(PLAN.batches)
    named = [note.text for note in figure.layout.annotations]
    cooking = {batch.day for batch in PLAN.batches}
    assert sum(any(words.day_name(day) in name for day in days) for name in named) == len(cooking)


def test_a_week_of_people_is_the_sum_of_its_days() -> None:
    days = SCENARIO.dates()
    week = _bars(charts.week_by_person(PLAN, SCENARIO, days, LIGHT))
    assert week == sorted(
        bar for day in days for bar in _bars(charts.day_by_person(PLAN, SCENARIO, day, LIGHT))
    )


def test_only_the_chosen_batch_is_outlined_and_no_bar_fades_when_one_is_clicked() -> None:
    chosen = next(batch.id for batch in PLAN.batches if batch.day == THURSDAY)
    for figure in (
        charts.day_by_ring(PLAN, SCENARIO, THURSDAY, LIGHT, chosen),
        charts.day_by_person(PLAN, SCENARIO, THURSDAY, LIGHT, chosen),
        charts.by_batch(PLAN, SCENARIO, (THURSDAY,), LIGHT, chosen),
    ):
        widths: dict[bool, set[float]] = {True: set(), False: set()}
        for trace in figure.data:
            assert trace.unselected.marker.opacity == 1
            for data, width in zip(trace.customdata or (), trace.marker.line.width or (), strict=True):
                widths[data[0] == chosen].add(width)
        assert min(widths[True]) > max(widths[False])


def test_overlapping_stages_get_lanes_of_their_own() -> None:
    def stage(start: int, end: int) -> Stage:
        return Stage(THURSDAY, f"{start}", StageKind.BOIL, start, end, ("Aoife",))

    placed = {
        s.start: (lane, lanes) for s, lane, lanes in lanes_of([stage(0, 30), stage(10, 40), stage(40, 50)])
    }
    assert placed == {0: (0, 2), 10: (1, 2), 40: (0, 1)}


@LOOKS
def test_freezer_stack_is_the_level_of_each_day(look: Look) -> None:
    figure = charts.freezer_level(PLAN, SCENARIO, look)
    for place, day in enumerate(SCENARIO.dates()):
        level = sum(row.left for row in PLAN.freezer if row.day == day)
        assert sum(trace.y[place] for trace in figure.data) == pytest.approx(level, abs=0.01)
    assert [shape.y0 for shape in figure.layout.shapes] == [SCENARIO.kitchen.freezer.kg]


def test_the_freezers_room_is_that_of_each_day() -> None:
    """120 kg hold 100 from Wednesday on, and nothing on Friday, the defrost day, and the night before."""
    days = SCENARIO.dates()
    freezer = replace(SCENARIO.kitchen.freezer, kg=120.0, freeze_kg_per_day=25.0, defrost_on=days[4])
    kitchen = replace(SCENARIO.kitchen, freezer=freezer, room_free_kg=20.0, room_free_from=days[2])
    farm = replace(SCENARIO, kitchen=kitchen)
    *_, room = charts.freezer_level(PLAN, farm, LIGHT).data
    assert list(room.y) == [120, 120, 100, 0, 0, 100, 100]
    *_, rate = charts.freezing_per_day(PLAN, farm, LIGHT).data
    assert list(rate.y) == [25, 25, 25, 0, 0, 25, 25]


def test_two_freezers_hold_and_freeze_what_both_do_until_one_fails() -> None:
    days = SCENARIO.dates()
    first = replace(SCENARIO.kitchen.freezer, kg=120.0, freeze_kg_per_day=25.0)
    second = replace(first, name="shed", kg=30.0, freeze_kg_per_day=5.0, fails_on=days[5])
    farm = replace(SCENARIO, kitchen=replace(SCENARIO.kitchen, freezer=first, second_freezer=second))
    *_, room = charts.freezer_level(PLAN, farm, LIGHT).data
    assert list(room.y) == [150] * 5 + [120] * 2
    *_, rate = charts.freezing_per_day(PLAN, farm, LIGHT).data
    assert list(rate.y) == [30] * 5 + [25] * 2


def test_freezing_goes_up_and_thawing_down() -> None:
    figure = charts.freezing_per_day(PLAN, SCENARIO, LIGHT)
    up = sum(value for trace in figure.data for value in trace.y if value > 0)
    down = sum(value for trace in figure.data for value in trace.y if value < 0)
    assert up == pytest.approx(sum(row.frozen for row in PLAN.freezer), abs=0.01)
    assert down == pytest.approx(-sum(row.thawed for row in PLAN.freezer), abs=0.01)


def test_limit_of_freezing_stands_only_where_something_is_frozen() -> None:
    thawing = replace(PLAN, freezer=tuple(replace(row, frozen=0.0) for row in PLAN.freezer))
    most = SCENARIO.kitchen.freezer.freeze_kg_per_day
    assert most in [shape.y0 for shape in charts.freezing_per_day(PLAN, SCENARIO, LIGHT).layout.shapes]
    figure = charts.freezing_per_day(thawing, SCENARIO, LIGHT)
    assert [shape.y0 for shape in figure.layout.shapes] == [0]
    assert figure.layout.yaxis.range[1] < most


def test_fate_bars_are_the_fate_table() -> None:
    figure = charts.fates_by_fruit(PLAN, SCENARIO, LIGHT)
    frame = tables.fates(PLAN, SCENARIO)
    for trace in figure.data:
        wanted = [frame.loc[fruit, trace.name] for fruit in ("strawberry", "raspberry", "redcurrant")]
        assert list(trace.x) == pytest.approx(wanted)
    assert {trace.name for trace in figure.data} == {name for name in frame if frame[name].sum() > 0.05}


def test_days_of_a_fruit_balance_with_what_stood_there_in_the_morning() -> None:
    figure = charts.fruit_by_day(PLAN, SCENARIO, "strawberry", LIGHT)
    for place, day in enumerate(SCENARIO.dates()):
        rows = [row for row in PLAN.lots if row.fruit == "strawberry" and row.day == day]
        came = sum(row.opening + row.arrived for row in rows)
        assert sum(trace.y[place] for trace in figure.data) == pytest.approx(came, abs=0.01)


def test_goal_marks_stand_in_the_order_of_their_values() -> None:
    figure = charts.goals(PLAN, SCENARIO, LIGHT)
    marks = [trace.x for trace in figure.data if trace.mode == "markers"]
    assert len(marks) == len(PLAN.goals)
    for goal, (bound, best, value) in zip(PLAN.goals, marks, strict=True):
        assert 0 <= bound <= best <= value <= 1
        assert (best < value) == (goal.best < goal.value)


def test_order_bars_are_filled_and_missing() -> None:
    filled, missing = charts.jars_by_order(PLAN, SCENARIO, LIGHT).data
    assert list(filled.x) == [90, 48, 40]
    assert list(missing.x) == [0, 12, 0]


def test_a_plan_of_nothing_still_draws() -> None:
    bare = replace(PLAN, lots=(), mixes=(), draws=(), freezer=(), batches=(), stages=(), shifts=(), jars=(),
                   orders=(), purchases=())  # fmt: skip
    day = sample.START
    assert len(_bars(charts.day_by_ring(bare, SCENARIO, day, LIGHT))) == 0
    assert len(charts.freezer_level(bare, SCENARIO, LIGHT).data) == 0
    assert len(charts.fates_by_fruit(bare, SCENARIO, LIGHT).data) == 0


def test_a_season_names_a_few_mondays_only() -> None:
    season = replace(SCENARIO, days=84)
    axis = charts.freezer_level(PLAN, season, LIGHT).layout.xaxis
    assert 3 <= len(axis.tickvals) <= 7
    assert all((date.fromisoformat(str(tick)[:10]) - timedelta(0)).weekday() == 0 for tick in axis.tickvals)


@LOOKS
def test_words_have_contrast_on_every_fill(look: Look) -> None:
    # At least 4.5 to 1 for text: W3C, WCAG 2.2, success criterion 1.4.3.
    fills = [*fate_fills(look).values(), *(fruit_fill(f, SCENARIO, look) for f in SCENARIO.fruits)]
    assert all(contrast(ink_on(fill.colour), fill.colour) >= 4.5 for fill in fills)
    assert contrast(look.ink, look.paper) >= 7
    assert min(contrast(c, look.paper) for c in (look.faint, look.leaf, look.berry, look.amber)) >= 4.3


@LOOKS
def test_fruits_and_fates_differ_without_colour(look: Look) -> None:
    patterns = [fruit_fill(fruit, SCENARIO, look).pattern for fruit in SCENARIO.fruits]
    assert len(set(patterns)) == len(patterns)
    solid = [fill.colour for fill in fate_fills(look).values() if not fill.pattern]
    assert len(solid) == 2


def test_contrast_and_mixing_against_published_values() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)  # WCAG 2.2, definition of contrast ratio
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.01)  # common practice
    assert mixed("#000000", "#ffffff", 0.5) == "#808080"


def test_keys_name_fruit_by_letter_and_escape() -> None:
    wild = replace(SCENARIO, fruits=(replace(SCENARIO.fruits[0], letter="<"), *SCENARIO.fruits[1:]))
    html = charts.fruit_key(PLAN, wild, LIGHT)
    assert "&lt; strawberry" in html
    assert "R raspberry" in html
