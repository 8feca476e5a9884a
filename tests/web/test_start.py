"""The start: the first page is there before the others, and whoever asks for one of those waits for it."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from desks import Visitor, desk_in
from halfsilver.web.run import warm

FIRST = """
import sys
from pathlib import Path
from desks import Visitor, desk_in

with desk_in(Path(sys.argv[1])) as desk:
    visitor = Visitor(desk)
    assert visitor.get("/").status_code == 200
    print(*(name for name in sys.modules if name.startswith("halfsilver.")))
    assert visitor.get("/workshop").status_code == 200
"""


def test_the_first_page_needs_nothing_that_reckons(tmp_path: Path) -> None:
    tests = Path(__file__).parents[1]
    done = subprocess.run([sys.executable, "-c", FIRST, str(tmp_path)], cwd=tests, capture_output=True, text=True, check=True)
    loaded = {name.split(".")[1] for name in done.stdout.split()}
    assert loaded == {"errors", "files", "services", "store", "web"}


@pytest.mark.parametrize("ready", [False, True])
def test_every_page_is_there_before_and_after_the_rest_was_loaded(tmp_path: Path, ready: bool) -> None:
    pages = {"/workshop": 200, "/workshop/": 307, "/api/openapi.json": 200, "/jobs/none/brief": 404, "/nowhere": 404}
    with desk_in(tmp_path) as desk:
        for path, status in pages.items():
            visitor = Visitor(desk)
            if ready:
                visitor.app.state.rest.load()
                warm()
            assert visitor.get(path).status_code == status, path
            assert visitor.client.put("/new").status_code == 405
