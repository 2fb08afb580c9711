"""The run sheet in words."""

from collections.abc import Mapping
from gettext import NullTranslations

import msgspec

from callroom.model import Event
from callroom.model.person import Person
from callroom.views import rota_wording
from callroom.views.rota_day import name_of
from callroom.views.run_line import InCharge, RunLine
from callroom.views.sentences import sentence
from callroom.views.side_wording import KIND_NAMES
from callroom.views.wording import spans


def line_text(line: RunLine, event: Event, words: NullTranslations) -> str:
    """Return what a line of the day is."""
    says = line.says
    if "post" in says.facts:
        post = rota_wording.post(str(says.facts["post"]), words)
        says = msgspec.structs.replace(says, facts={**says.facts, "post": post})
    return sentence(says, words.gettext, event=event)


def people_text(
    line: RunLine, names: Mapping[str, Person], words: NullTranslations, *, alone: bool = False
) -> str:
    """Return who has which post: ``"floor manager: Ana Ruiz; 7 judges"``.

    `alone`: it is one person's own sheet, so that the post is told and not the name. Of a
    shift the post stands in the line already. Where nobody holds a post, that is said.
    """
    by_post: dict[str, list[InCharge]] = {}
    for who in line.people:
        by_post.setdefault(who.post, []).append(who)
    if not by_post and line.posts and line.kind != "shift":
        posts = ", ".join(rota_wording.post(post, words) for post in line.posts)
        return words.gettext("{post}: nobody yet").format(post=posts)
    said = []
    for post, those in by_post.items():
        if post == "judge" and not alone:
            count = len(those)
            said.append(
                words.ngettext("{count} judge", "{count} judges", count).format(count=count)
            )
            continue
        named = ", ".join(dict.fromkeys(name_of(who.person, names) for who in those))
        lanes = spans([who.lane for who in those if who.lane is not None])
        if alone:
            named = words.gettext("lane {lane}").format(lane=lanes) if lanes else ""
        if line.kind == "shift":
            said.append(named)
        else:
            said.append(f"{_post(post, words)}: {named}" if named else _post(post, words))
    return "; ".join(said)


def _post(post: str, words: NullTranslations) -> str:
    """Return a post; of the side programme, that somebody is in charge."""
    if post in {str(kind) for kind in KIND_NAMES}:
        return words.gettext("in charge")
    return rota_wording.post(post, words)
