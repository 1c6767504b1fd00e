"""What a preserve may be called, where and when, with the figure and the margin behind each answer."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from scheduler.law.acts import Act, Bound, Limit, Quantity, act_on, acts_on
from scheduler.law.composition import Composition, Role

ADVICE = (
    "This reads published figures and gives no legal advice: the food law where you sell, and a licensed "
    "adviser, decide."
)

MIXED_FRUIT = (
    "each fruit counts by its share of the fruit (a rule read in Swiss law and taken to hold here; it "
    "decides only between the figures of the fruits)"
)
"""How least amounts combine when fruits are mixed. Source of the rule read: Swiss ordinance on foods of
plant origin, Article 40(9); for the acts held here it is from memory. One English trading standards
leaflet only adds the fruits up."""

WATER_USED = (
    "juice counts without the water used to draw it (read in Council Directive 2001/113/EC, Annex I), which "
    "does not say whether water that stays in the pulp is deducted too"
)

_NEAR = 1e-6  # grams and per cent reckoned from batches are not exact in the last digits

_UNITS = {
    Quantity.FRUIT: "g per kg",
    Quantity.SOLIDS: "%",
    Quantity.ENDOCARP: "g per kg",
    Quantity.FRUIT_TO_SUGAR: "parts to 55 of sugar",
    Quantity.KINDS_OF_FRUIT: "",
    Quantity.SMALLEST_SHARE: "% of the fruit",
    Quantity.OTHER_FRUIT: "% of the fruit",
}
_WAYS_OUT = {
    Quantity.FRUIT: "Use more fruit for the same jars, or use another name.",
    Quantity.SOLIDS: "Boil to within the limits, or use a name that is not reserved, such as fruit spread.",
    Quantity.ENDOCARP: "Use more of the inside of the fruit, or weigh it apart.",
    Quantity.FRUIT_TO_SUGAR: "Use more fruit or less sugar, or use another name.",
    Quantity.KINDS_OF_FRUIT: "Use fewer kinds of fruit, or use another name.",
    Quantity.SMALLEST_SHARE: "Use more of the smallest fruit, or leave it out.",
    Quantity.OTHER_FRUIT: "Use citrus only, or use another name.",
}


class Verdict(StrEnum):
    """Whether a name may be used; ``NOT_KNOWN`` where a rule or a weight is not held."""

    MAY = "may"
    MAY_NOT = "may not"
    NOT_KNOWN = "not known"


@dataclass(frozen=True, slots=True)
class Check:
    """One limit against the preserve; ``measured`` and ``limit`` in ``unit``, None if not held."""

    quantity: Quantity
    bound: Bound
    measured: float | None
    limit: float | None
    unit: str
    source: str
    verified: bool

    @property
    def margin(self) -> float | None:
        """How far inside the limit (negative: outside)."""
        if self.measured is None or self.limit is None:
            return None
        inside = self.measured - self.limit
        return inside if self.bound is Bound.LEAST else -inside

    @property
    def met(self) -> bool | None:
        """Whether the limit is met; None if not known."""
        return None if self.margin is None else self.margin >= -_NEAR

    def __str__(self) -> str:
        measured, limit = (
            "not known" if value is None else f"{value:.4g}" for value in (self.measured, self.limit)
        )
        unit = f" {self.unit}" if self.unit else ""
        told = f"{self.quantity} {measured}{unit}, at {self.bound} {limit}"
        if self.margin is not None:
            word = "to spare" if self.met else "outside"
            told += f" ({max(abs(self.margin), 0):.3g} {word})"
        return f"{told}: {self.source}, {'read' if self.verified else 'not verified'}"


@dataclass(frozen=True, slots=True)
class Finding:
    """What one act says of one name for one preserve."""

    jurisdiction: str
    act: str
    name: str
    verdict: Verdict
    checks: tuple[Check, ...]
    verified: bool
    way_out: str
    note: str
    ask: str
    advice: str = ADVICE

    def __str__(self) -> str:
        standing = "" if self.verified else " [not verified]"
        parts = [f"{self.jurisdiction}: {self.verdict} be called {self.name}{standing}. {self.act}."]
        if self.verdict is Verdict.NOT_KNOWN:
            parts = [f"{self.jurisdiction}: not known whether it may be called {self.name}. {self.act}."]
        parts += [f"{check}." for check in self.checks]
        parts += [text for text in (self.way_out, self.note, f"Ask {self.ask}.", self.advice) if text]
        return " ".join(parts)


def names_allowed(composition: Composition, on: date) -> list[Finding]:
    """A finding for each act in force ``on`` the day of labelling and each name of law for this kind.

    Where an act holds no name for the kind, one finding says that it is not known. Sources stand in each
    check; a finding is verified only if every figure it rests on, and the act's dates, were read.
    """
    found: list[Finding] = []
    for act in acts_on(on):
        names = act.limits.get(composition.kind, {})
        found += [_finding(act, name, limits, composition) for name, limits in names.items()]
        if not names:
            found.append(_not_held(act, composition.kind.value))
    return found


def name_allowed(composition: Composition, name: str, jurisdiction: str, on: date) -> Finding:
    """The finding for a name as it would stand on a label, such as "raspberry extra jam".

    The longest reserved word in it decides; a name with no reserved word may be used. Of a word whose limits
    are not held it is not known. Raises ValueError for a jurisdiction that is not held.
    """
    act = act_on(jurisdiction, on)
    word = act.reserved_in(name)
    if word is None:
        note = "No word that this act reserves stands in it, as far as they are held."
        return _said(act, name, Verdict.MAY, (), verified=False, way_out=note)
    if not word.meets:
        return _not_held(act, name)
    limits = act.limits.get(composition.kind, {}).get(word.meets, ())
    if not limits and any(word.meets in names for names in act.limits.values()):
        way_out = f"{word.word} names another kind of preserve than {composition.kind}. Use another name."
        return _said(act, name, Verdict.MAY_NOT, (), verified=word.verified, way_out=way_out)
    return _finding(act, name, limits, composition)


def _finding(act: Act, name: str, limits: tuple[Limit, ...], composition: Composition) -> Finding:
    drafts = [
        _check(quantity, [x for x in limits if x.quantity is quantity and x.bound is bound], composition)
        for quantity in Quantity
        for bound in Bound
    ]
    checks = tuple(check for check in drafts if check is not None)
    failed = [check for check in checks if check.met is False]
    if failed:
        ways = dict.fromkeys(_WAYS_OUT[check.quantity] for check in failed)
        verified = all(check.verified for check in failed)
        return _said(act, name, Verdict.MAY_NOT, checks, verified=verified, way_out=" ".join(ways))
    if not checks or any(check.met is None for check in checks):
        way_out = "A rule or a weight for it is not held here."
        return _said(act, name, Verdict.NOT_KNOWN, checks, verified=False, way_out=way_out)
    return _said(act, name, Verdict.MAY, checks, verified=all(check.verified for check in checks), way_out="")


def _not_held(act: Act, name: str) -> Finding:
    """The finding for a name whose limits are not held, reserved or not."""
    word = act.reserved_in(name)
    way_out = "A rule or a weight for it is not held here."
    if word is not None:
        way_out = f"{word.word.capitalize()} is reserved ({word.source}). {way_out}"
    return _said(act, name, Verdict.NOT_KNOWN, (), verified=False, way_out=way_out)


def _said(
    act: Act, name: str, verdict: Verdict, checks: tuple[Check, ...], *, verified: bool, way_out: str
) -> Finding:
    verified = verified and act.verified
    return Finding(act.jurisdiction, act.title, name, verdict, checks, verified, way_out, act.note, act.ask)


def _check(quantity: Quantity, limits: list[Limit], composition: Composition) -> Check | None:
    """The check of one quantity one way, or None where no limit of it applies."""
    if quantity in {Quantity.FRUIT, Quantity.FRUIT_TO_SUGAR}:
        return _fruit_check(quantity, limits, composition) if limits else None
    for limit in limits:
        named = any(limit.speaks_of(fruit.name) for fruit in composition.fruits)
        if named or not limit.fruits or quantity is Quantity.OTHER_FRUIT:
            measured = _MEASURES[quantity](composition, limit)
            return Check(
                quantity, limit.bound, measured, limit.value, _UNITS[quantity], limit.source, limit.verified
            )
    return None


def _fruit_check(quantity: Quantity, limits: list[Limit], composition: Composition) -> Check:
    """Least fruit: by shares where an act weighs fruit, the strictest where it sets fruit against sugar.

    Mixed fruit above the highest figure, or below the lowest, is judged the same however they combine.
    """
    mine = [(fruit, _limit_for(limits, fruit.name)) for fruit in composition.fruits]
    held = [(fruit.grams, limit) for fruit, limit in mine if limit is not None]
    if len(held) < len(mine):
        unknown = ", ".join(fruit.name for fruit, limit in mine if limit is None)
        measured, _ = _counted(quantity, composition, 0.0)
        source = f"no figure held for {unknown}"
        return Check(quantity, Bound.LEAST, measured, None, _UNITS[quantity], source, False)
    values = {limit.value for _, limit in held}
    source = "; ".join(dict.fromkeys(limit.source for _, limit in held))
    verified = all(limit.verified for _, limit in held)
    needed = max(values)
    if len(values) > 1 and quantity is Quantity.FRUIT:
        needed = sum(grams * limit.value for grams, limit in held) / composition.grams(Role.FRUIT)
        source = f"{source}; {MIXED_FRUIT}"
    measured, doubt = _counted(quantity, composition, needed)
    source += doubt
    if measured is not None and min(values) - _NEAR <= measured < max(values) - _NEAR:
        # between the figures of its fruits the way of mixing decides, and that is not verified
        verified = False
    return Check(quantity, Bound.LEAST, measured, needed, _UNITS[quantity], source, verified)


def _counted(quantity: Quantity, composition: Composition, needed: float) -> tuple[float | None, str]:
    """Fruit as ``quantity`` weighs it, and the doubt in words where the ways to count it disagree.

    Fruit is set against sugar as juice or pulp of its natural strength: 21 CFR 150 counts it by its soluble
    solids times a factor (factors read; the rule from memory), so that no water counts.
    """
    fruit, sugar = composition.grams(Role.FRUIT), composition.grams(Role.SUGAR)
    if quantity is Quantity.FRUIT_TO_SUGAR:
        return (55 * fruit / sugar if sugar else None), ""
    least, most = 10 * composition.fruit_at_least, 10 * fruit
    if least >= needed - _NEAR:
        return least, ""
    if most < needed - _NEAR:
        return most, ""
    return None, f"; {WATER_USED}: {least:.4g} g per kg if it is, {most:.4g} g if not"


def _limit_for(limits: list[Limit], fruit: str) -> Limit | None:
    named = next((limit for limit in limits if limit.speaks_of(fruit)), None)
    return named or next((limit for limit in limits if not limit.fruits), None)


def _other_fruit(composition: Composition, limit: Limit) -> float:
    other = sum(fruit.grams for fruit in composition.fruits if not limit.speaks_of(fruit.name))
    return 100 * other / composition.grams(Role.FRUIT)


_MEASURES: dict[Quantity, Callable[[Composition, Limit], float | None]] = {
    Quantity.SOLIDS: lambda mix, _: 100 * mix.soluble_solids,
    Quantity.ENDOCARP: lambda mix, _: None if mix.endocarp_grams is None else 10 * mix.endocarp_grams,
    Quantity.KINDS_OF_FRUIT: lambda mix, _: len(mix.fruits),
    Quantity.SMALLEST_SHARE: lambda mix, _: 100 * mix.fruits[-1].grams / mix.grams(Role.FRUIT),
    Quantity.OTHER_FRUIT: _other_fruit,
}
