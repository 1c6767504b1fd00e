"""``python -m tests.bench``: measure the planner beside others, or how its time grows."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer
from rich.console import Console

from scheduler.bench.farms import FAMILIES, SIZES
from tests.bench import report
from tests.bench.grow import SERIES, grow
from tests.bench.instances import GLUTS, SEEDS, UNSEEN_SEEDS, kept, some, unseen
from tests.bench.peers import PEERS
from tests.bench.run import run_all

screen = Console()
MANY = "Several with commas between."


def main(
    out: Annotated[Path, typer.Option(help="Folder for the results.")],
    sizes: Annotated[str, typer.Option(help=MANY)] = "S",
    gluts: Annotated[str, typer.Option(help=MANY)] = "all",
    seeds: Annotated[str, typer.Option(help=MANY)] = "all",
    families: Annotated[str, typer.Option(help=MANY)] = "plain",
    peers: Annotated[str, typer.Option(help=MANY)] = "all",
    seconds: Annotated[float, typer.Option(min=1, max=86_400, help="For each farm and peer.")] = 120,
    workers: Annotated[int, typer.Option(min=1, max=64)] = 2,
    is_unseen: Annotated[bool, typer.Option("--unseen", help="Farms that no file holds.")] = False,
    growing: Annotated[
        str | None,
        typer.Option(
            "--grow",
            help=f"Farms of size S with more and more {', '.join(SERIES)}; of the first glut and seed.",
        ),
    ] = None,
) -> None:
    """Measure; tables, plots and CSV files go to a folder, farm by farm."""
    known = UNSEEN_SEEDS if is_unseen else SEEDS
    wanted = {
        "--sizes": chosen(sizes, tuple(SIZES), "--sizes"),
        "--gluts": chosen(gluts, tuple(f"{glut:g}" for glut in GLUTS), "--gluts"),
        "--seeds": chosen(seeds, tuple(map(str, known)), "--seeds"),
        "--families": chosen(families, FAMILIES, "--families"),
    }
    asked = chosen(peers, tuple(PEERS), "--peers")
    if growing is not None:
        chosen(growing, tuple(SERIES), "--grow")
        glut, seed = float(wanted["--gluts"][0]), int(wanted["--seeds"][0])
        screen.print(grow(growing, glut, seed, seconds, workers, out, screen.print))
        return
    farms = list(
        some(
            unseen() if is_unseen else kept(), wanted["--sizes"], [*map(float, wanted["--gluts"])],
            [*map(int, wanted["--seeds"])], wanted["--families"],
        )
    )  # fmt: skip
    if not farms:
        allowed = (
            "sizes S and M plain" if is_unseen else "families cooks and freezer at sizes S and M, glut 2.0"
        )
        raise typer.BadParameter(f"found no such farm; allowed: {allowed}", param_hint=", ".join(wanted))
    screen.print(report.head(seconds, workers), markup=False, highlight=False)
    runs = run_all(farms, asked, seconds, workers, out, screen.print)
    report.write(runs, seconds, workers, out)
    screen.print(
        (out / "table.txt").read_text(encoding="utf-8"), markup=False, highlight=False, soft_wrap=True
    )


def chosen(text: str, allowed: tuple[str, ...], option: str) -> tuple[str, ...]:
    """Those named with commas between, each one of ``allowed``; ``all`` is all of them."""
    found = tuple(name.strip().removesuffix(".0") for name in text.split(","))
    names = allowed if found == ("all",) else found
    for name in names:
        if name not in allowed:
            raise typer.BadParameter(f"found {name}; allowed: all, {', '.join(allowed)}", param_hint=option)
    return names


if __name__ == "__main__":
    typer.run(main)
