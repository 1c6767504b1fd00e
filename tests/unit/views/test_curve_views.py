"""A trade-off curve as table, figure and files."""

import csv
import io
from dataclasses import replace
from pathlib import Path

import kilbrack_sample as sample
import pytest

from scheduler.plan_json import from_json, to_json
from scheduler.plan_rows import Plan
from scheduler.views import charts, curve_files, curve_table, words
from scheduler.views.dashboard import planning, runs
from scheduler.views.look import DARK, LIGHT

SITUATION = sample.situation()
SCENARIO = SITUATION.scenario


def point(spoiled: float, short: float, money: float, gap: float = 0.0) -> Plan:
    """The sample's plan with other values of its goals, as a choice of a curve."""
    lost, missing, spent, starts = sample.plan().goals
    goals = (
        replace(lost, value=spoiled, best=100.0, slack=spoiled - 100.0, cap=spoiled),
        replace(missing, value=short, best=short, bound=short),
        replace(spent, value=money, best=money, bound=money - gap * 1000, gap=gap, slack=0.0),
        starts,
    )
    return replace(sample.plan(), goals=goals)


CURVE = (
    point(100.0, 30.0, 500.25),
    point(150.5, 0.0, -40.0, gap=0.0014),
    point(210.0, 12.0, -300.0, gap=0.07),
)


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text.removeprefix("\ufeff"), newline="")))


def test_the_table_has_a_row_per_point_in_plain_words() -> None:
    frame = curve_table.curve_table(CURVE, SCENARIO)
    assert list(frame["point"]) == [1, 2, 3]
    assert list(frame["value lost on fruit"]) == ["€100.00", "€150.50", "€210.00"]
    assert list(frame["money spent less orders paid"]) == ["€500.25", "−€40.00", "−€300.00"]
    assert list(frame["proved"]) == ["yes", "yes, within 0.14 %", "no, gap 7.0 %"]


def test_curve_csv_says_of_each_point_what_it_is_and_where_its_plan_lies() -> None:
    second = rows(curve_files.curve_text(CURVE))[1]
    assert second == second | {
        "point": "2",
        "value_lost_on_fruit": "150.50",
        "jars_missing": "0",
        "money": "-40.00",
        "money_at_least": "-41.40",
        "proved": "yes",
        "folder": "point 2",
    }
    stages = sample.plan().stages
    hours = sum((s.end - s.start) * len(s.people) for s in stages) / 60
    assert float(second["hours_of_work"]) == pytest.approx(hours, abs=0.05)
    assert int(second["jars_made"]) == sum(row.made for row in sample.plan().jars)
    assert rows(curve_files.curve_text(CURVE))[2]["proved"] == "no"


def test_every_plan_stands_whole_in_its_folder(tmp_path: Path) -> None:
    curve_files.write_curve(CURVE, SITUATION, tmp_path / "out")
    listed = rows((tmp_path / "out" / "curve.csv").read_text(encoding="utf-8"))
    for plan, row in zip(CURVE, listed, strict=True):
        assert from_json((tmp_path / "out" / row["folder"] / "plan.json").read_text(encoding="utf-8")) == plan


def test_a_curve_of_fewer_points_replaces_ours_and_keeps_what_it_does_not_have(tmp_path: Path) -> None:
    curve_files.write_curve(CURVE, SITUATION, tmp_path)
    (tmp_path / "point 7 July").mkdir()
    curve_files.write_curve(CURVE[:2], SITUATION, tmp_path)
    assert len(rows((tmp_path / "curve.csv").read_text(encoding="utf-8"))) == 2
    (kept,) = tmp_path.glob("kept *")
    assert [path.name for path in kept.iterdir()] == ["point 3"]
    assert (kept / "point 3" / "plan.json").exists()
    assert (tmp_path / "point 7 July").is_dir()


def test_the_users_own_curve_csv_is_kept(tmp_path: Path) -> None:
    curve_files.write_curve(CURVE, SITUATION, tmp_path)
    notes = (tmp_path / "curve.csv").read_text(encoding="utf-8") + "I like point 2\r\n"
    (tmp_path / "curve.csv").write_text(notes, encoding="utf-8")
    curve_files.write_curve(CURVE, SITUATION, tmp_path)
    (kept,) = tmp_path.glob("kept *")
    assert "I like point 2" in (kept / "curve.csv").read_text(encoding="utf-8")
    assert "I like" not in (tmp_path / "curve.csv").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", ["", "point 2"])
def test_a_file_in_the_way_is_named(tmp_path: Path, name: str) -> None:
    folder = tmp_path / "out"
    assert curve_files.in_the_way(folder, 3) == ""
    if name:
        folder.mkdir()
        assert curve_files.in_the_way(folder, 3) == ""
    (folder / name).write_text("mine", encoding="utf-8")
    assert "file" in curve_files.in_the_way(folder, 3)
    assert name in curve_files.in_the_way(folder, 3)


def test_discs_stand_at_their_values_and_are_larger_where_more_jars_are_missing() -> None:
    for look in (LIGHT, DARK):
        (trace,) = charts.trade_off(CURVE, 2, SCENARIO, look).data
        assert list(trace.x) == [100.0, 150.5, 210.0]
        assert list(trace.y) == [500.25, -40.0, -300.0]
        sizes = list(trace.marker.size)
        assert sizes[0] > sizes[2] > sizes[1]
        # The one shown is berry, the one that is not proved has no filling.
        assert list(trace.marker.color) == [look.leaf, look.berry, look.paper]
        assert "30" in trace.customdata[0]


def test_a_choice_says_that_it_is_one_and_what_it_was_held_to() -> None:
    assert "trade-off curve" in words.how_good(CURVE[1])
    assert "at most €150.50 lost on fruit" in words.limits(CURVE[1], SCENARIO)
    assert words.limits(sample.plan(), SCENARIO) == ""
    assert words.how_good(sample.plan()) == words.STATUS[sample.plan().status]


def test_a_plan_from_before_there_were_caps_still_reads() -> None:
    old = to_json(sample.plan()).replace(',\n   "cap": null', "")
    assert '"cap"' not in old
    assert from_json(old) == sample.plan()


def test_the_kept_curve_is_read_only_if_it_is_of_this_input(tmp_path: Path) -> None:
    hash_ = SITUATION.input_hash
    assert runs.last_curve(tmp_path, hash_) == ()
    for name in (hash_, "other"):
        (tmp_path / name).mkdir()
        planning.keep_curve(CURVE, tmp_path / name / "curve.json")
    assert runs.last_curve(tmp_path, hash_) == CURVE
    assert runs.last_curve(tmp_path, "other") == ()
    (tmp_path / hash_ / "curve.json").write_text("[1]", encoding="utf-8")
    assert runs.last_curve(tmp_path, hash_) == ()
