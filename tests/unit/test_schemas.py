"""The schemas that other programs rely on: a committed copy of each, so that a change is seen and meant.

A difference that is meant is taken over by ``halfsilver schema NAME > docs/schemas/NAME.json``, with a line in changelog.d.
"""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest

from halfsilver.errors import JobError
from halfsilver.services.schemas import READ, WRITTEN, schema, schema_text

COPIES = Path(__file__).resolve().parents[2] / "docs" / "schemas"
NAMES = sorted({*READ, *WRITTEN})


@pytest.mark.parametrize("name", NAMES)
def test_the_committed_copy_is_the_schema(name):
    assert (COPIES / f"{name}.json").read_text(encoding="utf-8") == schema_text(name), (
        f"halfsilver schema {name} > docs/schemas/{name}.json"
    )


@pytest.mark.parametrize("name", NAMES)
def test_a_schema_is_one_by_the_standards_own_schema(name):
    jsonschema.Draft202012Validator.check_schema(json.loads(schema_text(name)))
    assert schema(name)["title"] == f"halfsilver/{name}/1"


def test_no_copy_is_left_of_a_schema_that_is_gone():
    assert sorted(path.stem for path in COPIES.glob("*.json")) == NAMES


def test_an_unknown_schema_gets_the_nearest():
    with pytest.raises(JobError, match="Did you mean findings"):
        schema("finding")
