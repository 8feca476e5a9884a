"""Every chart of every example against the one somebody has looked at: a change detector, not a proof.

A chart that differs is written to ``out/golden/charts`` beside the repository's root; the new one replaces the old one only after somebody
has looked at it.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from halfsilver.documents.charts import chart_files, charts
from halfsilver.services.appearance.charts import charts_of
from halfsilver.services.appearance.predict import predicted
from halfsilver.services.load import load, resolve
from looked_at import hold

EXAMPLES = Path(__file__).parents[3] / "examples"
NAMES = {
    "foyer": ("light-images", "viewing-zone", "contrast", "spectra-front", "spectra-rear"),
    "archive-mirror": ("viewing-zone", "contrast", "spectra-front"),
    "kit-mirror": ("light-images", "spectra-front", "spectra-rear"),
}


@cache
def files(example: str) -> dict[str, str]:
    loaded = load(str(EXAMPLES / f"{example}.yaml"))
    design = resolve(loaded)
    made = charts(charts_of(design, predicted(loaded, design)), units=design.facts.job.units)
    return {Path(name).stem: data.decode() for name, data in chart_files(made).items()}


@pytest.mark.parametrize(("example", "name"), [(example, name) for example, names in NAMES.items() for name in names])
def test_the_chart_is_the_one_that_was_looked_at(example: str, name: str) -> None:
    assert set(files(example)) == set(NAMES[example])
    hold("charts", f"{example}.{name}", files(example)[name])
