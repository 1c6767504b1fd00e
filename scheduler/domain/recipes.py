"""Recipes: which fruit, what goes in, how far it is boiled, what it is potted in."""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.law.composition import Kind, Role
from scheduler.law.safety import Judge


@dataclass(frozen=True, slots=True)
class FruitShare:
    """The band in which a fruit's share of the prepared fruit of a batch must lie (fractions)."""

    fruit: str
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class OtherIngredient:
    """A spice, acid, vinegar or the like: grams per kg of prepared fruit.

    It counts for law and safety; the mass balance passes over so little, but for the vinegar of a chutney,
    and the dry store over all of it. ``allergen`` if the law has it declared.
    """

    name: str
    g_per_kg: float
    role: Role = Role.OTHER
    allergen: bool = False


@dataclass(frozen=True, slots=True)
class JarSize:
    """A size in which a recipe is potted: goods of the dry store, net mass (kg) and jars on hand."""

    jar: str
    lid: str
    jar_kg: float
    jars_on_hand: int = 0


@dataclass(frozen=True, slots=True)
class Recipe:
    """Quantities are per kg of prepared fruit; ``final_solids`` and ``pan_loss`` are fractions.

    ``frozen_share`` is the most that fruit from the freezer may make up; at 1 the recipe may be
    cooked wholly from the freezer. ``jar`` and ``lid`` name goods of the dry store; ``jar_kg`` is
    the net mass of a jar. ``longest_boil_minutes`` counts the re-boils that the plan keeps time
    for. ``most_jars`` is what can be sold before best before, jars on hand included. ``ph`` is
    the measured acidity of the finished preserve. ``heat_step`` names the approved heat step or
    chilling, ``approver`` who approved the process, both empty if there is none.
    ``best_before_months`` count from potting; None stands for the usual months of its class.
    ``more_sizes`` are potted besides, in the order in which they are filled; ``fill_shares`` are the ways in
    which a batch may be shared out: each a share of it for every size, adding to 1.

    ``soften_minutes`` is how long fruit and water simmer before the sugar goes in. ``strained_share`` is
    what a jelly bag or sieve lets through, of the mass of fruit and water (None: nothing is strained), at
    ``strain_kg_per_hour`` of fruit and water a person. What ``stains`` would tinge a pale batch after it.
    """

    name: str
    fruits: tuple[FruitShare, ...]
    sugar_per_kg: float
    water_per_kg: float
    lemons_per_kg: float
    pectin_g_per_kg: float
    final_solids: float
    ph: float
    frozen_share: float
    dissolve_minutes: int
    longest_boil_minutes: int
    pan_loss: float
    jar: str
    lid: str
    jar_kg: float
    jars_on_hand: int
    most_jars: int
    heat_step: str
    others: tuple[OtherIngredient, ...] = ()
    best_before_months: int | None = None
    judged_by: Judge = Judge.COLD_PLATE
    approver: str = ""
    kind: Kind = Kind.JAM
    soften_minutes: int = 0
    strained_share: float | None = None
    strain_kg_per_hour: float = 60.0
    more_sizes: tuple[JarSize, ...] = ()
    fill_shares: tuple[tuple[float, ...], ...] = ((1.0,),)
    stains: bool = False

    @property
    def sizes(self) -> tuple[JarSize, ...]:
        """All sizes in the order in which they are filled."""
        return (JarSize(self.jar, self.lid, self.jar_kg, self.jars_on_hand), *self.more_sizes)

    @property
    def two_days(self) -> bool:
        """Whether juice drips overnight between softening and boiling."""
        return self.kind in (Kind.JELLY, Kind.CORDIAL)

    @property
    def tested(self) -> bool:
        """Whether it is tested for a set, and boiled again where it has none."""
        return self.kind not in (Kind.CORDIAL, Kind.CHUTNEY)

    @property
    def liquid_per_kg(self) -> float:
        """kg of water, and of the vinegar of a chutney, in the pan with a kg of prepared fruit: vinegar boils
        away as water does."""
        if self.kind is not Kind.CHUTNEY:
            return self.water_per_kg
        return self.water_per_kg + sum(o.g_per_kg for o in self.others if o.role is Role.VINEGAR) / 1000

    @property
    def has_allergen(self) -> bool:
        return any(other.allergen for other in self.others)

    @property
    def leaves_traces(self) -> bool:
        """Whether it leaves in its pan what must not get into the next batch."""
        return self.has_allergen or self.stains

    @property
    def kept_share(self) -> float:
        """Share of the mass of fruit and water that goes on into the boil with the sugar."""
        return 1.0 if self.strained_share is None else self.strained_share
