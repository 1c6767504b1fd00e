"""A try is a copy: it changes nothing of the scenario until taken over, and never over others' changes."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from scheduler.drafts import tries, usual
from scheduler.drafts.draft import Draft
from scheduler.drafts.tries import Try
from scheduler.errors import FilesChanged, InputFaults
from scheduler.intake import read_scenario
from tests.unit.drafts.test_draft import files

NOW = datetime(2026, 8, 20, 18, 30)
LATER = datetime(2026, 8, 20, 19, 15)


@pytest.fixture
def home(tmp_path: Path) -> Path:
    return tmp_path / "plans"


def change(attempt: Try, percent: float = 50, lever: usual.Lever = usual.PICKS) -> None:
    draft = Draft(attempt.folder)
    usual.by_percent(draft, lever, "strawberry", percent)
    draft.save(NOW)


def test_a_try_is_a_copy_that_reads_as_the_scenario_does(home: Path, folder: Path) -> None:
    attempt = tries.begin(home, folder, " one pan less ")
    assert attempt.name == "one pan less"
    copied, scenario = read_scenario(attempt.folder), read_scenario(folder)
    assert copied.input_hash == scenario.input_hash
    assert copied.scenario.name == "one pan less"
    assert tries.changed(attempt) == tries.moved(attempt) == ()
    assert home in attempt.plans.parents


def test_line_ends_and_byte_order_marks_are_copied_as_they_are(home: Path, folder: Path) -> None:
    text = "\ufeff" + (folder / "picks.csv").read_text(encoding="utf-8").replace("\n", "\r\n")
    (folder / "picks.csv").write_bytes(text.encode())
    attempt = tries.begin(home, folder, "same")
    for place in (attempt.folder, attempt.before):
        assert (place / "picks.csv").read_bytes() == text.encode()


def test_a_change_of_a_try_leaves_scenario_and_other_tries_alone(home: Path, folder: Path) -> None:
    before = files(folder)
    more, same = tries.begin(home, folder, "more"), tries.begin(home, folder, "as it is")
    change(more)
    assert tries.changed(more) == ("picks.csv",)
    assert tries.changed(same) == ()
    assert files(folder) == before
    assert read_scenario(more.folder).input_hash != read_scenario(folder).input_hash
    assert [attempt.name for attempt in tries.tries_of(home, folder)] == ["as it is", "more"]


def test_tries_are_those_of_one_folder(home: Path, folder: Path, tmp_path: Path) -> None:
    other = tmp_path / "elsewhere" / folder.name
    other.mkdir(parents=True)
    tries.begin(home, folder, "mine")
    assert tries.tries_of(home, other) == ()
    assert [attempt.name for attempt in tries.tries_of(home, folder)] == ["mine"]


@pytest.mark.parametrize("name", ["", "  ", "../up", "a/b", ".hidden", "=1+1", "dot.", "x" * 41, "a\nb"])
def test_a_name_that_will_not_do_is_refused_with_the_way_out(home: Path, folder: Path, name: str) -> None:
    with pytest.raises(InputFaults) as caught:
        tries.begin(home, folder, name)
    (fault,) = caught.value.faults
    assert "1 to 40 letters" in fault.allowed
    assert fault.remedy
    assert tries.tries_of(home, folder) == ()


@pytest.mark.parametrize("name", ["x" * 40, "7", "Größe (neu), 10 %", "no copper's lid"])
def test_names_of_every_day_will_do(home: Path, folder: Path, name: str) -> None:
    assert read_scenario(tries.begin(home, folder, name).folder).scenario.name == name


def test_a_name_is_given_once(home: Path, folder: Path) -> None:
    change(tries.begin(home, folder, "more"))
    with pytest.raises(InputFaults, match="there already"):
        tries.begin(home, folder, "more")
    (attempt,) = tries.tries_of(home, folder)
    assert tries.changed(attempt) == ("picks.csv",)


def test_taken_over_the_scenario_says_what_the_try_says_and_keeps_what_was(home: Path, folder: Path) -> None:
    attempt = tries.begin(home, folder, "more")
    change(attempt)
    draft = Draft(attempt.folder)
    usual.out_of_use(draft, "pan", "big copper", [read_scenario(folder).scenario.start])
    draft.save(NOW)
    was = (folder / "picks.csv").read_bytes()
    kept = tries.take_over(attempt, NOW)
    assert read_scenario(folder).input_hash == read_scenario(attempt.folder).input_hash
    assert kept is not None
    assert {path.name: path.read_bytes() for path in kept.iterdir()} == {"picks.csv": was}


def test_taken_over_a_file_that_the_try_did_without_goes(home: Path, folder: Path) -> None:
    (folder / "out.csv").write_text("date,pan\n2026-08-25,big copper\n", encoding="utf-8")
    attempt = tries.begin(home, folder, "all pans")
    draft = Draft(attempt.folder)
    draft.leave_out("out.csv")
    draft.save(NOW)
    tries.take_over(attempt, NOW)
    assert not (folder / "out.csv").exists()


def test_what_others_changed_in_the_same_file_is_not_taken_over(home: Path, folder: Path) -> None:
    attempt = tries.begin(home, folder, "more")
    change(attempt)
    mine = Draft(folder)
    usual.by_percent(mine, usual.PICKS, "raspberry", -10)
    mine.save(NOW)
    before = files(folder)
    assert tries.moved(attempt) == ("picks.csv",)
    with pytest.raises(FilesChanged) as caught:
        tries.take_over(attempt, NOW)
    assert caught.value.files == ("picks.csv",)
    assert files(folder) == before


def test_what_others_changed_in_another_file_stays(home: Path, folder: Path) -> None:
    attempt = tries.begin(home, folder, "more")
    change(attempt)
    mine = Draft(folder)
    usual.by_percent(mine, usual.SALES, "", -50)
    mine.save(NOW)
    sales = (folder / "punnets.csv").read_bytes()
    tries.take_over(attempt, LATER)
    assert (folder / "punnets.csv").read_bytes() == sales
    assert (folder / "picks.csv").read_bytes() == (attempt.folder / "picks.csv").read_bytes()


def test_nothing_is_taken_over_that_would_leave_faults(home: Path, folder: Path) -> None:
    attempt = tries.begin(home, folder, "another pan")
    draft = Draft(attempt.folder)
    usual.one_more_pan(draft, "big copper", "small copper")
    draft.save(NOW)
    usual.out_of_use(draft, "pan", "small copper", [read_scenario(folder).scenario.start])
    draft.save(NOW)
    (attempt.folder / "kitchen.toml").write_bytes((folder / "kitchen.toml").read_bytes())
    before = files(folder)
    with pytest.raises(InputFaults):
        tries.take_over(attempt, NOW)
    assert files(folder) == before


def test_thrown_away_a_try_is_gone_with_its_plans(home: Path, folder: Path) -> None:
    before = files(folder)
    attempt = tries.begin(home, folder, "more")
    attempt.plans.mkdir()
    tries.throw_away(attempt)
    assert tries.tries_of(home, folder) == ()
    assert not attempt.folder.exists()
    assert files(folder) == before
