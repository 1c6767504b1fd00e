"""Calendar files given on a person's page: kept as wishes once and whole, or refused with nothing kept."""

from __future__ import annotations

from datetime import timedelta

import pytest

from scheduler.feeds.store import Store
from scheduler.people_pages import Answers
from scheduler.people_pages.answers import MOST_OPEN, State
from scheduler.people_pages.calendar_file import MOST_BYTES
from tests.unit.feeds.entries import AOIFE, MONDAY
from tests.unit.people_pages.calendar_texts import calendar, event
from tests.unit.people_pages.serving import MORNING, Got, Site

NEW_YORK, DUBLIN = "America/New_York", "Europe/Dublin"
SUNDAY = MONDAY + timedelta(days=6)
Found = dict[str, list[tuple[str, int, int]]]


def give(site: Site, secret: str, text: bytes, **more: str) -> Got:
    """Send a file with the page's own form."""
    fields = {"slip": site.page(secret).value("slip"), "do": "file", **more}
    parts = [
        f'--B\r\nContent-Disposition: form-data; name="{k}"\r\n\r\n{v}\r\n'.encode()
        for k, v in fields.items()
    ]
    file = b'--B\r\nContent-Disposition: form-data; name="calendar"; filename="../../x.ics"\r\n\r\n'
    body = b"".join([*parts, file, text, b"\r\n--B--\r\n"])
    return site.ask(f"/mine/{secret}", "POST", body, Content_Type="multipart/form-data; boundary=B")


@pytest.fixture
def answers(store: Store) -> Answers:
    return Answers(store.folder)


def test_a_file_becomes_wishes_on_the_page_once(
    site: Site, store: Store, secret: str, answers: Answers
) -> None:
    text = calendar(
        event("DTSTART:20260707T090000", "DURATION:PT1H", "SUMMARY:Clinic"),
        *(event(f"DTSTART;VALUE=DATE:{day}") for day in ("20260709", "20260801", "20260705")),
    )
    assert give(site, secret, text).status == 303
    page = site.page(secret).text
    assert "You cannot come on Tue 7 Jul, 09:00 to 10:00 (from a calendar file)" in page
    assert "You cannot come on Thu 9 Jul (from a calendar file)" in page
    assert "Clinic" not in page
    assert [each.feed for each in answers.asked()] == [AOIFE, AOIFE]
    answers.settle(answers.asked()[0].id, State.ACCEPTED, MORNING)
    answers.settle(answers.asked()[1].id, State.DECLINED, MORNING)
    assert give(site, secret, text).status == 303
    assert [each.state for each in answers.asked()] == [State.ACCEPTED, State.DECLINED]
    kept = [file.read_bytes() for file in store.folder.glob("answers*")]
    assert kept
    assert b"Clinic" not in b"".join(kept)


@pytest.mark.parametrize(
    ("text", "status", "said"),
    [
        (b"", 400, "No file was chosen"),
        (b"nonsense", 400, "no calendar file"),
        (
            calendar(event("DTSTART;VALUE=DATE:20260801")),
            400,
            "nothing of when you cannot or can come from Mon 6 Jul",
        ),
        (calendar(event("DTSTART:20260707T090000", "RRULE:FREQ=SECONDLY")), 400, "more often than daily"),
        (calendar("X-LONG:" + "x" * MOST_BYTES), 413, "longer than 256 kB"),
        (b"x" * (2 * MOST_BYTES), 413, "a file of more than 256 kB"),
    ],
)
def test_what_cannot_be_read_is_told_on_the_page_and_nothing_is_kept(
    site: Site, secret: str, answers: Answers, text: bytes, status: int, said: str
) -> None:
    got = give(site, secret, text)
    assert got.status == status
    assert "This was not kept." in got.text
    assert said in got.text
    assert answers.asked() == ()


def test_more_times_than_can_wait_are_kept_not_at_all(site: Site, secret: str, answers: Answers) -> None:
    def hours(n: int) -> bytes:
        spans = (divmod(k, 10) for k in range(n))
        return calendar(
            *(event(f"DTSTART:202607{6 + day:02d}T{8 + h:02d}0000", "DURATION:PT30M") for day, h in spans)
        )

    got = give(site, secret, hours(MOST_OPEN + 1))
    assert got.status == 400
    assert f"No more than {MOST_OPEN}" in got.text
    assert answers.asked() == ()
    assert give(site, secret, hours(MOST_OPEN)).status == 303
    assert len(answers.asked()) == MOST_OPEN


def test_a_file_needs_the_pages_own_slip(site: Site, secret: str, answers: Answers) -> None:
    text = calendar(event("DTSTART;VALUE=DATE:20260709"))
    assert give(site, secret, text, slip="x.y").status == 403
    for body in (
        b"",
        b"junk",
        b"--B",
        b"--B\r\n\r\n--B--",
        b"--B\r\nContent-Disposition: form-data; name=x\r\n\r\n\xff\r\n" * 99,
    ):
        got = site.ask(f"/mine/{secret}", "POST", body, Content_Type="multipart/form-data; boundary=B")
        assert got.status in {400, 403}
    assert site.ask(f"/mine/{secret}", "POST", b"x", Content_Type="multipart/form-data").status == 400
    assert answers.asked() == ()


def test_after_the_plan_no_file_is_asked_for(site: Site, secret: str) -> None:
    assert "From your own calendar" in site.page(secret).text
    site.now = MORNING + timedelta(days=30)
    assert "From your own calendar" not in site.page(secret).text
    assert "No day from today on is planned yet" in give(site, secret, calendar()).text
