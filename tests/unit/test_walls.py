"""Imports keep to the rooms: data flows one way."""

from __future__ import annotations

import ast
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[2] / "scheduler"
OURS = "scheduler"
SHEET = ["ortools", "highspy", "pandas"] + [
    f"{OURS}.{room}" for room in ("intake", "model", "solve", "auditor", "views")
]
PLANNING = ("model", "solve", "plan_rows", "auditor", "views")
WALLS = {
    "errors.py": [OURS],
    "languages": [OURS],
    "domain": [
        "numpy",
        "pandas",
        "ortools",
        "pydantic",
        "scheduler.physics",
        "scheduler.cards",
        "scheduler.model",
    ],
    "physics": [
        f"{OURS}.{room}"
        for room in ("domain", "intake", "cards", "model", "solve", "plan_rows", "auditor", "views")
    ],
    "law": [
        f"{OURS}.{room}"
        for room in (
            "domain",
            "physics",
            "intake",
            "cards",
            "model",
            "solve",
            "plan_rows",
            "auditor",
            "views",
        )
    ],
    "finished.py": ["ortools", "pandas"]
    + [
        f"{OURS}.{room}"
        for room in ("intake", "cards", "making", "model", "solve", "plan_rows", "auditor", "views")
    ],
    "intake": ["scheduler.model", "scheduler.solve", "scheduler.views"],
    "drafts": [
        "streamlit",
        "pandas",
        "ortools",
        "highspy",
        *(f"{OURS}.{room}" for room in ("model", "solve", "cards", "making", "auditor", "views.dashboard")),
    ],
    "making.py": ["ortools", "highspy", "scheduler.model", "scheduler.solve", "scheduler.intake"],
    "panful.py": ["ortools", "highspy", "scheduler.model", "scheduler.solve", "scheduler.intake"],
    "sheet.py": SHEET,
    "pan_sheets.py": SHEET,
    "batch_sheet.py": SHEET,
    "costs.py": SHEET,
    "cards.py": [
        "scheduler.physics",
        "scheduler.making",
        "ortools",
        "highspy",
        "scheduler.model",
        "scheduler.solve",
        "scheduler.intake",
    ],
    "stock_cards.py": [OURS],
    "crates.py": [OURS],
    "model": [
        "scheduler.physics",
        "scheduler.intake",
        "scheduler.views",
        "scheduler.solve",
        "scheduler.auditor",
    ],
    "solve": ["scheduler.physics", "scheduler.intake", "scheduler.views", "scheduler.auditor"],
    "plan_rows.py": [
        "ortools",
        "highspy",
        "scheduler.model",
        "scheduler.solve",
        "scheduler.cards",
        "scheduler.stock_cards",
    ],
    "auditor": [
        "ortools",
        "highspy",
        "scheduler.cards",
        "scheduler.stock_cards",
        "scheduler.making",
        "scheduler.model",
        "scheduler.solve",
    ],
    "views": ["scheduler.model", "scheduler.solve", "ortools", "highspy"],
    "bench": ["scheduler.cards", "scheduler.making", "scheduler.solve", "ortools", "highspy"],
    "feeds": [
        "streamlit",
        "ortools",
        "highspy",
        *(
            f"{OURS}.{room}"
            for room in ("intake", "model", "solve", "cards", "making", "people_pages", "views.dashboard")
        ),
    ],
    "people_pages": [
        "streamlit",
        "ortools",
        "highspy",
        *(
            f"{OURS}.{room}"
            for room in ("intake", "drafts", "model", "solve", "cards", "making", "views.dashboard")
        ),
    ],
    "paper": [
        "streamlit",
        "ortools",
        "highspy",
        *(f"{OURS}.{room}" for room in ("intake", "model", "solve", "cards", "making", "views.dashboard")),
    ],
}
ONLY_IN = {
    "ortools": ("model", "solve"),
    "highspy": ("model", "solve"),
    "pydantic": ("intake",),
    "tomlkit": ("drafts",),
    "openpyxl": ("drafts",),
    "streamlit": ("views/dashboard",),
    "icalendar": ("feeds", "people_pages"),
    "recurring_ical_events": ("people_pages",),
    "python_multipart": ("people_pages",),
    "caldav": ("feeds",),
    "requests": ("feeds",),
    "lxml": ("feeds",),
    "starlette": ("feeds", "people_pages"),
    "jinja2": ("people_pages",),
    "sqlalchemy": ("people_pages",),
    "smtplib": ("people_pages",),
    "typst": ("paper",),
    "babel": ("languages",),
}


@cache
def imports(path: Path) -> set[str]:
    """Modules that a file imports directly, wherever in the file."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {name.name for name in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found |= {node.module} | {f"{node.module}.{name.name}" for name in node.names}
    return found


def under(module: str, root: str) -> bool:
    return module == root or module.startswith(root + ".")


def files_of(room: str) -> list[Path]:
    place = PACKAGE / room
    return [place] if place.is_file() else sorted(place.rglob("*.py"))


@pytest.mark.parametrize("room", WALLS)
def test_a_room_imports_nothing_from_behind_its_wall(room: str) -> None:
    files = files_of(room)
    assert files, f"no files in {room}"
    own = f"{OURS}.{room.removesuffix('.py')}"
    for path in files:
        crossed = {m for m in imports(path) for wall in WALLS[room] if under(m, wall) and not under(m, own)}
        assert not crossed, f"{path.relative_to(PACKAGE)} imports {sorted(crossed)}"


@pytest.mark.parametrize("library", ONLY_IN)
def test_a_library_is_used_only_in_its_rooms(library: str) -> None:
    users = {
        path.relative_to(PACKAGE).as_posix()
        for path in PACKAGE.rglob("*.py")
        if any(under(module, library) for module in imports(path))
    }
    assert users, f"nobody imports {library}"
    strangers = [
        user for user in sorted(users) if not user.startswith(tuple(f"{room}/" for room in ONLY_IN[library]))
    ]
    assert not strangers


def test_every_module_says_first_what_lives_there() -> None:
    silent = [p.name for p in PACKAGE.rglob("*.py") if not ast.get_docstring(ast.parse(p.read_text("utf-8")))]
    assert not silent


def test_the_command_line_starts_without_any_room() -> None:
    """Nobody who asks for help waits for a solver; a process of its own, as this one has read all rooms."""
    asked = "import sys, scheduler.cli; print(*sys.modules)"
    done = subprocess.run(
        [sys.executable, "-c", asked], capture_output=True, text=True, timeout=60, check=True
    )
    read = done.stdout.split()
    assert "scheduler.cli" in read
    assert not {"numpy", *ONLY_IN}.intersection(read)
