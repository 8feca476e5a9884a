"""The numbers beside a look as people read them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from halfsilver.ledger.shown import Show
from halfsilver.services.desk_look import EyeNumbers, PieceNumbers

MOST_CONTRAST = 1000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One number.

    Parameters
    ----------
    name : str
        What it is.
    value, unit : str
        As shown.
    note : str
        What it means here.
    was : str
        As the job stands, where something else is tried and the number differs.
    share : float, optional
        Where it is a part of a whole: drawn as a bar.
    """

    name: str
    value: str
    unit: str = ""
    note: str = ""
    was: str = ""
    share: float | None = None

    def beside(self, was: str) -> Row:
        """The row with what the number was."""
        return replace(self, was=f"{was} {self.unit}".strip()) if was and was != self.value else self


def eye_rows(found: EyeNumbers, show: Show) -> tuple[Row, ...]:
    """What an eye sees, the most asked first.

    Examples
    --------
    >>> [f"{row.name}: {row.value}{row.unit}" for row in eye_rows(EyeNumbers(mirror=0.683, images=20, deepest_mm=480.0), "{} {}".format)]
    ['Mirror: 68%', 'Images of the lights: 20']
    """
    return tuple(_eye(found, show))


def _eye(found: EyeNumbers, show: Show) -> Iterator[Row]:
    if found.share is not None:
        yield Row(name="Picture seen", value=f"{100 * found.share:.0f}", unit="%", note="of it is not hidden from here", share=found.share)
    if found.gain is not None:
        yield Row(name="Picture's light", value=f"{100 * found.gain:.0f}", unit="%", note="comes through the glass", share=found.gain)
    yield Row(name="Mirror", value=f"{100 * found.mirror:.0f}", unit="%", note="of the room's light comes back", share=found.mirror)
    if found.contrast is not None:
        most = "over " if found.contrast > MOST_CONTRAST else ""
        yield Row(
            name="Contrast", value=f"{most}{min(found.contrast, MOST_CONTRAST):.3g}", unit=": 1", note="white over black, in this room"
        )
    if found.first_echo is not None and found.echo_mm is not None:
        beside = f", {show(found.echo_mm, 'mm')} beside it" if found.echo_mm >= 0.5 else ""
        yield Row(
            name="First echo", value=f"{100 * found.first_echo:.2g}", unit="%", note=f"of the picture{beside}; {found.echoes} above 1 %"
        )
    if found.images is not None:
        deep = f"the last {show(found.deepest_mm, 'mm')} deep" if found.deepest_mm else "none is plainly seen"
        yield Row(name="Images of the lights", value=f"{found.images}", note=deep)


def piece_rows(now: PieceNumbers, was: PieceNumbers | None) -> tuple[Row, ...]:
    """The piece itself."""
    rows = [Row(name="Depth", value=now.depth), Row(name="Gap", value=now.gap), Row(name="Mass", value=now.mass)]
    rows.append(Row(name="Price", value=now.price))
    before = {"Depth": was.depth, "Gap": was.gap, "Mass": was.mass, "Price": was.price} if was else {}
    return tuple(row.beside(before.get(row.name, "")) for row in rows if row.value)
