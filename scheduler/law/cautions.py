"""The usual cautions, each at the stage where its hazard arises, in words for the cook.

Common practice, no source, unless a caution says otherwise. A caution replaces no training and no risk
assessment.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Hazard(StrEnum):
    """What can hurt."""

    HOT_SUGAR = "hot sugar"
    HOT_JUICE = "hot juice"
    GLASS = "glass"
    LOW_ACID = "low acid"
    ALLERGENS = "allergens"
    SPOILAGE = "spoilage"
    TIRED_HANDS = "tired hands"


@dataclass(frozen=True, slots=True)
class Caution:
    """A caution and the stages of a batch, or of the day, where it belongs."""

    hazard: Hazard
    stages: tuple[str, ...]
    text: str
    source: str = "common practice, no source"


CAUTIONS: tuple[Caution, ...] = (
    Caution(
        Hazard.HOT_SUGAR,
        ("dissolve", "boil", "re-boil"),
        "Boiling sugar is hotter than water and sticks to skin. Long sleeves, closed shoes, a long spoon; "
        "fill no pan above its safe mark; nobody small or in a hurry near it; never leave it.",
    ),
    Caution(
        Hazard.HOT_SUGAR,
        ("set test", "stand", "pot up"),
        "Take the pan off the heat for the test. Let a sample cool before a finger or a tongue goes near it. "
        "Two people move a full pan, with dry cloths and a clear way.",
    ),
    Caution(
        Hazard.HOT_SUGAR,
        ("soften", "strain", "dissolve", "boil", "set test", "re-boil", "stand", "pot up"),
        "A burn: cool running water at once, for 20 minutes, rings and watch off, no ice, no butter; a "
        "doctor for anything larger than a coin, or on face, hands or a child.",
        "first-aid advice, from memory",
    ),
    Caution(
        Hazard.HOT_JUICE,
        ("soften", "strain"),
        "Softened fruit spits and holds its heat. Tie the bag and try the stand before the pan comes; two "
        "people tip it, slowly, with dry cloths; never press a hot bag, and keep children away from it.",
    ),
    Caution(
        Hazard.SPOILAGE,
        ("strain",),
        "Scald bag and bowl, cover them, and let them drip in a cool room. Boil the juice the next day; "
        "juice that fizzes or smells of yeast is thrown away.",
    ),
    Caution(
        Hazard.GLASS,
        ("jars in oven", "pot up"),
        "Hot preserve into hot jars only: cold glass cracks. Throw out chipped jars. If one breaks, throw "
        "away it and every open jar and pan near it, and count the pieces.",
    ),
    Caution(
        Hazard.GLASS,
        ("wash pan", "label"),
        "Look at every seal and rim the next day. A jar that leaks, bulges or clicks is not sold.",
    ),
    Caution(
        Hazard.LOW_ACID,
        ("recipe", "prepare"),
        "Fruit with too little acid can let a deadly germ grow in a sealed jar. Weigh the lemon, leave "
        "nothing sour out, swap no fruit, and add no vegetable, garlic or oil.",
    ),
    Caution(
        Hazard.LOW_ACID,
        ("set test", "label"),
        "Measure the pH of each batch when cold with a checked meter: at most 4.3 before it is released; at "
        "4.6 and above the batch is not sold, whatever it tastes like.",
        "4.6: Iowa State Extension on selling jams; 4.3: food pH reference chart",
    ),
    Caution(
        Hazard.ALLERGENS,
        ("prepare", "wash pan"),
        "Nuts, sulphites, milk: cook the batch that holds one last, then wash pan, spoons, funnel, bag and "
        "hands. A trace can make someone very ill.",
    ),
    Caution(
        Hazard.ALLERGENS,
        ("label",),
        "Read the packets again: pectin, bought juice and dried fruit change. What holds an "
        "allergen says so.",
    ),
    Caution(
        Hazard.TIRED_HANDS,
        ("day", "boil", "pot up"),
        "Most accidents come late in the day. Keep the breaks, swap at the pan, and start no batch that you "
        "would finish tired.",
    ),
)


def cautions_at(stage: str) -> tuple[Caution, ...]:
    """The cautions of one stage, in order; none for a stage with no hazard of its own."""
    return tuple(caution for caution in CAUTIONS if stage in caution.stages)


def cautions_about(hazard: Hazard) -> tuple[Caution, ...]:
    """All cautions about one hazard."""
    return tuple(caution for caution in CAUTIONS if caution.hazard is hazard)
