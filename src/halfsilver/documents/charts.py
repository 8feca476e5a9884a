"""Charts of what will be seen, as drawings, and what they say in plain words."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence

from halfsilver.documents.chart_light import contrast_chart, images_chart, spectra_chart
from halfsilver.documents.chart_parts import Chart
from halfsilver.documents.chart_zone import zone_chart
from halfsilver.documents.more import template
from halfsilver.drawing.fit import sheet_of
from halfsilver.drawing.svg import sheet_svg
from halfsilver.drawing.view import Scale, View
from halfsilver.model.charts import Charts
from halfsilver.model.job import Units


def charts(shown: Charts, *, units: Units) -> tuple[Chart, ...]:
    """Every chart, the most telling first."""
    made: list[Chart] = []
    if shown.images:
        made.append(images_chart(shown.images, units))
    if shown.zone:
        made.append(zone_chart(shown.zone, units))
    if shown.contrast:
        made.append(contrast_chart(shown.contrast))
    return (*made, *(spectra_chart(one) for one in shown.spectra))


def telling(made: Sequence[Chart]) -> tuple[Chart, ...]:
    """The two that tell a client most: spectra are for the shop."""
    return tuple(chart for chart in made if not chart.name.startswith("spectra-"))[:2]


def chart_svg(chart: Chart) -> bytes:
    """A chart on paper just large enough for it."""
    return sheet_svg(sheet_of(View(scene=chart.scene, scale=Scale(1.0)), margin_mm=2.0), paper="#ffffff").encode()


def chart_files(made: Sequence[Chart]) -> Mapping[str, bytes]:
    """By name: ``viewing-zone.svg`` and so on."""
    return {f"{chart.name}.svg": chart_svg(chart) for chart in made}


def chart_pages(made: Sequence[Chart]) -> Mapping[str, bytes]:
    """Files that the shop document's template includes: ``charts.typ`` and what it reads; none without charts."""
    if not made:
        return {}
    rows, pictures = chart_rows(made)
    return {"charts.json": json.dumps(rows, ensure_ascii=False).encode(), "charts.typ": template("charts.typ"), **pictures}


def chart_rows(made: Sequence[Chart]) -> tuple[list[dict[str, str]], dict[str, bytes]]:
    """For a template: file and words of each chart, and the files."""
    rows = [{"file": f"chart-{chart.name}.svg", "says": chart.says} for chart in made]
    return rows, {row["file"]: chart_svg(chart) for row, chart in zip(rows, made, strict=True)}
