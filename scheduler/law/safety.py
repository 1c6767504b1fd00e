"""Guards of food safety: what is refused, what is warned of, why, and the way out.

They refuse what nobody should plan without a licensed process authority; they approve nothing. No guard
replaces local food law, a food safety plan or a laboratory.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from scheduler.law.acts import table
from scheduler.law.composition import LOWER_SUGAR, Composition, Kind, Role, within
from scheduler.law.life import life_of, months_after

HAZARD_PH = 4.6
"""From this pH on the germ of botulism can grow. Source: water activity of foods table (growth above
4.6); Iowa State Extension on selling jams and jellies (must be below 4.6)."""

PLAN_PH = 4.3
"""Highest pH to plan for, allowing for the meter and the fruit. Source: food pH reference chart."""

AUTHORITY = "Ask a licensed process authority or your food authority for an approved process"

_NEAR = 1e-9


class Judge(StrEnum):
    """How the end of the boil is judged."""

    REFRACTOMETER = "refractometer"
    THERMOMETER = "thermometer"
    COLD_PLATE = "cold plate"


@dataclass(frozen=True, slots=True)
class Process:
    """How the preserve is made and kept.

    ``ph`` is measured on the finished preserve (0 to 14; None: not measured). ``heat_step`` names the
    approved heat step or chilling, ``approver`` who approved the process, both empty if there is none.
    Raises ValueError for a pH out of range or a best before ahead of the potting.
    """

    ph: float | None
    judged_by: Judge
    potted: date
    best_before: date
    heat_step: str = ""
    approver: str = ""

    def __post_init__(self) -> None:
        if self.ph is not None:
            within("pH", self.ph, 0, 14, "Write the pH that you measured.")
        if self.best_before < self.potted:
            raise ValueError(
                f"best before is {self.best_before}; allowed: {self.potted} or later. Mend one of the two."
            )


@dataclass(frozen=True, slots=True)
class Concern:
    """One refusal (``refused``) or warning: what, its value, what is allowed, why, and the way out."""

    refused: bool
    what: str
    value: str
    allowed: str
    why: str
    way_out: str
    source: str
    verified: bool

    def __str__(self) -> str:
        head = "Refused" if self.refused else "Take care"
        standing = "read" if self.verified else "not verified"
        return (
            f"{head}: {self.what} is {self.value}; allowed: {self.allowed}. {self.why} {self.way_out}. "
            f"({self.source}; {standing})"
        )


def concerns(composition: Composition, process: Process) -> list[Concern]:
    """All refusals and warnings of the guards below; refusals first. Empty: no guard objects."""
    found = [
        *acidity(process),
        *hazardous_ingredients(composition, process),
        *vinegar(composition, process),
        *solids(composition, process),
        *judging(composition, process),
        *life(composition, process),
    ]
    return sorted(found, key=lambda concern: not concern.refused)


def acidity(process: Process) -> list[Concern]:
    """Refuses a pH not measured, above ``PLAN_PH``, and the more so from ``HAZARD_PH`` on."""
    allowed = f"at most {PLAN_PH:g}, measured"
    if process.ph is None:
        why = "Taste and recipe do not tell how acid a jar is."
        way_out = "Measure the finished preserve, cold, with a checked meter"
        return [_refused("pH", "not measured", allowed, why, way_out, "food pH reference chart", True)]
    if process.ph >= HAZARD_PH - _NEAR:
        why = f"From pH {HAZARD_PH:g} on the germ of botulism can grow in a sealed jar."
        way_out = f"Do not pot or sell it. {AUTHORITY}"
        source = "Iowa State Extension on selling jams and jellies; water activity of foods table"
        return [_refused("pH", f"{process.ph:g}", allowed, why, way_out, source, True)]
    if process.ph > PLAN_PH + _NEAR:
        why = f"It is too near the hazard line of {HAZARD_PH:g} for what meters and fruit vary."
        way_out = "Add lemon juice or citric acid and measure again"
        source = "food pH reference chart"
        return [_refused("pH", f"{process.ph:g}", allowed, why, way_out, source, True)]
    return []


def hazardous_ingredients(composition: Composition, process: Process) -> list[Concern]:
    """Refuses oil always, and garlic, vegetables and other low-acid food; warns of fruit near the line.

    Names decide, whatever role an ingredient is given. An approved vinegar chutney may hold vegetables.
    Sources stand in ``data/hazards.csv``.
    """
    approved = bool(_is_vinegar_chutney(composition) and process.approver.strip())
    found = []
    for ingredient in composition.ingredients:
        for hazard, source in _hazards_in(ingredient.name):
            if hazard == "oil":
                why = "Oil shuts out air and shields germs from acid and heat."
                way_out = f"Leave it out, or do not make it. {AUTHORITY}"
                found.append(_refused("oil", ingredient.name, "none", why, way_out, source, False))
            elif hazard == "low acid" and not approved:
                why = "It brings too little acid, and spores from the soil may live through a boil."
                way_out = f"Leave it out. {AUTHORITY}"
                allowed = "only in a vinegar chutney with an approved process"
                found.append(
                    _refused("low-acid ingredient", ingredient.name, allowed, why, way_out, source, False)
                )
            elif hazard == "near the line":
                why = "Ripe, it may touch pH 4.6."
                way_out = "Add lemon juice by weight and measure every batch"
                allowed = f"with the finished pH at most {PLAN_PH:g}"
                found.append(
                    _warned("fruit near the acid line", ingredient.name, allowed, why, way_out, source)
                )
    return found


def vinegar(composition: Composition, process: Process) -> list[Concern]:
    """Refuses a chutney, or anything with vinegar, without the approver of its process on record.

    Role or name tells vinegar.
    """
    has_vinegar = composition.grams(Role.VINEGAR) or any(
        hazard == "vinegar" for item in composition.ingredients for hazard, _ in _hazards_in(item.name)
    )
    if process.approver.strip() or not (composition.kind is Kind.CHUTNEY or has_vinegar):
        return []
    why = "How much vinegar keeps a mixture is not for a planner to say."
    allowed = "a named person or authority who approved the process"
    return [
        _refused(
            "approver", "not on record", allowed, why, AUTHORITY + ", and write who gave it",
            "common practice, no source", False,
        )
    ]  # fmt: skip


def solids(composition: Composition, process: Process) -> list[Concern]:
    """Refuses soluble solids under ``LOWER_SUGAR`` without a named heat step or chilling."""
    if not composition.lower_sugar or process.heat_step.strip():
        return []
    why = "Sugar alone does not keep it: yeasts and moulds can grow."
    way_out = "Boil it further, or name in heat_step the approved heat step or chilling"
    source = "Jam and Similar Products (England) Regulations 2003, trading standards leaflet"
    allowed = f"at least {LOWER_SUGAR:.2f}, or a named heat step or chilling"
    value = f"{composition.soluble_solids:.3g}"
    return [_refused("soluble solids", value, allowed, why, way_out, source, True)]


def judging(composition: Composition, process: Process) -> list[Concern]:
    """Refuses lower-sugar preserves judged by anything but a refractometer; warns where no pectin is named.

    Chutney is left to its approved process.
    """
    if not composition.lower_sugar or composition.kind is Kind.CHUTNEY:
        return []
    found = []
    if process.judged_by is not Judge.REFRACTOMETER:
        why = "So little sugar hardly raises the boiling point, and the cold plate tells set, not sugar."
        way_out = "Use a refractometer, read at 20 °C"
        source = "boiling point elevation of sucrose solutions (103 °C is about 60 °Brix), computed"
        allowed = "refractometer"
        found.append(
            _refused("judge of the boil", process.judged_by.value, allowed, why, way_out, source, False)
        )
    if composition.kind.sets and not composition.grams(Role.PECTIN):
        why = "Pectin of the fruit sets with much sugar only."
        way_out = "Name a pectin made for lower sugar, or expect a soft set"
        source = "common practice, no source"
        found.append(_warned("pectin", "not named", "one suited to lower sugar", why, way_out, source))
    return found


def life(composition: Composition, process: Process) -> list[Concern]:
    """Refuses a best before beyond the most months of its class; warns beyond the usual months.

    A vinegar chutney has no class here: its approver sets the date. Sources stand in ``data/lives.csv``.
    """
    if _is_vinegar_chutney(composition):
        why = "No life of chutneys is held here."
        way_out = "Take the date from the approved process"
        allowed = "as the approver says"
        source = "common practice, no source"
        return [_warned("best before", f"{process.best_before}", allowed, why, way_out, source)]
    held = life_of(composition)
    value = f"{process.best_before} ({held.name}, potted {process.potted})"
    usual, most = (months_after(process.potted, months) for months in (held.usual, held.most))
    if process.best_before > most:
        why = "No jar of this class is known to keep so long."
        way_out = "Set an earlier date"
        allowed = f"at most {most}"
        return [_refused("best before", value, allowed, why, way_out, held.source, held.verified)]
    if process.best_before > usual:
        why = "It is longer than such jars usually keep."
        way_out = "Keep jars back and look at them, or set an earlier date"
        allowed = f"{usual} without a keeping trial"
        return [_warned("best before", value, allowed, why, way_out, held.source)]
    return []


def _is_vinegar_chutney(composition: Composition) -> bool:
    """Whether it holds vinegar by role; what its name says is low acid or oil is none, whatever its role."""
    return composition.kind is Kind.CHUTNEY and any(
        not {"oil", "low acid"} & {hazard for hazard, _ in _hazards_in(item.name)}
        for item in composition.ingredients
        if item.role is Role.VINEGAR and item.grams > 0
    )


def _hazards_in(name: str) -> list[tuple[str, str]]:
    """The hazards that a name speaks of, with their sources: whole words, singular or plural."""
    return [
        (row["hazard"], row["source"])
        for row in table("hazards")
        if re.search(rf"\b{row['word'].removesuffix('y')}(y|ies|s|es)?\b", name.lower())
    ]


def _refused(
    what: str, value: str, allowed: str, why: str, way_out: str, source: str, verified: bool
) -> Concern:
    return Concern(True, what, value, allowed, why, way_out, source, verified)


def _warned(what: str, value: str, allowed: str, why: str, way_out: str, source: str) -> Concern:
    """A warning; none of them rests on a source that was read."""
    return Concern(False, what, value, allowed, why, way_out, source, False)
