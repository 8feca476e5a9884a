"""Jobs that a shop might be asked for, as hypothesis strategies: keys of ``jobs.lit`` and of ``hidden``."""

from __future__ import annotations

from hypothesis import strategies as st

from halfsilver.files.jobs import job_from_text
from halfsilver.model.job import Job

TWO_FRAMES = ("gallery-57", "slope-44", "undercut-51", "soft-76", "plain-40")

HIDDEN = """
halfsilver: job/1
title: Test mirror
construction: hidden-screen
units: {units}
mounting: {{kind: {mounting}, centre_height: 1500 mm}}
screen:
  {{outline: {{width: {width}, height: {height}, depth: 45 mm}},
   borders: {{left: {left}, right: {right}, top: {top}, bottom: {bottom}}}, mass: 9 kg{screen}}}
viewers: [{viewers}]
accept: {{hidden_share: 5 %, cone: 30 deg}}
glass: {{front: {{kind: split-t30-6}}}}
frame: {{front: {{moulding: {moulding}}}}}
{more}
"""

PLAIN_HIDDEN = {
    "units": "mm", "mounting": "hung", "width": "962 mm", "height": "557 mm", "left": "10 mm", "right": "10 mm", "top": "10 mm",
    "bottom": "18 mm", "screen": "", "viewers": "{id: front, distance: 1 m, eye_height: 1.6 m}", "moulding": "plain-40", "more": "",
}  # fmt: skip


def hidden_job(**changes: str) -> Job:
    """A hidden screen, with parts of its text changed."""
    return job_from_text(HIDDEN.format(**{**PLAIN_HIDDEN, **changes}), file="test.yaml")


def lengths(least: float, most: float) -> st.SearchStrategy[str]:
    """A length between two bounds [mm], written to a hundredth."""
    return st.floats(min_value=least, max_value=most).map(lambda x: f"{x:.2f} mm")


viewers = st.builds(
    lambda distance, sideways, eye: f"{{id: front, distance: {distance}, sideways: {sideways}, eye_height: {eye}}}",
    lengths(500, 6000), lengths(-2500, 2500), lengths(900, 2100),
)  # fmt: skip

lit_keys = st.fixed_dictionaries(
    {
        "units": st.sampled_from(["in", "mm"]),
        "width": lengths(350, 2200),
        "height": lengths(350, 1600),
        "border": lengths(3, 20),
        "moulding": st.sampled_from(TWO_FRAMES),
        "gap": st.sampled_from(["auto", "45 mm", "60 mm"]),
        "batten": st.sampled_from(["auto", "3/4 in", "12 mm", "3/4 in, through: short"]),
        "fit": st.sampled_from(["", ", sight_margin: auto", ", sight_margin: 7 mm"]),
        "viewers": viewers,
    }
)
