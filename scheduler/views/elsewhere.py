"""Texts that pages show and that rooms beside them have in English only, marked here for the catalogues.

Rooms that solve, and law, import nothing for what a reader speaks; pages say these with ``spoken``. Names of
stages, kinds, skills and the like are extracted where they stand (``languages.template.NAMES``).
"""

from __future__ import annotations

from scheduler.languages import message, spoken

OF_A_RUN = (
    message("planning by habit"),
    message("how good a plan can be"),
    message("dealing batches out to days"),
    message("placing batches on pans, rings and people"),
    message("what fruit is worth, day by day"),
    message("ending the days early"),
    message("habit's plan"),
    message("least lost on fruit"),
    message("fewest jars missing"),
    message("least money"),
    message("fewest starts"),
    message("earlier finishes"),
    message("weeks"),
)
"""What a search says that it does, and aims at (``solve``, ``planner``, ``curve``)."""

UNITS = (message("jars"), message("starts"), message("each"), message("litre"), message("litres"))
"""Units of goals and goods, beside those that every language writes alike."""

OF_A_SHEET = (
    message("stand by, before pot up"),
    message("tests and re-boils"),
    message("last jar"),
    message("drip stand"),
    message("energy"),
    message("recipe"),
    message("label"),
)
"""Lines of a batch sheet, and stages of cautions that no plan has (``batch_sheet``, ``costs``)."""

OF_PAPER = (
    message("Cook calendar"),
    message("Batch sheets"),
    message("To pick"),
    message("From the freezer"),
    message("To order"),
    message("Labels"),
)
"""Titles of papers."""

OF_FEEDS = (message("the kitchen"), message("orders and deliveries"))
"""Calendars that are nobody's own."""

OF_LABELS = (
    message("name"),
    message("ingredients"),
    message("fruit"),
    message("sugar"),
    message("net quantity"),
    message("best before"),
    message("lot"),
    message("storage"),
)
"""Lines of a label by what they are. What stands on the jar stays in the language of its country."""

PLACES = (
    message("European Union"),
    message("England"),
    message("Wales"),
    message("Northern Ireland"),
    message("United States"),
    message("Codex Alimentarius"),
    message("Australia"),
)
"""Where acts of food law hold (``law/data/acts.csv``)."""

ADVICE = message(
    "This reads published figures and gives no legal advice: the food law where you sell, and a licensed "
    "adviser, decide."
)

OF_SAFETY = (
    message("fruit near the acid line"),
    message("with the finished pH at most 4.3"),
    message("Ripe, it may touch pH 4.6."),
    message("Add lemon juice by weight and measure every batch"),
    message("pectin"),
    message("not named"),
    message("one suited to lower sugar"),
    message("Pectin of the fruit sets with much sugar only."),
    message("Name a pectin made for lower sugar, or expect a soft set"),
    message("common practice, no source"),
    message("No life of chutneys is held here."),
    message("Take the date from the approved process"),
    message("as the approver says"),
    message("It is longer than such jars usually keep."),
    message("Keep jars back and look at them, or set an earlier date"),
)
"""What the guards of food safety warn of where they refuse nothing (``law.safety``)."""


def of_a_run(said: str) -> str:
    """What a search says, in the reader's words: an aim and what is done for it, or one of them."""
    if (whole := spoken(said)) != said:
        return whole
    aim, comma, done = said.partition(", ")
    return f"{spoken(aim)}{comma}{spoken(done)}"
