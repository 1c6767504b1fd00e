"""``maslin publish`` and ``maslin link``: calendars as files, addresses, and what is refused."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from icalendar import Calendar

from tests.commands import FARM, maslin, planned


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the farm's plan in ``plan``; its store of plans is ``plans``."""
    return planned(tmp_path_factory.mktemp("farm"))


def test_a_plan_is_published_and_followed_from_files_and_addresses(place: Path) -> None:
    first = maslin(place, "publish", str(FARM), "plan", "--out", "ics")
    assert first.returncode == 0, first.stderr
    assert re.search(r"[1-9]\d* entries new, 0 changed, 0 cancelled", first.stdout)
    assert {"Aoife.ics", "the-kitchen.ics", "orders-and-deliveries.ics"} <= {
        path.name for path in (place / "ics").iterdir()
    }
    kitchen = (place / "ics" / "the-kitchen.ics").read_bytes()
    assert len(Calendar.from_ical(kitchen).walk("VEVENT")) > 0
    again = maslin(place, "publish", str(FARM), "plan", "--out", "ics")
    assert "Nothing changes" in again.stdout
    assert (place / "ics" / "the-kitchen.ics").read_bytes() == kitchen

    shown = maslin(place, "link", str(FARM), "the kitchen", MASLIN_ADDRESS="https://farm.example")
    assert re.fullmatch(r"https://farm\.example/feeds/[A-Za-z0-9_-]{43}\.ics\n", shown.stdout)
    same = maslin(place, "link", str(FARM), "the kitchen")
    assert same.stdout == shown.stdout.replace("https://farm.example", "http://localhost:8501")
    hosted = maslin(place, "publish", str(FARM), "plan", "--web", "web")
    assert hosted.returncode == 0, hosted.stderr
    assert (place / "web" / "feeds" / shown.stdout.strip().rpartition("/")[2]).read_bytes() == kitchen

    renewed = maslin(place, "link", str(FARM), "the kitchen", "--renew")
    assert renewed.stdout != same.stdout
    gone = maslin(place, "link", str(FARM), "the kitchen", "--withdraw")
    assert "has no address now" in gone.stdout
    maslin(place, "publish", str(FARM), "plan", "--web", "web")
    assert list((place / "web" / "feeds").iterdir()) == []


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("publish", str(FARM), "nowhere"), "cannot be read"),
        (("link", str(FARM), "Nobody"), "allowed: Aoife"),
        (("link", str(FARM), "Aoife", "--renew", "--withdraw"), "allowed: one of them"),
        (("link", str(FARM)), "Missing argument"),
    ],
)
def test_what_cannot_be_is_refused(place: Path, words: tuple[str, ...], said: str) -> None:
    done = maslin(place, *words)
    assert done.returncode == 2
    assert said in done.stderr


def test_an_address_that_is_none_is_named(place: Path) -> None:
    done = maslin(place, "link", str(FARM), "Aoife", MASLIN_ADDRESS="farm.example")
    assert done.returncode == 2
    assert "MASLIN_ADDRESS" in done.stderr
    assert "https://" in done.stderr
    links = place / "plans" / "calendars" / "kilbrack" / "links.json"
    assert not links.exists() or "Aoife" not in links.read_text(encoding="utf-8")


def test_a_plan_of_other_files_or_with_a_finding_is_not_published(place: Path) -> None:
    other = shutil.copytree(FARM, place / "other")
    kitchen = other / "kitchen.toml"
    kitchen.write_text(f'time_zone = "Etc/UTC"\n{kitchen.read_text(encoding="utf-8")}', encoding="utf-8")
    done = maslin(place, "publish", str(other), "plan")
    assert done.returncode == 2
    assert "a plan of other input" in done.stderr
    broken = shutil.copytree(place / "plan", place / "broken") / "plan.json"
    text = broken.read_text(encoding="utf-8")
    broken.write_text(re.sub(r'"last_jar_c": [1-9]\d*', '"last_jar_c": 20', text, count=1), encoding="utf-8")
    done = maslin(place, "publish", str(FARM), "broken")
    assert done.returncode == 1
    assert "failed its audit" in done.stderr
