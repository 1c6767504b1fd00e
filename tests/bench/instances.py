"""The instances of the benchmarks: files of their own, so that what was measured can be measured again.

``python -m tests.bench.instances`` draws those that are not there yet; it never overwrites one.
"""

from __future__ import annotations

import json
import tempfile
from pathlib import Path

from scheduler.domain.scenario import Situation
from scheduler.intake import read_scenario
from tests.bench.farms import FAMILIES, SIZES, texts

HERE = Path(__file__).with_name("instances")
GLUTS = (1.5, 2.0, 2.5)
SEEDS = (1, 2, 3)
UNSEEN = (11, 12, 13)
"""Seeds that nothing is tuned on; run once for the record."""


def names(size: str, unseen: bool = False) -> list[str]:
    """Instances of a size: every glut and seed; of S and M the other families at a glut of 2 too."""
    seeds = UNSEEN if unseen else SEEDS
    found = [f"{size}-plain-{glut}-{seed}" for glut in GLUTS for seed in seeds]
    if size in ("S", "M"):
        found += [f"{size}-{family}-2.0-{seed}" for family in FAMILIES[1:] for seed in seeds]
    return found


def read(name: str) -> Situation:
    """The situation of an instance, read as any scenario folder is."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place, name)
        folder.mkdir()
        for file, text in json.loads((HERE / f"{name}.json").read_text(encoding="utf-8")).items():
            (folder / file).write_text(text, encoding="utf-8")
        return read_scenario(folder)


def draw(name: str) -> None:
    """Draw an instance and write its file, if there is none."""
    path = HERE / f"{name}.json"
    if not path.exists():
        size, family, glut, seed = name.split("-")
        found = texts(size, float(glut), int(seed), family)
        path.write_text(json.dumps(found, indent=0, ensure_ascii=False) + "\n", encoding="utf-8")


if __name__ == "__main__":
    for size in SIZES:
        for name in (*names(size), *names(size, unseen=True)):
            draw(name)
            read(name)
