"""Write the farms of the benchmarks to ``tests/bench/instances``: ``python -m tests.bench.draw``."""

from __future__ import annotations

from tests.bench.instances import FOLDER, as_text, file_of, kept


def write() -> None:
    """Write every farm that is kept."""
    FOLDER.mkdir(exist_ok=True)
    for farm in kept():
        file_of(farm).write_text(as_text(farm), encoding="utf-8")


if __name__ == "__main__":
    write()
    print(f"{len(kept())} farms: {FOLDER.name}")
