"""``maslin publish --caldav``: a plan in the collections of a real calendar server, and what is refused."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests import commands
from tests.calendar_server import PASSWORD, USER, Radicale, radicale
from tests.commands import FARM, Done, planned


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the farm's plan in ``plan``."""
    return planned(tmp_path_factory.mktemp("farm"))


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Radicale]:
    with radicale(tmp_path / "server") as server:
        yield server


def publish(place: Path, url: str, *calendars: str) -> Done:
    """Publish to a server, with the file of its settings."""
    lines = [f'url = "{url}"', f'user = "{USER}"', f'password = "{PASSWORD}"', "[calendars]", *calendars]
    (place / "caldav.toml").write_text("\n".join(lines), encoding="utf-8")
    named = str(place / "caldav.toml")
    done = commands.maslin(place, "publish", str(FARM), "plan", "--caldav", MASLIN_CALDAV=named)
    assert PASSWORD not in done.stdout + done.stderr
    return done


def test_a_plan_is_sent_once_and_failures_end_with_their_code(place: Path, server: Radicale) -> None:
    orders = '"orders and deliveries" = "orders"'
    wrong = publish(place, server.url, '"Nobody" = "nobody"')
    assert wrong.returncode == 2
    assert "'Nobody'; allowed: Aoife" in wrong.stderr
    assert not (place / "plans" / "calendars").exists()  # and nothing is published
    server.answers["PUT"] = ["507 Insufficient Storage"]
    full = publish(place, server.url, orders)
    assert full.returncode == 1
    assert (
        "orders and deliveries: not all was sent: the server said 507, there is no room left" in full.stderr
    )
    sent = publish(place, server.url, orders)
    assert sent.returncode == 0, sent.stderr
    events = len(server.events("orders"))
    assert f"orders and deliveries: {events} " in sent.stdout
    assert events > 0
    again = publish(place, server.url, orders)
    assert again.stdout.splitlines() == ["Nothing changes", "orders and deliveries: the server has it all"]


def test_settings_that_are_not_there_are_named(place: Path) -> None:
    done = commands.maslin(place, "publish", str(FARM), "plan", "--caldav")
    assert done.returncode == 2
    assert "MASLIN_CALDAV: found nothing" in done.stderr
