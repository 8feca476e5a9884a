"""JSON Schemas of every file, made from the model's dataclasses."""

from __future__ import annotations

import json
from typing import Any

from halfsilver.errors import JobError, Problem
from halfsilver.files.schema import schema_of
from halfsilver.model.appearance import AppearanceRecord
from halfsilver.model.edid import EdidRecord
from halfsilver.model.job import Job
from halfsilver.model.look_asset import LookAsset
from halfsilver.model.results import (
    BillRecord,
    ChangesRecord,
    CompareRecord,
    CutCheckRecord,
    CutPlanRecord,
    DesignRecord,
    FindingsRecord,
    FormulasRecord,
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
    "cut_check": CutCheckRecord,
    "bill": BillRecord,
    "changes": ChangesRecord,
    "compare": CompareRecord,
    "reckon": ReckonRecord,
    "manifest": ManifestRecord,
    "scene": Scene,
    "edid": EdidRecord,
    "look_asset": LookAsset,
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
    if name == "reckon":
        return _either(name, ReckonRecord, FormulasRecord)
    if name in WRITTEN:
        return schema_of(WRITTEN[name], name, output=True)
    known = sorted({*READ, *WRITTEN})
    near = nearest_word(name, known)
    raise JobError(
        [Problem(code="unknown-schema", read=name, allowed=f"Known: {', '.join(known)}.", advice=f"Did you mean {near}?" if near else "")]
    )


def _either(name: str, *classes: type[Any]) -> dict[str, Any]:
    """One schema for outputs of one name: the result of a formula, or the list of them."""
    bodies = [schema_of(cls, name, output=True) for cls in classes]
    merged: dict[str, Any] = {key: bodies[0][key] for key in ("$schema", "title")}
    definitions = {key: value for body in bodies for key, value in body.pop("$defs", {}).items()}
    either = [{key: value for key, value in body.items() if key not in merged} for body in bodies]
    return {**merged, "anyOf": either, "$defs": definitions}


def schema_text(name: str) -> str:
    """The schema as JSON text."""
    return json.dumps(schema(name), indent=1, ensure_ascii=False) + "\n"
