"""Whatever the lines: they sum to the cost to the last cent, and price, tax and total follow."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from halfsilver.costing.price import PriceTerms, line, priced
from halfsilver.model.bill import BillLine, LineKind

amounts = st.decimals(min_value=Decimal("-500"), max_value=Decimal(5000), places=4)
quantities = st.decimals(min_value=Decimal(0), max_value=Decimal(500), places=3)
lines = st.builds(
    lambda kind, quantity, each: line("x", kind, quantity=quantity, unit="each", each=each), st.sampled_from(LineKind), quantities, amounts
)
shares = st.decimals(min_value=Decimal(0), max_value=Decimal("0.95"), places=4)
CENT = Fraction(1, 100)


@given(lines)
def test_a_line_is_off_by_at_most_half_a_cent(one: BillLine) -> None:
    assert abs(Fraction(one.total) - Fraction(one.quantity) * Fraction(one.each)) <= CENT / 2
    assert one.total == one.total.quantize(Decimal("0.01"))


@given(st.lists(lines, max_size=40), shares, shares, shares, st.booleans())
def test_lines_sum_exactly_and_the_price_follows(
    several: list[BillLine], margin: Decimal, tax: Decimal, deposit: Decimal, tax_labour: bool
) -> None:
    bill = priced(several, PriceTerms(margin=margin, tax=tax, tax_labour=tax_labour, deposit=deposit), currency="USD")
    assert sum(Fraction(one.total) for one in bill.lines) == Fraction(bill.cost)
    assert sum(Fraction(bill.of(kind)) for kind in LineKind) == Fraction(bill.cost)
    assert abs(Fraction(bill.price) - Fraction(bill.cost) / (1 - Fraction(margin))) <= CENT / 2
    assert bill.margin == bill.price - bill.cost
    assert abs(Fraction(bill.tax) - Fraction(bill.taxable) * Fraction(tax)) <= CENT / 2
    assert bill.total == bill.price + bill.tax == bill.deposit + bill.balance


@given(st.lists(lines, min_size=1, max_size=20), shares)
def test_order_of_lines_does_not_matter(several: list[BillLine], margin: Decimal) -> None:
    terms = PriceTerms(margin=margin, tax=Decimal(0))
    assert priced(several, terms, currency="USD").price == priced(several[::-1], terms, currency="USD").price
