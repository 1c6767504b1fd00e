"""Calendars to a real server (Radicale): only differences, and nothing of others."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from scheduler.feeds.dav import Server
from scheduler.feeds.dav_settings import DavServer
from scheduler.feeds.entry import KITCHEN, ORDERS
from scheduler.feeds.publishing import publish
from scheduler.feeds.revising import HISTORY, revise
from scheduler.feeds.sending import NAMED_AT_MOST, send
from scheduler.feeds.store import Published, Store
from tests.calendar_server import PASSWORD, USER, Radicale
from tests.unit.feeds.entries import AOIFE, LATER, MONDAY, NOW, entry
from tests.unit.feeds.reading import by_icalendar, by_vobject
from tests.unit.feeds.sent_week import FOREIGN, WEEK, ZONE, counts, go, plan
from tests.unit.views import kilbrack_sample as sample


def test_what_is_read_back_is_the_feed_by_two_parsers(radicale_: Radicale, store: Store) -> None:
    publish(sample.plan(), sample.situation(), store, NOW)
    published = store.published()
    chosen = {AOIFE: "aoife", KITCHEN: "kitchen", ORDERS: "orders"}
    to = DavServer(radicale_.url, {}, USER, PASSWORD)
    outcomes = send(chosen, published, store, Server(to))
    assert [each.well for each in outcomes] == [True] * 3
    for feed, name in chosen.items():
        texts = radicale_.events(name).values()
        for parse in (by_icalendar, by_vobject):
            assert sorted(event for text in texts for event in parse(text)) == parse(
                published.calendars[feed]
            )


def test_the_same_again_sends_nothing(radicale_: Radicale, store: Store) -> None:
    published = plan(*WEEK)
    assert counts(go(radicale_, published, store)) == (12, 0, 0)
    written = radicale_.written()
    again = go(radicale_, published, store)
    assert counts(again) == (0, 0, 0)
    assert radicale_.written() == written
    assert radicale_.asked["GET"] == 0
    assert again.lines() == ["Aoife: the server has it all"]


def test_a_new_plan_that_moves_three_writes_those_three(radicale_: Radicale, store: Store) -> None:
    first = plan(*WEEK)
    go(radicale_, first, store)
    before, puts = radicale_.events("aoife"), radicale_.asked["PUT"]
    moved = [
        replace(each, start=each.start + 15) if each.work == "cook" else each for each in WEEK if each.start
    ]
    moved[-2] = WEEK[-2]
    second = plan(*moved, before=first)
    outcome = go(radicale_, second, store)
    assert counts(outcome) == (0, 3, 0)
    assert radicale_.asked["PUT"] - puts == 3
    after = radicale_.events("aoife")
    assert len([name for name in before if before[name] != after[name]]) == 3
    assert outcome.lines() == ["Aoife: 0 events new, 3 changed, 0 removed"]


def test_what_is_off_says_cancelled_and_what_is_long_gone_is_removed(
    radicale_: Radicale, store: Store
) -> None:
    first = plan(*WEEK)
    go(radicale_, first, store)
    second = plan(*WEEK[1:], before=first)
    assert counts(go(radicale_, second, store)) == (0, 1, 0)
    assert sum("STATUS:CANCELLED" in text for text in radicale_.events("aoife").values()) == 1
    later = MONDAY + HISTORY + timedelta(days=1)
    third = replace(second, revisions=revise(second.revisions, (), later, later, LATER, "kilbrack"))
    assert counts(go(radicale_, third, store)) == (0, 0, 3)
    assert len(radicale_.events("aoife")) == 9


def test_each_calendar_has_a_collection_of_its_own(radicale_: Radicale, store: Store) -> None:
    revisions = plan(*WEEK, entry(feed=KITCHEN)).revisions
    to = Server(DavServer(radicale_.url, {}, USER, PASSWORD))
    send({AOIFE: "aoife", KITCHEN: "kitchen"}, Published(revisions, {}, "Kilbrack", ZONE), store, to)
    assert (len(radicale_.events("aoife")), len(radicale_.events("kitchen"))) == (12, 1)
    shown = b"<propfind xmlns='DAV:'><prop><displayname/></prop></propfind>"
    assert b"The kitchen" not in (said := radicale_.ask("PROPFIND", "kitchen/", shown, Depth="0"))
    assert b"the kitchen, Kilbrack" in said


def test_names_of_any_kind_come_back_as_they_are(radicale_: Radicale, store: Store) -> None:
    odd = entry(
        summary='<b>Jam</b> & "more", crème; 🍓\\n',
        description="a, b; c\n\n🫙 \\ <script>",
        location="ring 1, left; 🔥",
    )
    published = plan(odd)
    assert go(radicale_, published, store).well
    (text,) = radicale_.events("aoife").values()
    for parse in (by_icalendar, by_vobject):
        (seen,) = parse(text)
        assert (seen.summary, seen.description, seen.location) == (odd.summary, odd.description, odd.location)
    written = radicale_.written()
    go(radicale_, published, store)
    assert radicale_.written() == written


# What others wrote


def test_an_event_of_somebody_else_stays(radicale_: Radicale, store: Store) -> None:
    first = plan(*WEEK)
    go(radicale_, first, store)
    radicale_.ask("PUT", "aoife/dentist.ics", FOREIGN.encode(), Content_Type="text/calendar")
    kept = radicale_.events("aoife")["dentist.ics"]
    outcome = go(radicale_, plan(before=first), store)
    assert counts(outcome) == (0, 12, 0)
    assert outcome.theirs == []
    assert radicale_.events("aoife")["dentist.ics"] == kept


def theirs(server: Radicale, published: Published, said: str) -> str:
    """Somebody else writes other words into the first event; its name there."""
    name = f"{published.revisions[0].uid}.ics"
    server.ask(
        "PUT", f"aoife/{name}", server.events("aoife")[name].replace("SUMMARY:", f"SUMMARY:{said} ").encode()
    )
    return name


def test_what_somebody_changed_is_told_and_stays_until_ours_changes(
    radicale_: Radicale, store: Store
) -> None:
    first = plan(*WEEK)
    go(radicale_, first, store)
    name = theirs(radicale_, first, "Mine:")
    written = radicale_.written()
    for _ in range(2):
        outcome = go(radicale_, first, store)
        assert outcome.well
        (told,) = outcome.theirs
        assert "Mon 6 Jul: changed there by somebody; it stays so" in told
    assert radicale_.written() == written
    assert "SUMMARY:Mine:" in radicale_.events("aoife")[name]
    was = first.revisions[0].entry
    second = plan(*(replace(each, summary="New") if each == was else each for each in WEEK), before=first)
    outcome = go(radicale_, second, store)
    assert counts(outcome) == (0, 1, 0)
    assert "stands now" in outcome.theirs[0]
    assert "SUMMARY:New" in radicale_.events("aoife")[name]
    assert go(radicale_, second, store).theirs == []


def test_an_alarm_that_somebody_put_off_is_no_change(radicale_: Radicale, store: Store) -> None:
    published = plan(*WEEK)
    go(radicale_, published, store)
    name = f"{published.revisions[0].uid}.ics"
    text = radicale_.events("aoife")[name]
    radicale_.ask("PUT", f"aoife/{name}", text.replace("END:VEVENT", "X-PUT-OFF:1\r\nEND:VEVENT").encode())
    outcome = go(radicale_, published, store)
    assert (counts(outcome), outcome.theirs) == ((0, 0, 0), [])
    reads = radicale_.asked["GET"]
    go(radicale_, published, store)
    assert radicale_.asked["GET"] == reads  # it is known by now


def test_what_somebody_removed_stays_away_until_ours_changes(radicale_: Radicale, store: Store) -> None:
    first = plan(*WEEK)
    go(radicale_, first, store)
    was = first.revisions[0]
    radicale_.ask("DELETE", f"aoife/{was.uid}.ics")
    outcome = go(radicale_, first, store)
    assert counts(outcome) == (0, 0, 0)
    assert "removed there by somebody" in outcome.theirs[0]
    second = plan(
        *(replace(each, summary="New") if each == was.entry else each for each in WEEK), before=first
    )
    assert counts(go(radicale_, second, store)) == (1, 0, 0)


def test_a_collection_that_is_gone_is_made_and_filled_again(radicale_: Radicale, store: Store) -> None:
    published = plan(*WEEK)
    go(radicale_, published, store)
    radicale_.ask("DELETE", "aoife/")
    assert counts(go(radicale_, published, store)) == (12, 0, 0)
    assert len(radicale_.events("aoife")) == 12


def test_many_changes_of_others_are_counted_not_listed(radicale_: Radicale, store: Store) -> None:
    published = plan(*WEEK)
    go(radicale_, published, store)
    for each in published.revisions:
        radicale_.ask("DELETE", f"aoife/{each.uid}.ics")
    lines = go(radicale_, published, store).lines()
    assert len(lines) == 1 + NAMED_AT_MOST + 1
    assert lines[-1] == "And 7 more that somebody changed there."


def test_who_writes_at_the_same_moment_is_not_written_over(radicale_: Radicale, store: Store) -> None:
    first = plan(WEEK[0])
    go(radicale_, first, store)
    second = plan(replace(WEEK[0], summary="New"), before=first)
    radicale_.answers["PUT"] = [lambda: theirs(radicale_, first, "Mine:") and None]
    outcome = go(radicale_, second, store)
    assert counts(outcome) == (0, 0, 0)
    assert "just now; send once more" in outcome.theirs[0]
    (text,) = radicale_.events("aoife").values()
    assert "SUMMARY:Mine:" in text
    assert counts(go(radicale_, second, store)) == (0, 1, 0)


def test_a_lost_note_of_what_was_sent_sends_nothing_twice(radicale_: Radicale, store: Store) -> None:
    first = plan(*WEEK)
    go(radicale_, first, store)
    (store.folder / "sent.json").unlink()
    written = radicale_.written()
    assert counts(go(radicale_, first, store)) == (0, 0, 0)
    assert radicale_.written() == written
    (store.folder / "sent.json").unlink()
    second = plan(*(replace(each, summary="New") for each in WEEK), before=first)
    assert counts(go(radicale_, second, store)) == (0, 12, 0)
