"""Which papers there are, and the PDF of one or of all."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from hashlib import sha256
from typing import Any

from scheduler.domain.scenario import Scenario, Units
from scheduler.errors import Fault, InputFaults
from scheduler.languages import BOTH, ENGLISH, METRIC, speaking
from scheduler.law.acts import HERE
from scheduler.paper import lists
from scheduler.paper.batches import batches
from scheduler.paper.calendar import calendar
from scheduler.paper.labels import GRIDS, labels
from scheduler.paper.lots import lot_marks
from scheduler.paper.press import CannotSet, press
from scheduler.plan_json import to_json
from scheduler.plan_rows import Plan
from scheduler.views import words


@dataclass(frozen=True, slots=True)
class Wish:
    """How a paper is wanted.

    ``size`` is that of the calendar, ``a4`` or ``a3``. ``of`` is the lot mark of the only batch wanted on
    sheets and labels. ``grid`` is one of ``GRIDS``; ``where`` is where the jars are sold; ``square`` is an
    address for phones that stands on the calendar (empty: none does).
    """

    size: str = "a4"
    of: str | None = None
    grid: str = "2x7"
    where: str = HERE
    square: str = ""


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper: its title, whether a plan has anything for it, what there is none of if not, how its data are
    made, and whether it is worked from with scales and a thermometer."""

    title: str
    there: Callable[[Plan, Scenario], bool]
    nothing: str
    data: Callable[[Plan, Scenario, Wish], dict[str, Any] | None]
    measured: bool = False

    def made(self, plan: Plan, scenario: Scenario, wish: Wish) -> dict[str, Any] | None:
        """Its data in English, None where it is empty; what is measured is told in pounds and °F, too, on a
        farm that goes by them."""
        both = self.measured and scenario.units is Units.IMPERIAL
        with speaking(ENGLISH, BOTH if both else METRIC):
            return self.data(plan, scenario, wish)


def _cooks(plan: Plan, _: Scenario) -> bool:
    return bool(plan.batches)


def _fills(plan: Plan, _: Scenario) -> bool:
    return any(batch.jars for batch in plan.batches)


PAPERS = {
    "calendar": Paper(
        "Cook calendar", _cooks, "nothing is cooked", lambda p, s, w: calendar(p, s, w.size, w.square)
    ),
    "batches": Paper("Batch sheets", _cooks, "nothing is cooked", lambda p, s, w: batches(p, s, w.of), True),
    "picks": Paper("To pick", lists.picks_any, "nothing is picked", lambda p, s, w: lists.picks(p, s), True),
    "thaw": Paper(
        "From the freezer", lists.thaws_any, "nothing is thawed", lambda p, s, w: lists.thaw(p, s), True
    ),
    "purchases": Paper(
        "To order", lists.buys_any, "nothing is bought or comes", lambda p, s, w: lists.purchases(p, s)
    ),
    "labels": Paper(
        "Labels", _fills, "no jar is filled", lambda p, s, w: labels(p, s, w.of, w.grid, w.where)
    ),
}
ALL = "all"
WHATS = (*PAPERS, ALL)
"""What can be printed; ``ALL`` is all but the labels, which go on paper of their own."""


def print_pdf(what: str, plan: Plan, scenario: Scenario, wish: Wish | None = None) -> bytes:
    """The PDF of a paper, or of all with anything on them.

    Raises InputFaults where there is nothing to print, no batch has the lot mark asked for, the wish is none
    for this paper, or words cannot be set.
    """
    wish = wish or Wish()
    if wish.size != "a4" and what not in ("calendar", ALL):
        raise _fault("--size", wish.size, f"a4 for {what}", "Only the calendar comes in a3.")
    if wish.of is not None and what not in ("batches", "labels"):
        raise _fault("--of", wish.of, f"nothing for {what}", "Batch sheets and labels can be of one batch.")
    marks = list(lot_marks(plan).values())
    if wish.of is not None and wish.of not in marks:
        allowed = f"the lot mark of a batch: {', '.join(marks) or 'there is none'}"
        raise _fault("--of", wish.of, allowed, "Its sheet says it.")
    names = [name for name in PAPERS if name != "labels"] if what == ALL else [what]
    found = {name: made for name in names if (made := PAPERS[name].made(plan, scenario, wish))}
    if not found:
        nothing = "; ".join(dict.fromkeys(PAPERS[name].nothing for name in names))
        raise _fault(what, f"nothing to print: {nothing}", "a plan with some", "Print something else of it.")
    parts = [{"title": PAPERS[name].title, **made} for name, made in found.items()]
    days = scenario.dates()
    title = f"{PAPERS[what].title if what != ALL else 'All papers'}, {words.day_span(days[0], days[-1])}"
    foot = f"{scenario.farm}, {scenario.name}, plan {fingerprint(plan)}"
    try:
        return press(f"{scenario.farm}: {title}", scenario.farm, foot, parts)
    except CannotSet as error:
        allowed = "words that fit at 8 pt, in Latin, Greek or Cyrillic letters"
        grids = ", ".join(f"{name} ({grid})" for name, grid in GRIDS.items())
        remedy = f"Change that name, or choose larger labels: {grids}."
        raise _fault(what, str(error), allowed, remedy) from error


def empty(what: str, plan: Plan, scenario: Scenario) -> bool:
    """Whether a plan has nothing to print of a paper."""
    return not PAPERS[what].there(plan, scenario)


def fingerprint(plan: Plan) -> str:
    """Six signs that tell the paper of one plan from that of another."""
    return sha256(to_json(plan).encode()).hexdigest()[:6]


def _fault(where: str, found: str, allowed: str, remedy: str) -> InputFaults:
    return InputFaults([Fault("print", where, found, allowed, remedy)])
