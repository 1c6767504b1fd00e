"""A scenario folder while it is edited: nothing is written until it is saved, whole, without faults."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from functools import cached_property
from pathlib import Path

from scheduler.drafts import csv_text, toml_text
from scheduler.drafts.disk import look
from scheduler.drafts.grid import Grid, Section, csv_section, kitchen_sections, recipe_sections
from scheduler.errors import Fault, FilesChanged, InputFaults
from scheduler.intake import situation_of
from scheduler.intake.columns import SHEETS
from scheduler.intake.files import OPTIONAL, REQUIRED
from scheduler.intake.gathered import KITCHEN
from scheduler.intake.keys import SCHEMA
from scheduler.languages import say
from scheduler.views.files import dated, write_texts

FILES = (*REQUIRED, *OPTIONAL)
EARLIER = "earlier"
"""The folder within a scenario that keeps what was there before each saving."""


@dataclass(frozen=True)
class Step:
    """The files by name as one edit left them; ``about`` is the file edited, ``said`` what became of amounts
    typed with units, ``unread`` the faults of files in the folder that are no text."""

    texts: Mapping[str, str]
    name: str
    unread: tuple[Fault, ...] = ()
    about: str = ""
    said: tuple[str, ...] = ()
    sections: dict[str, tuple[Section, ...]] = field(default_factory=dict, init=False, compare=False)
    """By file, as far as they were asked for: a page asks many times for those of the same text."""

    @cached_property
    def faults(self) -> tuple[Fault, ...]:
        """Every fault of the whole folder as it would be, in the words of ``maslin check``."""
        unread = [fault for fault in self.unread if fault.file not in self.texts]
        try:
            situation_of(self.texts, self.name, unread)
        except InputFaults as error:
            return error.faults
        return ()


class Draft:
    """A folder's files as they are edited, step by step, with every step kept until the folder is left."""

    def __init__(self, folder: Path) -> None:
        """Begin from what is in ``folder``; one that is not there yet has no files."""
        self.folder = folder
        self._begin()

    def _begin(self) -> None:
        self._disk = look(self.folder, FILES)
        self._steps = [Step(self._disk.texts, self.folder.resolve().name, self._disk.unread)]
        self._at = 0

    @property
    def step(self) -> Step:
        return self._steps[self._at]

    @property
    def texts(self) -> Mapping[str, str]:
        return self.step.texts

    @property
    def faults(self) -> tuple[Fault, ...]:
        return self.step.faults

    # What there is to edit

    def sections(self, file: str) -> tuple[Section, ...]:
        """The tables of a file; none where its text is no such table and can only be edited as text."""
        if file not in self.step.sections:
            laid_out = (section for section in self._laid_out(file) if self.grid(section) is not None)
            self.step.sections[file] = tuple(laid_out)
        return self.step.sections[file]

    def _laid_out(self, file: str) -> tuple[Section, ...]:
        if file in SHEETS:
            return (csv_section(file),)
        if file == KITCHEN:
            return kitchen_sections()
        plain = toml_text.loaded(self.texts.get(file, "")) or {}
        tables = plain.get("recipe", [])
        sound = isinstance(tables, list) and all(isinstance(table, dict) for table in tables)
        return recipe_sections([str(table.get("name", "")) for table in tables] if sound else [])

    def grid(self, section: Section) -> Grid | None:
        """A table as it stands; empty where its file is absent, None where it cannot be shown as one."""
        if section.file not in self.texts:
            return Grid(section.columns, (), ())
        read = csv_text.read if section.is_csv else toml_text.read
        return read(self.texts[section.file], section)

    def faults_of(self, section: Section) -> tuple[Fault, ...]:
        """The faults of one table, and those of its whole file that are of no other of its tables."""
        sections = self.sections(section.file)

        def here(fault: Fault) -> bool:
            nobodys = section == sections[0] and not any(each.owns(fault.where) for each in sections)
            return fault.file == section.file and (nobodys or section.owns(fault.where))

        return tuple(filter(here, self.faults))

    # Edits, each of them one step

    def edit(self, section: Section, grid: Grid) -> bool:
        """Put ``grid`` in the place of a table, amounts with units turned into those of their columns.

        Whether any amount was turned, so that the table reads otherwise than it was typed.
        """
        before = self.grid(section)
        turned, said = _in_their_units(grid, before)
        if before == turned:
            return bool(said)
        if section.is_csv:
            text = csv_text.write(self.texts.get(section.file) or csv_text.begun(section), turned)
        else:
            text = toml_text.write(self.texts.get(section.file) or begun(section.file), section, turned)
        self._push(section.file, {**self.texts, section.file: text}, said)
        return bool(said)

    def begin(self, file: str) -> None:
        """Begin a file that is not there, with nothing in it yet."""
        if file not in self.texts:
            self.write(file, csv_text.begun(csv_section(file)) if file in SHEETS else begun(file))

    def leave_out(self, file: str) -> None:
        """Do without a file that may be left out."""
        self._push(file, {name: text for name, text in self.texts.items() if name != file})

    def write(self, file: str, text: str) -> None:
        """Put ``text`` in the place of a whole file."""
        self.take({file: text}, file)

    def take(self, texts: Mapping[str, str], about: str) -> None:
        """Put several files in place in one step, as from a workbook."""
        self._push(about, {**self.texts, **texts})

    def _push(self, about: str, texts: Mapping[str, str], said: Sequence[str] = ()) -> None:
        if texts != self.texts:
            del self._steps[self._at + 1 :]
            self._steps.append(replace(self.step, texts=texts, about=about, said=tuple(said)))
            self._at += 1

    # Steps

    @property
    def can_undo(self) -> bool:
        return self._at > 0

    @property
    def can_redo(self) -> bool:
        return self._at < len(self._steps) - 1

    def undo(self) -> str:
        """Take the last step back; the file it was about."""
        about = self.step.about
        self._at -= 1 if self.can_undo else 0
        return about

    def redo(self) -> str:
        """Take the step again that was taken back; the file it is about."""
        self._at += 1 if self.can_redo else 0
        return self.step.about

    def discard(self) -> None:
        """Throw every step away and begin from the folder as it is now."""
        self._begin()

    # The folder

    @property
    def changed(self) -> tuple[str, ...]:
        """Files that differ from those in the folder as it was read."""
        return tuple(file for file in FILES if self.texts.get(file) != self._disk.texts.get(file))

    def changed_on_disk(self) -> tuple[str, ...]:
        """Files in the folder that somebody else has changed since they were read."""
        now = look(self.folder, FILES)
        return tuple(file for file in FILES if now.data.get(file) != self._disk.data.get(file))

    def read_anew(self) -> None:
        """Take up what has changed in the folder, as a step; a file that was edited here stays as edited.

        What the folder held of such a file is kept beside it when the draft is saved.
        """
        now, mine = look(self.folder, FILES), set(self.changed)
        texts = {file: text for file, text in now.texts.items() if file not in mine}
        texts |= {file: self.texts[file] for file in mine if file in self.texts}
        self._disk = now
        self._steps = [replace(step, unread=now.unread) for step in self._steps]
        self._push("the folder", texts)

    def save(self, now: datetime) -> Path | None:
        """Write every changed file whole; the folder in which those they replace are kept, if any.

        Raises InputFaults while there are faults, FilesChanged if the folder is no more as it was read, and
        OSError if the disk refuses; nothing is written then.
        """
        if self.faults:
            raise InputFaults(list(self.faults))
        if moved := self.changed_on_disk():
            raise FilesChanged(moved)
        changed = self.changed
        if not changed:
            return None
        replaced = [self.folder / file for file in changed if file in self._disk.data]
        kept = self.folder / EARLIER / dated(now)
        texts = {file: self._disk.as_before(file, self.texts[file]) for file in changed if file in self.texts}
        write_texts(self.folder, texts, replaced, kept)
        for path in replaced:
            if path.name not in texts:
                path.unlink()
        self._disk = look(self.folder, FILES)
        self._steps = [replace(step, unread=()) for step in self._steps]
        return kept if replaced else None


def begun(file: str) -> str:
    """The first line of a TOML file that is begun."""
    return f"schema = {SCHEMA}\n" if file == KITCHEN else "# Quantities are for a kg of prepared fruit.\n"


def _in_their_units(grid: Grid, before: Grid | None) -> tuple[Grid, list[str]]:
    """Typed amounts in the units of their columns, and what was said of each; cells that stood there stay."""
    stood = set(before.rows) if before else set()
    said, rows = [], []
    for row in grid.rows:
        cells = []
        for column, cell in zip(grid.columns, row, strict=True):
            turned = cell if row in stood else column.in_its_unit(cell)
            if turned != cell:
                said.append(
                    say(
                        "{column}: {cell} is {turned} {unit}.",
                        column=column.name,
                        cell=cell.strip(),
                        turned=turned,
                        unit=column.unit,
                    )
                )
            cells.append(turned)
        rows.append(tuple(cells))
    return replace(grid, rows=tuple(rows)), said
