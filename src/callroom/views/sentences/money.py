"""Sentences for what the rules for money refuse, and for what an account book should not show."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        "money.no_amount": N_(
            "“{given}” is no amount. Write it as 12.50 or 12,50, thousands apart by a blank or not at all."
        ),
        "money.too_fine": N_(
            "“{given}” has more digits behind the mark than {currency} has ({digits}). For "
            "thousands leave the mark out."
        ),
        "money.too_large": N_("“{given}” is more than this book can hold. Look at the digits."),
        "money.no_whole": N_("“{given}” is no whole number up to {most}. Write one."),
        "money.no_day": N_("“{given}” is no day. Write it as 2027-05-15."),
        "money.no_how": N_("Say what becomes of the money: refund, gift, another team, next year."),
        "money.no_budget": N_(
            "There is no budget yet, so no line to book on. Make one first: a start is offered."
        ),
        "money.line_unknown": N_("The budget has no line {line}. Choose one, or add it."),
        "money.place_unknown": N_("The budget has no place {place} for money. Choose one."),
        "money.other_side": N_("{line} is not for {side}. Choose another line."),
        "money.nothing_given": N_("Give an amount, or say in words what was given."),
        "money.who_paid": N_(
            "Say where the money came from: one place, or one person who paid from their own pocket."
        ),
        "money.same_place": N_("Money moves from one place to another; these are the same."),
        "money.nobody_owed": N_("Say who lent or is paid back."),
        "money.fee_above": N_("The fee is more than the payout. Give the amount before the fee."),
        "money.no_payment": N_(
            "Booking {booking} is no payment that stands, so nothing of it can be returned."
        ),
        "money.above_left": N_(
            "Only {left} {currency} is left of payment {booking}. Return that much, or less."
        ),
        "money.count_differs": N_(
            "What was counted in {place} differs from the book by {difference} {currency}. Count "
            "again, or choose the line it belongs to: takings, or cash differences."
        ),
        "money.no_gift_line": N_("{line} is not a line for gifts. Choose one that is."),
        "money.same_team": N_("The payment is {team}'s already."),
        "money.moved_since": N_(
            "Money in {place} was booked while you were counting. Look at the count again."
        ),
        "money.counted_by_two": N_("Cash is counted by two people. Say which two."),
        "money.no_cost": N_("Booking {booking} is no cost that stands, so it needs no receipt."),
        "money.made_anew": N_("A count or a return is taken back and made anew."),
        "money.no_booking": N_("There is no booking {booking}. Reload the page."),
        "money.reversed_already": N_("Booking {booking} was taken back already. Reload the page."),
        "money.settled_since": N_(
            "Part of booking {booking} was returned by booking {later}. Take that back first."
        ),
        "money.promise_unknown": N_(
            "Nothing is open of promise {promise}. Reload the page, or book it without a promise."
        ),
        "money.twice": N_("“{id}” is there twice, or empty. Give each line and place its own id."),
        "money.nameless": N_("“{id}” has no name. Give it one."),
        "money.scenarios": N_("A budget has three scenarios; this one has {given}."),
        "money.division": N_("The event has no division {division}. Choose another, or all."),
        "money.line_used": N_(
            "Money is booked on “{line}”: it can be renamed, not removed or put on the other side."
        ),
        "money.place_used": N_("Money was booked in “{place}”: it can be renamed, not removed."),
        "money.currency_used": N_(
            "Money is booked in {known}, so the currency cannot become {given}. Take the bookings "
            "back first."
        ),
        "money.receipt_kind": N_(
            "“{file}” is neither a picture (JPEG, PNG, WebP) nor a PDF. Take a photo of the receipt."
        ),
        "money.receipt_large": N_(
            "“{file}” is too large ({given} kB; at most {most} kB). Take a smaller photo."
        ),
        "money.receipt_broken": N_("“{file}” breaks off. Take the photo again, or send it again."),
        "money.receipt_empty": N_("“{file}” is empty. Choose the file again."),
        "money.receipt_unknown": N_("There is no such receipt in this book."),
        "money.cash_below": N_(
            "{place} would hold less than nothing. Something is booked twice, or not at all."
        ),
        "money.no_receipt": N_("Costs without a receipt: {count}, on {lines}."),
        "money.not_counted": N_("{place} was not counted since money last moved there."),
        "money.card_waits": N_("{place} has not been paid out."),
        "money.float_out": N_("Money lent for the tills has not been given back."),
        "money.owed": N_("Somebody who paid from their own pocket has not been paid back."),
        "money.promises_open": N_("Promised and not received: {count}. They are not in any total."),
    }
)
