"""The wall calendar: every batch on its ring and to scale, what stands beside a day, and what does not."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from itertools import pairwise

import pytest

from scheduler.paper import Wish, print_pdf
from scheduler.paper.calendar import calendar
from scheduler.plan_rows import JarDay, Plan, ShopStock, Stage, StageKind
from scheduler.views import words
from scheduler.views.tables import clock_times
from tests.unit.paper import long_names
from tests.unit.paper.reading import pieces, reader, text
from tests.unit.views import jelly_days
from tests.unit.views import kilbrack_sample as sample

PLAN, FARM = sample.plan(), sample.situation().scenario
DATA = calendar(PLAN, FARM, "a4", "")
assert DATA is not None
DAYS = [day for week in DATA["weeks"] for day in week["days"]]


def test_every_batch_stands_once_on_its_day_and_ring_from_its_minute_on() -> None:
    times = clock_times(PLAN)
    wanted = sorted(
        (words.day_name(b.day), b.ring, times[b.id][0], f"{words.jars(b.jars)}, {b.pan}")
        for b in PLAN.batches
    )
    found = sorted(
        (day["name"], ring["name"], batch["start"], batch["short"][0])
        for day in DAYS
        for ring in day["rings"]
        for batch in ring["batches"]
    )
    assert found == wanted


def test_a_minute_is_as_long_everywhere_on_a_page() -> None:
    """Names begin where their batches do: distances on paper go with minutes."""
    (page,) = reader(print_pdf("calendar", PLAN, FARM, Wish(size="a3"))).pages
    times = clock_times(PLAN)
    of_day = [b for b in PLAN.batches if b.day == FARM.start]
    found = pieces(page)
    at = {}
    for batch in of_day:
        said = f"{words.jars(batch.jars)}, {batch.pan}"
        at[times[batch.id][0]] = max((p for p in found if p.text == said), key=lambda p: p.y).x
    (first, x), *others = sorted(at.items())
    scales = [(there - x) / (minute - first) for minute, there in others]
    assert len(scales) >= 2
    # The letters before a name differ in width by a few mm.
    assert max(scales) == pytest.approx(min(scales), rel=0.15)


def test_beside_a_day_stand_people_jars_orders_and_what_comes() -> None:
    wednesday = {note["head"]: note["lines"] for note in DAYS[2]["notes"]}
    thursday = {note["head"]: note["lines"] for note in DAYS[3]["notes"]}
    friday = {note["head"]: note["lines"] for note in DAYS[4]["notes"]}
    assert wednesday["In"] == ["08:00–16:00 Aoife, Declan, Maeve", "08:00–16:30 Noel"]
    assert wednesday["Order today"] == ["sugar: 80 kg", "jar 340: 300 jars"]
    assert wednesday["Besides"] == ["prepare to freeze 12:30–13:00, Noel: strawberry 9.5 kg"]
    assert thursday["Due"] == ["O-1: 90 strawberry jam"]
    assert thursday["Jars"][0] == "S strawberry jam 69"
    assert friday["Due"] == ["O-2: 60 raspberry and redcurrant jam, 12 missing"]
    assert friday["Comes"] == ["sugar: 80 kg"]


def test_pay_prices_and_customers_do_not_hang_on_the_wall() -> None:
    told = text(print_pdf("calendar", PLAN, FARM))
    assert "café" not in told
    assert "farm shop" not in told
    assert "€" not in told


def test_closed_hours_and_deliveries_are_told() -> None:
    told = text(print_pdf("calendar", long_names.plan(), long_names.situation().scenario))
    assert "closed 12:00–15:00: market" in told
    assert "25 kg, 10:15" in told


def test_other_work_the_shop_and_labels_are_told() -> None:
    day = FARM.start
    more = replace(
        PLAN,
        stages=(*PLAN.stages, Stage(day, "", StageKind.LABEL, 840, 870, ("Maeve",))),
        jars=(*PLAN.jars, JarDay(day, "strawberry jam", sample.JAR, 0, 0, 0, labelled=24)),
        shop=(ShopStock(day, "strawberry jam", sample.JAR, 20, 14),),
    )
    found = calendar(more, FARM, "a4", "")
    assert found is not None
    notes = {note["head"]: note["lines"] for note in found["weeks"][0]["days"][0]["notes"]}
    assert "label jars 14:00–14:30, Maeve: 24 strawberry jam" in notes["Besides"]
    assert notes["Due"] == ["shop: 20 strawberry jam, 6 missing"]


def test_a_jelly_says_that_it_drips() -> None:
    found = calendar(jelly_days.plan(), jelly_days.situation().scenario, "a4", "")
    assert found is not None
    batches = [b for d in found["weeks"][0]["days"] for r in d["rings"] for b in r["batches"]]
    assert [b["short"][1] for b in batches if b["recipe"].endswith("soften and strain")] == [
        "drips overnight"
    ]
    assert {"soften", "strain"} <= set(found["stages"])


def test_a_week_fits_one_page_or_takes_a_page_a_day() -> None:
    assert len(reader(print_pdf("calendar", PLAN, FARM, Wish(size="a3"))).pages) == 1
    pages = reader(print_pdf("calendar", PLAN, FARM)).pages
    assert len(pages) in (1, 7)
    one = replace(PLAN, batches=tuple(b for b in PLAN.batches if b.day == FARM.start))
    assert len(reader(print_pdf("calendar", one, FARM)).pages) == 1


def test_short_gaps_on_a_long_day_leave_no_words_over_each_other() -> None:
    """Ten small batches one after another on one ring of a kitchen that is open all day."""
    farm = replace(FARM, kitchen=replace(FARM.kitchen, open=0, close=1435))
    first = next(b for b in PLAN.batches if b.day == FARM.start)
    batches = [replace(first, id=f"b{i}") for i in range(10)]
    stages = [
        Stage(first.day, b.id, kind, 300 + 40 * i + start, 300 + 40 * i + end, ("Aoife",))
        for i, b in enumerate(batches)
        for kind, start, end in (
            (StageKind.DISSOLVE, 0, 10),
            (StageKind.BOIL, 10, 35),
            (StageKind.POT_UP, 35, 45),
        )
    ]
    dense = replace(PLAN, batches=tuple(batches), stages=tuple(stages))
    for size in ("a4", "a3"):
        for page in reader(print_pdf("calendar", dense, farm, Wish(size=size))).pages:
            rows: dict[int, list[tuple[float, float]]] = {}
            for piece in pieces(page):
                wide = 0.36 * piece.size * 25.4 / 72 * len(piece.text)
                rows.setdefault(round(4 * piece.y), []).append((piece.x, piece.x + wide))
            for spans in rows.values():
                spans.sort()
                for (_, end), (start, _) in pairwise(spans):
                    assert end <= start + 0.1


def test_the_key_names_every_stage_that_is_drawn() -> None:
    told = text(print_pdf("calendar", PLAN, FARM, Wish(size="a3")))
    assert "re-boil, if it does not set" in told
    drawn = {
        bar["kind"] for d in DAYS for r in d["rings"] for b in r["batches"] for bar in b["on"] + b["after"]
    }
    assert set(DATA["stages"]) == drawn


def test_weeks_in_which_nothing_is_cooked_are_left_out() -> None:
    farm = replace(FARM, days=21)
    later = _moved(PLAN, 14)
    found = calendar(later, farm, "a4", "")
    assert found is not None
    assert [week["span"] for week in found["weeks"]] == ["20 Jul to 26 Jul 2026"]


def _moved(plan: Plan, days: int) -> Plan:
    by = timedelta(days=days)
    return replace(
        plan,
        batches=tuple(replace(b, day=b.day + by) for b in plan.batches),
        stages=tuple(replace(s, day=s.day + by) for s in plan.stages),
        mixes=tuple(replace(m, day=m.day + by) for m in plan.mixes),
    )


def test_the_square_stands_there_only_with_an_address() -> None:
    said = "calendar for your phone"
    assert said not in text(print_pdf("calendar", PLAN, FARM))
    shown = print_pdf("calendar", PLAN, FARM, Wish(square="webcal://calendars.example.org/feeds/x.ics"))
    assert said in text(shown)


def test_fruits_are_told_apart_without_colour() -> None:
    for pdf in (print_pdf("calendar", PLAN, FARM), print_pdf("batches", PLAN, FARM)):
        for page in reader(pdf).pages:
            drawn = page.get_contents().get_data().split()  # type: ignore[union-attr]
            assert not {b"rg", b"RG", b"k", b"K"} & set(drawn)
    marks = {b["pattern"]: b["letters"][0] for d in DAYS for r in d["rings"] for b in r["batches"]}
    assert len(marks) == len(set(marks.values())) == 3
