"""The files of a scenario folder as text: size, encoding, line ends, and the fingerprint of it all."""

from __future__ import annotations

import hashlib
from pathlib import Path

from scheduler.intake.faults import FaultList, nearest, shown

LARGEST_BYTES = 5_000_000
"""A larger file is refused without being read: a season's rows are a hundred times smaller."""

REQUIRED = (
    "kitchen.toml",
    "recipes.toml",
    "fruits.csv",
    "picks.csv",
    "lots.csv",
    "punnets.csv",
    "people.csv",
    "shifts.csv",
    "orders.csv",
    "store.csv",
)
OPTIONAL = (
    "deliveries.csv",
    "shop.csv",
    "days.csv",
    "busy.csv",
    "readings.csv",
    "boils.csv",
    "out.csv",
    "held.csv",
)


def read_texts(folder: Path, faults: FaultList) -> dict[str, str]:
    """The text of every file that can be read, with plain line ends and no byte order mark."""
    if not folder.is_dir():
        remedy = "Name a folder that holds " + ", ".join(REQUIRED) + "."
        faults.add(shown(folder), "", "no such folder", "a scenario folder", remedy)
        return {}
    present = {path.name for path in folder.iterdir()}
    note_missing(present, faults)
    texts = {}
    for name in (*REQUIRED, *OPTIONAL):
        if name in present:
            data = read_bytes(folder / name, faults)
            text = None if data is None else decoded(name, data, faults)
            if text is not None and not_empty(name, text, faults):
                texts[name] = text
    return texts


def fingerprint(texts: dict[str, str]) -> str:
    """sha256 over file names and contents.

    Byte order marks, line ends, blank lines and spaces at line ends do not count.
    """
    digest = hashlib.sha256()
    for name in sorted(texts):
        lines = [line.rstrip() for line in texts[name].split("\n")]
        content = "\n".join(line for line in lines if line)
        digest.update(f"{name}\0{content}\0".encode())
    return digest.hexdigest()


def note_missing(present: set[str], faults: FaultList) -> None:
    """Note absent files, and files whose names look like a slip of the pen for an absent one."""
    spare = {name.split(".")[0]: name for name in present - {*REQUIRED, *OPTIONAL}}
    for name in (*REQUIRED, *OPTIONAL):
        if name in present:
            continue
        close = nearest(Path(name).stem, spare, cutoff=0.75)
        if close:
            found = f"no such file, but {shown(spare[close])}"
            faults.add(name, "", found, "a file of this name", f"Rename {spare[close]} to {name}.")
        elif name in REQUIRED:
            faults.add(name, "", "no such file", "a file of this name", _make_it(name))


def _make_it(name: str) -> str:
    if name.endswith(".csv"):
        return "Make it; where there is nothing to say, the line of column names is enough."
    return "Copy it from another scenario folder and change it."


def read_bytes(path: Path, faults: FaultList) -> bytes | None:
    """What one file holds, or None and a fault."""
    name = path.name
    try:
        if not path.is_file():
            faults.add(name, "", "something that is not a file", "a plain text file", "Replace it by a file.")
            return None
        # The size is asked for first, and one byte more than allowed tells a file that has grown since.
        size = path.stat().st_size
        if size <= LARGEST_BYTES:
            with path.open("rb") as stream:
                data = stream.read(LARGEST_BYTES + 1)
            size = len(data)
    except OSError as error:
        found = f"a file that cannot be read ({error.strerror})"
        faults.add(name, "", found, "a file that may be read", "Mend its access rights.")
        return None
    if size > LARGEST_BYTES:
        found, allowed = f"a file of {size / 1e6:.1f} MB", f"at most {LARGEST_BYTES / 1e6:g} MB"
        faults.add(name, "", found, allowed, "Keep only the rows of the planned days.")
        return None
    return data


def decoded(name: str, data: bytes, faults: FaultList) -> str | None:
    """The text of a file with plain line ends and no byte order mark, or None and a fault."""
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        encoding = "UTF-16" if data[:2] in (b"\xff\xfe", b"\xfe\xff") else "bytes that are not UTF-8"
        remedy = "Save it again as 'CSV UTF-8' (spreadsheet) or with encoding UTF-8 (text editor)."
        faults.add(name, f"line {line}", encoding, "text in UTF-8", remedy)
        return None
    return text.replace("\r\n", "\n").replace("\r", "\n")


def not_empty(name: str, text: str, faults: FaultList) -> bool:
    """Whether there is anything in a file; a fault if not."""
    if not text.strip():
        allowed = "a line of column names at least" if name.endswith(".csv") else "keys and tables"
        faults.add(name, "", "an empty file", allowed, _make_it(name))
        return False
    return True
