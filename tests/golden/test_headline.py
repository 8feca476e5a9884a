"""Headline values of the examples are those that were looked at last (a change detector)."""

from __future__ import annotations

import json

from golden.headline import KEPT, headline, moved


def test_no_headline_value_moved_unseen():
    lines = moved(json.loads(KEPT.read_text("utf-8")), headline())
    assert not lines, "Look at them, then run tests/golden/headline.py --because WHY"
