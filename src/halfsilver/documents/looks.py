"""Stills in the documents: a file each, and what it shows in words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from halfsilver.documents.cut_rows import Row
from halfsilver.documents.embedded import framed_png
from halfsilver.documents.sizes import Sizes
from halfsilver.documents.summary import stands
from halfsilver.documents.words import printable
from halfsilver.optics.still import State


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """A still as the documents show it: who looks, what is switched on, and the PNG."""

    viewer: str
    state: State
    png: bytes

    @property
    def name(self) -> str:
        """Name of its file in the pack."""
        return f"{self.viewer}-{self.state.value}.png"


def for_client(looks: Sequence[Look]) -> tuple[Look, ...]:
    """Every state from the first viewer; from the others only the one with everything on."""
    return tuple(look for look in looks if look.viewer == looks[0].viewer or look.state is State.ALL)


def look_rows(sizes: Sizes, looks: Sequence[Look]) -> tuple[list[Row], Mapping[str, bytes]]:
    """Stills for a template: rows of file, words and where the viewer stands; and the files."""
    rows: list[Row] = []
    for k, look in enumerate(looks):
        where = f"{printable(look.viewer)[:40]}: {stands(sizes, look.viewer)}"
        rows.append({"file": f"look-{k}.svg", "state": state_words(sizes, look.state), "where": where})
    return rows, {f"look-{k}.svg": framed_png(look.png) for k, look in enumerate(looks)}


def state_words(sizes: Sizes, state: State) -> str:
    """What is switched on, in the words of this piece."""
    screen, lights = "screen.outline.width" in sizes, "strip.length" in sizes
    if state is State.DARK:
        return "Switched off: the glass mirrors the room"
    if state is State.ALL and screen and lights:
        return "Screen and lights on"
    if state is State.LIGHTS or not screen:
        return "Lights on, screen dark" if screen else "Lights on"
    return "Screen on, lights off" if lights else "Screen on"
