"""Rules of the allocation about work beside the batches: labels, and fruit taken out of the freezer.

Both are minutes of a day that any hands can do. Less of them never makes a day harder: the pieces of less
labelling fit where those of more were. Names in docstrings are those of the rule book.
"""

from __future__ import annotations

from fractions import Fraction

from scheduler.cards import SCALE, rounded_down
from scheduler.domain.kitchen import STEP
from scheduler.model.decisions import Decisions, Linear, total


def jars_are_labelled_in_their_days(x: Decisions) -> None:
    """labelled: on a day after that of potting, and no later than within_days after it.

    What was potted first is labelled first, so that jars without a label are of the last days.
    """
    labels = x.cards.kitchen.labels
    for (p, d), unlabelled in x.unlabelled.items():
        before: Linear | int = x.unlabelled[p, d - 1] if d else 0
        done: Linear | int = x.labelled[p, d] if d else 0
        x.model.add(unlabelled == before + x.jars_made(d, p) - done)
        if d:
            x.model.add(done <= before)
        if labels and d >= labels.within_days:
            last_days = range(d - labels.within_days + 1, d + 1)
            x.model.add(unlabelled <= total(x.jars_made(e, p) for e in last_days))


def only_labelled_jars_leave(x: Decisions) -> None:
    """labelled: jars that are shipped, and those that the shop has left."""
    if not x.label_steps:
        return
    for due, p in sorted({(order.due, order.product) for order in x.cards.orders}):
        x.model.add(x.labelled_left(due, p) >= 0)
    for row, missing in zip(x.cards.shop, x.shop_missing, strict=True):
        x.model.add(missing >= row.jars - x.labelled_left(row.day, row.product))


def labels_take_their_time(x: Decisions) -> None:
    """label-work, in steps of the timetable."""
    labels = x.cards.kitchen.labels
    if labels is None:
        return
    pace = Fraction(str(labels.jars_per_hour)) * STEP / 60
    for d, steps in enumerate(x.label_steps):
        jars = total(var for (_, day), var in x.labelled.items() if day == d)
        x.model.add(pace.denominator * jars <= pace.numerator * steps)


def fruit_is_taken_out_the_day_before(x: Decisions) -> None:
    """take-out: what thaws overnight is taken out by somebody who is in on the day before."""
    room = rounded_down(x.cards.kitchen.chiller.kg, 1 / SCALE)
    for d, takes_out in enumerate(x.takes_out):
        thawed = total(var for (day, _, _), var in x.thaw.items() if day == d + 1)
        x.model.add(thawed <= room * takes_out)
        here = total(x.staff[i] for i, staff in enumerate(x.cards.staff) if staff.day == d)
        x.model.add(takes_out <= here)


RULES = (
    jars_are_labelled_in_their_days,
    only_labelled_jars_leave,
    labels_take_their_time,
    fruit_is_taken_out_the_day_before,
)
