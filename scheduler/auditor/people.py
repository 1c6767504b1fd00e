"""Rules 29 to 32: shifts, overtime, breaks, hours of a week and rest between two days."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import date, timedelta

from scheduler.auditor.case import Case, repeated
from scheduler.auditor.finding import Finding, clock
from scheduler.domain.kitchen import STEP
from scheduler.domain.people import OVERTIME_STEP
from scheduler.plan_rows import DayShift

DAY_MINUTES = 24 * 60


def _of(shift: DayShift) -> str:
    return f"{shift.day.isoformat()}, {shift.person}"


def each_shift_in_use_is_offered(case: Case) -> Iterator[Finding]:
    """Rule 29: the person offers these very hours, and overtime in steps of 30 min up to the offer."""
    for shift in case.plan.shifts:
        offers = [
            offer
            for offer in case.farm.scenario.shifts
            if (offer.person, offer.day) == (shift.person, shift.day)
        ]
        hours = [offer for offer in offers if (offer.start, offer.end) == (shift.start, shift.end)]
        if not hours:
            found = f"{clock(shift.start)} to {clock(shift.end)}"
            allowed = " or ".join(f"{clock(offer.start)} to {clock(offer.end)}" for offer in offers)
            yield Finding("shift-offered", _of(shift), found, allowed or "no shift is offered")
            continue
        most = max(offer.overtime_minutes for offer in hours)
        if shift.overtime_minutes % OVERTIME_STEP or not 0 <= shift.overtime_minutes <= most:
            found = f"{shift.overtime_minutes} min of overtime"
            allowed = f"0 to {most} in steps of {OVERTIME_STEP}"
            yield Finding("shift-offered", _of(shift), found, allowed)


def nobody_has_two_shifts_on_a_day(case: Case) -> Iterator[Finding]:
    """Rule 29."""
    for person, day in repeated(case.plan.shifts, lambda shift: (shift.person, shift.day)):
        yield Finding("shift-offered", f"{day.isoformat()}, {person}", "more than one shift", "one")


def breaks_are_as_owed(case: Case) -> Iterator[Finding]:
    """Rule 30."""
    rules = case.farm.scenario.work_rules
    for shift in case.plan.shifts:
        present = shift.leaves - shift.start
        owed = rules.break_minutes(present)
        found = f"break of {shift.break_minutes} min"
        if shift.break_start is not None:
            found += f" at {clock(shift.break_start)}"
        if owed == 0:
            if shift.break_start is not None or shift.break_minutes != 0:
                yield Finding("break", _of(shift), found, f"none for {present} min")
            continue
        if shift.break_start is None or shift.break_minutes != owed:
            yield Finding("break", _of(shift), found, f"{owed} min for {present} min")
            continue
        if shift.break_start % STEP:
            yield Finding("break", _of(shift), found, f"a start in steps of {STEP} min")
        before = shift.break_start - shift.start
        after = shift.leaves - shift.break_start - owed
        longest = rules.longest_stretch_minutes
        if not (STEP <= before <= longest and STEP <= after <= longest):
            stretches = f"{before} min of work before and {after} after the break"
            yield Finding("break", _of(shift), stretches, f"{STEP} to {longest} min each")


def hours_of_a_week_stay_within_the_most(case: Case) -> Iterator[Finding]:
    """Rule 31: Monday to Sunday, from arriving to leaving."""
    minutes: dict[tuple[str, date], int] = defaultdict(int)
    for shift in case.plan.shifts:
        monday = shift.day - timedelta(days=shift.day.weekday())
        minutes[shift.person, monday] += shift.leaves - shift.start
    for (person, monday), total in sorted(minutes.items()):
        most = 60 * case.farm.people[person].hours_week
        if total > most + 1e-6:
            where = f"week of {monday.isoformat()}, {person}"
            yield Finding("hours-week", where, f"{total / 60:.2f} h", f"at most {most / 60:g} h")


def there_is_rest_between_two_days(case: Case) -> Iterator[Finding]:
    """Rule 32: from leaving on one day to arriving on the next."""
    least = case.farm.scenario.work_rules.rest_minutes
    for shift in case.plan.shifts:
        for later in case.shifts_on.get(shift.day + timedelta(days=1), []):
            rest = DAY_MINUTES + later.start - shift.leaves
            if later.person == shift.person and rest < least:
                found = f"{rest} min of rest, leaving at {clock(shift.leaves)}"
                yield Finding("rest", _of(later), found, f"at least {least} min")
