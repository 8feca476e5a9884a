"""What a scope means: which trades are the shop's, and so what is made, bought, priced and printed."""

from __future__ import annotations

from collections.abc import Mapping

from halfsilver.layout.design import Design
from halfsilver.model.design import Part
from halfsilver.model.job import Scope
from halfsilver.model.making import Trade

IN_SCOPE: Mapping[Scope, frozenset[Trade]] = {
    Scope.COMPLETE: frozenset(Trade),
    Scope.FRAME_ONLY: frozenset({Trade.FRAME, Trade.BATTENS}),
    Scope.GLASS_ONLY: frozenset({Trade.GLASS}),
    Scope.KIT: frozenset(Trade) - {Trade.ASSEMBLY, Trade.SCREEN},
}

_TRADES: Mapping[str, Trade] = {
    "front-stick": Trade.FRAME,
    "rear-stick": Trade.FRAME,
    "spacer-frame": Trade.FRAME,
    "batten": Trade.BATTENS,
    "front-glass": Trade.GLASS,
    "rear-glass": Trade.GLASS,
    "strip": Trade.LIGHTS,
    "plate": Trade.RETAINERS,
    "bar": Trade.RETAINERS,
    "packing": Trade.BACKING,
    "back-panel": Trade.BACKING,
    "backing": Trade.BACKING,
    "screen": Trade.SCREEN,
}


def trade_of(part: Part) -> Trade:
    """Whose work a part is."""
    return next(trade for prefix, trade in _TRADES.items() if part.id.startswith(prefix))


def has(design: Design, trade: Trade) -> bool:
    """Whether a trade is in the job's scope."""
    return trade in IN_SCOPE[design.facts.job.scope]


def made_parts(design: Design) -> tuple[Part, ...]:
    """Parts that the shop makes or buys under the job's scope; the screen is always the client's own."""
    wanted = IN_SCOPE[design.facts.job.scope]
    return tuple(part for part in design.parts if trade_of(part) in wanted and trade_of(part) is not Trade.SCREEN)
