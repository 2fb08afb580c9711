"""A served page as it stands alone in a folder: links by file, nothing that asks the server."""

from collections.abc import Callable
from html import escape
from html.parser import HTMLParser
from urllib.parse import unquote, urlsplit

# Elements without content of their own, so without an end tag.
_VOID = frozenset({"meta", "link", "input", "br", "hr", "img"})
# What only a server can do.
_LEFT_OUT = frozenset({"script", "form"})
_META_LEFT_OUT = frozenset({"form-token", "htmx-config"})
_LISTENING = frozenset({"data-live", "data-seen"})

Named = Callable[[str], str | None]
"""The file in which an address is found, None if it is not copied."""


def rewritten(page: str, named: Named, notice: str) -> str:
    """Return a page with its links led to files, and `notice` [HTML] above its masthead.

    A link to what is not copied is left out in lists of pages, and elsewhere loses its
    address but not its words.
    """
    writer = _Rewriter(named, notice)
    writer.feed(page)
    writer.close()
    return "".join(writer.written)


class _Rewriter(HTMLParser):
    def __init__(self, named: Named, notice: str) -> None:
        super().__init__(convert_charrefs=False)
        self.written: list[str] = []
        self._named = named
        self._notice = notice
        self._dropped: list[str] = []
        self._around: list[str] = []

    def handle_decl(self, decl: str) -> None:
        self._write(f"<!{decl}>")

    def handle_data(self, data: str) -> None:
        self._write(data)

    def handle_entityref(self, name: str) -> None:
        self._write(f"&{name};")

    def handle_charref(self, name: str) -> None:
        self._write(f"&#{name};")

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        # Of a drawn figure: ``<path … />``.
        self._write(self._tag(tag, attrs, "/>"))

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        if self._dropped or self._left_out(tag, given):
            if tag not in _VOID:
                self._dropped.append(tag)
            return
        if tag == "header" and given.get("class") == "masthead":
            self.written.append(self._notice)
        if tag not in _VOID:
            self._around.append(tag)
        self.written.append(self._tag(tag, attrs, ">"))

    def handle_endtag(self, tag: str) -> None:
        if self._dropped:
            self._dropped.pop()
            return
        if self._around:
            self._around.pop()
        self.written.append(f"</{tag}>")

    def _left_out(self, tag: str, given: dict[str, str | None]) -> bool:
        if tag in _LEFT_OUT or (tag == "meta" and given.get("name") in _META_LEFT_OUT):
            return True
        if tag == "p" and "data-live-state" in given:
            return True
        href = given.get("href") or ""
        listed = "nav" in self._around or "footer" in self._around
        return tag == "a" and listed and self._elsewhere(href)

    def _elsewhere(self, href: str) -> bool:
        return href.startswith("/") and self._led(href) is None

    def _tag(self, tag: str, attrs: list[tuple[str, str | None]], end: str) -> str:
        said = []
        for name, value in attrs:
            led = value
            if name in {"href", "src"} and value is not None and value.startswith("/"):
                led = self._led(value)
                if led is None:
                    continue
            if name not in _LISTENING:
                said.append(name if led is None else f'{name}="{escape(led)}"')
        return f"<{' '.join((tag, *said))}{end}"

    def _led(self, address: str) -> str | None:
        parts = urlsplit(address)
        name = self._named(unquote(parts.path))
        if name is None:
            return None
        query = f"?{parts.query}" if parts.path.startswith("/static/") and parts.query else ""
        return f"{name}{query}{'#' + parts.fragment if parts.fragment else ''}"

    def _write(self, text: str) -> None:
        if not self._dropped:
            self.written.append(text)
