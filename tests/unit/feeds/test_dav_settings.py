"""The settings file of a calendar server: read, and told what is wrong with it without the password."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from scheduler.errors import InputFaults
from scheduler.feeds.dav import Collection, Server
from scheduler.feeds.dav_settings import DavServer, dav_server
from scheduler.feeds.entry import KITCHEN
from tests.unit.feeds.entries import AOIFE

URL = "https://kilbrack.example/calendars"
GOOD = """
url = "https://kilbrack.example/calendars"
user = "kilbrack"
password = "hidden away"
[calendars]
"Aoife" = "aoife"
"the kitchen" = "kitchen"
"""


def read(tmp_path: Path, text: str) -> DavServer:
    file = tmp_path / "caldav.toml"
    file.write_text(text, encoding="utf-8")
    return dav_server({"MASLIN_CALDAV": str(file)})


def test_settings_are_read(tmp_path: Path) -> None:
    server = read(tmp_path, GOOD)
    assert (server.url, server.user, server.password) == (
        "https://kilbrack.example/calendars/",
        "kilbrack",
        "hidden away",
    )
    assert server.chosen((AOIFE, KITCHEN)) == {AOIFE: "aoife", KITCHEN: "kitchen"}
    assert Collection(Server(server), "aoife").address == "https://kilbrack.example/calendars/aoife/"
    with pytest.raises(InputFaults, match=r"'the kitchen'; allowed: Aoife\."):
        server.chosen((AOIFE,))


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        (
            URL,
            "http://kilbrack.example/calendars",
            "http, which hides no password",
        ),
        (
            URL,
            "https://kilbrack:hidden away@kilbrack.example/",
            "a user in the address",
        ),
        (URL, "ftp://kilbrack.example/", "key url: found no address"),
        (
            URL,
            "https://kilbrack.example:port/",
            "key url: found no address",
        ),
        (
            URL,
            "https://kilbrack.example/?x",
            "key url: found no address",
        ),
        ('"aoife"', '"../aoife"', "no name of a collection"),
        ('"aoife"', '"a/b"', "no name of a collection"),
        ('"aoife"', '".."', "no name of a collection"),
        ('"aoife"', '""', "no name of a collection"),
        ('"aoife"', "7", "no name of a collection"),
        ('"aoife"', '"kitchen"', "the collection of another, kitchen"),
        ('user = "kilbrack"', "", "key user: found none"),
        ('user = "kilbrack"', "user = 7", "key user: found no text"),
        ('user = "kilbrack"', 'users = "x"', "an unknown key"),
        ('user = "kilbrack"', 'user = "k"\nca = "/nowhere.pem"', "key ca: found no file"),
        ("[calendars]", "[calendar]", "key calendars: found none"),
        ("password =", "password", "no TOML"),
    ],
)
def test_settings_that_cannot_be_are_told_without_the_password(
    tmp_path: Path, old: str, new: str, said: str
) -> None:
    with pytest.raises(InputFaults, match=re.escape(said)) as refused:
        read(tmp_path, GOOD.replace(old, new))
    assert "hidden away" not in str(refused.value)


def test_settings_that_are_not_there_are_asked_for() -> None:
    with pytest.raises(InputFaults, match="MASLIN_CALDAV: found nothing"):
        dav_server({})
    with pytest.raises(
        InputFaults, match=r"found nothing that can be read \(No such file.*another file in MASLIN_CALDAV"
    ):
        dav_server({"MASLIN_CALDAV": "/nowhere.toml"})
