"""The sample week under names that are hard on paper: long, of one word, or full of signs of markup."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from typing import Any

from scheduler.domain.days import Closure
from scheduler.domain.scenario import Situation
from scheduler.domain.trade import Delivery
from scheduler.plan_rows import Plan
from tests.unit.views import kilbrack_sample as sample

SIGNS = r"#let $x$ *b* _i_ \ <l> [c] @r `t` ~ // -- 'q' {d}"
JAM = "strawberry jam of the old walled garden beyond the long barn"
PAN = "the big copper that grandmother brought from the lower farm "[:60].strip()
RING = "Front-left-burner-with-the-loose-tap-and-the-crooked-trivet-"
PERSON = f"Aoife {SIGNS}"
LOT = "gooseberry bag 2025 from the bottom drawer behind the peas 2"
ORDER = "O-1 for the Saturday market, the large one with the ribbons!"
GOOD = "sugar, coarse, for preserving, in paper sacks from the mill!"
NAMES = {
    "strawberry jam": JAM, "the big copper": PAN, "front left": RING, "Aoife": PERSON,
    "gooseberry bag 2025": LOT, "O-1": ORDER, "sugar": GOOD,
}  # fmt: skip


def situation() -> Situation:
    found = _renamed(sample.situation())
    farm = found.scenario
    day = farm.start
    return replace(
        found,
        scenario=replace(
            farm,
            farm=f"Kilbrack {SIGNS}",
            closures=(Closure(day, 720, 900, "market"), Closure(day + timedelta(days=2), 480, 540, "")),
            deliveries=(Delivery(day + timedelta(days=1), GOOD, 25.0, 615),),
        ),
    )


def plan() -> Plan:
    return _renamed(sample.plan())


def _renamed(found: Any) -> Any:
    """The same with other names, wherever they stand."""
    if isinstance(found, str):
        return NAMES.get(found, found)
    if isinstance(found, tuple | frozenset):
        return type(found)(_renamed(each) for each in found)
    if hasattr(found, "__dataclass_fields__"):
        fields = {name: _renamed(getattr(found, name)) for name in found.__dataclass_fields__}
        return replace(found, **fields)
    return found
