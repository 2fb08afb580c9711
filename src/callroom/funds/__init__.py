"""The money: fees, gifts, costs and what goes to the cause.

Decides: balances, derived from facts in whole cents, and what is still owed to whom.
Never does: store a balance, handle a card, or round.
May import: ``model``.
"""
