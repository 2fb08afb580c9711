"""Sentences of the morning's page: what was found for each point, green or not."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        "go.plan_none": N_("No plan is published."),
        "go.plan_ok": N_("Plan {revision} is published."),
        "go.rota_none": N_("There is no rota: nobody knows which lane they judge."),
        "go.rota_old": N_("The rota is for plan {revision}, the plan in force is {plan}."),
        "go.judges": N_("Lanes without a judge, counted by heat: {count}"),
        "go.judges_ok": N_("Every lane of every heat has a judge."),
        "go.posts": N_("Other shifts that nobody holds: {count}"),
        "go.posts_ok": N_("Every other shift has somebody."),
        "go.kit": N_("Kit that is short: {count}"),
        "go.kit_waits": N_(
            "The kit of the plan is still being worked out: reload this page in a few seconds."
        ),
        "go.kit_ok": N_("No kit is short."),
        "go.consents": N_("Signatures of athletes or guardians missing: {count}"),
        "go.consents_ok": N_("Every signature is there."),
        "go.payments": N_("Teams that have not paid: {count}"),
        "go.payments_ok": N_("Every team has paid."),
        "go.line_ups": N_("Teams with a free place in their line-up: {count}"),
        "go.line_ups_ok": N_("Every line-up is complete."),
        "go.no_heat": N_("Teams without a heat in the plan: {count}"),
        "go.no_heat_ok": N_("Every team is in the plan."),
        "go.sheets": N_(
            "Look at the foot of the sheets on the tables: they must be of plan {revision}, with "
            "{amendments} amendments."
        ),
        "go.sheets_ok": N_("The sheets on the tables are of plan {revision}."),
        "go.first_aid": N_("Is first aid there? {count} were promised. Go and see."),
        "go.first_aid_ok": N_("First aid is there."),
        "go.exits": N_("Walk to every way out and open it. {count} are in the safety plan."),
        "go.exits_ok": N_("Every way out is free."),
        "go.safety": N_("Points of the safety plan to settle: {count}"),
        "go.safety_ok": N_("The safety plan is settled."),
        "go.weather": N_("Floors where the weather asks for something: {count}"),
        "go.weather_ok": N_("The weather asks for nothing."),
        "go.weather_none": N_(
            "No reading of the weather and no forecast, and a floor is outdoors."
        ),
        "go.phone": N_(
            "No phone has opened a page at {address} since this server began. Open it on one now, "
            "on the venue’s network, then reload this page."
        ),
        "go.phone_ok": N_("A phone has opened a page at {address}."),
        "go.phone_nowhere": N_("Cards and codes lead phones nowhere: the event has no address."),
        "go.clocks": N_("Devices whose clock may be off by more than half a second: {count}"),
        "go.clocks_ok": N_("No clock of a device is known to be off. Devices seen: {devices}"),
        "go.floats": N_("Tills whose float was not counted today: {count}"),
        "go.floats_ok": N_("Every float is counted."),
        "go.copy_none": N_("No copy for a second laptop is kept."),
        "go.copy_failing": N_("The copy for a second laptop cannot be made: {reason}"),
        "go.copy_old": N_("The copy for a second laptop is {age_s} old."),
        "go.copy_ok": N_("The copy for a second laptop is {age_s} old."),
        "go.disk": N_("The disk is nearly full: {mb} MB are free."),
        "go.disk_ok": N_("The disk has {mb} MB free."),
        "go.power": N_("Is the laptop on mains power, its battery full, sleep switched off?"),
        "go.power_ok": N_("The laptop is on mains power and does not sleep."),
    }
)
