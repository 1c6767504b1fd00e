"""``maslin messages``: what changed for each person, to print, to write into files, or to send by mail."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from scheduler.domain.scenario import Scenario
    from scheduler.feeds.messages import Message
    from scheduler.feeds.store import Store


def messages(
    scenario: Annotated[Path, typer.Argument(help="A scenario folder.")],
    out: Annotated[Path | None, typer.Option(help="Folder for a text file for each person.")] = None,
    send_: Annotated[bool, typer.Option("--send", help="Send them by mail; the README says how.")] = False,
) -> None:
    """Say what the last publishing changed for each person."""
    from scheduler.feeds.store import Store
    from scheduler.intake import read_scenario
    from scheduler.views.files import plans_home

    farm = read_scenario(scenario).scenario
    store = Store(plans_home(), farm.kitchen_id)
    told = store.published().messages
    if not told:
        typer.echo("There is nothing to tell: maslin publish SCENARIO PLAN comes first.")
    if out is not None:
        _write(told, out)
    elif not send_:
        typer.echo("\n".join(message.text for message in told.values()), nl=False)
    if send_:
        _send(told, farm, store)


def _write(told: Mapping[str, Message], out: Path) -> None:
    from scheduler.feeds.files import file_names
    from scheduler.views.files import write_texts

    names = [f"{name.removesuffix('.ics')}.txt" for name in file_names(told)]
    texts = dict(zip(names, (message.text for message in told.values()), strict=True))
    theirs = [out / name for name, text in texts.items() if _differs(out / name, text)]
    write_texts(out, texts, theirs)
    typer.echo(f"Written to {out}: {len(texts)}")


def _differs(path: Path, text: str) -> bool:
    return path.exists() and path.read_bytes() != text.encode()


def _send(told: Mapping[str, Message], farm: Scenario, store: Store) -> None:
    """Send to all who have an address; ends with exit code 1 if any could not be sent."""
    from scheduler.feeds.entry import of_person, title
    from scheduler.people_pages.mail import Letter, PostBook, send
    from scheduler.people_pages.mail_settings import mail_server

    server = mail_server()
    letters = [
        Letter(feed, person.email, f"{farm.farm}: what changed for you", told[feed])
        for person in farm.people
        if (feed := of_person(person.name)) in told and person.email
    ]
    outcomes = send(letters, server, PostBook(store.folder))
    for outcome in outcomes:
        typer.echo(f"{title(outcome.letter.feed)}: {outcome.said}", err=not outcome.well)
    for feed in told:
        if feed not in {letter.feed for letter in letters}:
            typer.echo(f"{title(feed)}: no address in column email of people.csv")
    if not all(outcome.well for outcome in outcomes):
        raise typer.Exit(1)
