"""Every error a user can meet.

MaslinError
├── InputFaults      the scenario cannot be read; carries all faults        exit 2
├── FilesChanged     others changed files while they were edited here       exit 2
├── NoPlanPossible   the rules clash; carries their names                   exit 3
├── NoPlanInTime     time ran out with no plan                              exit 4
├── CannotKeep       the file of people's answers cannot be used            exit 1
└── PlanRejected     the auditor found faults in a plan (ours to mend)      exit 1
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


class MaslinError(Exception):
    """Root of this project's errors; ``exit_code`` is what the command line ends with."""

    exit_code = 1


@dataclass(frozen=True, slots=True, order=True)
class Fault:
    """One fault of the input: where it stands, what was found, what is allowed, what to do."""

    file: str
    where: str
    found: str
    allowed: str
    remedy: str

    def __str__(self) -> str:
        place = f"{self.file}: {self.where}" if self.where else self.file
        return f"{place}: found {self.found}; allowed: {self.allowed}. {self.remedy}"


class InputFaults(MaslinError):
    """The scenario has faults; all of them are listed."""

    exit_code = 2

    def __init__(self, faults: list[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in faults))


class FilesChanged(MaslinError):
    """Files of a scenario were changed by somebody else since they were read; nothing was written."""

    exit_code = 2

    def __init__(self, files: Sequence[str]) -> None:
        self.files = tuple(files)
        super().__init__("changed elsewhere since they were read: " + ", ".join(files))


class NoPlanPossible(MaslinError):
    """No plan obeys all rules; ``rules`` names those that clash."""

    exit_code = 3

    def __init__(self, rules: list[str]) -> None:
        self.rules = tuple(rules)
        super().__init__("no plan is possible; these rules clash: " + "; ".join(rules))


class NoPlanInTime(MaslinError):
    """Time ran out before any plan was found; nothing is known of whether one exists."""

    exit_code = 4


class CannotKeep(MaslinError):
    """A file that keeps what is nowhere else cannot be read or written; ``why`` says what to do."""

    def __init__(self, file: str, why: str) -> None:
        self.why = why
        super().__init__(f"{file} cannot be used: {why}")


class PlanRejected(MaslinError):
    """A plan broke the farm's own rules and is neither shown nor written."""

    def __init__(self, findings: list[str]) -> None:
        self.findings = tuple(findings)
        super().__init__("the plan failed its audit:\n" + "\n".join(findings))
