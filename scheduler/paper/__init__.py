"""Paper: a plan as pages to hang on a wall, to write on and to stick on jars.

A module for each paper turns a plan into plain dicts of ready words; the templates beside them (``*.typ``)
lay these out, and ``press`` makes the PDF.
"""

from scheduler.paper.files import write_pdf
from scheduler.paper.labels import GRIDS
from scheduler.paper.papers import PAPERS, WHATS, Wish, empty, print_pdf

__all__ = ["GRIDS", "PAPERS", "WHATS", "Wish", "empty", "print_pdf", "write_pdf"]
