"""The money: fees, gifts, costs and what goes to the cause.

Decides: balances, derived from facts in whole minor units, what is still owed to whom, what
a budget comes to, and what a letter to a giver must say.
Never does: store a balance, handle a card, or give tax advice.
May import: ``model``.
"""

from callroom.funds.ledger import (
    Account,
    Posting,
    Transaction,
    balances,
    place_balance,
    transactions,
)
from callroom.funds.payments import Payment, payments

__all__ = [
    "Account",
    "Payment",
    "Posting",
    "Transaction",
    "balances",
    "payments",
    "place_balance",
    "transactions",
]
