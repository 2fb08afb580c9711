"""What a template calls to say money."""

from collections.abc import Mapping
from datetime import date
from gettext import NullTranslations

from callroom.model import Event
from callroom.model.currency import minor_digits
from callroom.model.money import Budget, PlaceSort
from callroom.views import money_wording
from callroom.views.account_book import Account, BookLine


class MoneyVoice:
    """Says money in an event's currency and language."""

    def __init__(self, event: Event | None, budget: Budget | None, words: NullTranslations) -> None:
        """Speak of `budget` in the currency of `event`."""
        self.currency = event.currency if event is not None else ""
        self._budget = budget or Budget()
        self._words = words

    @property
    def sorts(self) -> dict[str, str]:
        """Everything a line may be for, in words."""
        return {name: self._words.gettext(text) for name, text in money_wording.SORTS.items()}

    @property
    def place_sorts(self) -> dict[str, str]:
        """Every kind of place, in words."""
        kinds = money_wording.PLACE_SORTS
        return {name: self._words.gettext(text) for name, text in kinds.items()}

    @property
    def unit(self) -> int:
        """How many minor units make one of the currency."""
        return int(10 ** minor_digits(self.currency))

    def day(self, value: date) -> str:
        """Return a day in figures, for a column."""
        return value.isoformat()

    def typed(self, minor: int) -> str:
        """Return an amount as it stands in a field."""
        return money_wording.typed(minor, self.currency)

    def of(self, minor: int) -> str:
        """Return an amount with its currency."""
        return money_wording.money(minor, self.currency, self._words)

    def amount(self, minor: int) -> str:
        """Return an amount for a column of amounts."""
        return money_wording.amount(minor, self.currency, self._words)

    def whole(self, minor: int) -> str:
        """Return an amount in whole units, for large letters."""
        return money_wording.whole_money(minor, self.currency)

    def place_sort(self, sort: PlaceSort) -> str:
        """Return what kind of place it is."""
        return self._words.gettext(money_wording.PLACE_SORTS[sort])

    def happened(self, line: BookLine) -> str:
        """Return what was done with the money."""
        return self._words.gettext(money_wording.DEEDS[line.happened])

    def account(self, account: Account, people: Mapping[str, str]) -> str:
        """Return what an account is called."""
        return money_wording.account(account, self._budget, people, self._words)
