"""The bench without a script: plain forms, readings once each, ticks in the history. Sizes are those of the foyer example's job file."""

from __future__ import annotations

import re

import pytest

from desks import EXAMPLES, Visitor
from halfsilver.services.desk_bench import DONE, OPEN, cards, drawing, marks_of, take, tick
from halfsilver.store.values import State

WIDTH = "front.rebate.width"


def readings(visitor: Visitor, job: str) -> list[str]:
    return [state.made.words for state in visitor.desk.store.history(job) if state.made.what == "measured"]


def card(visitor: Visitor, job: str, step: str) -> object:
    return next(card for card in cards(visitor.desk, visitor.desk.head(job)) if card.step.id == step)


@pytest.mark.parametrize("name", sorted(path.name for path in EXAMPLES.glob("*.yaml")))
def test_every_step_of_every_example_is_a_page_with_its_cautions(visitor: Visitor, name: str) -> None:
    job = visitor.begin(name)
    found = cards(visitor.desk, visitor.desk.head(job))
    assert visitor.get(f"/jobs/{job}/bench").headers["location"] == f"/jobs/{job}/bench/{found[0].step.id}"
    for one in found:
        page = visitor.get(f"/jobs/{job}/bench/{one.step.id}").text
        assert page.count("<li><b>") == len(one.step.cautions)
        assert ("<svg xmlns" in page) is bool(one.step.drawing)
        assert page.count('class="plainbox"') == sum(len(point.boxes) for point in one.points)
    everything = visitor.get(f"/jobs/{job}/bench/all/steps").text
    assert everything.count("<article") == len(found)


def test_a_page_is_small(visitor: Visitor) -> None:
    job = visitor.begin()
    assert len(visitor.get(f"/jobs/{job}/bench/measure").content) < 100_000  # without its picture it is to be below 100 KB


def test_a_reading_is_kept_as_a_form_and_what_moved_is_told(visitor: Visitor) -> None:
    job = visitor.begin()
    sent = {"name": WIDTH, "at": "middle", "value": "53 5/16 in", "key": "k1"}
    page = visitor.post(f"/jobs/{job}/bench/measure/reading", sent).text
    assert "Written down: 53 5/16 in" in page
    assert "1/16 in less than planned" in page
    assert re.search(r"Front glass width: 53 1/4 in → 53 3/16 in", page)  # 1/8 in of play, asked for by the job
    assert readings(visitor, job) == [f"{WIDTH} at middle: 53 5/16 in"]


def test_a_reading_that_was_sent_twice_is_kept_once_and_answered_alike(visitor: Visitor) -> None:
    job = visitor.begin()
    sent = {"name": WIDTH, "at": "top", "value": "53 5/16 in", "key": "same"}
    json = {"accept": "application/json"}
    first = visitor.post(f"/jobs/{job}/bench/measure/reading", sent, headers=json).json()
    visitor.post(f"/jobs/{job}/bench/measure/reading", {**sent, "at": "bottom", "value": "53 3/8 in", "key": "other"})
    again = visitor.post(f"/jobs/{job}/bench/measure/reading", sent, headers=json).json()
    assert first["kept"]
    assert (again["number"], again["lines"]) == (first["number"], first["lines"])
    assert len(readings(visitor, job)) == 2


def test_a_doubtful_one_is_questioned_and_kept_when_it_is_said_to_be_right(visitor: Visitor) -> None:
    job = visitor.begin()
    sent = {"name": WIDTH, "at": "top", "value": "54 3/8 in", "key": "d"}
    asked = visitor.post(f"/jobs/{job}/bench/measure/reading", sent)
    assert "A slip of one inch?" in asked.text
    assert "It is 53 3/8 in" in asked.text
    assert readings(visitor, job) == []
    told = visitor.post(f"/jobs/{job}/bench/measure/reading", {**sent, "value": "53 3/8 in"}, headers={"accept": "application/json"})
    assert told.status_code == 200
    assert len(readings(visitor, job)) == 1


@pytest.mark.parametrize("value", ["", "a bit", "53 3/8 stones", "-3 in", "9" * 100])
def test_what_cannot_be_read_is_told_and_nothing_is_kept(visitor: Visitor, value: str) -> None:
    job = visitor.begin()
    answer = visitor.post(
        f"/jobs/{job}/bench/measure/reading", {"name": WIDTH, "at": "top", "value": value}, headers={"accept": "application/json"}
    )  # fmt: skip
    assert answer.status_code in {202, 422}
    assert not answer.json()["kept"]
    assert answer.json()["problems"] or answer.json()["doubts"]
    assert visitor.number(job) == "1"


def test_an_inch_is_seen_on_a_long_length_and_a_small_slip_on_a_thickness(visitor: Visitor) -> None:
    job = visitor.begin()
    for name, value, code in (
        ("front.stick.long", "58 7/8 in", "inch-slip"),  # 57 7/8 in is due: one inch more
        ("front.stick.long", "35 1/8 in", "swapped"),  # what the short stick should be
        ("front.glass.thickness", "0.25 mm", "other-unit"),  # a quarter of an inch, written as millimetres: 6.35 of the pane's 6.76 mm
    ):
        taken = take(visitor.desk, job, name=name, value=value)
        assert [doubt.code for doubt in taken.doubts] == [code], (name, value)


def test_a_later_reading_is_held_against_the_plan_not_against_a_slip_that_was_kept(visitor: Visitor) -> None:
    job = visitor.begin()
    take(visitor.desk, job, name=WIDTH, value="53 13/16 in", at="top", sure=True)
    assert take(visitor.desk, job, name=WIDTH, value="53 3/8 in", at="middle").state is not None


def test_a_size_from_which_nothing_follows_is_checked_and_stands_in_its_box(visitor: Visitor) -> None:
    job = visitor.begin()
    digest = visitor.desk.reckoned(visitor.desk.head(job)).design.digest
    taken = take(visitor.desk, job, name="front.clearance.width", value="3.0 mm", token="c")
    again = take(visitor.desk, job, name="front.clearance.width", value="3.0 mm", token="c")
    assert taken.state is not None
    assert again.state == taken.state
    assert visitor.desk.reckoned(taken.state).design.digest == digest
    page = visitor.get(f"/jobs/{job}/bench/fit").text
    assert re.search(r'data-name="front.clearance.width".*?<span class="box-value">3.0 mm</span>', page, re.S)


def test_the_limit_of_a_size_stays_that_of_the_plan_when_it_was_read(visitor: Visitor) -> None:
    job = visitor.begin()
    before = next(point for point in card(visitor, job, "measure").points if point.name == WIDTH)  # type: ignore[attr-defined]
    take(visitor.desk, job, name=WIDTH, value="53 11/32 in", at="top")
    after = next(point for point in card(visitor, job, "measure").points if point.name == WIDTH)  # type: ignore[attr-defined]
    assert (after.limit, after.due) == (before.limit, before.due)
    assert after.boxes[0].kept.shown == "53 11/32 in"


def test_a_step_is_ticked_off_once_and_opened_again_and_the_history_tells(visitor: Visitor) -> None:
    job = visitor.begin()
    done = visitor.post(f"/jobs/{job}/bench/rip/done", {"done": "yes", "next": "mitre", "key": "t"})
    assert done.headers["location"] == f"/jobs/{job}/bench/mitre"
    visitor.post(f"/jobs/{job}/bench/rip/done", {"done": "yes", "key": "another tablet"})
    words = [state.made.words for state in visitor.desk.store.history(job) if state.made.what == "step"]
    assert words == [f"rip: {DONE}"]
    assert "open it again" in visitor.get(f"/jobs/{job}/bench/rip").text
    visitor.post(f"/jobs/{job}/bench/rip/done", {"done": "no", "key": "u"})
    history: tuple[State, ...] = visitor.desk.store.history(job)
    assert history[-1].made.words == f"rip: {OPEN}"
    assert not marks_of(history).done
    assert visitor.post(f"/jobs/{job}/bench/no-such-step/done", {"done": "yes"}).status_code == 422


def test_what_should_have_been_done_before_or_still_rests_is_told(visitor: Visitor) -> None:
    job = visitor.begin()
    left = {one.id: one for one in card(visitor, job, "clean-frame").left}  # type: ignore[attr-defined]
    assert not left["glue-frame"].done
    tick(visitor.desk, job, "glue-frame", done=True, by="JK")
    left = {one.id: one for one in card(visitor, job, "clean-frame").left}  # type: ignore[attr-defined]
    assert left["glue-frame"].done  # the desk's clock stands still, so the glue rests
    assert left["glue-frame"].rests_until > visitor.desk.now()[:10]


def test_drawings_are_lettered_larger_than_on_the_desk(visitor: Visitor) -> None:
    job = visitor.begin()
    reckoned = visitor.desk.reckoned(visitor.desk.head(job))

    def wide(svg: str) -> float:
        return float(re.findall(r'viewBox="0 0 ([\d.]+)', svg)[0])

    assert wide(drawing(reckoned, "front-glass")) < 0.6 * wide(reckoned.svg("front-glass"))
    assert wide(drawing(reckoned, "front")) <= wide(reckoned.svg("front"))


def test_only_own_forms_are_taken(visitor: Visitor) -> None:
    job = visitor.begin()
    sent = {"name": WIDTH, "at": "top", "value": "53 5/16 in", "token": "0" * 64}
    assert visitor.client.post(f"/jobs/{job}/bench/measure/reading", data=sent).status_code == 403
    assert readings(visitor, job) == []


def test_what_moves_by_less_than_is_printed_is_counted_not_shown_as_unmoved(visitor: Visitor) -> None:
    job = visitor.begin()
    sent = {"name": "screen.outline.width", "at": "top", "value": "1352 mm", "key": "fine"}
    lines = visitor.post(f"/jobs/{job}/bench/measure-screen/reading", sent, headers={"accept": "application/json"}).json()["lines"]
    moves = [line.partition(": ")[2].split(" -> ") for line in lines[:-1]]
    assert moves
    assert all(was != now for was, now in moves)
    assert re.fullmatch(r"\d+ more by less than is printed", lines[-1])
