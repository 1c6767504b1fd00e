"""What stands in a scenario folder: bytes to tell whether they changed, and text to edit."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from scheduler.errors import Fault, InputFaults
from scheduler.intake.faults import FaultList
from scheduler.intake.files import decoded, read_bytes

BYTE_ORDER_MARK = "\ufeff"


@dataclass(frozen=True)
class OnDisk:
    """Files as they were read; ``unread`` are the faults of those that are no text."""

    data: Mapping[str, bytes | None]
    texts: Mapping[str, str]
    unread: tuple[Fault, ...]

    def as_before(self, file: str, text: str) -> str:
        """``text`` with the byte order mark and line ends that the file had."""
        data = self.data.get(file) or b""
        text = text.replace("\n", "\r\n") if b"\r\n" in data else text
        return BYTE_ORDER_MARK + text if data.startswith(BYTE_ORDER_MARK.encode()) else text


def look(folder: Path, files: Sequence[str]) -> OnDisk:
    """Read ``files`` of a folder, as far as they are there."""
    faults = FaultList()
    data: dict[str, bytes | None] = {}
    texts: dict[str, str] = {}
    for file in files:
        if (folder / file).exists():
            data[file] = read_bytes(folder / file, faults)
            text = decoded(file, data[file] or b"", faults) if data[file] is not None else None
            if text is not None:
                texts[file] = text
    try:
        faults.raise_if_any()
    except InputFaults as error:
        return OnDisk(data, texts, error.faults)
    return OnDisk(data, texts, ())
