"""A draft: edits with their faults, steps back, and saving whole or not at all."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from scheduler.drafts.draft import FILES, Draft
from scheduler.drafts.grid import Section, recipe_sections
from scheduler.errors import FilesChanged, InputFaults
from scheduler.intake import read_scenario
from tests.unit.intake.spoil import SCENARIOS, faults_of

NOW = datetime(2026, 8, 20, 18, 30)
PICKS, KITCHEN, RECIPES = "picks.csv", "kitchen.toml", "recipes.toml"


def section(draft: Draft, file: str, title: str | None = None) -> Section:
    """The section of a file by its title; the only one without."""
    (found,) = [section for section in draft.sections(file) if title in (None, section.title)]
    return found


def put(draft: Draft, what: Section, at: int, **cells: str) -> None:
    """Type into cells of a row, of a new one where ``at`` is past the last."""
    grid = draft.grid(what)
    assert grid is not None
    rows, numbers = [list(row) for row in grid.rows], list(grid.numbers)
    if at >= len(rows):
        rows.append([""] * len(grid.columns))
        numbers.append(None)
    for name, cell in cells.items():
        rows[at][grid.names.index(name)] = cell
    draft.edit(what, grid.with_rows([tuple(row) for row in rows], numbers))


def files(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_an_edit_is_read_but_not_written(folder: Path) -> None:
    before, draft = files(folder), Draft(folder)
    put(draft, section(draft, PICKS), 0, kg="23")
    assert draft.changed == (PICKS,)
    assert draft.faults == ()
    assert files(folder) == before
    draft.save(NOW)
    assert read_scenario(folder).scenario.picks[0].kg == 23.0


@pytest.mark.parametrize("file", [file for file in FILES if (SCENARIOS / "glut-week" / file).exists()])
def test_no_table_changes_by_being_looked_at(file: str) -> None:
    draft = Draft(SCENARIOS / "glut-week")
    assert draft.sections(file)
    for each in draft.sections(file):
        grid = draft.grid(each)
        assert grid is not None
        draft.edit(each, grid)
    assert not draft.can_undo


def test_a_fault_is_told_in_the_words_of_the_folder(folder: Path) -> None:
    draft = Draft(folder)
    put(draft, section(draft, PICKS), 1, kg="some", fruit="moonberry")
    told = draft.faults_of(section(draft, PICKS))
    assert told == draft.faults
    assert [fault.where for fault in told] == ["row 3, column kg"]
    (folder / PICKS).write_text(draft.texts[PICKS], encoding="utf-8")
    assert faults_of(folder) == told


def test_a_fault_stands_at_its_table(folder: Path) -> None:
    draft = Draft(folder)
    put(draft, section(draft, KITCHEN, "pans"), 1, litres="0")
    put(draft, section(draft, KITCHEN, "the kitchen"), 0, close="25:00")
    put(draft, section(draft, RECIPES, "raspberry jam: fruit"), 0, high="2")
    placed = {each.title: [f.where for f in draft.faults_of(each)] for each in draft.sections(KITCHEN)}
    placed |= {each.title: [f.where for f in draft.faults_of(each)] for each in draft.sections(RECIPES)}
    assert {title: where for title, where in placed.items() if where} == {
        "pans": ["pan 2, key litres"],
        "the kitchen": ["[kitchen], key close"],
        "raspberry jam: fruit": ["recipe 2, fruit 1, key high"],
    }


def test_every_fault_of_a_file_stands_at_one_of_its_tables(folder: Path) -> None:
    (folder / KITCHEN).write_text(
        'schema = 2\nfarm = "K"\nsoup = 1\n[kitchen]\nopen = "8"\n', encoding="utf-8"
    )
    (folder / RECIPES).write_text('soup = 1\n[[recipe]]\nfruit = 3\nsize = [{jar = "x"}]\n', encoding="utf-8")
    draft = Draft(folder)
    placed = [fault for file in FILES for each in draft.sections(file) for fault in draft.faults_of(each)]
    assert sorted(placed) == sorted(draft.faults)


def test_a_fault_of_the_twelfth_recipes_fruit_is_no_other_tables() -> None:
    sections = recipe_sections([f"jam {number}" for number in range(12)])
    where = "recipe 12, fruit 1, key low", "recipe 12, key fruit", "recipe 12, key ph", "recipe 1, size 1"
    assert [[s.title for s in sections if s.owns(each)] for each in where] == [
        ["jam 11: fruit"],
        ["jam 11: fruit"],
        ["recipes"],
        ["jam 0: further sizes"],
    ]


def test_undo_and_redo_go_step_by_step(folder: Path) -> None:
    draft = Draft(folder)
    before = dict(draft.texts)
    put(draft, section(draft, PICKS), 0, kg="23")
    put(draft, section(draft, KITCHEN, "rings"), 0, kw="7")
    assert draft.undo() == KITCHEN
    assert draft.changed == (PICKS,)
    assert draft.undo() == PICKS
    assert dict(draft.texts) == before
    assert not draft.can_undo
    draft.redo()
    put(draft, section(draft, PICKS), 0, kg="24")
    assert not draft.can_redo, "a new edit ends what could be done again"
    draft.discard()
    assert draft.changed == ()
    assert not draft.can_undo


def test_with_faults_nothing_is_saved(folder: Path) -> None:
    before, draft = files(folder), Draft(folder)
    put(draft, section(draft, PICKS), 0, kg="-1")
    with pytest.raises(InputFaults, match="kg"):
        draft.save(NOW)
    assert files(folder) == before
    draft.undo()
    assert draft.faults == ()
    assert draft.save(NOW) is None, "there is nothing to write"
    assert files(folder) == before


def test_what_was_there_before_is_kept_and_never_read(folder: Path) -> None:
    before, hash_ = files(folder), read_scenario(folder).input_hash
    draft = Draft(folder)
    put(draft, section(draft, PICKS), 0, kg="23")
    kept = draft.save(NOW)
    assert kept == folder / "earlier" / "2026-08-20 18.30.00.00"
    assert files(kept) == {PICKS: before[PICKS]}
    draft.undo()
    later = draft.save(NOW.replace(hour=19))
    assert later is not None
    assert files(later) != files(kept)
    assert read_scenario(folder).input_hash == hash_
    (folder / "orders.csv").rename(folder / "earlier" / "orders.csv")
    assert [fault.found for fault in faults_of(folder)] == ["no such file"]


def test_changed_elsewhere_nothing_is_saved_over_and_nothing_lost(folder: Path) -> None:
    draft = Draft(folder)
    put(draft, section(draft, PICKS), 0, kg="23")
    theirs = (folder / PICKS).read_bytes() + b"2026-08-30,strawberry,table,1\n"
    (folder / PICKS).write_bytes(theirs)
    lots = (folder / "lots.csv").read_text(encoding="utf-8").replace("7.0", "6.0")
    (folder / "lots.csv").write_text(lots, encoding="utf-8")
    with pytest.raises(FilesChanged, match=r"picks\.csv, lots\.csv") as caught:
        draft.save(NOW)
    assert caught.value.files == (PICKS, "lots.csv")
    assert (folder / PICKS).read_bytes() == theirs
    draft.read_anew()
    assert draft.changed == (PICKS,)
    assert draft.texts["lots.csv"] == lots
    kept = draft.save(NOW)
    assert kept is not None
    assert files(kept) == {PICKS: theirs}
    assert read_scenario(folder).scenario.picks[0].kg == 23.0


def test_a_file_that_is_absent_can_be_begun_and_taken_back(folder: Path) -> None:
    draft = Draft(folder)
    draft.begin("out.csv")
    assert draft.texts["out.csv"] == "date\n"
    put(draft, section(draft, "out.csv"), 0, date="2026-08-25", pan="big copper", why="cracked")
    assert draft.texts["out.csv"] == "date,pan,why\n2026-08-25,big copper,cracked\n"
    assert draft.save(NOW) is None, "nothing was replaced"
    assert read_scenario(folder).scenario.out[0].pan == "big copper"
    draft.undo()
    draft.undo()
    kept = draft.save(NOW)
    assert kept is not None
    assert not (folder / "out.csv").exists()
    assert set(files(kept)) == {"out.csv"}


def test_a_new_folder_is_begun_file_by_file(tmp_path: Path) -> None:
    draft = Draft(tmp_path / "new")
    for file in FILES:
        draft.begin(file)
    assert all(draft.sections(file) for file in FILES)
    assert "no such file" not in {fault.found for fault in draft.faults}
    assert not (tmp_path / "new").exists()


def test_an_amount_with_a_unit_turns_and_it_is_said(folder: Path) -> None:
    draft = Draft(folder)
    picks = section(draft, PICKS)
    put(draft, picks, 0, kg="3 st 4 lb")
    grid = draft.grid(picks)
    assert grid is not None
    assert grid.rows[0][grid.names.index("kg")] == "20.8652"
    assert draft.step.said == ("kg: 3 st 4 lb is 20.8652 kg.",)
    put(draft, picks, 0, kg="3 US pints")
    assert "US" in draft.faults[0].found


def test_toml_keeps_comments_order_and_numbers_as_they_are_written(folder: Path) -> None:
    draft = Draft(folder)
    before = draft.texts[KITCHEN].splitlines()
    put(draft, section(draft, KITCHEN, "rings"), 1, kw="7.5")
    put(draft, section(draft, KITCHEN, "the kitchen"), 0, altitude_m="80")
    after = draft.texts[KITCHEN].splitlines()
    assert [(a, b) for a, b in zip(before, after, strict=True) if a != b] == [
        ("altitude_m = 60", "altitude_m = 80"),
        ("kw = 7.0", "kw = 7.5"),
    ]


def test_a_table_that_was_not_there_comes_and_goes(folder: Path) -> None:
    draft = Draft(folder)
    before = draft.texts[KITCHEN]
    put(draft, section(draft, KITCHEN, "labelling"), 0, jars_per_hour="80")
    assert draft.texts[KITCHEN].endswith("\n\n[labels]\njars_per_hour = 80\n")
    put(draft, section(draft, KITCHEN, "labelling"), 0, jars_per_hour="")
    assert draft.texts[KITCHEN] == before
    put(draft, section(draft, KITCHEN, "breaks"), 0, after_minutes="270", minutes="30")
    assert draft.faults == ()
    assert "[[work.break]]\nafter_minutes = 270\nminutes = 30" in draft.texts[KITCHEN]


def test_a_recipe_goes_with_all_that_hangs_on_it(folder: Path) -> None:
    draft = Draft(folder)
    recipes = section(draft, RECIPES, "recipes")
    grid = draft.grid(recipes)
    assert grid is not None
    first = next(p.title for p in draft.sections(RECIPES) if p.path == ("fruit",))
    draft.edit(recipes, grid.with_rows(grid.rows[1:], grid.numbers[1:]))
    assert first not in {each.title for each in draft.sections(RECIPES)}
    assert len(draft.grid(recipes).rows) == len(grid.rows) - 1  # type: ignore[union-attr]


def test_a_csv_file_keeps_its_separator_columns_mark_and_line_ends(folder: Path) -> None:
    text = "kg;fruit;date;grade;note\r\n22;strawberry;2026-08-24;table;x\r\n"
    (folder / PICKS).write_bytes("\ufeff".encode() + text.encode())
    draft = Draft(folder)
    assert [fault.where for fault in draft.faults] == ["column 'note'"]
    put(draft, section(draft, PICKS), 0, note="", kg="21", warm_hours="2")
    assert draft.faults == ()
    draft.save(NOW)
    saved = "kg;fruit;date;grade;warm_hours\r\n21;strawberry;2026-08-24;table;2\r\n"
    assert (folder / PICKS).read_bytes() == "\ufeff".encode() + saved.encode()


@pytest.mark.parametrize(
    ("file", "data"),
    [
        (PICKS, b'date,fruit\n"2026'),
        (PICKS, b"date,fruit\n1,2,3\n"),
        (KITCHEN, b"schema = \n"),
        (KITCHEN, b""),
    ],
)
def test_what_is_no_table_is_edited_as_text(folder: Path, file: str, data: bytes) -> None:
    sound = (folder / file).read_text(encoding="utf-8")
    (folder / file).write_bytes(data)
    draft = Draft(folder)
    assert draft.faults
    assert draft.sections(file) == () or not data
    draft.write(file, sound)
    draft.save(NOW)
    read_scenario(folder)


def test_a_file_that_is_no_text_is_told_and_begun_anew(folder: Path) -> None:
    (folder / "held.csv").write_bytes("date,recipe\nmûre".encode("utf-16"))
    draft = Draft(folder)
    assert draft.faults == faults_of(folder)
    draft.begin("held.csv")
    assert draft.faults == ()
    kept = draft.save(NOW)
    assert kept is not None
    assert files(kept)["held.csv"].startswith(b"\xff\xfe")
