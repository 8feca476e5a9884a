"""From cost to price, against worked figures from the definitions of markup, margin, labour rate and rounding once.

Definitions: markup is (price - cost)/cost, margin is (price - cost)/price. Worked by hand: cost 100 at a margin of 40 % is
100/0.6 = 166.67; 25 an hour with 42 % on wages, three quarters of it billed, is 25 x 1.42/0.75 = 47.33; three lines of 33.335 are 100.005.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from halfsilver.costing.price import PriceTerms, line, priced, share_line
from halfsilver.costing.rules import labour_rate, round_money
from halfsilver.errors import RangeError
from halfsilver.model.bill import Bill, BillLine, LineKind

D = Decimal


def of(*lines: BillLine, margin: str = "0", tax: str = "0", tax_labour: bool = True, card_fee: str = "0") -> Bill:
    terms = PriceTerms(margin=D(margin), tax=D(tax), tax_labour=tax_labour, card_fee=D(card_fee))
    return priced(lines, terms, currency="USD")


HUNDRED = line("goods", LineKind.MATERIAL, quantity=D(1), unit="each", each=D(100))


def test_a_margin_of_40_percent_on_100() -> None:
    bill = of(HUNDRED, margin="0.4")
    assert (bill.cost, bill.price, bill.margin) == (D("100.00"), D("166.67"), D("66.67"))


def test_the_margin_that_equals_a_markup_of_half() -> None:
    # markup 50 % is a margin of a third: 100 -> 150
    assert of(HUNDRED, margin="0.333333333").price == D("150.00")


def test_no_margin_returns_the_cost_and_a_whole_one_is_refused() -> None:
    assert of(HUNDRED).price == D("100.00")
    for bad in ("1", "1.2", "-0.1"):
        with pytest.raises(RangeError, match="margin"):
            of(HUNDRED, margin=bad)


def test_an_hour_of_work() -> None:
    rate = labour_rate(wage=D(25), burden=D("0.42"), utilisation=D("0.75"))
    assert line("saw", LineKind.LABOUR, quantity=D(1), unit="h", each=rate).total == D("47.33")
    # an hour and a half, rounded once: 71.00, not 1.5 x 47.33 = 70.995 rounded again
    assert line("saw", LineKind.LABOUR, quantity=D("1.5"), unit="h", each=rate).total == D("71.00")


def test_three_lines_are_rounded_each_as_the_bill_says() -> None:
    # 33.335 is a line of 33.34; the sum of the printed lines is the cost, so that whoever adds them up finds it: 100.02.
    # Rounded once the same three would be 100.01; a bill whose lines do not add up is worse than a cent.
    lines = [line("part", LineKind.MATERIAL, quantity=D(1), unit="each", each=D("33.335"))] * 3
    assert of(*lines).cost == D("100.02")
    assert round_money(D("33.335") * 3) == D("100.01")


def test_tax_is_on_the_price_and_rounded_once() -> None:
    bill = of(HUNDRED, margin="0.4", tax="0.08")
    assert (bill.tax, bill.total) == (D("13.33"), D("180.00"))  # 166.67 x 0.08 = 13.3336


def test_tax_on_goods_alone_leaves_out_the_share_of_labour() -> None:
    work = line("saw", LineKind.LABOUR, quantity=D(1), unit="h", each=D(100))
    bill = of(HUNDRED, work, margin="0.5", tax="0.1", tax_labour=False)
    # cost 200, price 400, half of the cost is goods: 200 is taxed
    assert (bill.price, bill.taxable, bill.tax, bill.total) == (D("400.00"), D("200.00"), D("20.00"), D("420.00"))


def test_overhead_is_a_line_of_its_own() -> None:
    overhead = share_line("overhead", of=D("200.00"), share=D("0.12"))
    assert (overhead.kind, overhead.total) == (LineKind.OVERHEAD, D("24.00"))


def test_deposit_and_balance_make_the_total() -> None:
    bill = of(HUNDRED, margin="0.4", tax="0.0825")
    assert bill.deposit + bill.balance == bill.total
    assert bill.deposit == round_money(bill.total / 2)


def test_a_card_fee_that_eats_the_margin_is_said() -> None:
    # 100 at cost, 3 % fee: 97 is left
    assert "97.00" in of(HUNDRED, card_fee="0.03").notes[0]
    assert of(HUNDRED, margin="0.05", card_fee="0.03").notes == ()
