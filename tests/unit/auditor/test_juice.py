"""How much juice there can be, and findings about juice: which batch it is of, and which goes without."""

from __future__ import annotations

from dataclasses import replace

from scheduler.auditor import audit
from scheduler.auditor.sizes import juice_kg

from .breaking import kitchen, rows
from .three_days_of_jelly import KITCHEN, OTHER, PLAN, REDCURRANT_JELLY, SITUATION


def findings_of(batch: str, juice_of: str) -> list[str]:
    situation, plan = rows("batches", {"id": batch}, juice_of=juice_of)(SITUATION, PLAN)
    return [str(finding) for finding in audit(situation, plan)]


def test_juice_that_is_boiled_twice_and_juice_that_is_forgotten_are_both_named() -> None:
    assert findings_of("b4", juice_of="b1") == [
        "juice: 2026-07-08, batch b4: "
        "found juice of b1: redcurrant jelly, fresh, softened 2026-07-06, 5.000 kg; "
        "allowed: redcurrant jelly, fresh, softened 2026-07-07, 5.000 kg",
        "juice: 2026-07-06, batch b1: found its juice boiled as b2 and b4; "
        "allowed: boiled as one batch on the day after",
        "juice: 2026-07-07, batch b3: found its juice never boiled; "
        "allowed: boiled as one batch on the day after",
    ]


def test_a_batch_that_says_it_is_of_its_own_juice_is_named() -> None:
    assert findings_of("b2", juice_of="b2") == [
        "juice: 2026-07-07, batch b2: found juice of 'b2'; allowed: the juice of a batch that was softened",
        "juice: 2026-07-06, batch b1: found its juice never boiled; "
        "allowed: boiled as one batch on the day after",
    ]


def test_juice_is_of_batches_in_pans_that_fit_a_ring() -> None:
    # half of a pan 8 ÷ 1.5 × 0.5 = 2.67, so 2.6 kg; all of it 5.3, but a stand holds 5.0 kg
    assert juice_kg(SITUATION.scenario, REDCURRANT_JELLY, False) == {2.6, 5.0}
    flat = replace(OTHER, diameter_cm=50.0, fill=0.25)  # half of it 4 ÷ 1.5 × 0.5 = 1.33, so 1.3 kg
    narrow, _ = kitchen(pans=(*KITCHEN.pans, flat))(SITUATION, PLAN)
    assert juice_kg(narrow.scenario, REDCURRANT_JELLY, False) == {2.6, 5.0}
    wide = tuple(replace(ring, largest_pan_cm=50.0) for ring in KITCHEN.rings)
    fits, _ = kitchen(pans=(*KITCHEN.pans, flat), rings=wide)(SITUATION, PLAN)
    assert juice_kg(fits.scenario, REDCURRANT_JELLY, False) == {1.3, 2.6, 5.0}
