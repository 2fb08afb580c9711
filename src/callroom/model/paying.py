"""Where entry fees are paid: an account, a link to whoever takes cards, words for the rest."""

import msgspec


class PayTo(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How a team can pay. An account may be a person's, so this lies beside the journal.

    Attributes
    ----------
    name, iban, bic
        The account for transfers; `bic` only where a bank asks for it.
    words
        What else to know: another country's account, cash at the desk, until when.
    card_link
        The address at which whoever the director uses takes card payments.
    """

    name: str = ""
    iban: str = ""
    bic: str = ""
    words: str = ""
    card_link: str = ""
