"""Widths of the shipped font's characters, so that a drawing can be laid out without opening a font file.

The table in `halfsilver.drawing.advances` is written by ``python -m halfsilver.drawing.fonts REGULAR.ttf BOLD.ttf``
and compared with the font files by a test.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from pathlib import Path

from halfsilver.drawing import advances


class Weight(Enum):
    """Weight of lettering."""

    REGULAR = "regular"
    BOLD = "bold"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FontMetrics:
    """What layout needs to know of a font family; lengths in thousandths of the em.

    Parameters
    ----------
    family : str
        Name as the writers print it.
    cap_height : int
        Height of a capital.
    regular, bold : mapping of str to int
        Advance width per character.
    """

    family: str
    cap_height: int
    regular: Mapping[str, int]
    bold: Mapping[str, int]

    def em_mm(self, size_mm: float) -> float:
        """Font size whose capitals are ``size_mm`` high. [mm]"""
        return size_mm * 1000.0 / self.cap_height

    def advance_mm(self, text: str, *, size_mm: float, weight: Weight = Weight.REGULAR) -> float:
        """Width of one plain run of text with capitals ``size_mm`` high; an unknown character counts as an M. [mm]"""
        table = self.bold if weight is Weight.BOLD else self.regular
        return sum(table.get(c, table["M"]) for c in text) * self.em_mm(size_mm) / 1000.0


SHIPPED_FONT = FontMetrics(family=advances.FAMILY, cap_height=advances.CAP_HEIGHT, regular=advances.REGULAR, bold=advances.BOLD)


def read_metrics(regular: Path, bold: Path) -> FontMetrics:
    """Metrics of two font files, through fontTools.

    Parameters
    ----------
    regular, bold : Path
        TrueType files of one family.

    Returns
    -------
    FontMetrics
        Widths of every character that the regular file maps.
    """
    from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

    tables = []
    for path in (regular, bold):
        font = TTFont(path)
        per_mille = 1000.0 / font["head"].unitsPerEm
        widths = font["hmtx"].metrics
        cmap = sorted(font.getBestCmap().items())
        tables.append({chr(c): round(widths[g][0] * per_mille) for c, g in cmap if _is_western(c)})
    font = TTFont(regular)
    capital = font["glyf"][font.getBestCmap()[ord("H")]].yMax
    return FontMetrics(
        family=font["name"].getBestFamilyName(),
        cap_height=round(capital * 1000.0 / font["head"].unitsPerEm),
        regular=tables[0],
        bold=tables[1],
    )


def _is_western(code: int) -> bool:
    return 0x20 <= code < 0x180 or 0x2010 <= code < 0x2300


def as_module(metrics: FontMetrics) -> str:
    """Source text of `halfsilver.drawing.advances` for these metrics."""

    def table(name: str, widths: Mapping[str, int]) -> str:
        rows, row = [], ""
        for character, width in widths.items():
            cell = f'"\\u{ord(character):04x}": {width}, '
            if len(row) + len(cell) > 130:
                rows.append("    " + row.rstrip())
                row = ""
            row += cell
        rows.append("    " + row.rstrip())
        return f"{name} = {{\n" + "\n".join(rows) + "\n}\n"

    head = '"""Advance widths of the shipped font in thousandths of the em; written by `halfsilver.drawing.fonts`."""\n\n'
    head += f'# fmt: off\nFAMILY = "{metrics.family}"\nCAP_HEIGHT = {metrics.cap_height}\n'
    return head + table("REGULAR", metrics.regular) + table("BOLD", metrics.bold)


def main(arguments: list[str]) -> None:
    """Write the table for the two font files named."""
    metrics = read_metrics(Path(arguments[0]), Path(arguments[1]))
    Path(__file__).with_name("advances.py").write_text(as_module(metrics), encoding="utf-8")


if __name__ == "__main__":
    import sys

    main(sys.argv[1:])
