"""The demo's drawings against the ones somebody has looked at: a change detector, not a proof.

A drawing that differs is written to ``out/golden/documents`` beside the repository's root; the new one replaces the old one only after
somebody has looked at it.
"""

from __future__ import annotations

import pytest

from documents_cases import design, show_of
from halfsilver.documents.drawings import drawn
from halfsilver.drawing.fit import sheet_of
from halfsilver.drawing.svg import sheet_svg
from looked_at import hold

LOOKED_AT = ("foyer.front", "foyer.back", "foyer.section-left", "foyer.relief-badge", "archive-mirror.front", "archive-mirror.section-left")


@pytest.mark.parametrize("name", LOOKED_AT)
def test_the_drawing_is_the_one_that_was_looked_at(name: str) -> None:
    example, stem = name.split(".")
    made = design(example)
    hold("documents", name, sheet_svg(sheet_of(drawn(made, show_of(made)).views[stem]), paper="#ffffff"))
