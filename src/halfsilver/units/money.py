"""Money: a decimal amount with its currency, never a float.

Codes raised here: currency-missing, not-a-currency, unreadable, and those of :mod:`halfsilver.units.written`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from halfsilver.errors import QuantityError
from halfsilver.units.written import amount, checked, signed

_SHAPE = re.compile("([-+]?[0-9., _]*[0-9]) ?([A-Za-z]*)")


@dataclass(frozen=True, slots=True)
class Money:
    """An amount and its currency.

    Parameters
    ----------
    amount : Decimal
        Finite, in the currency's main unit; not rounded.
    currency : str
        Three capital letters of ISO 4217.
    """

    amount: Decimal
    currency: str

    def __post_init__(self) -> None:
        """Refuse what can never be money."""
        if not self.amount.is_finite() or not re.fullmatch("[A-Z]{3}", self.currency):
            raise ValueError(f"Money is a finite Decimal and three capital letters: {self.amount!r}, {self.currency!r}.")

    def __add__(self, other: Money) -> Money:
        """The sum of two amounts in the same currency."""
        if self.currency != other.currency:
            raise ValueError(f"{self.currency} and {other.currency} do not add up.")
        return Money(self.amount + other.amount, self.currency)

    def times(self, factor: Decimal | int) -> Money:
        """The amount taken so many times, not rounded."""
        return Money(self.amount * factor, self.currency)

    def rounded(self) -> Money:
        """The amount to the cent, halves away from zero.

        Examples
        --------
        >>> Money(Decimal("2.345"), "USD").rounded().amount
        Decimal('2.35')
        """
        return Money(self.amount.quantize(Decimal("0.01"), rounding=ROUND_HALF_UP), self.currency)


def read_money(text: str) -> Money:
    """Read an amount and its currency, such as ``12.50 USD``.

    Raises
    ------
    QuantityError
        If it is not money.

    Examples
    --------
    >>> read_money("12.50 USD")
    Money(amount=Decimal('12.50'), currency='USD')
    """
    spelled = checked(text, noun="Money", example="12.50 USD")
    match = _SHAPE.fullmatch(spelled)
    if not match:
        raise QuantityError("unreadable", read=text, allowed="Money is an amount and its currency.", advice="Write it like 12.50 USD.")
    sign, number = signed(match[1])
    value = _decimal(number, text=text)
    if not match[2]:
        raise QuantityError(
            "currency-missing", read=text, allowed="Money carries its currency.", advice=f"Write {match[1]} USD, for example."
        )
    return Money(-value if sign and value else value, read_currency(match[2]))


def read_amount(text: str) -> str:
    """Read an amount in a currency that is known elsewhere, such as ``12.50``: the decimal as text, never negative.

    Raises
    ------
    QuantityError
        If it is not a plain decimal.
    """
    spelled = checked(text, noun="An amount", example="12.50")
    if not re.fullmatch("[0-9., _]+", spelled):
        raise QuantityError(
            "unreadable",
            read=text,
            allowed="An amount is a plain decimal, not negative, in the workshop's currency.",
            advice="Write it like 12.50.",
        )
    return str(_decimal(spelled, text=text))


def read_currency(text: str) -> str:
    """Read the three letters of a currency; they come back as capitals."""
    spelled = checked(text, noun="A currency", example="USD")
    if not re.fullmatch("[A-Za-z]{3}", spelled):
        raise QuantityError(
            "not-a-currency", read=text, allowed="A currency is the three letters of ISO 4217.", advice="Write it like USD."
        )
    return spelled.upper()


def write_money(money: Money) -> str:
    """Write money to the cent, halves away from zero.

    Examples
    --------
    >>> write_money(Money(Decimal("-12.345"), "USD"))
    '-12.35 USD'
    """
    return f"{money.rounded().amount:f} {money.currency}"


def _decimal(written: str, *, text: str) -> Decimal:
    amount(written, text=text)
    return Decimal(written)
