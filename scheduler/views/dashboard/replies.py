"""Part of page "Who does what": who knows the plan, when people can and cannot come, what to tell them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import streamlit as st

from scheduler.drafts import shifts
from scheduler.drafts.draft import Draft
from scheduler.drafts.shifts import Offer
from scheduler.errors import CannotKeep, FilesChanged, InputFaults
from scheduler.feeds.entry import is_person, of_person, title
from scheduler.feeds.store import Published, Store
from scheduler.languages import message, say, spoken
from scheduler.people_pages.answers import Answers, Asked, Kind, State, Wish
from scheduler.people_pages.days import moment, newest
from scheduler.people_pages.mail import Fate, PostBook, digest_of
from scheduler.views import words
from scheduler.views.dashboard import parts
from scheduler.views.dashboard.state import Shown

_SAID = "said of an answer"
_OTHER_DAY = message("This day is none of this scenario: open the one that plans it to accept.")
_LEFT = message("Who said so is not in people.csv of this scenario.")
_FATES = {
    Fate.SENT: message("Sent by mail."),
    Fate.FAILED: message("Could not be sent by mail."),
    Fate.SENDING: message("May have been sent by mail; ask."),
}


def show(shown: Shown) -> None:
    """Draw the part, once something was published; it needs no plan of the scenario as it is now."""
    if told := st.session_state.pop(_SAID, None):
        parts.note(*told)
    store = Store(shown.home, shown.scenario.kitchen_id)
    try:
        published = store.published()
        if not published.calendars:
            return
        answers = Answers(store.folder)
        st.subheader(say("What people say"))
        _who_knows(shown, published, answers, store)
        _wishes(shown, answers)
        _messages(shown, published, PostBook(store.folder))
    except InputFaults:
        return  # the calendars above say so
    except CannotKeep as error:
        parts.note(say("What people say cannot be read."), [f"{error}."], "bad")


def _who_knows(shown: Shown, published: Published, answers: Answers, store: Store) -> None:
    seen, linked = answers.seen(), store.linked()
    zone = ZoneInfo(published.time_zone)
    found = []
    for person in shown.scenario.people:
        feed = of_person(person.name)
        now, knows = newest(feed, published.revisions), seen.get(feed)
        if now is None:
            said = say("is in no plan that was published")
        elif knows is not None and knows >= now:
            said = say("knows the plan")
        elif knows is not None:
            said = say("knows an earlier plan")
        else:
            said = (
                say("has not answered yet") if feed in linked else say("has no page: make an address above")
            )
        at = moment(now, zone).replace(" ", "\u00a0") if now else ""
        small = say("last changed for them on {moment}", moment=at) if now else ""
        found.append((person.name, said, small))
    parts.rows(found)


def _wishes(shown: Shown, answers: Answers) -> None:
    """Wishes that wait, each with what accepting it would do; and those of days to come that are settled."""
    today = datetime.now(ZoneInfo(shown.scenario.time_zone)).date()
    asked = [each for each in answers.asked() if each.wish.day >= today]
    waiting = [each for each in asked if each.state is State.OPEN]
    st.caption(say("Nothing waits for your answer.") if not waiting else say("Waiting for your answer:"))
    for each in waiting:
        _one(each, shown, answers)
    settled = [each for each in asked if each.state is not State.OPEN]
    if settled:
        with st.expander(say("Answered")):
            parts.rows((title(each.feed), _said_of(each.wish), spoken(each.state)) for each in settled)


def _one(each: Asked, shown: Shown, answers: Answers) -> None:
    person, wish = title(each.feed), each.wish
    before = _offered(shown, person, wish.day)
    effect = shifts.told(before, _after(each, before))
    note = f": “{wish.note}”" if wish.note else ""
    parts.rows([(person, f"{_said_of(wish)}{note}", say("Accepting {effect}.", effect=effect))])
    known = any(one.name == person for one in shown.scenario.people)
    can_be = known and wish.day in shown.scenario.dates()
    with st.container(horizontal=True):
        st.button(
            say("Accept"), key=f"accept {each.id}", type="primary", disabled=not can_be,
            on_click=_accept, args=(each, shown, answers),
        )  # fmt: skip
        st.button(say("Decline"), key=f"decline {each.id}", on_click=_decline, args=(each, answers))
    if not can_be:
        st.caption(spoken(_OTHER_DAY if known else _LEFT))


def _said_of(wish: Wish) -> str:
    """``cannot come on Wed 8 Jul``, with the hours where it is not of a whole day."""
    when = words.day_name(wish.day)
    if not wish.whole_day:
        hours = say("{first} to {last}", first=words.clock(wish.start), last=words.clock(wish.end))
        when = f"{when}, {hours}"
    return (
        say("can come on {when}", when=when)
        if wish.kind is Kind.CAN
        else say("cannot come on {when}", when=when)
    )


def _offered(shown: Shown, person: str, day: date) -> list[Offer]:
    return [
        Offer(shift.start, shift.end, shift.overtime_minutes)
        for shift in shown.scenario.shifts
        if (shift.person, shift.day) == (person, day)
    ]


def _after(each: Asked, before: Sequence[Offer]) -> list[Offer]:
    """The shifts of the day once a wish is accepted."""
    change: Callable[[Sequence[Offer], int, int], list[Offer]] = (
        shifts.with_offer if each.wish.kind is Kind.CAN else shifts.without
    )
    return change(before, each.wish.start, each.wish.end)


def _accept(each: Asked, shown: Shown, answers: Answers) -> None:
    """First into the shifts, then into the answers: done twice, it comes to the same."""
    draft, person, day = Draft(shown.folder), title(each.feed), each.wish.day
    try:
        before = shifts.offers(draft, person, day)
        shifts.put(draft, person, day, _after(each, before))
        kept = draft.save(datetime.now())
        answers.settle(each.id, State.ACCEPTED, datetime.now(UTC))
    except InputFaults as error:
        _say(say("It cannot be accepted as it is."), [str(fault) for fault in error.faults], "bad")
    except FilesChanged as error:
        _say(say("The scenario was changed meanwhile. Try again."), [str(error)], "bad")
    except CannotKeep as error:
        _say(say("It could not be noted. Try again."), [f"{error}."], "bad")
    except OSError as error:
        _say(
            say("The shifts could not be written."),
            [say("{reason}. Is there room on the disk?", reason=error.strerror)],
            "bad",
        )
    else:
        where = [say("What was there before is kept in {kept}.", kept=kept)] if kept else []
        lines = [*where, say("Plan again, then publish: phones have the earlier plan till then.")]
        _say(
            say("Accepted: {person} {wish}.", person=person, wish=_said_of(each.wish)),
            lines if kept else [],
            "good",
        )


def _decline(each: Asked, answers: Answers) -> None:
    try:
        answers.settle(each.id, State.DECLINED, datetime.now(UTC))
    except CannotKeep as error:
        _say(say("It could not be noted. Try again."), [f"{error}."], "bad")
    else:
        _say(
            say("Declined: {title} {wish}.", title=title(each.feed), wish=_said_of(each.wish)),
            [say("Their page says so. Speak with them, too.")],
            "",
        )


def _say(title_: str, lines: list[str], tone: str) -> None:
    st.session_state[_SAID] = title_, lines, tone


def _messages(shown: Shown, published: Published, post: PostBook) -> None:
    """What to tell each person of the last change for them, ready to be copied."""
    feeds = [feed for feed in published.messages if is_person(feed)]
    if not feeds:
        return
    st.subheader(say("Messages of change"))
    feed = st.selectbox(say("Message for"), feeds, format_func=title, key="message")
    message = published.messages[feed]
    st.code(message.text, language=None, wrap_lines=True)
    at = moment(message.changed, ZoneInfo(shown.scenario.time_zone))
    fate = post.fate(digest_of(feed, message))
    told = f" {spoken(_FATES[fate])}" if fate else ""
    st.caption(say("Of the publishing on {at}.", at=at) + told)
