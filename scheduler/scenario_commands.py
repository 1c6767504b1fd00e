"""Commands that make scenario folders and workbooks: ``maslin new``, ``workbook``, ``scenario-from``."""

from __future__ import annotations

import os
from datetime import date, datetime
from pathlib import Path
from typing import Annotated

import typer

SUFFIX = ".xlsx"


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
    from scheduler.drafts.draft import Draft
    from scheduler.drafts.workbook import to_workbook

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
    from scheduler.drafts.draft import Draft
    from scheduler.drafts.importing import take_workbook

    draft = Draft(out)
    try:
        data = file.read_bytes()
    except OSError as error:
        raise typer.BadParameter(f"found {error.strerror}; allowed: a file in {SUFFIX}") from None
    take_workbook(draft, data)
    draft.save(datetime.now())
    typer.echo(f"Written to {out}")


def new(
    folder: Annotated[Path, typer.Argument(help="The new scenario folder.", callback=_must_be_new)],
    farm: Annotated[str | None, typer.Option(help="What the farm is called.")] = None,
    start: Annotated[str | None, typer.Option(help="First day to plan (YYYY-MM-DD).")] = None,
    days: Annotated[str | None, typer.Option(help="How many days.")] = None,
    fruits: Annotated[str | None, typer.Option(help="Which fruit, with commas between.")] = None,
    kg: Annotated[str | None, typer.Option(help="Kg picked a day of each, in the same order.")] = None,
    pans: Annotated[str | None, typer.Option(help="Litres that each pan holds.")] = None,
    rings: Annotated[str | None, typer.Option(help="How many rings, and gas, electric or induction.")] = None,
    freezer: Annotated[str | None, typer.Option(help="Kg that the freezer holds.")] = None,
    people: Annotated[str | None, typer.Option(help="How many people, from when to when.")] = None,
    jars: Annotated[str | None, typer.Option(help="Jars ordered of each, due on the last day.")] = None,
) -> None:
    """Make a first scenario folder from ten answers, with usual figures for all else."""
    from scheduler.drafts.draft import Draft
    from scheduler.drafts.first import answered, questions
    from scheduler.drafts.first_files import CARE, texts_of

    draft = Draft(folder)
    asked = questions(date.today())
    given = (farm, start, days, fruits, kg, pans, rings, freezer, people, jars)
    told = {
        question.key: typer.prompt(question.text, question.offered) if answer is None else answer
        for question, answer in zip(asked, given, strict=True)
    }
    draft.take(texts_of(answered(told)), "answers")
    draft.save(datetime.now())
    typer.echo(f"Written to {folder}. {CARE}")
    typer.echo(f"Plan it: maslin plan {folder}")
