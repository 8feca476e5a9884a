"""Two windows on one job: nobody's change is lost, and the choice is clear."""

from __future__ import annotations

import re

from desks import Visitor


def fields_of(page: str) -> dict[str, str]:
    return {name: value for name, value in re.findall(r'type="hidden" name="([^"]+)" value="([^"]*)"', page) if name != "back"}


def settle(visitor: Visitor, job: str, page: str, choice: str) -> None:
    fields = {name: value for name, value in fields_of(page).items() if name.startswith("v:") or name == "based_on"}
    assert visitor.post(f"/jobs/{job}/brief/settle", {**fields, "choice": choice}).status_code == 303


def test_different_keys_are_kept_both(visitor: Visitor) -> None:
    job = visitor.begin()
    visitor.change(job, {"lights.dim": "0.5"}, based_on="1")
    late = visitor.change(job, {"terms.tax": "9 %"}, based_on="1")
    assert late.status_code == 409
    assert "Keep both" in late.text
    assert visitor.number(job) == "2"
    settle(visitor, job, late.text, "mine")
    loaded = visitor.desk.reckoned(visitor.desk.head(job)).loaded.job
    assert loaded.lights is not None
    assert (loaded.lights.dim, loaded.terms.tax) == (0.5, 0.09)


def test_the_same_key_is_chosen_and_the_other_stays_in_the_history(visitor: Visitor) -> None:
    job = visitor.begin()
    visitor.change(job, {"lights.dim": "0.5", "terms.tax": "9 %"}, based_on="1")
    late = visitor.change(job, {"lights.dim": "0.3"}, based_on="1")
    assert late.status_code == 409
    assert "Keep mine where we differ" in late.text
    assert all(value in late.text for value in ("0.8", "0.5", "0.3"))
    settle(visitor, job, late.text, "mine")
    loaded = visitor.desk.reckoned(visitor.desk.head(job)).loaded.job
    assert loaded.lights is not None
    assert (loaded.lights.dim, loaded.terms.tax) == (0.3, 0.09)
    assert "dim: 0.5" in visitor.desk.text(visitor.desk.store.state(job, 2))


def test_theirs_may_stand(visitor: Visitor) -> None:
    job = visitor.begin()
    visitor.change(job, {"lights.dim": "0.5"}, based_on="1")
    late = visitor.change(job, {"lights.dim": "0.3"}, based_on="1")
    settle(visitor, job, late.text, "theirs")
    assert visitor.number(job) == "2"


def test_a_stage_moved_in_between_is_told(visitor: Visitor) -> None:
    job = visitor.begin()
    visitor.post(f"/jobs/{job}/move", {"stage": "agreed", "based_on": "1", "back": ""})
    late = visitor.post(f"/jobs/{job}/move", {"stage": "quoted", "based_on": "1", "back": ""})
    assert late.status_code == 409
    assert visitor.desk.head(job).stage == "agreed"


def test_readings_add_up_whoever_sends_them(visitor: Visitor) -> None:
    job = visitor.begin()
    for i, value in enumerate(("53 5/16 in", "53 11/32 in", "53 3/8 in")):
        answer = visitor.post(
            f"/jobs/{job}/history/measure", {"name": "front.rebate.width", "value": value, "at": f"place {i}", "key": f"key-{i}"}
        )
        assert "Written down" in answer.text, answer.text
    again = visitor.post(
        f"/jobs/{job}/history/measure", {"name": "front.rebate.width", "value": "53 3/8 in", "at": "place 2", "key": "key-2"}
    )
    assert "Written down" in again.text
    loaded = visitor.desk.reckoned(visitor.desk.head(job)).loaded.job
    assert [reading.at for reading in loaded.measured] == ["place 0", "place 1", "place 2"]
