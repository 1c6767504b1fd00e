"""Rules 18 to 24: the timetable of a day on pans, rings, heatproof places and jar oven."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import pairwise

from scheduler.auditor.case import Case, grouped
from scheduler.auditor.course import (
    COOKING,
    UNTIL_POTTED,
    Course,
    clashes,
    courses,
    own_stages,
    pottings,
    too_much_at_once,
    where_of,
)
from scheduler.auditor.finding import Finding, clock
from scheduler.auditor.panful import Panful, up, up_to_five
from scheduler.domain.kitchen import BLOCK, STEP
from scheduler.plan_rows import OF_NO_BATCH, Batch, Part, Stage, StageKind

FORGIVEN_FREEZING = 0.01
"""Minutes of preparing to freeze that rounding up forgives, as the kg drawn are any real number."""


def _minutes(pieces: list[int]) -> str:
    return " + ".join(str(piece) for piece in pieces) + " min" if pieces else "none"


def times_are_multiples_of_five(case: Case) -> Iterator[Finding]:
    """Rule 18: every start and end, and no stage ends before it starts."""
    for stage in case.plan.stages:
        if stage.start % STEP or stage.end % STEP or stage.end < stage.start:
            found = f"{clock(stage.start)} to {clock(stage.end)}"
            yield Finding("stage-list", where_of(stage), found, f"times in steps of {STEP} min, in order")


def stages_are_of_a_batch_on_its_day(case: Case) -> Iterator[Finding]:
    """Rule 18: only what is done of a day as a whole has no batch, and a batch is cooked on one day."""
    for stage in case.plan.stages:
        if (stage.kind in OF_NO_BATCH) != (not stage.batch):
            found = f"{stage.kind} of batch {stage.batch!r}"
            allowed = f"a batch for all but {', '.join(sorted(OF_NO_BATCH))}"
            yield Finding("stage-list", where_of(stage), found, allowed)
        elif stage.batch in case.batches and stage.day != case.batches[stage.batch].day:
            allowed = f"{case.batches[stage.batch].day.isoformat()}, the day of the batch"
            yield Finding("stage-list", where_of(stage), stage.day.isoformat(), allowed)


def _carded(case: Case) -> Iterator[tuple[Batch, Panful, list[Stage]]]:
    for batch in case.batches.values():
        card = case.card(batch)
        if isinstance(card, Panful):
            yield batch, card, own_stages(case, batch)


def even_pieces(minutes: int) -> list[int]:
    """``minutes`` in the fewest pieces of at most 30, as equal as multiples of 5 allow, shortest first."""
    count, steps = up(minutes, BLOCK), minutes // STEP
    return [STEP * ((steps + number) // count) for number in range(count)]


def whole_pieces(minutes: int) -> list[int]:
    """``minutes`` in pieces of 30 and one of the rest, shortest first."""
    rest = [minutes % 30] if minutes % 30 else []
    return rest + [30] * (minutes // 30)


def preparing_is_cut_into_even_pieces(case: Case) -> Iterator[Finding]:
    """Rule 18: ⌈prepare ÷ 30⌉ pieces, as equal as multiples of 5 min allow, the card's minutes in all."""
    for batch, card, stages in _carded(case):
        wanted = even_pieces(card.prepare)
        pieces = sorted(stage.end - stage.start for stage in stages if stage.kind == StageKind.PREPARE)
        if pieces != wanted:
            where = f"{batch.day.isoformat()}, batch {batch.id}, {StageKind.PREPARE}"
            yield Finding("stage-list", where, _minutes(pieces), _minutes(wanted))


def jars_are_loaded_once(case: Case) -> Iterator[Finding]:
    """Rule 18: one ``jars in oven`` of load_minutes for a batch that is potted."""
    for batch, _, stages in _carded(case):
        wanted = [] if batch.part == Part.SOFTEN else [case.farm.kitchen.oven.load_minutes]
        pieces = [stage.end - stage.start for stage in stages if stage.kind == StageKind.LOAD_JARS]
        if pieces != wanted:
            where = f"{batch.day.isoformat()}, batch {batch.id}, {StageKind.LOAD_JARS}"
            yield Finding("stage-list", where, _minutes(pieces), _minutes(wanted))


def chain_of(card: Panful) -> list[tuple[StageKind, int]]:
    """The stages that follow each other without a wait, and their minutes. Stages of 0 min are left out."""
    again = [(StageKind.REBOIL, card.reboil), (StageKind.SET_TEST, card.set_test)] * card.reboils
    chain = [
        (StageKind.SOFTEN, card.soften),
        (StageKind.STRAIN, card.strain),
        (StageKind.DISSOLVE, card.dissolve),
        (StageKind.BOIL, card.boil),
        (StageKind.SET_TEST, card.set_test),
        *again,
        (StageKind.STAND, card.stand),
        (StageKind.POT_UP, card.pot_up),
    ]
    return [(kind, minutes) for kind, minutes in chain if minutes > 0]


def cooking_runs_without_a_wait(case: Case) -> Iterator[Finding]:
    """Rule 18: soften, strain, dissolve, boil, tests and re-boils, stand, pot up, each of its minutes."""
    for batch, card, stages in _carded(case):
        run = [stage for stage in stages if stage.kind in UNTIL_POTTED and stage.end != stage.start]
        found = [(stage.kind, stage.end - stage.start) for stage in run]
        wanted = chain_of(card)
        where = f"{batch.day.isoformat()}, batch {batch.id}, cooking and potting"
        if found != wanted:
            yield Finding("stage-list", where, _listed(found), _listed(wanted))
        for before, after in pairwise(run):
            if after.start != before.end:
                gap = f"{after.kind} at {clock(after.start)}"
                yield Finding("stage-list", where, gap, f"at {clock(before.end)}, without a wait")


def _listed(stages: list[tuple[StageKind, int]]) -> str:
    return ", ".join(f"{kind} {minutes}" for kind, minutes in stages) or "nothing"


def each_pan_is_washed_when_it_is_empty(case: Case) -> Iterator[Finding]:
    """Rule 18: one ``wash pan`` of the card's minutes that starts when the batch is potted or strained."""
    for batch, card, stages in _carded(case):
        washes = [stage for stage in stages if stage.kind == StageKind.WASH and stage.end != stage.start]
        pieces = [stage.end - stage.start for stage in washes]
        where = f"{batch.day.isoformat()}, batch {batch.id}, {StageKind.WASH}"
        if pieces != ([card.wash] if card.wash else []):
            yield Finding("stage-list", where, _minutes(pieces), _minutes([card.wash]))
        empty = max((stage.end for stage in stages if stage.kind in UNTIL_POTTED), default=None)
        for wash in washes:
            if empty is not None and wash.start < empty:
                allowed = f"{clock(empty)}, when the pan is empty, or later"
                yield Finding("stage-list", where, clock(wash.start), allowed)


def fruit_is_prepared_before_it_is_cooked(case: Case) -> Iterator[Finding]:
    """Rule 19."""
    for batch in case.batches.values():
        stages = own_stages(case, batch)
        starts = [stage.start for stage in stages if stage.kind in COOKING]
        for stage in stages:
            if stage.kind == StageKind.PREPARE and starts and stage.end > min(starts):
                allowed = f"by {clock(min(starts))}, when cooking begins"
                yield Finding("prepared-first", where_of(stage), f"ends {clock(stage.end)}", allowed)


def work_stays_within_kitchen_hours(case: Case) -> Iterator[Finding]:
    """Rule 20."""
    kitchen = case.farm.kitchen
    for stage in case.plan.stages:
        if stage.start < kitchen.open or stage.end > kitchen.close:
            found = f"{clock(stage.start)} to {clock(stage.end)}"
            allowed = f"{clock(kitchen.open)} to {clock(kitchen.close)}"
            yield Finding("kitchen-hours", where_of(stage), found, allowed)


def a_pan_holds_one_batch_until_washed(case: Case) -> Iterator[Finding]:
    """Rule 21: from when cooking begins to the end of washing."""
    yield from _held_once(case, "pan-clash", lambda run: run.batch.pan, lambda run: (run.begins, run.washed))


def a_ring_holds_one_batch(case: Case) -> Iterator[Finding]:
    """Rule 22: to the end of cooking where there are heatproof places, else to the end of potting."""
    lifted = case.farm.kitchen.heatproof_places > 0
    yield from _held_once(
        case,
        "ring-clash",
        lambda run: run.batch.ring,
        lambda run: (run.begins, run.cooked if lifted else run.ends),
    )


def _held_once(
    case: Case, rule: str, what: Callable[[Course], str], held: Callable[[Course], tuple[int, int]]
) -> Iterator[Finding]:
    for (day, name), runs in grouped(courses(case), lambda run: (run.batch.day, what(run))).items():
        for first, second, start in clashes((held(run), run.batch.id) for run in runs):
            where = f"{day.isoformat()} {clock(start)}, {name}"
            yield Finding(rule, where, f"batches {first} and {second}", "one batch at a time")


def standing_pans_have_heatproof_places(case: Case) -> Iterator[Finding]:
    """Rule 22, where there are any: from the end of cooking to the end of potting."""
    places = case.farm.kitchen.heatproof_places
    if places <= 0:
        return
    for day, runs in grouped(courses(case), lambda run: run.batch.day).items():
        for moment, load in too_much_at_once((((run.cooked, run.ends), 1) for run in runs), places):
            where = f"{day.isoformat()} {clock(moment)}"
            yield Finding("heatproof-places", where, f"{load} pans off the heat", f"at most {places}")


def jars_fit_the_oven(case: Case) -> Iterator[Finding]:
    """Rule 23: from the start of loading to the end of potting."""
    most = case.farm.kitchen.oven.jars
    for day, runs in grouped(pottings(case), lambda run: run.batch.day).items():
        loads = (((run.loading, run.potted), run.batch.jars) for run in runs)
        for moment, load in too_much_at_once(loads, most):
            where = f"{day.isoformat()} {clock(moment)}"
            yield Finding("oven-jars", where, f"{load} jars in the oven", f"at most {most}")


def jars_are_hot_when_potting_starts(case: Case) -> Iterator[Finding]:
    """Rule 23: heat_minutes and any stand by after loading ends at least, hot_minutes later at most."""
    oven = case.farm.kitchen.oven
    for run in pottings(case):
        card, hot = case.card(run.batch), run.loaded + oven.heat_minutes
        early = hot + (card.stand_by if isinstance(card, Panful) else 0)
        late = hot + oven.hot_minutes
        if not early <= run.pot_up <= late:
            where = f"{run.batch.day.isoformat()}, batch {run.batch.id}, pot up"
            yield Finding("jars-hot", where, clock(run.pot_up), f"{clock(early)} to {clock(late)}")


def somebody_stands_by_for_an_early_set(case: Case) -> Iterator[Finding]:
    """Rule 23: one ``stand by to pot up`` of the card's minutes, up to the start of potting."""
    for batch, card, stages in _carded(case):
        potting = [stage.start for stage in stages if stage.kind == StageKind.POT_UP][:1]
        found = [(stage.start, stage.end) for stage in stages if stage.kind == StageKind.STAND_BY]
        wanted = [(start - card.stand_by, start) for start in potting if card.stand_by]
        if found != wanted:
            where = f"{batch.day.isoformat()}, batch {batch.id}, {StageKind.STAND_BY}"
            yield Finding("stand-by", where, _spans(found), _spans(wanted))


def _spans(spans: list[tuple[int, int]]) -> str:
    return ", ".join(f"{clock(start)} to {clock(end)}" for start, end in spans) or "none"


def freezing_has_its_preparing(case: Case) -> Iterator[Finding]:
    """Rule 24: ⌈Σ kg × 60 ÷ prepare_kg_per_hour⌉5 minutes in pieces of 30 min and one of the rest."""
    hours = dict.fromkeys(case.farm.days, 0.0)
    for row in case.plan.lots:
        hours[row.day] += row.frozen / case.farm.fresh[row.lot].fruit.prepare_kg_per_hour
    for day, needed in hours.items():
        stages = [stage for stage in case.stages_on.get(day, []) if stage.kind == StageKind.FREEZE]
        pieces = sorted(stage.end - stage.start for stage in stages)
        wanted = whole_pieces(up_to_five(60 * needed - FORGIVEN_FREEZING))
        if pieces != wanted:
            where = f"{day.isoformat()}, {StageKind.FREEZE}"
            yield Finding("freeze-work", where, _minutes(pieces), _minutes(wanted))
