"""A PDF as a file: whole or not at all, and never in place of somebody's own."""

from __future__ import annotations

from pathlib import Path

from scheduler.errors import Fault, InputFaults
from scheduler.paper.press import is_ours
from scheduler.views.files import write_texts


def write_pdf(path: Path, pdf: bytes) -> None:
    """Write a PDF to ``path``. A file there that is not one of ours, or to which somebody has added, is kept
    in a dated folder beside it. Raises InputFaults where ``path`` names no PDF or cannot be written."""
    if path.is_dir():
        raise _fault(path, "a folder", "Name a file in it.")
    if path.suffix.lower() != ".pdf":
        raise _fault(path, "a name that does not end in .pdf", "Name a PDF.")
    try:
        theirs = [path] if path.exists() and not is_ours(path.read_bytes()) else []
        write_texts(path.parent, {path.name: pdf}, theirs)
    except OSError as error:
        raise _fault(path, f"no place to write ({error.strerror})", "Name another place.") from error


def _fault(path: Path, found: str, remedy: str) -> InputFaults:
    return InputFaults([Fault("--out", str(path), found, "a PDF file that can be written", remedy)])
