"""Labels for the jars of a plan, on sheets of labels; what is still a draft stands on a page before them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from typing import Any

from scheduler.domain.scenario import Scenario
from scheduler.law.cautions import cautions_at
from scheduler.law.label import Draft
from scheduler.paper.lots import in_order, lot_marks
from scheduler.plan_rows import Plan
from scheduler.sheet import jar_draft

Data = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Grid:
    """A sheet of labels on A4: how many, their size, the gaps between them, and what is kept clear inside
    the edges of each, all in mm."""

    columns: int
    rows: int
    width: float
    height: float
    left: float
    top: float
    gap: float
    clear_x: float
    clear_y: float

    def __str__(self) -> str:
        return f"{self.columns} × {self.rows} of {self.width:g} × {self.height:g} mm"


GRIDS = {
    "2x7": Grid(2, 7, 99.1, 38.1, 4.65, 15.15, 2.5, 4.5, 3.5),
    "2x4": Grid(2, 4, 99.1, 67.7, 4.65, 13.1, 2.5, 4.5, 4.5),
    "3x8": Grid(3, 8, 70.0, 37.0, 0.0, 0.5, 0.0, 5.0, 4.5),
}
"""Plain grids that label sheets come in (common practice, no source); each is centred on A4. Printers leave
about 4 mm free at the edges of the paper."""

NET_MM = ((50, 2), (200, 3), (1000, 4), (20_000, 6))
"""Net quantity up to so many g, and least height of its figures in mm (Directive 76/211/EEC, Annex I, 3.1,
from memory)."""

_ON_THE_JAR = ("name", "ingredients", "fruit", "sugar", "best before", "lot", "storage")


def labels(plan: Plan, scenario: Scenario, of: str | None, grid: str, where: str) -> Data | None:
    """A label for each jar that the plan fills, or that the batch with lot mark ``of`` fills; None where
    none is filled. Raises ValueError for a jurisdiction that is not held."""
    marks = lot_marks(plan)
    made: list[Data] = []
    drafts: dict[str, Draft] = {}
    for batch in in_order(plan):
        if of not in (None, marks[batch.id]):
            continue
        recipe = scenario.recipe(batch.recipe)
        for size, count in zip(recipe.sizes, batch.filled, strict=False):
            if count:
                draft = jar_draft(scenario, recipe, size.jar_kg, batch.day, marks[batch.id], where)
                made.append(_label(draft, size.jar_kg, count))
                drafts.setdefault(f"{recipe.name}, {size.jar}", draft)
    if not made:
        return None
    return {
        "kind": "labels",
        "farm": scenario.farm,
        "where": where,
        "grid": asdict(GRIDS[grid]),
        "grid_said": str(GRIDS[grid]),
        "count": sum(label["count"] for label in made),
        "labels": made,
        "to_check": _shared([draft.to_check for draft in drafts.values()]),
        "cautions": [caution.text for caution in cautions_at("label")],
        "drafts": [_told(product, draft) for product, draft in drafts.items()],
    }


def _label(draft: Draft, jar_kg: float, count: int) -> Data:
    tall = next(mm for grams, mm in NET_MM if 1000 * jar_kg <= grams)
    lines = {what.replace(" ", "_"): draft.text(what) or "" for what in _ON_THE_JAR}
    return lines | {"count": count, "net": draft.text("net quantity"), "net_mm": tall}


def _told(product: str, draft: Draft) -> Data:
    """The lines of a draft with what is known of them, and what of it alone is to be checked."""
    return {
        "product": product,
        "lines": [
            {
                "what": line.what,
                "text": line.text,
                "source": f"{line.source}, {'read' if line.verified else 'not verified'}",
                "remark": line.remark,
            }
            for line in draft.lines
            if line.what != "lot"
        ],
        "to_check": list(draft.to_check),
    }


def _shared(checks: Sequence[Sequence[str]]) -> list[str]:
    """What is to be checked of every product."""
    return [check for check in checks[0] if all(check in each for each in checks)]
