"""The auditor: recomputes every rule from a situation and a plan, with its own arithmetic."""

from scheduler.auditor.auditing import audit
from scheduler.auditor.finding import Finding

__all__ = ["Finding", "audit"]
