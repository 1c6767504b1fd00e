"""A page as a reader of HTML finds it: its elements with their attributes and texts."""

from __future__ import annotations

from html.parser import HTMLParser

HEADINGS = {"h1", "h2", "h3"}
EMPTY = {"meta", "input", "br", "link", "img"}


class Outline(HTMLParser):
    """Elements in order, headings, the text without style, and whether every tag is closed in its turn."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.headings: list[tuple[int, str]] = []
        self.lines: list[str] = []
        self._open: list[str] = []
        self._heading: list[str] = []
        self.crossed: list[str] = []
        self.feed(page)
        self.close()
        self.crossed += self._open

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in EMPTY:
            self._open.append(tag)
        if tag in HEADINGS:
            self._heading.clear()

    def handle_endtag(self, tag: str) -> None:
        if not self._open or self._open.pop() != tag:
            self.crossed.append(tag)
        if tag in HEADINGS:
            self.headings.append((int(tag[1]), "".join(self._heading).strip()))

    def handle_data(self, data: str) -> None:
        inside = self._open[-1] if self._open else ""
        if inside != "style" and data.strip():
            self.lines.append(" ".join(data.split()))
        self._heading.append(data)

    @property
    def text(self) -> str:
        return "\n".join(self.lines)

    def all(self, tag: str) -> list[dict[str, str | None]]:
        return [attrs for name, attrs in self.tags if name == tag]
