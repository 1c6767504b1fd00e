"""A draft of the label: what the jar says of itself, line by line, and what is left to check.

A draft only. It follows the act in force on the day of labelling where the jar is sold, and says of each
line where it comes from.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, timedelta

from scheduler.law.acts import Act, SugarLine, act_on
from scheduler.law.composition import Composition, Ingredient, Kind, Role, within
from scheduler.law.life import months_after
from scheduler.law.naming import ADVICE, WATER_USED, Finding, Verdict, name_allowed

SUGAR_TOLERANCE = 3
"""Refractometric degrees by which the stated sugar may miss: Directive 2001/113/EC, Article 2(4), from
memory."""

_DUST_G = 1e-6
_GENERAL = "general labelling law, in the EU Regulation (EU) No 1169/2011"
ALLERGEN_REMINDER = (
    "Look again at nuts, milk, and sulphites in bought pectin, juice or dried fruit (to be named above 10 mg "
    "per kg), and at what else was made in the kitchen. Mark them as the law where you sell wants."
)
"""Sulphites: summary of Directive 2001/113/EC (read)."""

_MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October",
    "November", "December",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Jar:
    """One jar to be labelled.

    ``name`` is the name in law ("extra jam"), to which the fruits are put. ``net_grams`` is above 0, at
    most 20 000; ``best_before`` is not before ``labelled``. ``nutrition_given`` says that the label
    carries a nutrition declaration. Raises ValueError out of range or without name or lot.
    """

    composition: Composition
    name: str
    net_grams: float
    labelled: date
    best_before: date
    lot: str
    nutrition_given: bool = False

    def __post_init__(self) -> None:
        within("net quantity in g", self.net_grams, 1, 20_000, "Give grams of preserve in one jar.")
        for what, text in (("name", self.name), ("lot mark", self.lot)):
            if not text.strip():
                raise ValueError(f"the {what} is empty; allowed: any text. Write it.")
        if self.best_before < self.labelled:
            raise ValueError(
                f"best before is {self.best_before}; allowed: {self.labelled} or later. Mend one of the two."
            )


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the label: what it is, its words, its source, and a remark for the maker."""

    what: str
    text: str
    source: str
    verified: bool
    remark: str = ""


@dataclass(frozen=True, slots=True)
class Draft:
    """The lines of a label and ``to_check``: what a person has to settle before it is printed."""

    jurisdiction: str
    lines: tuple[Line, ...]
    to_check: tuple[str, ...]

    def text(self, what: str) -> str | None:
        """The words of one line, or None if the label has no such line."""
        return next((line.text for line in self.lines if line.what == what), None)


def draft(jar: Jar, jurisdiction: str) -> Draft:
    """The label of a jar sold in ``jurisdiction``, by the act in force on the day of labelling.

    Raises ValueError for a jurisdiction that is not held, or a name that the preserve may not bear.
    """
    act = act_on(jurisdiction, jar.labelled)
    finding = name_allowed(jar.composition, jar.name, jurisdiction, jar.labelled)
    if finding.verdict is Verdict.MAY_NOT:
        raise ValueError(f"the name {jar.name!r} is not allowed; {finding}")
    lines = [_name(jar, act), _ingredients(jar.composition)]
    held = bool(act.limits.get(jar.composition.kind))  # both lines belong to the preserves of the act
    if held and act.fruit_line:
        lines.append(_fruit(jar.composition, act))
    if held and act.sugar_line is not SugarLine.NOT_ASKED:
        lines.append(_sugar(jar, act))
    lines += [_net(jar), _best_before(jar), _lot(jar), _storage(jar.composition)]
    return Draft(jurisdiction, tuple(lines), _to_check(act, jar.composition, finding))


def _name(jar: Jar, act: Act) -> Line:
    fruits = [fruit.name for fruit in jar.composition.fruits]
    named = fruits[0] if len(fruits) == 1 else f"{', '.join(fruits[:-1])} and {fruits[-1]}"
    text = f"{named} {jar.name}"
    mixed = act.fruit_line and len(fruits) >= 3  # those acts follow the directive's Article 2
    remark = "From three fruits on it may say mixed fruit instead." if mixed else ""
    source = f"{act.title}: fruits by falling weight"
    return Line("name", text[0].upper() + text[1:], source, act.fruit_line, remark)


def _ingredients(composition: Composition) -> Line:
    """All by falling mass at mixing; water only as far as it is left in the jar, and above 5 %."""
    dry = [ingredient for ingredient in composition.ingredients if ingredient.role is not Role.WATER]
    water_left = 100 - sum(ingredient.grams for ingredient in dry)
    if water_left > 5:
        dry.append(Ingredient("water", water_left, Role.WATER))
    ordered = sorted(dry, key=lambda ingredient: -ingredient.grams)
    named = [_named(item, composition.kind) for item in ordered]
    source = f"{_GENERAL}, Article 18 and Annex VII, from memory"
    remark = "Water that boils away again is not named; allergens stand in capitals."
    return Line("ingredients", f"Ingredients: {', '.join(named)}", source, False, remark)


def _named(item: Ingredient, kind: Kind) -> str:
    name = f"{item.name} juice" if kind.of_juice and item.role is Role.FRUIT else item.name
    return name.upper() if item.allergen else name


def _fruit(composition: Composition, act: Act) -> Line:
    """Whole grams, never more than went in; left open where only the milder count gives any."""
    counts = composition.fruit_at_least, composition.grams(Role.FRUIT)
    least, most = (math.floor(grams + 1e-6) for grams in counts)
    text = f"Prepared with {least or '…'} g of fruit per 100 g"
    if least == most:
        return Line("fruit", text, act.title, True)
    remark = (
        f"{WATER_USED[0].upper()}{WATER_USED[1:]}: {least} g if it is, {most} g if not. Ask which counts."
    )
    return Line("fruit", text, act.title, False, remark)


def _sugar(jar: Jar, act: Act) -> Line:
    grams = round(100 * jar.composition.soluble_solids)
    remark = f"Read by refractometer at 20 °C, true to {SUGAR_TOLERANCE} degrees (tolerance not verified)."
    if act.sugar_line is SugarLine.DROPPED:
        source = "Food Safety Authority of Ireland, summary of Directive (EU) 2024/1438"
        remark += " From 14 June 2026 the directive no longer asks for this line; the general rules on"
        remark += " nutrition decide. Keep it only if your food authority agrees."
    else:
        source = "Council Directive 2001/113/EC, Article 2"
        if jar.nutrition_given:
            remark += " May be left out beside a nutrition declaration that gives sugars."
    return Line("sugar", f"Total sugar content {grams} g per 100 g", source, True, remark)


def _net(jar: Jar) -> Line:
    """Whole grams, rounded down, so that a label promises no more than is in the jar: 8 oz are 226.796 g."""
    grams = math.floor(jar.net_grams + _DUST_G)
    text = f"{grams / 1000:g} kg" if grams >= 1000 else f"{grams} g"
    drunk = jar.composition.kind is Kind.CORDIAL
    remark = (
        "A liquid is sold by volume: measure the millilitres of a bottle and write those." if drunk else ""
    )
    return Line("net quantity", text, f"{_GENERAL}, Article 23, from memory", False, remark)


def _best_before(jar: Jar) -> Line:
    """The form of the date follows the jar's life; rounding to a month never adds a day."""
    day = jar.best_before
    source = "Food date and lot marking guide for small businesses"
    if day <= months_after(jar.labelled, 3):
        return Line("best before", f"Best before: {day.day} {_MONTHS[day.month - 1]}", source, True)
    if day <= months_after(jar.labelled, 18):
        words = f"Best before: {day.day} {_MONTHS[day.month - 1]} {day.year}"
        return Line("best before", words, source, True)
    ends_month = (day + timedelta(days=1)).day == 1
    last = day if ends_month else day.replace(day=1) - timedelta(days=1)
    words = f"Best before end: {_MONTHS[last.month - 1]} {last.year}"
    return Line("best before", words, f"{_GENERAL}, Annex X, from memory", False)


def _lot(jar: Jar) -> Line:
    text = jar.lot if jar.lot.upper().startswith("L") else f"L {jar.lot}"
    remark = "One lot is one batch, or as you decide: a larger lot means a larger recall."
    return Line("lot", text, "Food (Lot Marking) Regulations 1996, the L from memory", False, remark)


def _storage(composition: Composition) -> Line:
    source = "common practice, no source"
    if composition.lower_sugar:
        text = "Keep in a cool dark place. Once opened keep in the fridge and use soon."
        return Line("storage", text, source, False, "Say within how many weeks, by your own keeping trial.")
    return Line("storage", "Keep in a cool dark place.", source, False)


def _to_check(act: Act, composition: Composition, finding: Finding) -> tuple[str, ...]:
    allergens = [item.name for item in composition.ingredients if item.allergen]
    checks = [
        f"Show the draft to {act.ask} before you print.",
        "Put the producer's name and address.",
        "Put a nutrition declaration, or ask whether your farm is exempt.",
        f"Allergens named: {', '.join(allergens) or 'none'}. {ALLERGEN_REMINDER}",
    ]
    if not act.fruit_line:
        checks.append(
            "Lines on fruit and sugar content are not held for this place: ask what its style wants."
        )
    elif not act.limits.get(composition.kind):
        checks.append(
            f"Lines on fruit and sugar content are not held for {composition.kind}: ask whether the share of "
            "fruit must be shown."
        )
    if finding.verdict is Verdict.NOT_KNOWN:
        checks.append(f"The name is not settled. {finding}")
    return (*checks, ADVICE)
