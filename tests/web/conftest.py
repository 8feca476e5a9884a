"""Each test has a desk of its own; the workshop's copies are shared, since they are named by their content."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from desks import Visitor, desk_in


@pytest.fixture
def visitor(tmp_path: Path) -> Iterator[Visitor]:
    with desk_in(tmp_path) as desk:
        yield Visitor(desk)
