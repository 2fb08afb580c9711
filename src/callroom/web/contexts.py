"""What each page's template is given as ``page``: one frozen value a page."""

from collections.abc import Mapping
from typing import ClassVar

from callroom.model import Device, Finding, Role, TeamStatus, Training
from callroom.views.amendment_text import AmendmentText
from callroom.views.appeals import AppealText
from callroom.views.heat_desk import HeatScores, SheetView
from callroom.views.history import HistoryLine
from callroom.views.home import DivisionLink, Home
from callroom.views.open_list import OpenItem
from callroom.views.raised import RaisedView
from callroom.views.score_list import ScoreList
from callroom.web.errors import Problem
from callroom.web.forms.entry import EntryForm
from callroom.web.forms.questions import Questions
from callroom.web.forms.typings import Typing
from callroom.web.live_text import LiveText
from callroom.web.pages import Page
from callroom.web.seen import DeviceSeen
from callroom.web.voice import Told


class HomePage(Page, frozen=True, kw_only=True):
    """``/``: `now` is what is on and next; `home` lists divisions and teams.

    `raised` is the figure for the stage as it was on loading; None: it is not shown.
    `entering`: teams can enter now; `helping`: people can offer to help.
    """

    template: ClassVar[str] = "home.html"
    home: Home
    now: LiveText
    raised: RaisedView | None
    entering: bool
    helping: bool


class TimetablePage(Page, frozen=True, kw_only=True):
    """``/timetable``: the day drawn and listed."""

    template: ClassVar[str] = "timetable.html"
    day: LiveText


class TeamPage(Page, frozen=True, kw_only=True):
    """``/team/<id>``: one team's own day, live, without anybody's name; None before a plan."""

    template: ClassVar[str] = "team.html"
    day: LiveText | None
    name: str
    division: DivisionLink | None


class StandingsPage(Page, frozen=True, kw_only=True):
    """``/standings/<division>``; without a division, the list of them."""

    template: ClassVar[str] = "standings.html"
    divisions: tuple[DivisionLink, ...]
    chosen: DivisionLink | None
    table: LiveText | None


class BoardPage(Page, frozen=True, kw_only=True):
    """``/board``: `hands` says that this visitor may do something on it."""

    template: ClassVar[str] = "board.html"
    board: LiveText
    hands: bool


class DeskPage(Page, frozen=True, kw_only=True):
    """``/desk``: a code to type, and the heats by what they still need.

    `once` are the cards that one person has typed while two have to (`double_entry`), `mine`
    the device that asks; `sets`: this visitor may change that.
    """

    template: ClassVar[str] = "desk.html"
    scores: ScoreList
    code: str
    once: tuple[Typing, ...]
    mine: str
    double_entry: bool
    sets: bool
    key: str
    told: Told | None


class EntryPage(Page, frozen=True, kw_only=True):
    """The form for one team's attempt at one workout; `heat` shows its heat's other lanes.

    `amendment` is the number of the amendment that the card in hand has (0: none); `amended`
    the one by which the workout now stands, if the card is from before it. `asked` is what
    looks wrong about what was typed (None: nothing was typed yet, or nothing does).
    """

    template: ClassVar[str] = "entry.html"
    asked: Questions | None
    form: EntryForm
    heat: HeatScores | None
    amendment: int
    amended: AmendmentText | None
    told: Told | None
    key: str


class DeskHeatPage(Page, frozen=True, kw_only=True):
    """``/desk/heat/<id>``: the lanes of a heat, the next one to enter on top."""

    template: ClassVar[str] = "desk_heat.html"
    heat: HeatScores
    told: Told | None


class JudgePage(Page, frozen=True, kw_only=True):
    """``/judge``: what the head judge has to settle, confirm or place.

    `labels` is what was typed about the devices that sent what fits nowhere; `appeals` are
    those that wait for a decision.
    """

    template: ClassVar[str] = "judge.html"
    scores: ScoreList
    labels: Mapping[str, str]
    divisions: tuple[DivisionLink, ...]
    appeals: tuple[AppealText, ...]
    told: Told | None
    key: str


class JudgeHeatPage(Page, frozen=True, kw_only=True):
    """``/judge/heat/<id>``: every lane of a heat; `basis` is what a confirmation rests on."""

    template: ClassVar[str] = "judge_heat.html"
    heat: HeatScores
    basis: str
    told: Told | None
    key: str


class SheetPage(Page, frozen=True, kw_only=True):
    """``/judge/score/…``: one score, its history, and what may be decided about it.

    `labels` is what was typed about the devices that had to do with it, by their ids.
    """

    template: ClassVar[str] = "sheet.html"
    sheet: SheetView
    history: tuple[HistoryLine, ...]
    labels: Mapping[str, str]
    attempts: int
    form: EntryForm
    told: Told | None
    key: str


class PadChoicePage(Page, frozen=True, kw_only=True):
    """``/pad``: choose a heat and a lane."""

    template: ClassVar[str] = "pad_choice.html"
    heats: LiveText


class DevicesPage(Page, frozen=True, kw_only=True):
    """``/director/devices``: join codes to make, devices that joined.

    `labels` is what was typed about each device, by its id; empty: nothing. `trainings` is
    how the last self-check of each went. `seen` is when each asked last and how its clock stands,
    as far as it asked since this server began; `in_force` counts the devices of each role.
    """

    template: ClassVar[str] = "devices.html"
    devices: tuple[Device, ...]
    trainings: Mapping[str, Training]
    labels: Mapping[str, str]
    roles: tuple[Role, ...]
    seen: Mapping[str, DeviceSeen]
    in_force: Mapping[str, int]
    key: str
    told: Told | None


class CodesPage(Page, frozen=True, kw_only=True):
    """Join codes just made, each with the QR code of its address; shown once.

    `codes` are pairs of a code and its QR code as SVG; `reachable` says whether the
    address leads here from another device, `elsewhere` where this server does answer.
    """

    template: ClassVar[str] = "codes.html"
    role: Role
    label: str
    codes: tuple[tuple[str, str], ...]
    address: str
    reachable: bool
    elsewhere: tuple[str, ...]


class DirectorPage(Page, frozen=True, kw_only=True):
    """``/director``: the event at a glance, and where to go from here.

    `plan_is_old`: something the published plan was made from has changed since. `urgent` are the
    first few things of all that are `open_count` open.
    """

    template: ClassVar[str] = "director.html"
    urgent: tuple[OpenItem, ...]
    open_count: int
    divisions: tuple[DivisionLink, ...]
    counts: Mapping[str, int]
    scores: ScoreList
    devices: int
    plan_is_old: bool


class FilesPage(Page, frozen=True, kw_only=True):
    """``/director/files``: what to print and take away; `findings` is what `verify` found."""

    template: ClassVar[str] = "files.html"
    told: Told | None
    findings: tuple[Finding, ...]


class TeamsPage(Page, frozen=True, kw_only=True):
    """``/desk/teams``: teams to withdraw or let back in.

    `out` has the teams no longer in the event by id; `rules`: this visitor may disqualify
    and reinstate.
    """

    template: ClassVar[str] = "teams.html"
    divisions: tuple[DivisionLink, ...]
    out: Mapping[str, TeamStatus]
    rules: bool
    key: str


class SignInPage(Page, frozen=True, kw_only=True):
    """``/sign-in``: the passphrase, or on first start a new one."""

    template: ClassVar[str] = "sign_in.html"
    first: bool
    told: Told | None


class JoinPage(Page, frozen=True, kw_only=True):
    """``/join``: a code, and a label for the device."""

    template: ClassVar[str] = "join.html"
    code: str
    label: str
    told: Told | None


class ProblemPage(Page, frozen=True, kw_only=True):
    """Anything refused: the sentences, and what to do next."""

    template: ClassVar[str] = "problem.html"
    status: int
    problem: Problem
    back: str
