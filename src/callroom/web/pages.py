"""Views become HTML: one environment for each language, nothing undefined, all text escaped."""

import functools
from collections.abc import Mapping
from typing import Any, ClassVar

import jinja2
import msgspec
from litestar import MediaType, Response

from callroom.bootstrap.language import Language, accepted, language_of
from callroom.model import State
from callroom.views.page_head import PageHead, page_head
from callroom.web.assets import Assets
from callroom.web.visitor import Visitor
from callroom.web.voice import Voice


class Page(msgspec.Struct, frozen=True, kw_only=True):
    """What a template is given as ``page``: a frozen value, documented where it is defined.

    Each kind of page names its template; `tests/web` sees to it that a template reads
    nothing else than ``page`` and ``shell``.
    """

    template: ClassVar[str]


class Shell(msgspec.Struct, frozen=True, kw_only=True):
    """What every page is given as ``shell``: around the page's own content.

    `path` is the address asked for; `role` what this browser may be; `form_token` goes
    into every form; `private` says that nobody can read along.
    """

    head: PageHead
    lang: str
    path: str
    role: str
    form_token: str
    private: bool


class Pages:
    """Renders templates for one book."""

    def __init__(self, assets: Assets) -> None:
        """Address stylesheets and scripts as `assets` does."""
        self._assets = assets

    def page(self, page: Page, *, state: State, visitor: Visitor, path: str) -> str:
        """Return a whole page."""
        head = page_head(state)
        begun = state.event is not None
        language = language_of(head.language) if begun else accepted(visitor.reads)
        shell = Shell(
            head=head,
            lang=language.tag,
            path=path,
            role=visitor.role,
            form_token=visitor.form_token,
            private=visitor.private,
        )
        values = {"page": page, "shell": shell, "say": Voice(state, head, language)}
        return self._render(page.template, values, language)

    def fragment(self, template: str, view: object, state: State, **more: object) -> str:
        """Return a part of a page, the same for everyone who may see it."""
        head = page_head(state)
        language = language_of(head.language)
        values = {"view": view, "say": Voice(state, head, language), **more}
        return self._render(template, values, language)

    def _render(self, template: str, values: Mapping[str, Any], language: Language) -> str:
        found = _environment(language).get_template(template)
        return found.render(values, asset=self._assets.address)


@functools.lru_cache(maxsize=16)
def _environment(language: Language) -> jinja2.Environment:
    """Return the templates in one language, each read and compiled once."""
    environment = jinja2.Environment(
        loader=jinja2.PackageLoader("callroom.web"),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        extensions=["jinja2.ext.i18n"],
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.install_gettext_translations(  # type: ignore[attr-defined]
        language.words, newstyle=True
    )
    return environment


def html(text: str, status: int = 200) -> Response[str]:
    """Return an HTML answer."""
    return Response(text, status_code=status, media_type=MediaType.HTML)
