"""The record of one thing that is wrong with a cutting plan."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Violation:
    """One thing that is wrong with a plan.

    Parameters
    ----------
    code : str
        Stable short name: ``missing``, ``over-produced``, ``unknown-piece``, ``unknown-stock``, ``stock-exceeded``, ``sequence``,
        ``wrong-kind``, ``wrong-instance``, ``wrong-size``, ``turned``, ``flipped``, ``outside``, ``overlap``, ``kerf``, ``increment``,
        ``not-guillotine``, ``stages``, ``strip``.
    where : str
        Bar, sheet, stock or piece.
    text : str
        A sentence with the numbers.
    """

    code: str
    where: str
    text: str
