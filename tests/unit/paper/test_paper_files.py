"""Where a PDF is written: whole or not at all, and nobody's own file is lost."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from pypdf import PdfWriter
from pypdf.annotations import FreeText

from scheduler.errors import InputFaults
from scheduler.paper import print_pdf, write_pdf
from tests.unit.views import kilbrack_sample as sample

PDF = print_pdf("thaw", sample.plan(), sample.situation().scenario)


def test_it_is_written_and_replaced_without_copies(tmp_path: Path) -> None:
    path = tmp_path / "new" / "thaw.pdf"
    write_pdf(path, PDF)
    write_pdf(path, PDF)
    assert path.read_bytes() == PDF
    assert [each.name for each in path.parent.iterdir()] == ["thaw.pdf"]


def with_a_note() -> bytes:
    """Our PDF with a note that somebody typed on it and saved beside what was there."""
    writer = PdfWriter(io.BytesIO(PDF), incremental=True)
    writer.add_annotation(0, FreeText(text="done", rect=(50, 550, 200, 650)))
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()


@pytest.mark.parametrize("theirs", [b"a letter", b"%PDF-1.7 another\n%%EOF\n", with_a_note()])
def test_a_file_of_somebodys_own_is_kept(tmp_path: Path, theirs: bytes) -> None:
    path = tmp_path / "thaw.pdf"
    path.write_bytes(theirs)
    write_pdf(path, PDF)
    assert path.read_bytes() == PDF
    (kept,) = tmp_path.glob("kept */thaw.pdf")
    assert kept.read_bytes() == theirs


def test_a_folder_another_ending_and_no_place_are_refused(tmp_path: Path) -> None:
    with pytest.raises(InputFaults, match="a folder"):
        write_pdf(tmp_path, PDF)
    with pytest.raises(InputFaults, match="does not end in"):
        write_pdf(tmp_path / "thaw.txt", PDF)
    (tmp_path / "file").write_text("x")
    with pytest.raises(InputFaults, match="no place to write"):
        write_pdf(tmp_path / "file" / "thaw.pdf", PDF)
    assert [each.name for each in tmp_path.iterdir()] == ["file"]


def test_a_disk_that_refuses_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "thaw.pdf"
    write_pdf(path, PDF)

    def refuse(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("scheduler.views.files.os.replace", refuse)
    with pytest.raises(InputFaults, match="No space left"):
        write_pdf(path, PDF + b"%")
    assert path.exists()
