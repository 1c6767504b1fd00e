"""Commands that make scenario folders and workbooks: ``maslin new``, ``workbook``, ``scenario-from``."""

from __future__ import annotations

import os
from datetime import date, datetime
from pathlib import Path
from typing import Annotated

import typer

from scheduler.drafts.draft import Draft
from scheduler.drafts.first import answered, questions
from scheduler.drafts.first_files import CARE, texts_of
from scheduler.drafts.importing import take_workbook
from scheduler.drafts.workbook import to_workbook

SUFFIX = ".xlsx"
_QUESTIONS = questions(date.today())


def _asked(at: int) -> typer.models.OptionInfo:
    """An option that is asked for where it is not given."""
    question = _QUESTIONS[at]
    option: typer.models.OptionInfo = typer.Option(
        f"--{question.key}", prompt=question.text, help=question.text
    )
    return option


def _must_be_new(folder: Path) -> Path:
    """A folder that holds nothing yet."""
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise typer.BadParameter(f"found {folder} with something in it; allowed: a new or empty folder")
    return folder


def workbook(
    scenario: Annotated[Path, typer.Argument(help="A scenario folder.")],
    out: Annotated[Path, typer.Option(help="The .xlsx file to write; one that is there is not replaced.")],
) -> None:
    """Write a scenario as one workbook for a spreadsheet, a sheet for each table."""
    if out.suffix.lower() != SUFFIX or out.exists():
        found = "a file that is there" if out.exists() else out.name
        raise typer.BadParameter(f"found {found}; allowed: a new file in {SUFFIX}", param_hint="--out")
    data = to_workbook(Draft(scenario))
    beside = out.with_name(f".{out.name}.{os.getpid()}")
    beside.write_bytes(data)
    os.replace(beside, out)
    typer.echo(f"Written to {out}")


def scenario_from(
    file: Annotated[Path, typer.Argument(help="A workbook (.xlsx) as maslin workbook writes it.")],
    out: Annotated[Path, typer.Option(help="The new scenario folder.", callback=_must_be_new)],
) -> None:
    """Make a scenario folder from a workbook; all faults are named, and then nothing is written."""
    draft = Draft(out)
    try:
        data = file.read_bytes()
    except OSError as error:
        raise typer.BadParameter(f"found {error.strerror}; allowed: a file in {SUFFIX}") from None
    take_workbook(draft, data)
    draft.save(datetime.now())
    typer.echo(f"Written to {out}")


def new(
    folder: Annotated[
        Path, typer.Argument(help="The new scenario folder.", is_eager=True, callback=_must_be_new)
    ],
    farm: Annotated[str, _asked(0)] = _QUESTIONS[0].offered,
    start: Annotated[str, _asked(1)] = _QUESTIONS[1].offered,
    days: Annotated[str, _asked(2)] = _QUESTIONS[2].offered,
    fruits: Annotated[str, _asked(3)] = _QUESTIONS[3].offered,
    kg: Annotated[str, _asked(4)] = _QUESTIONS[4].offered,
    pans: Annotated[str, _asked(5)] = _QUESTIONS[5].offered,
    rings: Annotated[str, _asked(6)] = _QUESTIONS[6].offered,
    freezer: Annotated[str, _asked(7)] = _QUESTIONS[7].offered,
    people: Annotated[str, _asked(8)] = _QUESTIONS[8].offered,
    jars: Annotated[str, _asked(9)] = _QUESTIONS[9].offered,
) -> None:
    """Make a first scenario folder from ten answers, with usual figures for all else."""
    draft = Draft(folder)
    told = (farm, start, days, fruits, kg, pans, rings, freezer, people, jars)
    keys = (question.key for question in _QUESTIONS)
    draft.take(texts_of(answered(dict(zip(keys, told, strict=True)))), "answers")
    draft.save(datetime.now())
    typer.echo(f"Written to {folder}. {CARE}")
    typer.echo(f"Plan it: maslin plan {folder}")
