"""The terminal that commands speak to: their output, what goes beside it, and the choices that they take."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Annotated

import typer
from rich.console import Console

Folder = Annotated[Path, typer.Argument(help="A scenario folder, described in scenarios/README.md.")]
screen = Console()
aside = Console(stderr=True)


def known(found: str, allowed: Sequence[str], option: str) -> str:
    """The allowed word that was meant: capitals do not matter where that leaves one."""
    meant = [word for word in allowed if word.casefold() == found.casefold()]
    if found in allowed or len(meant) == 1:
        return found if found in allowed else meant[0]
    raise typer.BadParameter(f"found {found}; allowed: {', '.join(allowed)}", param_hint=option)
