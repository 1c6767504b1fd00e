"""The work of a plan as entries: everybody's own, and the kitchen's by batch."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from scheduler.domain.scenario import Scenario
from scheduler.feeds.entry import KITCHEN, QUARTER, Entry, of_person, quarters
from scheduler.plan_rows import OF_NO_BATCH, Batch, DayShift, Part, Plan, Stage, StageKind
from scheduler.views import chore_tables, words
from scheduler.views.batch_text import essentials, steps, take_care

SHIFT_ALARM = 60
"""Minutes before a shift: the usual start of a calendar's own reminders, no source."""
HOT_ALARM = 10
"""Minutes before work at the pan and potting up, which wait for nobody."""

PHASES = {
    StageKind.PREPARE: "prepare",
    StageKind.SOFTEN: "soften",
    StageKind.STRAIN: "soften",
    StageKind.WASH_JARS: "jars",
    StageKind.LOAD_JARS: "jars",
    StageKind.DISSOLVE: "cook",
    StageKind.BOIL: "cook",
    StageKind.SET_TEST: "cook",
    StageKind.REBOIL: "cook",
    StageKind.STAND_BY: "pot up",
    StageKind.POT_UP: "pot up",
    StageKind.WASH: "wash pan",
}
"""Stages of a batch that one pair of hands does in one go; a standing pan has nobody."""
_SAYS = {
    "prepare": "Prepare fruit",
    "soften": "Soften",
    "jars": "Jars",
    "cook": "Cook",
    "pot up": "Pot up",
    "wash pan": "Wash pan",
    StageKind.FREEZE: "Prepare fruit to freeze",
    StageKind.LABEL: "Label jars",
    StageKind.TAKE_OUT: "Take fruit out of the freezer",
    StageKind.CLEAN_DOWN: "Clean down",
}
_HOT = {"soften", "cook", "pot up"}
QUARTERS_SAID = "Times are to the quarter of an hour; the order counts, and what is said in the kitchen."


def work_entries(plan: Plan, scenario: Scenario) -> list[Entry]:
    """Entries of the kitchen and of everybody who comes in."""
    entries = list(_kitchen(plan, scenario))
    people = dict.fromkeys(shift.person for shift in plan.shifts)
    for stage in plan.stages:
        people |= dict.fromkeys(stage.people)
    for person in people:
        entries += _shifts(person, plan, scenario)
        entries += _own_work(person, plan, scenario)
    return entries


def _shifts(person: str, plan: Plan, scenario: Scenario) -> Iterator[Entry]:
    for shift in plan.shifts:
        if shift.person != person:
            continue
        yield Entry(
            of_person(person), shift.day, "shift", "", shift.start, shift.leaves,
            f"In the kitchen, {scenario.farm}", scenario.farm, "shift",
            "\n".join([_present(shift), *take_care((), ["day"])]), SHIFT_ALARM,
        )  # fmt: skip
        if shift.break_start is not None:
            start, end = quarters(shift.break_start, shift.break_start + shift.break_minutes)
            said = f"{shift.break_minutes} min.\n{QUARTERS_SAID}"
            yield Entry(
                of_person(person), shift.day, "break", "", start, end, "Break", "", "break", said
            )  # fmt: skip


def _present(shift: DayShift) -> str:
    told = f"{words.clock(shift.start)} to {words.clock(shift.leaves)}"
    if shift.overtime_minutes:
        told += f", the last {shift.overtime_minutes} min as overtime"
    return told + "."


def _own_work(person: str, plan: Plan, scenario: Scenario) -> Iterator[Entry]:
    """What a person does of each batch in one go, and beside the batches."""
    batches = {batch.id: batch for batch in plan.batches}
    pieces: dict[tuple[date, str, str], list[Stage]] = {}
    for stage in plan.stages:
        if person in stage.people:
            phase = stage.kind if stage.kind in OF_NO_BATCH else PHASES[stage.kind]
            pieces.setdefault((stage.day, stage.batch, phase), []).append(stage)
    for (_, batch, phase), stages in pieces.items():
        for run in _runs(stages):
            others = [name for stage in run for name in stage.people if name != person]
            with_ = [f"With {', '.join(dict.fromkeys(others))}."] if others else []
            feed = of_person(person)
            if batch:
                yield _of_batch(feed, phase, batches[batch], run, with_, plan, scenario)
            else:
                yield _of_day(feed, run, with_, plan, scenario)


def _runs(stages: Sequence[Stage]) -> list[list[Stage]]:
    """Stages that follow each other with no more than a quarter of an hour between."""
    runs: list[list[Stage]] = []
    for stage in sorted(stages, key=lambda each: (each.start, each.end)):
        if runs and stage.start - max(each.end for each in runs[-1]) <= QUARTER:
            runs[-1].append(stage)
        else:
            runs.append([stage])
    return runs


def _of_batch(
    feed: str,
    phase: str,
    batch: Batch,
    run: Sequence[Stage],
    who: Sequence[str],
    plan: Plan,
    scenario: Scenario,
) -> Entry:
    """One entry for stages of a batch."""
    start, end = quarters(run[0].start, max(stage.end for stage in run))
    told = [f"{_sentence(steps(run))} {QUARTERS_SAID}", *who, "", *essentials(batch, plan, scenario)]
    says = "Boil juice" if phase == "cook" and batch.part is Part.BOIL else _SAYS[phase]
    return Entry(
        feed, batch.day, _same(phase, batch), batch.pan, start, end,
        f"{says}: {_named(batch, plan, scenario)}", f"{batch.pan}, {batch.ring}", phase,
        "\n".join([*told, *take_care(stage.kind for stage in run)]),
        HOT_ALARM if phase in _HOT else None,
    )  # fmt: skip


def _of_day(feed: str, run: Sequence[Stage], who: Sequence[str], plan: Plan, scenario: Scenario) -> Entry:
    """One entry for work of no batch."""
    kind, day = run[0].kind, run[0].day
    start, end = quarters(run[0].start, max(stage.end for stage in run))
    about = chore_tables.about(run[0], plan)
    minutes = sum(stage.end - stage.start for stage in run)
    told = [f"{minutes} min. {QUARTERS_SAID}", *who, *([_sentence(about)] if about else [])]
    return Entry(
        feed, day, kind.value, "", start, end, _SAYS[kind], scenario.farm, kind.value,
        "\n".join([*told, *take_care([kind])]),
    )  # fmt: skip


def _kitchen(plan: Plan, scenario: Scenario) -> Iterator[Entry]:
    """A line for each batch, from the first work at its pan to the last jar, and for work of no batch."""
    of: dict[str, list[Stage]] = {}
    for stage in plan.stages:
        of.setdefault(stage.batch, []).append(stage)
    for batch in plan.batches:
        stages = sorted(of.get(batch.id, []), key=lambda each: (each.start, each.end))
        at_pan = [s for s in stages if PHASES.get(s.kind, "stand") in {*_HOT, "stand"}]
        if not at_pan:
            continue
        start, end = quarters(at_pan[0].start, max(stage.end for stage in at_pan))
        told = [QUARTERS_SAID, "", *essentials(batch, plan, scenario), "", "Who does it", *_hands(stages)]
        yield Entry(
            KITCHEN, batch.day, _same("batch", batch), batch.pan, start, end,
            _named(batch, plan, scenario)
            + (f", {words.jars(batch.jars)}" if batch.jars else ", soften"),
            f"{batch.pan}, {batch.ring}", "batch",
            "\n".join([*told, *take_care(stage.kind for stage in stages)]), HOT_ALARM,
        )  # fmt: skip
    beside: dict[tuple[date, StageKind], list[Stage]] = {}
    for stage in of.get("", []):
        beside.setdefault((stage.day, stage.kind), []).append(stage)
    for stages in beside.values():
        for run in _runs(stages):
            yield _of_day(KITCHEN, run, [f"{_people(run)}."], plan, scenario)


def _hands(stages: Iterable[Stage]) -> list[str]:
    """Each stage in its order with who does it; a pan that stands has nobody."""
    return [
        f"• {stage.kind} {stage.end - stage.start} min" + (f": {_people([stage])}" if stage.people else "")
        for stage in stages
    ]


def _people(stages: Iterable[Stage]) -> str:
    return ", ".join(dict.fromkeys(name for stage in stages for name in stage.people))


def _same(phase: str, batch: Batch) -> str:
    """What makes it the same work when it is planned again: never the batch's number, which moves."""
    return " / ".join((phase, batch.recipe, batch.part, "freezer" if batch.from_freezer else "fresh"))


def _named(batch: Batch, plan: Plan, scenario: Scenario) -> str:
    """Letters first: three fruits of the trade are red."""
    frozen = " from the freezer" if batch.from_freezer else ""
    return f"{words.letters(batch, plan, scenario)} {batch.recipe}{frozen}"


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}."
