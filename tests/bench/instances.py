"""The farms of the benchmarks: which there are, and their files."""

from __future__ import annotations

import tomllib
from collections.abc import Collection, Iterator
from itertools import product
from pathlib import Path

from scheduler.bench.farms import FAMILIES, SIZES, Farm, read
from scheduler.domain.scenario import Situation

FOLDER = Path(__file__).parent / "instances"
GLUTS = (1.5, 2.0, 2.5)
SEEDS = (0, 1, 2)
UNSEEN_SEEDS = (100, 101, 102)
"""Seeds of farms that nobody looks at while tuning; they are in no file."""
SMALL = ("S", "M")
"""Sizes of the unseen farms, and of those of the families that are short of something."""
BEGIN, END = "'''\n", "'''\n"


def kept() -> tuple[Farm, ...]:
    """The farms that have a file."""
    plain = (Farm(size, glut, seed) for size, glut, seed in product(SIZES, GLUTS, SEEDS))
    short = (
        Farm(size, 2.0, seed, family)
        for family, size, seed in product(FAMILIES, SMALL, SEEDS)
        if family != "plain"
    )
    return (*plain, *short)


def unseen() -> tuple[Farm, ...]:
    """The farms that are drawn only when they are asked for."""
    return tuple(Farm(size, glut, seed) for size, glut, seed in product(SMALL, GLUTS, UNSEEN_SEEDS))


def some(
    among: Collection[Farm],
    sizes: Collection[str],
    gluts: Collection[float],
    seeds: Collection[int],
    families: Collection[str],
) -> Iterator[Farm]:
    """Those of some farms that have one of the sizes, gluts, seeds and families each."""
    for farm in among:
        if farm.size in sizes and farm.glut in gluts and farm.seed in seeds and farm.family in families:
            yield farm


def file_of(farm: Farm) -> Path:
    return FOLDER / f"{farm.name}.toml"


def as_text(farm: Farm) -> str:
    """The file of a farm: the text of each file of its scenario folder, under the file's name."""
    rows = (f'"{name}" = {BEGIN}{text}{END}' for name, text in farm.texts().items())
    return "".join(rows)


def situation(farm: Farm) -> Situation:
    """A farm, from its file if it has one."""
    if farm not in kept():
        return read(farm.name, farm.texts())
    return read(farm.name, tomllib.loads(file_of(farm).read_text(encoding="utf-8")))
