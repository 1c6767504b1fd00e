"""What each person is told of a plan that was published anew: what changed for them, and nothing else."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from scheduler.feeds.entry import KITCHEN, Entry, of_person
from scheduler.feeds.messages import messages_of_change
from scheduler.feeds.publishing import publish
from scheduler.feeds.revising import revise
from scheduler.feeds.store import Store
from tests.unit.feeds.entries import AOIFE, LATER, MONDAY, NOW, entry
from tests.unit.views import kilbrack_sample as sample

JAM = "Cook: S strawberry jam"
COOK = f"{JAM} (big copper, front left)"
TUESDAY = MONDAY + timedelta(days=1)


def shift(**changes: object) -> Entry:
    usual: dict[str, object] = {
        "work": "shift", "place": "", "start": 480, "end": 750, "summary": "In the kitchen, Kilbrack",
        "location": "Kilbrack", "category": "shift",
    }  # fmt: skip
    return entry(**usual | changes)


def told(before: Sequence[Entry], after: Sequence[Entry], feed: str = AOIFE) -> list[str]:
    """The lines of a feed's message below its first; none where there is no message."""
    old = revise((), before, MONDAY, TUESDAY, NOW, "kilbrack")
    new = revise(old, after, MONDAY, TUESDAY, LATER, "kilbrack")
    message = messages_of_change(old, new, "Kilbrack").get(feed)
    if message is None:
        return []
    assert message.changed == LATER
    lines = message.text.splitlines()
    assert lines[0].startswith(
        "Aoife, Kilbrack: the plan has changed for you" if before else "Aoife, Kilbrack: "
    )
    return [line for line in lines[1:-1] if line]


@pytest.mark.parametrize(
    ("after", "lines"),
    [
        ([shift(), entry()], []),
        (
            [shift(), entry(start=555, end=615)],
            ["Mon 6 Jul", f"- Moved: 09:15 to 10:15 (before: 09:00 to 10:00), {COOK}"],
        ),
        (
            [shift(), entry(place="steel", location="steel, right")],
            ["Mon 6 Jul", f"- Moved: 09:00 to 10:00, {JAM} (steel, right) (before: big copper, front left)"],
        ),
        (
            [shift(), entry(description="With Noel.")],
            ["Mon 6 Jul", f"- Changed: 09:00 to 10:00, {COOK}: how it is done, or with whom"],
        ),
        ([shift()], ["Mon 6 Jul", f"- Off: 09:00 to 10:00, {COOK}"]),
        (
            [shift(), entry(), entry(work="jars", summary="Jars: S strawberry jam", start=660, end=675)],
            ["Mon 6 Jul", "- New: 11:00 to 11:15, Jars: S strawberry jam (big copper, front left)"],
        ),
        (
            [shift(end=780), entry()],
            ["Mon 6 Jul", "- Moved: 08:00 to 13:00 (before: 08:00 to 12:30), In the kitchen, Kilbrack"],
        ),
        ([], ["Mon 6 Jul", "- Off: 08:00 to 12:30, In the kitchen, Kilbrack"]),
        (
            [shift(), entry(), shift(day=TUESDAY), entry(day=TUESDAY)],
            ["Tue 7 Jul", "- New: 08:00 to 12:30, In the kitchen, Kilbrack"],
        ),
    ],
    ids=["nothing", "later", "other pan", "other words", "off", "new", "longer", "day off", "new day"],
)  # fmt: skip
def test_a_message_names_what_changed_and_nothing_else(after: list[Entry], lines: list[str]) -> None:
    assert told([shift(), entry()], after) == lines


def test_the_first_plan_is_told_by_its_shifts() -> None:
    lines = told([], [shift(), entry(), shift(day=TUESDAY, start=540)])
    assert lines == ["Mon 6 Jul", "- 08:00 to 12:30", "Tue 7 Jul", "- 09:00 to 12:30"]


def test_what_was_off_and_is_back_is_new() -> None:
    first = revise((), [shift(), entry()], MONDAY, MONDAY, NOW, "kilbrack")
    off = revise(first, [shift()], MONDAY, MONDAY, LATER, "kilbrack")
    back = revise(off, [shift(), entry()], MONDAY, MONDAY, LATER + timedelta(hours=1), "kilbrack")
    assert "- New: 09:00 to 10:00, Cook" in messages_of_change(off, back, "Kilbrack")[AOIFE].text
    assert messages_of_change(off, off, "Kilbrack") == {}


def test_only_people_are_told_and_only_those_it_is_about() -> None:
    before = [shift(), entry(feed=KITCHEN), entry(feed=of_person("Noel"))]
    after = [shift(), entry(feed=KITCHEN, start=570), entry(feed=of_person("Noel"), start=570)]
    assert told(before, after) == []
    old = revise((), before, MONDAY, MONDAY, NOW, "kilbrack")
    new = revise(old, after, MONDAY, MONDAY, LATER, "kilbrack")
    assert list(messages_of_change(old, new, "Kilbrack")) == [of_person("Noel")]


def test_messages_are_published_with_the_calendars_and_stay_till_the_next_change(tmp_path: Path) -> None:
    store = Store(tmp_path, "kilbrack")
    plan, situation = sample.plan(), sample.situation()
    publish(plan, situation, store, NOW)
    first = store.published().messages
    assert list(first) == [of_person(name) for name in ("Aoife", "Declan", "Maeve", "Noel")]
    later = tuple(replace(each, end=each.end + 30) if each.person == "Noel" else each for each in plan.shifts)
    publish(replace(plan, shifts=later), situation, store, LATER)
    second = store.published().messages
    assert second["person Aoife"] == first["person Aoife"]
    assert second["person Noel"].changed == LATER
    assert "08:00 to 17:00 (before: 08:00 to 16:30)" in second["person Noel"].text
    publish(replace(plan, shifts=later), situation, store, LATER + timedelta(hours=1))
    assert store.published().messages == second


def test_what_was_published_before_there_were_messages_still_reads(tmp_path: Path) -> None:
    store = Store(tmp_path, "kilbrack")
    publish(sample.plan(), sample.situation(), store, NOW)
    file = store.folder / "published.json"
    raw = json.loads(file.read_text(encoding="utf-8"))
    for key in ("farm", "time_zone", "messages"):
        del raw[key]
    file.write_text(json.dumps(raw), encoding="utf-8")
    found = store.published()
    assert (found.farm, found.time_zone, found.messages) == ("", "Etc/UTC", {})
    assert len(found.revisions) == len(raw["revisions"])
