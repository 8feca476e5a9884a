"""JSON Schemas of every file, made from the model's dataclasses."""

from __future__ import annotations

import json
from typing import Any

from halfsilver.errors import JobError, Problem
from halfsilver.files.schema import schema_of
from halfsilver.model.appearance import AppearanceRecord
from halfsilver.model.job import Job
from halfsilver.model.results import (
    BillRecord,
    ChangesRecord,
    CompareRecord,
    CutPlanRecord,
    DesignRecord,
    FindingsRecord,
    ManifestRecord,
    ProblemsRecord,
    ReckonRecord,
    WhyNode,
)
from halfsilver.model.workshop import WorkshopFile
from halfsilver.optics.scene import Scene
from halfsilver.units.words import nearest_word

READ: dict[str, type[Any]] = {"job": Job, "workshop": WorkshopFile}
WRITTEN: dict[str, type[Any]] = {
    "design": DesignRecord,
    "appearance": AppearanceRecord,
    "findings": FindingsRecord,
    "problems": ProblemsRecord,
    "why": WhyNode,
    "cut_plan": CutPlanRecord,
    "bill": BillRecord,
    "changes": ChangesRecord,
    "compare": CompareRecord,
    "reckon": ReckonRecord,
    "manifest": ManifestRecord,
    "scene": Scene,
}


def schema(name: str) -> dict[str, Any]:
    """The schema of a file by its name.

    Raises
    ------
    JobError
        If there is no such file.
    """
    if name in READ:
        return schema_of(READ[name], name)
    if name in WRITTEN:
        return schema_of(WRITTEN[name], name, output=True)
    known = sorted({*READ, *WRITTEN})
    near = nearest_word(name, known)
    raise JobError(
        [Problem(code="unknown-schema", read=name, allowed=f"Known: {', '.join(known)}.", advice=f"Did you mean {near}?" if near else "")]
    )


def schema_text(name: str) -> str:
    """The schema as JSON text."""
    return json.dumps(schema(name), indent=1, ensure_ascii=False) + "\n"
