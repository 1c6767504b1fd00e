"""Calendar files as wishes: published examples, zones and whole days, and what is refused."""

from __future__ import annotations

from datetime import date, timedelta
from zoneinfo import ZoneInfo

import pytest

from scheduler.people_pages.answers import Kind, Wish
from scheduler.people_pages.calendar_file import MOST_BYTES, NOTE, wishes_in
from scheduler.people_pages.forms import Refused
from scheduler.people_pages.times_in import Reader
from scheduler.people_pages.times_in import Refused as Unread
from tests.unit.feeds.entries import MONDAY
from tests.unit.people_pages.calendar_texts import calendar, event

NEW_YORK, DUBLIN = "America/New_York", "Europe/Dublin"
SUNDAY = MONDAY + timedelta(days=6)
Found = dict[str, list[tuple[str, int, int]]]


def read(text: bytes, zone: str = DUBLIN, first: date = MONDAY, last: date = SUNDAY) -> Found:
    return Reader(ZoneInfo(zone), first, last).read(text)


def of_year(year: int, text: bytes, zone: str = NEW_YORK) -> Found:
    return read(text, zone, date(year, 1, 1), date(year, 12, 31))


def days(found: Found, kind: str = "busy") -> list[tuple[int, int]]:
    """Month and day of each span."""
    return [(int(day[5:7]), int(day[8:])) for day, _, _ in found[kind]]


# RFC 5545, 3.8.5.3: the examples of rules, each with the days that the standard lists for it, from the first.
# All begin at 09:00 in New York, and stay there when summer time ends on 26 October 1997.
RULES = {
    "daily for 10 occurrences": ("FREQ=DAILY;COUNT=10", [(9, day) for day in range(2, 12)]),
    "every 10 days, 5 occurrences": (
        "FREQ=DAILY;INTERVAL=10;COUNT=5", [(9, 2), (9, 12), (9, 22), (10, 2), (10, 12)],
    ),
    "weekly for 10 occurrences": (
        "FREQ=WEEKLY;COUNT=10",
        [(9, 2), (9, 9), (9, 16), (9, 23), (9, 30), (10, 7), (10, 14), (10, 21), (10, 28), (11, 4)],
    ),
    "weekly on Tuesday and Thursday for five weeks": (
        "FREQ=WEEKLY;UNTIL=19971007T000000Z;WKST=SU;BYDAY=TU,TH",
        [(9, 2), (9, 4), (9, 9), (9, 11), (9, 16), (9, 18), (9, 23), (9, 25), (9, 30), (10, 2)],
    ),
    "every other week on Tuesday and Thursday, for 8 occurrences": (
        "FREQ=WEEKLY;INTERVAL=2;COUNT=8;WKST=SU;BYDAY=TU,TH",
        [(9, 2), (9, 4), (9, 16), (9, 18), (9, 30), (10, 2), (10, 14), (10, 16)],
    ),
    "the third to the last day of the month": (
        "FREQ=MONTHLY;BYMONTHDAY=-3", [(9, 28), (10, 29), (11, 28), (12, 29)],
    ),
    "every Tuesday, every other month": (
        "FREQ=MONTHLY;INTERVAL=2;BYDAY=TU",
        [(9, 2), (9, 9), (9, 16), (9, 23), (9, 30), (11, 4), (11, 11), (11, 18), (11, 25)],
    ),
    "the third instance of Tuesday, Wednesday or Thursday": (
        "FREQ=MONTHLY;COUNT=3;BYDAY=TU,WE,TH;BYSETPOS=3", [(9, 4), (10, 7), (11, 6)],
    ),
}  # fmt: skip


@pytest.mark.parametrize("rule", RULES)
def test_rules_repeat_as_the_standard_says(rule: str) -> None:
    text, wanted = RULES[rule]
    start = f"1997{wanted[0][0]:02d}{wanted[0][1]:02d}"
    begins = (f"DTSTART;TZID={NEW_YORK}:{start}T090000", f"DTEND;TZID={NEW_YORK}:{start}T100000")
    found = of_year(1997, calendar(event(*begins, f"RRULE:{text}")))
    assert days(found) == wanted
    assert {(start, end) for _, start, end in found["busy"]} == {(540, 600)}


def test_a_day_that_a_month_has_not_is_left_out() -> None:
    # RFC 5545, 3.8.5.3: "an invalid date (i.e., February 30) is ignored".
    text = event(
        f"DTSTART;TZID={NEW_YORK}:20070115T090000",
        "DURATION:PT1H",
        "RRULE:FREQ=MONTHLY;BYMONTHDAY=15,30;COUNT=5",
    )
    assert days(of_year(2007, calendar(text))) == [(1, 15), (1, 30), (2, 15), (3, 15), (3, 30)]


def test_a_conference_of_days_is_busy_from_end_to_end() -> None:
    # RFC 5545, 4: the first example, 14:30 UTC on 18 September 1996 to 22:00 UTC on the 20th; New York is
    # four hours behind in summer (IANA time zone database).
    text = calendar(event("DTSTART:19960918T143000Z", "DTEND:19960920T220000Z", "SUMMARY:Conference"))
    assert of_year(1996, text)["busy"] == [
        ("1996-09-18", 630, 1440), ("1996-09-19", 0, 1440), ("1996-09-20", 0, 1080),
    ]  # fmt: skip


def test_an_anniversary_takes_no_time_and_a_holiday_its_days() -> None:
    # RFC 5545, 3.6.1: the anniversary is transparent; the festival is from 28 June up to 9 July 2007, and the
    # end of a whole-day event is the day after.
    anniversary = event("DTSTART;VALUE=DATE:19971102", "TRANSP:TRANSPARENT", "RRULE:FREQ=YEARLY")
    festival = event("DTSTART;VALUE=DATE:20070628", "DTEND;VALUE=DATE:20070709")
    found = of_year(2007, calendar(anniversary, festival))["busy"]
    assert (found[0], found[-1], len(found)) == (("2007-06-28", 0, 1440), ("2007-07-08", 0, 1440), 11)


def test_published_busy_times_are_busy_and_free_ones_free() -> None:
    # RFC 5545, 3.6.4: the second example; three periods, the last over midnight UTC, at four hours behind.
    busy = "\r\n".join(
        [
            "BEGIN:VFREEBUSY", "UID:2", "DTSTAMP:19970901T083000Z",
            "FREEBUSY:19971015T050000Z/PT8H30M,19971015T160000Z/PT5H30M,19971015T223000Z/PT6H30M",
            "FREEBUSY;FBTYPE=FREE:19971015T120000Z/19971015T170000Z", "END:VFREEBUSY",
        ]
    )  # fmt: skip
    found = of_year(1997, calendar(busy))
    assert found["busy"] == [
        ("1997-10-15", 60, 570), ("1997-10-15", 720, 1050), ("1997-10-15", 1110, 1440), ("1997-10-16", 0, 60),
    ]  # fmt: skip
    assert found["free"] == [("1997-10-15", 570, 720)]


def available(*lines: str, until: str = "DTEND;TZID=America/Montreal:20111202T000000") -> str:
    return "\r\n".join(
        [
            "BEGIN:VAVAILABILITY", "UID:3", "DTSTAMP:20111005T133225Z",
            "DTSTART;TZID=America/Montreal:20111002T000000", until,
            "BEGIN:AVAILABLE", "UID:4", "SUMMARY:Office hours",
            "DTSTART;TZID=America/Montreal:20111002T090000", "DTEND;TZID=America/Montreal:20111002T170000",
            *lines, "END:AVAILABLE", "END:VAVAILABILITY",
        ]
    )  # fmt: skip


def test_office_hours_are_when_somebody_can_come_but_for_what_is_busy() -> None:
    # RFC 7953, 4: weekdays from nine to five in Montreal from 2 October to 2 December 2011.
    hours = available("RRULE:FREQ=WEEKLY;BYDAY=MO,TU,WE,TH,FR")
    lunch = event("DTSTART;TZID=America/Montreal:20111003T120000", "DURATION:PT1H")
    found = read(calendar(hours, lunch), "America/Montreal", date(2011, 9, 26), date(2011, 12, 31))
    weekdays = [
        day
        for n in range(62)
        if (day := date(2011, 10, 2) + timedelta(days=n)).weekday() < 5 and day < date(2011, 12, 2)
    ]
    # The rule's own first day, a Sunday, is an occurrence (RFC 5545, 3.8.5.3) in some readings and none in
    # others; nobody is asked to rely on it.
    spans = [each for each in found["free"] if each[0] != "2011-10-02"]
    assert spans[:2] == [("2011-10-03", 540, 720), ("2011-10-03", 780, 1020)]
    assert [date.fromisoformat(day) for day, _, _ in spans[1:]] == weekdays


def test_availability_ends_where_it_says() -> None:
    hours = available("RRULE:FREQ=DAILY", until="DURATION:P1DT12H")
    found = read(calendar(hours), "America/Montreal", date(2011, 9, 26), date(2011, 12, 31))
    assert found["free"] == [("2011-10-02", 540, 1020), ("2011-10-03", 540, 720)]


# Zones, whole days, the plan's own days


def test_times_are_those_of_the_farms_clock() -> None:
    # July: Dublin UTC+1, New York UTC-4, Kolkata UTC+5:30 (IANA time zone database).
    for start in (
        ":20260707T080000Z", ";TZID=America/New_York:20260707T040000", ";TZID=Asia/Kolkata:20260707T133000",
        ":20260707T090000", ";TZID=GMT Standard Time:20260707T090000",
    ):  # fmt: skip
        found = read(calendar(event(f"DTSTART{start}", "DURATION:PT1H")))
        assert found["busy"] == [("2026-07-07", 540, 600)], start


def test_a_zone_that_the_file_brings_is_used() -> None:
    zone = "\r\n".join(
        [
            "BEGIN:VTIMEZONE", "TZID:Barn clock", "BEGIN:STANDARD", "DTSTART:19700101T000000",
            "TZOFFSETFROM:+0300", "TZOFFSETTO:+0300", "END:STANDARD", "END:VTIMEZONE",
        ]
    )  # fmt: skip
    found = read(calendar(zone, event("DTSTART;TZID=Barn clock:20260707T110000", "DURATION:PT1H")))
    assert found["busy"] == [("2026-07-07", 540, 600)]


@pytest.mark.parametrize(
    ("first", "busy"),
    [
        # Clocks go forward on 29 March 2026 at 01:00 UTC and back on 25 October (Directive 2000/84/EC).
        (date(2026, 3, 28), [("2026-03-28", 540, 600), ("2026-03-29", 600, 660)]),
        (date(2026, 10, 24), [("2026-10-24", 600, 660), ("2026-10-25", 540, 600)]),
    ],
)
def test_what_repeats_by_utc_moves_with_the_clocks(first: date, busy: list[tuple[str, int, int]]) -> None:
    text = calendar(event("DTSTART:20260101T090000Z", "DURATION:PT1H", "RRULE:FREQ=DAILY"))
    assert read(text, first=first, last=first + timedelta(days=1))["busy"] == busy


def test_days_of_no_zone_are_whole_days_of_the_farm() -> None:
    one = calendar(event("DTSTART;VALUE=DATE:20260707"))
    for zone in (DUBLIN, NEW_YORK, "Pacific/Auckland"):
        assert read(one, zone)["busy"] == [("2026-07-07", 0, 1440)]


def test_only_days_of_the_plan_are_read_and_long_events_are_cut_to_them() -> None:
    text = calendar(event("DTSTART:20260601T000000Z", "DTEND:20270101T000000Z"))
    found = read(text, first=MONDAY, last=MONDAY + timedelta(days=1))
    assert found["busy"] == [("2026-07-06", 0, 1440), ("2026-07-07", 0, 1440)]
    before, after = (event(f"DTSTART;VALUE=DATE:{day}") for day in ("20260705", "20260713"))
    assert read(calendar(before, after)) == {"busy": [], "free": []}
    edges = [event(f"DTSTART;VALUE=DATE:{day}") for day in ("20260706", "20260712")]
    assert days(read(calendar(*edges))) == [(7, 6), (7, 12)]


def test_what_touches_is_one_and_minutes_are_widened_to_steps_of_five() -> None:
    spans = (("0901", "0932"), ("0935", "1000"), ("1001", "1002"))
    text = calendar(*(event(f"DTSTART:20260707T{a}00", f"DTEND:20260707T{b}00") for a, b in spans))
    assert read(text)["busy"] == [("2026-07-07", 540, 605)]
    free = (
        "BEGIN:VFREEBUSY\r\nUID:5\r\nFREEBUSY;FBTYPE=FREE:20260707T080100Z/20260707T083900Z\r\nEND:VFREEBUSY"
    )
    assert read(calendar(free))["free"] == [("2026-07-07", 545, 575)]


def test_cancelled_events_and_days_left_out_take_no_time_and_moved_ones_their_new() -> None:
    times = "DTSTART:20260706T090000", "DURATION:PT1H"
    series = event(*times, "RRULE:FREQ=DAILY", "EXDATE:20260707T090000", uid="one")
    moved = event("RECURRENCE-ID:20260708T090000", "DTSTART:20260708T150000", "DURATION:PT1H", uid="one")
    off = event("RECURRENCE-ID:20260709T090000", *times, "STATUS:CANCELLED", uid="one")
    found = read(calendar(series, moved, off), last=MONDAY + timedelta(days=4))
    assert found["busy"] == [("2026-07-06", 540, 600), ("2026-07-08", 900, 960), ("2026-07-10", 540, 600)]


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("RRULE:FREQ=SECONDLY", "more often than daily"),
        ("RRULE:FREQ=HOURLY;COUNT=2", "more often than daily"),
        ("DTEND;TZID=Nowhere/Else:20260707T100000", "not known: Nowhere/Else"),
        ("DTEND:tomorrow", "cannot be read"),
    ],
)
def test_times_that_cannot_be_relied_on_are_refused(line: str, said: str) -> None:
    with pytest.raises(Unread, match=said):
        read(calendar(event("DTSTART:20260707T090000", line)))


# As a process of its own


def test_wishes_hold_times_and_nothing_else_of_a_file() -> None:
    private = event("DTSTART:20260707T090000", "DURATION:PT1H", "SUMMARY:Clinic", "LOCATION:Secret place")
    (wish,) = wishes_in(calendar(private), DUBLIN, MONDAY, SUNDAY)
    assert wish == Wish(Kind.CANNOT, date(2026, 7, 7), 540, 600, NOTE)


BOMBS = {
    # Each second of each day, told in other words; and a day that never comes, looked for until 9999.
    "every second": "FREQ=DAILY;BYHOUR={h};BYMINUTE={m};BYSECOND={m}".format(
        h=",".join(map(str, range(24))), m=",".join(map(str, range(60)))
    ),
    "never": "FREQ=DAILY;BYMONTH=2;BYMONTHDAY=30",
}


@pytest.mark.parametrize("bomb", BOMBS)
def test_what_repeats_without_end_is_given_up(bomb: str) -> None:
    rule = f"RRULE:{BOMBS[bomb]}"
    text = calendar(*[event("DTSTART:19000101T090000", "DURATION:PT1S", rule)] * 200)
    assert len(text) < MOST_BYTES
    with pytest.raises(Refused, match="repeats too much"):
        wishes_in(text, DUBLIN, MONDAY, SUNDAY + timedelta(days=77), read_s=1)


@pytest.mark.parametrize(
    "text",
    [
        b"no calendar", b"\x00\xff\xfe", b"BEGIN:VCALENDAR", calendar().replace(b"END:VCALENDAR", b""),
        b"PK\x03\x04" * 99, calendar(event("DTSTART:yesterday")),
        calendar(event("DTSTART:20260707T090000", "RRULE:FREQ=SOMETIMES")),
        calendar("BEGIN:VEVENT", "UID:9"), event("DTSTART:20260707T090000").encode(), b"BEGIN:" * 9_000,
    ],
)  # fmt: skip
def test_what_is_no_calendar_is_told(text: bytes) -> None:
    with pytest.raises(Refused, match=r"no calendar file|cannot be read"):
        wishes_in(text, DUBLIN, MONDAY, SUNDAY)


# On the page
