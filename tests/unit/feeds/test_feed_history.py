"""Who keeps a UID, whose SEQUENCE is raised: the history of entries from plan to plan."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from scheduler.feeds.entry import Entry
from scheduler.feeds.publishing import Changes, publish, would_change
from scheduler.feeds.revising import HISTORY, Revision, revise
from scheduler.feeds.store import Store
from scheduler.plan_rows import Plan
from tests.unit.feeds.entries import LATER, MONDAY, NOW, entry
from tests.unit.views import kilbrack_sample as sample

DAY = timedelta(days=1)


def first(*entries: Entry) -> tuple[Revision, ...]:
    return revise((), entries, MONDAY, MONDAY, NOW, "kilbrack")


def again(
    before: Sequence[Revision], *entries: Entry, start: date = MONDAY, end: date = MONDAY
) -> tuple[Revision, ...]:
    return revise(before, entries, start, end, LATER, "kilbrack")


def sequences(revisions: Sequence[Revision]) -> dict[str, int]:
    return {each.uid: each.sequence for each in revisions}


def test_nothing_changes_where_nothing_did() -> None:
    before = first(entry(), entry(work="other"))
    assert again(before, entry(work="other"), entry()) == before


@pytest.mark.parametrize(
    "change",
    [{"start": 555, "end": 615}, {"place": "little one"}, {"description": "Boil longer."}, {"alarm": None}],
    ids=["moved", "other pan", "other words", "no alarm"],
)
def test_work_that_changed_is_the_same_event_one_later(change: dict[str, object]) -> None:
    (old,) = first(entry())
    (new,) = again((old,), entry(**change))
    assert new == Revision(entry(**change), old.uid, 1, NOW, LATER)


def test_work_on_another_day_or_of_another_person_is_another_event() -> None:
    (old,) = first(entry())
    found = again((old,), entry(feed="person Brendan"))
    assert {(each.uid == old.uid, each.cancelled) for each in found} == {(True, True), (False, False)}


def test_removed_work_is_cancelled_once_and_comes_back_as_itself() -> None:
    (old,) = first(entry())
    gone = again((old,))
    assert [(each.uid, each.sequence, each.cancelled) for each in gone] == [(old.uid, 1, True)]
    assert again(gone) == gone
    (back,) = again(gone, entry())
    assert (back.uid, back.sequence, back.cancelled) == (old.uid, 2, False)


def test_the_first_of_three_alike_taken_away_leaves_the_others_alone() -> None:
    three = [entry(start=at, end=at + 60, place=pan) for at, pan in ((480, "a"), (600, "b"), (720, "c"))]
    before = first(*three)
    after = again(before, *three[1:])
    changed = [each for each in after if each not in before]
    assert [(each.entry, each.cancelled) for each in changed] == [(three[0], True)]


def test_of_two_alike_that_move_each_keeps_its_pan() -> None:
    early, late = entry(place="a"), entry(place="b", start=700, end=760)
    uid = {each.entry.place: each.uid for each in first(early, late)}
    after = again(first(early, late), replace(early, start=800, end=860), replace(late, start=480, end=540))
    assert {each.entry.place: each.uid for each in after} == uid


def test_a_plan_speaks_for_its_own_days() -> None:
    before = revise((), [entry(day=MONDAY + n * DAY) for n in range(4)], MONDAY, MONDAY + 3 * DAY, NOW, "k")
    after = again(before, start=MONDAY + DAY, end=MONDAY + 2 * DAY)
    assert [each.cancelled for each in after] == [False, True, True, False]


def test_what_is_long_past_is_shown_no_more() -> None:
    before = first(entry())
    edge = MONDAY + HISTORY
    assert again(before, start=edge, end=edge) == before
    assert again(before, start=edge + DAY, end=edge + DAY) == ()


def test_a_lost_history_finds_the_same_uids() -> None:
    entries = [entry(start=at, end=at + 60) for at in (480, 600)]
    assert sequences(first(*entries)) == sequences(again((), *entries))


ALIKE = st.builds(
    lambda work, place, start: entry(work=work, place=place, start=start, end=start + 60),
    st.sampled_from(["a", "b"]), st.sampled_from(["x", "y"]), st.integers(0, 20).map(lambda n: 15 * n),
)  # fmt: skip


@given(st.lists(ALIKE, max_size=8, unique=True), st.lists(ALIKE, max_size=8, unique=True))
def test_the_new_plan_is_what_is_told_and_no_more_changes_than_must(
    old: list[Entry], new: list[Entry]
) -> None:
    before = first(*old)
    after = again(before, *new)
    key = repr
    assert sorted((each.entry for each in after if not each.cancelled), key=key) == sorted(new, key=key)
    assert len({each.uid for each in after}) == len(after)
    assert {each.uid for each in before} <= {each.uid for each in after}
    told, same = sequences(before), set(old) & set(new)
    kept = [each for each in after if told.get(each.uid) == each.sequence]
    assert {each.entry for each in kept} == same
    raised = [each for each in after if each.uid in told and each not in kept]
    assert all(each.sequence == told[each.uid] + 1 and each.changed == LATER for each in raised)
    # A new event is only made where none of the old plan is left over for it.
    fresh = [each for each in after if each.uid not in told]
    for work in ("a", "b"):
        olds, news = (sum(each.work == work for each in side) for side in (old, new))
        assert sum(each.entry.work == work for each in fresh) == max(0, news - olds)


def three_changed(plan: Plan) -> Plan:
    """Three shifts end half an hour later."""
    longer = [replace(shift, end=shift.end + 30) for shift in plan.shifts[:3]]
    return replace(plan, shifts=(*longer, *plan.shifts[3:]))


def test_a_plan_that_changes_three_events_raises_three_sequences_and_no_other(tmp_path: Path) -> None:
    store = Store(tmp_path, "kilbrack")
    publish(sample.plan(), sample.situation(), store, NOW)
    before = store.published()
    other = three_changed(sample.plan())
    foretold = would_change(other, sample.situation(), store)
    assert store.published() == before
    changes = publish(other, sample.situation(), store, LATER)
    after = store.published()
    assert changes == foretold == Changes(0, 3, 0, changes.feeds)
    assert len(changes.feeds) == 3
    told = sequences(before.revisions)
    moved = {uid: now for uid, now in sequences(after.revisions).items() if now != told[uid]}
    assert list(moved.values()) == [1, 1, 1]
    assert set(told) == set(sequences(after.revisions))
    # Calendars of those whom nothing concerns stay as they were, to the byte.
    same = {feed for feed, text in before.calendars.items() if after.calendars[feed] == text}
    assert same == set(before.calendars) - set(changes.feeds)


def test_a_batch_less_cancels_its_work_and_touches_no_other_batch(tmp_path: Path) -> None:
    plan, store = sample.plan(), Store(tmp_path, "kilbrack")
    publish(plan, sample.situation(), store, NOW)
    before = {each.uid: each for each in store.published().revisions}
    gone = plan.batches[0]
    rest = replace(
        plan,
        batches=tuple(each for each in plan.batches if each != gone),
        stages=tuple(each for each in plan.stages if each.batch != gone.id),
        # The others keep what they take of the mix.
        mixes=tuple(
            replace(mix, fresh_kg=mix.fresh_kg / 3)
            if (mix.day, mix.recipe) == (gone.day, gone.recipe)
            else mix
            for mix in plan.mixes
        ),
    )
    changes = publish(rest, sample.situation(), store, LATER)
    assert (changes.new, changes.changed) == (0, 0)
    off = [each for each in store.published().revisions if each != before[each.uid]]
    assert len(off) == changes.cancelled > 4
    assert all(each.cancelled and each.entry.day == gone.day for each in off)
    assert {each.entry.place for each in off} == {gone.pan}


def test_the_same_plan_published_again_writes_nothing(tmp_path: Path) -> None:
    store = Store(tmp_path, "kilbrack")
    publish(sample.plan(), sample.situation(), store, NOW)
    file = store.folder / "published.json"
    written = file.stat().st_ino, file.read_bytes()
    assert publish(sample.plan(), sample.situation(), store, LATER) == Changes(0, 0, 0, ())
    assert (file.stat().st_ino, file.read_bytes()) == written


def test_a_plan_of_other_input_is_not_published(tmp_path: Path) -> None:
    other = replace(sample.plan(), input_hash="0" * 64)
    with pytest.raises(ValueError, match="other input"):
        publish(other, sample.situation(), Store(tmp_path, "kilbrack"), NOW)
