"""Differences between two states of a job as people read them: a reading is one line, not five keys."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Final

from halfsilver.services.desk_values import Difference

READING: Final = re.compile(r"measured\[(\d+)\]\.(\w+)")


def gathered(rows: Iterable[Difference]) -> tuple[Difference, ...]:
    """The same differences, the keys of each reading in one.

    Examples
    --------
    >>> gathered([Difference(path="measured[0].name", was="", now="gap"), Difference(path="measured[0].value", was="", now="2 in")])
    (Difference(path='reading of gap', was='', now='2 in'),)
    """
    found: dict[str, Difference | list[tuple[str, Difference]]] = {}
    for row in rows:
        reading = READING.fullmatch(row.path)
        if reading is None:
            found[row.path] = row
            continue
        keys = found.setdefault(f"measured[{reading[1]}]", [])
        assert isinstance(keys, list)
        keys.append((reading[2], row))
    return tuple(one if isinstance(one, Difference) else _reading(path, dict(one)) for path, one in found.items())


def _reading(path: str, keys: Mapping[str, Difference]) -> Difference:
    """One line for a reading; where it was only corrected, its place in the file is all that is known of it."""
    if "name" in keys:
        name, at = (row.now or row.was if (row := keys.get(key)) else "" for key in ("name", "at"))
        path = f"reading of {name.replace('.', ' ')}{f', {at}' if at else ''}"
        keys = {key: row for key, row in keys.items() if key not in {"name", "at"}}
    return Difference(path=path, was=_said({k: row.was for k, row in keys.items()}), now=_said({k: row.now for k, row in keys.items()}))


def _said(keys: Mapping[str, str]) -> str:
    by, when = keys.get("by", ""), keys.get("when", "")
    others = [text for key, text in keys.items() if key not in {"by", "when"} and text]
    return ", ".join(part for part in (*others, f"by {by}" if by else "", when) if part)
