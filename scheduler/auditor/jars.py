"""Rules 62, 64 and 65: washed jars, racks on which they cool, shelves on which they stand."""

from __future__ import annotations

from collections.abc import Iterator

from scheduler.auditor.case import Case
from scheduler.auditor.course import own_stages
from scheduler.auditor.finding import Finding, clock
from scheduler.auditor.panful import Panful
from scheduler.auditor.store import shipped_on
from scheduler.plan_rows import StageKind


def jars_are_washed_before_they_are_loaded(case: Case) -> Iterator[Finding]:
    """Rule 62: one ``wash jars`` of the card's minutes, over by the start of ``jars in oven``."""
    for batch in case.batches.values():
        card = case.card(batch)
        if not isinstance(card, Panful):
            continue
        stages = own_stages(case, batch)
        washes = [stage for stage in stages if stage.kind == StageKind.WASH_JARS]
        where = f"{batch.day.isoformat()}, batch {batch.id}, {StageKind.WASH_JARS}"
        minutes = [stage.end - stage.start for stage in washes]
        wanted = [card.wash_jars] if card.wash_jars else []
        if minutes != wanted:
            found, allowed = (" + ".join(map(str, each)) or "no" for each in (minutes, wanted))
            yield Finding("jars-washed", where, f"{found} min", f"{allowed} min")
        loading = min((stage.start for stage in stages if stage.kind == StageKind.LOAD_JARS), default=None)
        if washes and loading is not None and washes[-1].end > loading:
            found = f"until {clock(washes[-1].end)}"
            yield Finding("jars-washed", where, found, f"over by {clock(loading)}, when they are loaded")


def jars_cool_on_racks(case: Case) -> Iterator[Finding]:
    """Rule 64: all jars filled on a day stand on the racks until the next morning."""
    racks = case.farm.kitchen.rack_jars
    for day in case.farm.days if racks is not None else ():
        filled = sum(batch.jars for batch in case.plan.batches if batch.day == day)
        if racks is not None and filled > racks:
            yield Finding("cooling-racks", day.isoformat(), f"{filled} jars filled", f"at most {racks}")


def jars_left_stand_on_shelves(case: Case) -> Iterator[Finding]:
    """Rule 65: in the evening, but for those on the racks."""
    room = case.farm.kitchen.shelf_jars
    if room is None:
        return
    shipped, level = shipped_on(case), sum(size.jars_on_hand for size in case.farm.products.values())
    cooling = 0
    for day in case.farm.days:
        made = sum(case.made(product, day) for product in case.farm.products)
        gone = sum(shipped.get((product, day), 0) for product in case.farm.products)
        level += cooling - gone
        cooling = made if case.farm.kitchen.rack_jars is not None else 0
        level += made - cooling
        if level > room:
            yield Finding("shelf-room", day.isoformat(), f"{level} jars on the shelves", f"at most {room}")
