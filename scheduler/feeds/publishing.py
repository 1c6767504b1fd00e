"""A plan into the calendars of its kitchen: what changes, and for whom."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime

from scheduler.domain.scenario import Scenario, Situation
from scheduler.feeds.entry import KITCHEN, ORDERS, Entry, of_person, title
from scheduler.feeds.ics import calendar_text
from scheduler.feeds.messages import messages_of_change
from scheduler.feeds.revising import Revision, revise
from scheduler.feeds.store import Published, Store
from scheduler.feeds.trade import trade_entries
from scheduler.feeds.work import work_entries
from scheduler.plan_rows import Plan


@dataclass(frozen=True, slots=True)
class Changes:
    """How many entries come, change, or are off, and the feeds that are told of it."""

    new: int
    changed: int
    cancelled: int
    feeds: tuple[str, ...]

    def __str__(self) -> str:
        """``3 entries new, 2 changed, 1 cancelled, for Aoife and the kitchen``."""
        if not self.feeds:
            return "Nothing changes"
        *names, last = [title(feed) for feed in self.feeds]
        of = f"{', '.join(names)} and {last}" if names else last
        entries = "entry" if self.new == 1 else "entries"
        return f"{self.new} {entries} new, {self.changed} changed, {self.cancelled} cancelled, for {of}"


def feeds_of(scenario: Scenario) -> tuple[str, ...]:
    """Every feed of a kitchen: one for each person, the kitchen's, that of orders and deliveries."""
    return (*(of_person(person.name) for person in scenario.people), KITCHEN, ORDERS)


def known_feeds(scenario: Scenario, published: Published, linked: Iterable[str]) -> tuple[str, ...]:
    """Every feed of the kitchen, and those of people who have left that are published or linked still."""
    return tuple(dict.fromkeys((*feeds_of(scenario), *published.calendars, *linked)))


def entries_of(plan: Plan, scenario: Scenario) -> list[Entry]:
    """All entries of a plan, of every feed."""
    return [*work_entries(plan, scenario), *trade_entries(plan, scenario)]


def publish(plan: Plan, situation: Situation, store: Store, now: datetime) -> Changes:
    """Publish a plan, ``now`` being a time with its zone.

    The same plan again changes nothing, not a byte. Raises ValueError if the plan was not made from
    ``situation``, InputFaults if what was published before is damaged, OSError if the disk refuses.
    """
    before = store.published()
    after = _revised(before, plan, situation, store, now)
    scenario = situation.scenario
    feeds = dict.fromkeys((*feeds_of(scenario), *before.calendars))
    by_feed: dict[str, list[Revision]] = {feed: [] for feed in feeds}
    for revision in after:
        by_feed.setdefault(revision.entry.feed, []).append(revision)
    texts = {
        feed: calendar_text(feed, revisions, scenario.farm, scenario.time_zone).decode()
        for feed, revisions in by_feed.items()
    }
    told = messages_of_change(before.revisions, after, scenario.farm)
    published = Published(after, texts, scenario.farm, scenario.time_zone, {**before.messages, **told})
    if published != before:
        store.write(published)
    return _changes(before.revisions, after)


def would_change(plan: Plan, situation: Situation, store: Store) -> Changes:
    """What ``publish`` would change; raises as it does."""
    before = store.published()
    return _changes(before.revisions, _revised(before, plan, situation, store, datetime.now(UTC)))


def _revised(
    before: Published, plan: Plan, situation: Situation, store: Store, now: datetime
) -> tuple[Revision, ...]:
    if plan.input_hash != situation.input_hash:
        raise ValueError("the plan was made from other input than this situation")
    scenario, second = situation.scenario, now.astimezone(UTC).replace(microsecond=0)
    dates = scenario.dates()
    entries = entries_of(plan, scenario)
    return revise(before.revisions, entries, dates[0], dates[-1], second, store.kitchen_id)


def _changes(before: Iterable[Revision], after: Iterable[Revision]) -> Changes:
    old = {each.uid: each for each in before}
    new = [each for each in after if each.uid not in old]
    other = [each for each in after if each.uid in old and each != old[each.uid]]
    off = sum(each.cancelled for each in other)
    feeds = dict.fromkeys(each.entry.feed for each in (*new, *other))
    return Changes(len(new), len(other) - off, off, tuple(feeds))
