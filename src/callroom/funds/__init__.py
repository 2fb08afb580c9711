"""The money: fees, gifts, costs and what goes to the cause.

Decides: balances, derived from facts in whole minor units, what is still owed to whom, what
a budget comes to, and what a letter to a giver must say.
Never does: store a balance, handle a card, or give tax advice.
May import: ``model``.
"""

from callroom.funds.account import LineActual, Standing, standing
from callroom.funds.acknowledging import Acknowledgment, Needs, acknowledge
from callroom.funds.budgeting import LinePlan, Outlook, outlook, planned
from callroom.funds.exact import rounded, split
from callroom.funds.fees import asked_of, paid_by
from callroom.funds.ledger import (
    Account,
    Posting,
    Transaction,
    balances,
    place_balance,
    transactions,
)
from callroom.funds.open_points import open_points
from callroom.funds.payments import Payment, payments
from callroom.funds.raised import Raised, raised

__all__ = [
    "Account",
    "Acknowledgment",
    "LineActual",
    "LinePlan",
    "Needs",
    "Outlook",
    "Payment",
    "Posting",
    "Raised",
    "Standing",
    "Transaction",
    "acknowledge",
    "asked_of",
    "balances",
    "open_points",
    "outlook",
    "paid_by",
    "payments",
    "place_balance",
    "planned",
    "raised",
    "rounded",
    "split",
    "standing",
    "transactions",
]
