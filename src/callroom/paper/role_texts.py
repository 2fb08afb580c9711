"""What stands on the card of each role. Common practice, no source; the words are our own.

A judge's card says how to behave; what counts as a repetition stands in the briefing.
"""

from gettext import NullTranslations

from callroom.paper.typesetting import Payload
from callroom.views.role_cards import CardRole

Points = tuple[str, ...]


def role_title(role: CardRole, words: NullTranslations) -> str:
    """Return the name of a role as the head of its card."""
    say = words.gettext
    return {
        "judge": say("Judge"),
        "desk": say("Desk"),
        "floor": say("Floor manager"),
        "announcer": say("Announcer"),
        "check_in": say("Check-in"),
    }[role]


def role_sections(role: CardRole, words: NullTranslations) -> list[Payload]:
    """Return the three parts of a card: before, during, when something goes wrong."""
    say = words.gettext
    before, during, wrong = {
        "judge": _judge,
        "desk": _desk,
        "floor": _floor,
        "announcer": _announcer,
        "check_in": _check_in,
    }[role](words)
    middle = {
        "desk": say("While heats run"),
        "announcer": say("While heats run"),
        "check_in": say("While teams arrive"),
    }.get(role, say("During a heat"))
    titles = (say("Before"), middle, say("When something goes wrong"))
    return [
        {"title": title, "points": list(points)}
        for title, points in zip(titles, (before, during, wrong), strict=True)
    ]


def _judge(words: NullTranslations) -> tuple[Points, Points, Points]:
    say = words.gettext
    return (
        (
            say("Join with your phone, once: scan your code and touch the button."),
            say("Read the standards of your workouts on the phone and take the self-check."),
            say("Stand at your lane when the heat is called. Greet the team, count heads."),
            say("Look at the loads on the bar, the collars, the marks on the floor."),
            say("Touch “This lane is ready”, or raise an arm."),
        ),
        (
            say("Count aloud, eyes on the athlete. Touch the phone only between repetitions."),
            say("No-rep: flat hand, say why, repeat the last number that counted. Touch “No-rep”."),
            say("The same for the first team and the last. In doubt it counts."),
            say("At the finish: first the time, then everything else."),
            say(
                "Show the captain the count, hand it in. On paper: write, have it signed, to the desk."
            ),
        ),
        (
            say(
                "Somebody is hurt, dizzy or in pain: stop the lane, arms crossed over your head, call "
                "first aid. Move nobody without need. The work done so far stands."
            ),
            say(
                "Whether the whole heat stops is decided by the floor manager or the head judge. What "
                "counts afterwards, by the head judge alone."
            ),
            say(
                "The team argues: stay calm, change nothing, “the desk takes appeals”. Go on judging."
            ),
            say(
                "A second phone reports for your lane: both reports are kept, the head judge chooses. "
                "Do not agree on a number between you."
            ),
            say(
                "The phone says no connection: go on counting, do not reload. It sends later by itself."
            ),
            say("The phone dies: the paper card. Ask for a clock time, write the count, go on."),
        ),
    )


def _desk(words: NullTranslations) -> tuple[Points, Points, Points]:
    say = words.gettext
    return (
        (
            say("Join this laptop with its code and open the page of the desk."),
            say(
                "Have the cards of the day in order of heats, pens, a stapler, a box for finished cards."
            ),
            say("Type one practice card of a rehearsal, so that hands know the form."),
            say("Agree with the head judge when scores are confirmed and posted."),
        ),
        (
            say("Scan the code of a card or type it; the form of that lane opens."),
            say("Type what is written, not what it ought to be. No mark of a captain: ask first."),
            say("Look at the list of missing scores after every heat; send somebody for the card."),
            say("Typed cards go into the box, heat by heat. Nothing is thrown away today."),
            say("Anything marked “odd” is looked at once more, with the card in hand."),
        ),
        (
            say(
                "Two reports for one lane differ: do not choose. Find card and judge; the head judge "
                "decides on the page of the heat."
            ),
            say(
                "You typed a mistake: tell the head judge, who corrects it with a reason. It stays visible."
            ),
            say(
                "A captain protests: file an appeal with the time, give no opinion, promise nothing."
            ),
            say("A report fits no lane: leave it, the head judge sees it too."),
            say(
                "Network or laptop gone: collect cards, write down the time, tell the director. Cards are enough."
            ),
            say(
                "Somebody is hurt near you: call first aid, then tell the floor manager. Write it down afterwards."
            ),
        ),
    )


def _floor(words: NullTranslations) -> tuple[Points, Points, Points]:
    say = words.gettext
    return (
        (
            say("Join with your phone and open the page of your floor."),
            say(
                "Five minutes with first aid and the head judge: who, where, with what, how called, "
                "which way out."
            ),
            say(
                "Walk the lanes with the sheet of kit: loads, collars, marks, nothing in the walkways."
            ),
            say("Call the heat at its report time. Mark each team here or not here."),
            say("Say once, the same to all: the workout, the start signal, what ends it."),
        ),
        (
            say(
                "Start only when each judge is ready. A published start is never brought forward for one team."
            ),
            say("Start the clock with the page, so that every screen shows the same time."),
            say(
                "Stand where you see all lanes and all see you. Keep people and prams out of the lanes."
            ),
            say("At the end: judges write first, then kit is changed, then the floor is cleared."),
            say("Late? Say so early. The pages for guests follow by themselves."),
        ),
        (
            say(
                "Danger: shout STOP, stop the clock with a reason. People first; whether the heat is run "
                "again is settled later, by the head judge."
            ),
            say(
                "Injury: first aid leads, you keep the floor free and open the way in. One person waits "
                "for the ambulance. The other lanes stop if they are in the way."
            ),
            say(
                "A team is missing: the heat goes on without it at its time. Who comes later is marked here."
            ),
            say(
                "Kit breaks: to the side, spare in. No spare: stop the lane and ask the head judge."
            ),
            say(
                "Ten minutes late or more: ask the director for the next times; do not invent any."
            ),
            say(
                "No network: call by voice, start by whistle and stop-watch, note the time of the start."
            ),
        ),
    )


def _announcer(words: NullTranslations) -> tuple[Points, Points, Points]:
    say = words.gettext
    return (
        (
            say(
                "Open the announcer’s page: who is on, who is next, how names are said, who leads."
            ),
            say("Ask for every name you are not sure of. A name said wrong is remembered."),
            say("Have the run sheet: welcome, sponsors, raffle, speeches, awards."),
            say("Agree on a sign with the floor manager: go, wait, stop."),
            say("Learn the safety words: ways out, first aid, where a lost child is taken."),
        ),
        (
            say("Call the next heat when the floor manager says so, twice, with the report point."),
            say("Name every team in a heat, the last one as warmly as the first."),
            say("Say places only as the page shows them, and “so far” until they are final."),
            say("Be silent at the countdown. Judges must be heard."),
            say("Say now and then what the money is for, and how much has come together."),
        ),
        (
            say(
                "Somebody is hurt: microphone down. No name, no guess, no commentary. Wait for the floor manager."
            ),
            say(
                "To leave the hall: calmly, three times, the words of the safety plan, nothing of your own."
            ),
            say("A result is disputed: say nothing about it until the head judge has ruled."),
            say(
                "The podium is read only from the presenter’s sheet, once the head judge lets it out."
            ),
            say("A delay: give the expected time of the page, never a promise."),
            say("The page stands still: go on from the printed heat sheets."),
        ),
    )


def _check_in(words: NullTranslations) -> tuple[Points, Points, Points]:
    say = words.gettext
    return (
        (
            say("Join with a phone or laptop and open the page for checking in."),
            say("Packs in order of team, forms to sign, pens, a till with counted change."),
            say("Know where teams go next: changing rooms, warm-up, the briefing."),
            say("Names and health are nobody’s business: turn the screen away from the queue."),
        ),
        (
            say("Ask for the team, type a part of its name or scan the code on its sheet."),
            say(
                "Everybody there, nothing open: one touch, give the pack, say the first report time."
            ),
            say("Something open: signature, guardian, fee. Settle it now, not later."),
            say("Not all there: mark who is, keep the pack or give it, as the captain wishes."),
            say("Cash: count it in front of them, book it, then into the till."),
        ),
        (
            say("A team that is not on the list: note it, take no money, the director decides."),
            say(
                "Somebody else takes part than was entered: to the page of line-ups, before the deadline."
            ),
            say(
                "A minor without a guardian’s signature does not compete. Call the director, kindly."
            ),
            say("Somebody says they are ill or hurt: first aid sees them before they start."),
            say(
                "The page says the fee was booked already: give the money back, ask your colleague."
            ),
            say(
                "No network: tick the boxes of the heat sheets, note money with name and time, type it in later."
            ),
        ),
    )


def asks(role: CardRole, words: NullTranslations) -> list[Payload]:
    """Return whom to ask for what, in two or three lines."""
    say = words.gettext
    head, floor = say("Head judge"), say("Floor manager")
    director, first_aid = say("Director"), say("First aid")
    lines = {
        "judge": (
            (head, say("what counts, standards, disputes")),
            (floor, say("clock, kit, people in the lane")),
        ),
        "desk": (
            (head, say("two reports, corrections, appeals")),
            (director, say("network, laptop, money")),
        ),
        "floor": (
            (head, say("stops, re-runs, rules")),
            (director, say("times, plan, who is missing in the crew")),
        ),
        "announcer": (
            (floor, say("when to call, when to wait")),
            (director, say("changes of the programme")),
        ),
        "check_in": (
            (director, say("teams not on the list, fees, minors")),
            (head, say("line-ups and categories")),
        ),
    }[role]
    told = (*lines, (first_aid, say("anybody who is hurt or unwell, at once")))
    return [{"who": who, "what": what} for who, what in told]
