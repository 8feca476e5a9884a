"""The ledger: named dimensions that know where they come from and how far they may be off.

Targets are decisions printed on drawings, actuals are what an operation will produce, gaps are formed of actuals and carry the risk.
One expression tree (:mod:`halfsilver.ledger.expression`) gives value, words, derivatives, sampling and JSON.
"""
