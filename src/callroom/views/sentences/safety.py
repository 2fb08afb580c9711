"""Sentences about the safety plan: what it says, what is still open, what is refused.

Figures come from `callroom.safety`, where their sources are; a sentence without one is common
practice, no source.
"""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        "safety.figure": N_("{given} cannot be right: it is between {least} and {most}."),
        "safety.no_figure": N_("“{given}” is no whole number up to {most}."),
        "safety.no_tenths": N_("“{given}” is no such reading: a number with at most one decimal."),
        "safety.no_reading": N_("Type at least one reading, or tick the thunder."),
        "safety.floor_unknown": N_("There is no floor “{given}”."),
        "safety.size_missing": N_("How large is “{name}”? In square metres."),
        "safety.width_missing": N_("How wide is “{name}”? In centimetres, the clear opening."),
        "person.not_held": N_("The book holds nothing of anybody under “{person}”."),
        "incident.unknown": N_("There is no incident {number}."),
        # Cover.
        "safety.first_aiders": N_(
            "{needed} first aiders at least for {persons} people, with no other duty: {have} are "
            "named. Heavy lifting asks for more than the least: ask your provider."
        ),
        "safety.first_aiders_few": N_(
            "{have} first aiders are named; {persons} people need {needed} at least, with no "
            "other duty."
        ),
        "safety.provider": N_(
            "For {persons} people no rate is published: agree the cover with a medical provider."
        ),
        "safety.help": N_("Between {low} and {high} people are likely to seek help in the day."),
        "safety.first_aid_place": N_("First aid is at: {place}. Kept clear for a stretcher."),
        "safety.first_aid_place_open": N_("Say where first aid is."),
        "safety.aed": N_(
            "The defibrillator hangs at: {place}. Whoever is nearest runs for it, at once."
        ),
        "safety.aed_open": N_("Say where the defibrillator hangs, or hire one."),
        "safety.aed_walk": N_(
            "From the farthest place to the first shock: about {shock_s}, with a walk of {walk_s} "
            "each way."
        ),
        "safety.aed_walk_open": N_(
            "Time the longest walk to the defibrillator, one way: the first shock should come "
            "within {limit_s}."
        ),
        "safety.aed_far": N_(
            "The defibrillator is too far: the first shock would come after about {shock_s}, and "
            "should within {limit_s}. Hang it nearer, or get a second one."
        ),
        # Emergency.
        "safety.call": N_(
            "Call {number}: say where, what happened, how many, which entrance; stay on the line."
        ),
        "safety.call_open": N_("Say which number is to be called in an emergency."),
        "safety.ambulance": N_(
            "The ambulance comes in at: {place}. One person waits there for it."
        ),
        "safety.ambulance_open": N_("Say where an ambulance comes in, and who opens for it."),
        "safety.one_leads": N_(
            "One person leads, one calls, one fetches the defibrillator, one keeps people back; "
            "first aid takes over when it comes."
        ),
        "safety.time_out": N_(
            "Before the first heat: five minutes of first aid, head judge and floor manager "
            "together – who, where, with what, how called, which way out."
        ),
        "safety.clear": N_(
            "To clear the hall: {alarm}. Everybody goes to: {place}. Lifts and cars stay."
        ),
        "safety.clear_open": N_("Say how the hall is told to leave, and where everybody goes."),
        # Crowd.
        "safety.area": N_("{name}: {persons} people at most ({area_m2} m², {use})."),
        "safety.crowd_total": N_(
            "{expected} people are expected at once; the areas hold {holds} by the published "
            "factors."
        ),
        "safety.crowd_full": N_(
            "{expected} people are expected at once, and the areas hold {holds} by the published "
            "factors: count at the door, or expect fewer."
        ),
        "safety.crowd_open": N_("Say how many spectators are expected at once."),
        "safety.areas_open": N_(
            "Give the sizes of the areas people are in, and what they are for."
        ),
        "safety.exits": N_(
            "{count} exits serve {out} people by number, width and with any one of them lost. "
            "Kept free and unlocked all day: look every hour."
        ),
        "safety.exits_few": N_(
            "{count} exits serve {out} people by number, width and with any one of them lost; "
            "{expected} are expected."
        ),
        "safety.exits_open": N_("Give the exits with their clear width."),
        "safety.doors": N_(
            "From {least} people on, doors open outwards by pushing: have it confirmed."
        ),
        "safety.walkways": N_(
            "Nobody but the teams and their judges inside the marked floor; no bags, bottles or "
            "children on walkways."
        ),
        # Weather.
        "safety.readings": N_(
            "On {floor} read the weather before the first heat, and every half hour when it is "
            "hot or blows."
        ),
        "safety.heat_limits": N_(
            "Wet-bulb globe temperature: from {watch_c} °C longer rests, from {limit_c} °C less "
            "work, from {stop_c} °C no hard work. The medical lead decides earlier."
        ),
        "safety.water": N_(
            "Shade and water at the floor; at most {most_ml} ml an hour: too much water is "
            "dangerous too."
        ),
        "safety.thunder": N_(
            "At the first thunder everybody goes to: {place}. On again {wait_min} minutes after "
            "the last."
        ),
        "safety.thunder_open": N_("Say where everybody goes at thunder: a closed building."),
        "safety.wind": N_(
            "Tents, arches and banners come down when gusts pass {structures} m/s, or earlier as "
            "their supplier says; nothing goes on outdoors above {stop} m/s."
        ),
        "safety.wet": N_("On wet ground, {workout}: {what}"),
        "safety.wet_open": N_(
            "Wet ground: who decides whether {workout} is run, moved or changed, and by when? "
            "Write it down before the day."
        ),
        # Kit and loads.
        "safety.kit_check": N_(
            "Before the first heat and at lunch, every lane: bars, collars, pins, straps, rig "
            "bolts, boxes, floor. What is doubtful is taken off the floor and marked."
        ),
        "safety.loads": N_(
            "{workout}: collars on before every set; a bar that fails is dropped, never caught by "
            "others."
        ),
        "safety.caution": N_("{workout}, {movement}: {caution}"),
        "safety.rig": N_(
            "The rig is put up by its supplier's instructions and checked by a second person; its "
            "load is never guessed."
        ),
        # People.
        "safety.minors": N_(
            "Under age: a guardian's consent for each, a named adult with them, loads by the "
            "division, and your law on working with children."
        ),
        "safety.alcohol": N_(
            "Alcohol: by your licence; none to athletes before their last heat, none on the "
            "floor, no glass, and none to crew on duty."
        ),
        "safety.lost_child": N_(
            "A child alone is taken by two adults to: {place}. No name and no description over "
            "the loudspeaker."
        ),
        "safety.lost_child_open": N_("Say where a child who is alone is taken."),
        # Stopping.
        "safety.stop": N_(
            "Anybody may shout STOP when somebody is in danger. The judge of the lane stops the "
            "lane, the head judge the heat, first aid an athlete, the director the day."
        ),
        "safety.stop_athlete": N_(
            "An athlete who is dizzy, confused, faints or has chest pain is out: only first aid "
            "lets them on again."
        ),
        "safety.incident": N_(
            "Write down what happened while it is fresh: where, when, what was done. Names and "
            "health go to first aid and the director only."
        ),
        "safety.authority": N_(
            "This plan is a start. Local codes, the fire authority, your insurer and licensed "
            "practitioners decide."
        ),
        # Readings.
        "safety.heat_usual": N_("Heat: nothing to add."),
        "safety.heat_watch": N_("Heat: longer rests, more shade, watch those at risk."),
        "safety.heat_limit": N_("Heat: cut the work or the time; as much rest as work."),
        "safety.heat_stop": N_("Heat: stop hard work for people who are not used to it."),
        "safety.heat_cancel": N_("Heat: no competition in this."),
        "safety.work_rest": N_(
            "In an hour: {work_min} min of hard work, {rest_min} of rest, about {water_ml} ml of "
            "water. It is a table for people used to heat: others need more rest."
        ),
        "safety.index": N_(
            "Heat index {index_c} °C in the shade ({band}); full sun adds up to {sun_c}."
        ),
        "safety.no_globe": N_(
            "Without a wet-bulb globe reading the limits for competition cannot be applied: "
            "borrow the instrument, and be careful until then."
        ),
        "safety.chill": N_("Wind chill {chill_c} °C: warm-up area, short waits, dry clothes."),
        "safety.frostbite": N_("Wind chill {chill_c} °C: bare skin freezes within 30 minutes."),
        "safety.wind_structures": N_("Gusts of {gust} m/s: tents, arches and banners come down."),
        "safety.wind_stop": N_("Gusts of {gust} m/s: nothing goes on outdoors."),
        "safety.thunder_now": N_(
            "Thunder: everybody inside, until {wait_min} minutes after the last."
        ),
    }
)
