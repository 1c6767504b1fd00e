"""Page "Scenario" while it is changed: files as tables, faults under each, and one act that saves all."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime
from pathlib import Path

import streamlit as st

from scheduler.drafts.draft import FILES, Draft
from scheduler.drafts.grid import Section
from scheduler.drafts.importing import take_workbook
from scheduler.drafts.workbook import to_workbook
from scheduler.errors import Fault, FilesChanged, InputFaults
from scheduler.intake.files import LARGEST_BYTES
from scheduler.languages import message, say, say_many, spoken
from scheduler.views.dashboard import beginning, cells, parts

Faults = tuple[Fault, ...]
TITLE = message("Change the scenario")
TABLE, FIELDS, TEXT = message("As a table"), message("As fields"), message("As text")
WORKBOOK_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


def show(folder: Path) -> None:
    """Draw the editor of a scenario folder, which need not be there yet."""
    draft = draft_of(folder)
    _news(draft)
    if not draft.texts:
        beginning.show(draft)
    _acts(draft)
    tables(draft)
    _workbook(draft)


def tables(draft: Draft) -> None:
    """Draw the choice of a file and of a table in it, its editor, and the faults there and elsewhere."""
    left, right = st.columns(2)
    with left:
        file = _choose_file(draft)
    if file in draft.texts:
        with right:
            section = _choose_section(draft, draft.sections(file))
        here = _edit(draft, file, section)
    else:
        here = _not_begun(draft, file)
    _faults_elsewhere(draft, here)


def draft_of(folder: Path) -> Draft:
    """The draft of a folder, kept for as long as the browser's page is open."""
    drafts: dict[Path, Draft] = st.session_state.setdefault("drafts", {})
    if folder not in drafts:
        drafts[folder] = Draft(folder)
    draft = drafts[folder]
    if not draft.can_undo and not draft.can_redo and draft.changed_on_disk():
        draft.discard()
        cells.draw_afresh()
    return draft


def _news(draft: Draft) -> None:
    """What became of the last act, and what others did to the folder."""
    if told := st.session_state.pop("told", None):
        parts.note(*told)
    if moved := draft.changed_on_disk():
        parts.note(
            say("Changed elsewhere since they were read: {moved}.", moved=", ".join(moved)),
            [
                say(
                    "Nothing is saved over that. Read anew: files that you changed here stay as you have "
                    "them (what the folder holds of them is kept when you save), all others are taken from "
                    "there."
                ),
            ],
            "bad",
        )
        st.button(say("Read anew"), on_click=_read_anew, args=(draft,))


def _acts(draft: Draft) -> None:
    changed, faults = draft.changed, draft.faults
    with st.container(horizontal=True):
        ready = bool(changed) and not faults
        st.button(say("Save"), type="primary", disabled=not ready, on_click=_save, args=(draft,))
        st.button(say("Undo"), disabled=not draft.can_undo, on_click=step, args=(draft, "undo"))
        st.button(say("Redo"), disabled=not draft.can_redo, on_click=step, args=(draft, "redo"))
        st.button(say("Leave as it was"), disabled=not changed, on_click=step, args=(draft, "discard"))
    if not changed:
        st.caption(say("Nothing is changed. What you change is written when you press Save, not before."))
    elif faults:
        st.caption(
            say(
                "Changed: {changed}. {many} to mend before it can be saved.",
                changed=", ".join(changed),
                many=_many(faults),
            )
        )
    else:
        st.caption(say("Changed, and not saved yet: {changed}.", changed=", ".join(changed)))


def _choose_file(draft: Draft) -> str:
    """The file that is shown; its label says whether it has faults."""

    def name(file: str) -> str:
        if faults := _of_file(draft, file):
            return f"{file}: {_many(faults)}"
        if file not in draft.texts:
            return say("{file}: not begun", file=file)
        return say("{file}: changed", file=file) if file in draft.changed else file

    faulty = next((file for file in FILES if _of_file(draft, file)), FILES[0])
    return _remembered(message("File"), FILES, name, faulty)


def _edit(draft: Draft, file: str, section: Section | None) -> Faults:
    """Show one table of a file, or its text, and the faults that stand in it."""
    ways = [TABLE, FIELDS, TEXT] if section else [TEXT]
    way = st.segmented_control(
        say("Show"),
        ways,
        default=ways[0],
        required=True,
        format_func=spoken,
        key=f"way {len(ways)}",
        label_visibility="collapsed",
    )
    if section is None or way == TEXT:
        cells.as_text(draft, file)
        found = _of_file(draft, file)
    else:
        (cells.as_table if way == TABLE else cells.as_fields)(draft, section)
        found = draft.faults_of(section)
    if draft.step.said and draft.step.about == file:
        parts.note(say("Turned into the unit of the column"), draft.step.said)
    if found:
        parts.note(say("{many} here", many=_many(found)), tone="bad")
        parts.fault_rows(found)
    return found


def _choose_section(draft: Draft, tables: Sequence[Section]) -> Section | None:
    """The table of a file that is shown; None where its text is no table."""
    if len(tables) < 2:
        return tables[0] if tables else None
    titles = {section.title: section for section in tables}

    def name(title: str) -> str:
        faults = draft.faults_of(titles[title])
        recipe, colon, table = title.rpartition(": ")
        told = f"{recipe}{colon}{spoken(table)}"
        return f"{told}: {_many(faults)}" if faults else told

    faulty = next((section.title for section in tables if draft.faults_of(section)), tables[0].title)
    return titles[_remembered(message("Section"), list(titles), name, faulty)]


def _not_begun(draft: Draft, file: str) -> Faults:
    st.caption(say("There is no {file} in this scenario.", file=file))
    st.button(say("Begin {file}", file=file), on_click=_begin, args=(draft, file))
    found = _of_file(draft, file)
    if found:
        parts.fault_rows(found)
    return found


def _of_file(draft: Draft, file: str) -> Faults:
    return tuple(fault for fault in draft.faults if fault.file == file)


def _faults_elsewhere(draft: Draft, here: Faults) -> None:
    """Faults of all other files and tables, so that none is overlooked."""
    others = [fault for fault in draft.faults if fault not in here]
    if not others:
        return
    with st.expander(say("{many} elsewhere", many=_many(others))):
        for other in dict.fromkeys(fault.file for fault in others):
            st.markdown(f"**{other}**")
            parts.fault_rows([fault for fault in others if fault.file == other])


def _workbook(draft: Draft) -> None:
    """The whole scenario as a workbook, and back."""
    with st.expander(say("As a workbook for a spreadsheet")):
        st.caption(say("One sheet for each table. What each column is stands as a comment on its heading."))
        if draft.faults:
            st.caption(say("There is a workbook to download once no fault is left."))
        else:
            st.download_button(
                say("Download the workbook"),
                lambda: to_workbook(draft),
                f"{draft.folder.name}.xlsx",
                WORKBOOK_TYPE,
                on_click="ignore",
            )
        key = f"workbook {st.session_state.get('version', 0)}"
        st.file_uploader(
            say("Take a workbook in (nothing is saved until you press Save)"),
            "xlsx",
            key=key,
            max_upload_size=LARGEST_BYTES // 1_000_000,
            on_change=_take,
            args=(draft, key),
        )
        if refused := st.session_state.pop("refused", None):
            parts.note(say("The workbook was not taken in: {many}", many=_many(refused)), tone="bad")
            parts.rows((fault.file, _told(fault), parts.allowed(fault)) for fault in refused)


def _told(fault: Fault) -> str:
    return f"{fault.where}: {parts.found(fault)}".removeprefix(": ")


def _many(faults: Sequence[Fault]) -> str:
    return say_many("1 fault", "{n} faults", len(faults)).replace(" ", "\u00a0")


def _remembered(label: str, options: Sequence[str], name: Callable[[str], str], first: str) -> str:
    """A choice that outlives its labels, which change with the faults; ``first`` until one is made."""
    asked = st.session_state.setdefault(f"shown {label}", first)
    index = options.index(asked if asked in options else first)
    key = f"choose {label} {hash(tuple(map(name, options)))}"
    chosen: str = st.selectbox(
        spoken(label), options, index=index, format_func=name, key=key, on_change=_remember, args=(label, key)
    )
    return chosen


def _remember(label: str, key: str) -> None:
    st.session_state[f"shown {label}"] = st.session_state[key]


def _save(draft: Draft) -> None:
    try:
        kept = draft.save(datetime.now())
    except FilesChanged:
        return  # the page says so, and what to do
    except OSError as error:
        remedy = say("Is there room on the disk, and may the folder be written to?")
        st.session_state["told"] = (
            say("It could not be saved: {reason}.", reason=error.strerror),
            [remedy],
            "bad",
        )
        return
    where = [say("What was there before is kept in {kept}.", kept=kept)] if kept else []
    st.session_state["told"] = (say("Saved."), where, "good")
    cells.draw_afresh()


def step(draft: Draft, which: str) -> None:
    """Take a step of a draft ("undo", "redo", "discard") and show the file that it was about."""
    about = {"undo": draft.undo, "redo": draft.redo, "discard": draft.discard}[which]()
    if about in FILES:
        st.session_state["shown File"] = about
    cells.draw_afresh()


def _begin(draft: Draft, file: str) -> None:
    draft.begin(file)
    cells.draw_afresh()


def _read_anew(draft: Draft) -> None:
    draft.read_anew()
    cells.draw_afresh()


def _take(draft: Draft, key: str) -> None:
    upload = st.session_state[key]
    if upload is None:
        return
    try:
        take_workbook(draft, upload.getvalue())
    except InputFaults as error:
        st.session_state["refused"] = error.faults
        return
    changed = draft.changed
    told = (
        say("Changed by it: {changed}.", changed=", ".join(changed))
        if changed
        else say("It says what the files say already.")
    )
    st.session_state["told"] = (say("The workbook was taken in; nothing is saved yet."), [told])
    cells.draw_afresh()
