"""Payments: what came in, and what is left of each after refunds, moves and gifts made of it."""

from collections.abc import Iterable, Mapping

import msgspec

from callroom.model.money import Booking, Received, Returned


class Payment(msgspec.Struct, frozen=True, kw_only=True):
    """Money that came in (or was moved to another team, or made a gift) and what is left of it.

    `seq` is the entry that made it what it is. `left` is `amount` less what was returned
    [minor units]; `benefit` what the payer got in return, nought once nothing is left.
    """

    seq: int
    deed: Received
    amount: int
    left: int
    line: str
    team: str
    benefit: int

    @property
    def giver(self) -> str:
        """Who paid, by an id; empty: anonymous."""
        return self.deed.giver


def payments(bookings: Iterable[Booking]) -> Mapping[int, Payment]:
    """Return every payment that stands, by its entry; a chain of moves ends in its last link.

    A returned part belongs to the payment it came from: a move or a gift makes a new one.
    """
    found: dict[int, Payment] = {}
    for booking in _in_order(one for one in bookings if one.stands):
        deed = booking.deed
        if isinstance(deed, Received):
            found[booking.seq] = _made(booking.seq, deed)
        elif isinstance(deed, Returned) and deed.of in found:
            source = found[deed.of]
            found[deed.of] = _less(source, deed.amount)
            if deed.how in {"move", "gift"}:
                found[booking.seq] = _passed_on(booking.seq, source, deed)
    return found


def origins(bookings: Iterable[Booking]) -> Mapping[int, Payment]:
    """Return what each payment was when it was made, those reversed since among them.

    What a reversed payment was is needed to undo it line by line.
    """
    found: dict[int, Payment] = {}
    for booking in _in_order(bookings):
        deed = booking.deed
        if isinstance(deed, Received):
            found[booking.seq] = _made(booking.seq, deed)
        elif isinstance(deed, Returned) and deed.of in found:
            found[booking.seq] = _passed_on(booking.seq, found[deed.of], deed)
    return found


def _in_order(bookings: Iterable[Booking]) -> list[Booking]:
    return sorted(bookings, key=lambda booking: booking.seq)


def _made(seq: int, deed: Received) -> Payment:
    return Payment(
        seq=seq,
        deed=deed,
        amount=deed.amount,
        left=deed.amount,
        line=deed.line,
        team=deed.team,
        benefit=deed.benefit,
    )


def _less(payment: Payment, amount: int) -> Payment:
    left = payment.left - amount
    return msgspec.structs.replace(payment, left=left, benefit=payment.benefit if left else 0)


def _passed_on(seq: int, source: Payment, deed: Returned) -> Payment:
    """Return what a part of a payment has become: another team's, or a gift for nothing."""
    moved = deed.how == "move"
    return Payment(
        seq=seq,
        deed=source.deed,
        amount=deed.amount,
        left=deed.amount,
        line=source.line if moved else deed.line,
        team=deed.team if moved else source.team,
        benefit=source.benefit if moved else 0,
    )
