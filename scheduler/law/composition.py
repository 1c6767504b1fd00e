"""What is in the jar: the finished preserve as law and safety look at it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

LOWER_SUGAR = 0.60
"""Soluble solids below which sugar alone does not keep a jar: the 60 % of the Jam and Similar Products
(England) Regulations 2003 (trading standards leaflet, read)."""


class Kind(StrEnum):
    """What is made.

    ``JAM`` holds the pulp of the fruit (a reduced-sugar spread too), ``JELLY`` only its juice or extract,
    ``BUTTER`` the sieved pulp, boiled down (fruit cheese is the same, thicker), ``CORDIAL`` the juice as a
    drink or syrup.
    """

    JAM = "jam"
    JELLY = "jelly"
    BUTTER = "fruit butter"
    MARMALADE = "marmalade"
    CHUTNEY = "chutney"
    CORDIAL = "cordial"

    @property
    def of_juice(self) -> bool:
        """Whether only the juice, or what water draws from the fruit, goes in."""
        return self in (Kind.JELLY, Kind.CORDIAL)

    @property
    def strained(self) -> bool:
        """Whether a bag or sieve holds part of the fruit back."""
        return self.of_juice or self is Kind.BUTTER

    @property
    def sets(self) -> bool:
        """Whether pectin must set it; fruit butter is thick by its pulp."""
        return self in (Kind.JAM, Kind.JELLY, Kind.MARMALADE)


class Role(StrEnum):
    """Why something is in the pan.

    ``SUGAR`` is any sugar, honey or syrup. Preserves with sweeteners in place of sugar fall under other
    rules, which are not held here.
    """

    FRUIT = "fruit"
    SUGAR = "sugar"
    WATER = "water"
    ACID = "acid"
    PECTIN = "pectin"
    VINEGAR = "vinegar"
    OTHER = "other"


@dataclass(frozen=True, slots=True)
class Ingredient:
    """``grams`` at mixing, for each 100 g of finished preserve; ``allergen`` if the law has it declared.

    A fruit goes by its name in the singular ("strawberry"); of jelly and cordial its grams are those of the
    juice, and the water drawn with it is an ingredient of its own. Raises ValueError for an empty name or
    grams out of 0 to 1000.
    """

    name: str
    grams: float
    role: Role
    allergen: bool = False

    def __post_init__(self) -> None:
        if not self.name.strip():
            raise ValueError("an ingredient has no name; allowed: any name. Write what goes in.")
        within(f"grams of {self.name} per 100 g", self.grams, 0, 1000, "Give g for 100 g of preserve.")
        if self.grams == 0:
            raise ValueError(f"grams of {self.name} is 0; allowed: above 0. Leave it out if none is used.")


@dataclass(frozen=True, slots=True)
class Composition:
    """A finished preserve.

    ``soluble_solids`` is a fraction of mass (above 0, at most 0.95), read by refractometer at 20 °C.
    ``endocarp_grams`` is, for marmalade, how much of the citrus is the inside of the fruit (g per 100 g
    of preserve; None if not weighed apart). ``water_left_out`` is, for jelly and cordial, the water used to
    draw the juice that stayed behind with the pulp (g per 100 g of preserve). Raises ValueError out of
    range, without fruit, for an ingredient named twice, or where less went in than came out.
    """

    kind: Kind
    ingredients: tuple[Ingredient, ...]
    soluble_solids: float
    endocarp_grams: float | None = None
    water_left_out: float = 0.0

    def __post_init__(self) -> None:
        within("soluble solids", self.soluble_solids, 0.01, 0.95, "Give 65 % as 0.65.")
        if not self.fruits:
            raise ValueError(
                "no fruit in the preserve; allowed: at least one. Name the fruit as an ingredient."
            )
        names = [(ingredient.role, plain(ingredient.name)) for ingredient in self.ingredients]
        if len(set(names)) < len(names):
            raise ValueError("an ingredient stands twice; allowed: once. Add the two up.")
        mixed = sum(ingredient.grams for ingredient in self.ingredients)
        if mixed < 100 - 1e-6:
            raise ValueError(
                f"{mixed:g} g went in for 100 g of preserve; allowed: at least 100 g. "
                "Give grams for 100 g of finished preserve, and count water."
            )
        if self.endocarp_grams is not None:
            remedy = "It is a part of the citrus fruit."
            within("inside of the citrus", self.endocarp_grams, 0, self.grams(Role.FRUIT), remedy)
        remedy = "Give g for 100 g of preserve, of jelly and cordial only."
        within("water left out", self.water_left_out, 0, 100_000 if self.kind.of_juice else 0, remedy)

    @property
    def lower_sugar(self) -> bool:
        """Whether it holds too few solids to keep by its sugar alone."""
        return self.soluble_solids < LOWER_SUGAR - 1e-9

    @property
    def fruits(self) -> tuple[Ingredient, ...]:
        """The fruits by falling mass."""
        fruits = [ingredient for ingredient in self.ingredients if ingredient.role is Role.FRUIT]
        return tuple(sorted(fruits, key=lambda fruit: -fruit.grams))

    @property
    def fruit_at_least(self) -> float:
        """Grams of fruit for 100 g by the strictest count: of juice, all water that was used is deducted.

        Acts want juice and extracts counted after deduction of the water used to prepare them (Council
        Directive 2001/113/EC, Annex I, read). They do not say whether that is all of it, or only as much as
        the juice holds, which ``grams(Role.FRUIT)`` leaves out. The true count lies between the two.
        """
        return max(0.0, self.grams(Role.FRUIT) - self.water_left_out)

    def grams(self, role: Role) -> float:
        """Grams of all ingredients with one role, for 100 g of preserve."""
        return sum(ingredient.grams for ingredient in self.ingredients if ingredient.role is role)


def within(quantity: str, value: float, low: float, high: float, remedy: str) -> None:
    """Raise ValueError unless low <= value <= high; NaN is out of range."""
    if not (math.isfinite(value) and low <= value <= high):
        raise ValueError(f"{quantity} is {value:g}; allowed: {low:g} to {high:g}. {remedy}")


def plain(name: str) -> str:
    """A fruit's name for comparing: ``Red currants``, ``red-currant`` and ``redcurrant`` are one."""
    joined = name.lower().replace(" ", "").replace("-", "")
    if joined.endswith("ies"):
        return joined[:-3] + "y"
    if joined.endswith(("oes", "ches")):
        return joined[:-2]
    return joined.removesuffix("s")
