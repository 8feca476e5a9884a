"""Mass and balance: what the piece weighs, where its centre of gravity is, and who can lift it into place."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from halfsilver.engineering.lifting import lifting_index, reach_mm, team_limit_kg, weight_limit
from halfsilver.engineering.mounting import centre_of_gravity
from halfsilver.engineering.working import Given, Limit, Working, mark_of, weakest
from halfsilver.layout.design import Design
from halfsilver.ledger.shown import Show, in_inches
from halfsilver.model.finding import Finding
from halfsilver.model.job import CarriedBy, MountingKind
from halfsilver.services.checks.check import Check
from halfsilver.services.checks.known import PRACTICE, Assembly, Known, assembly, floor_to_edge_mm, known, not_run, rough
from halfsilver.services.checks.ruled import ruled
from halfsilver.units.factors import KG_PER_LB

BLOCKS_MM = 100.0  # it stands on blocks before it is lifted; common practice
BENCH_MM = 900.0  # it is built on a bench of this height; common practice
MOST = 3  # people for whom a published share exists
PAIR_KG, PAIR_M2 = 20.0, 1.0  # a pane that two carry; common practice


def assemblies(design: Design) -> tuple[Assembly, ...]:
    """What is lifted as one: the whole, the whole without its screen, each pane, the screen."""
    found = [assembly(design, "complete")]
    parts = {part.id for part in design.parts}
    if "screen" in parts:
        found += [assembly(design, "without the screen", leave=("screen",)), assembly(design, "screen", "screen")]
    found += [assembly(design, f"{which} pane", f"{which}-glass") for which in ("front", "rear") if f"{which}-glass" in parts]
    return tuple(found)


def _weight(mass_kg: float, show: Show) -> str:
    """A mass, in an inch job in pounds too."""
    return f"{mass_kg:.1f} kg{f' ({mass_kg / KG_PER_LB:.0f} lb)' if in_inches(show) else ''}"


def mass(design: Design, show: Show) -> Iterator[Check]:
    """The mass of every part, the total, and the centre of gravity in three axes."""
    whole, *others = assemblies(design)
    x, y, z = whole.at_mm
    aside = f", {show(abs(x), 'mm')} to the {'right' if x > 0 else 'left'}" if abs(x) >= 1 else ""
    level = f"{show(abs(y), 'mm')} {'above' if y >= 0 else 'below'} the middle" if abs(y) >= 1 else "level with the middle"
    pairs = [f"the {one.name}" for one in others if one.name.endswith("pane") and one.mass_kg > PAIR_KG]
    mark = mark_of(centre_of_gravity)
    yield Check(
        working=Working(
            rule="mass.total",
            title="mass of all parts",
            given=tuple(
                Given(name=part.name, symbol=f"m{i}", value=part.mass_kg * part.quantity, unit="kg", origin="volume and density")
                for i, part in enumerate(design.parts, 1)
            ),
            formula="sum m_i; centre sum(m_i r_i)/sum m_i",
            put_in=f"{' + '.join(f'{part.mass_kg * part.quantity:.2f}' for part in design.parts)} = {whole.mass_kg:.2f} kg; "
            f"x {x:.1f}, y {y:.1f}, z {z:.1f} mm from the middle of the face",
            result=whole.mass_kg,
            unit="kg",
            source="volumes with mitres and cut-outs, densities of the catalogue",
            status=mark.status,
            assumptions=("screws, glue, foam, cables and supply are not counted",),
            confirms="a scale, before it is hung",
        ),
        advice=f"Complete it weighs {_weight(whole.mass_kg, show)}; "
        f"{'; '.join(f'{one.name} {_weight(one.mass_kg, show)}' for one in others)}. "
        f"The centre of gravity lies {show(-z, 'mm')} behind the face, {level}{aside}. Glass on edge, "
        f"two people and cups for {' and '.join(pairs) or 'any pane over 1 m2'}. "
        "Screws, cables and supply are not counted: weigh it before it is hung.",
        entries=("outside.width", "outside.height"),
    )


def team(design: Design, show: Show) -> Iterator[Check | Finding]:
    """The people who lift it into place, by the lifting equation at both ends of the lift."""
    job, ledger, whole = design.facts.job, design.ledger, assembly(design, "complete")
    edge = floor_to_edge_mm(design)
    source = "NIOSH 94-110, revised lifting equation; HSE L23 for teams"
    if edge is None:
        yield not_run("lift.team", what="who can lift it into place", key="mounting.centre_height", source=source, unit="kg")
        return
    grip = ledger["outside.height"] / 4
    start, end = BLOCKS_MM + grip, edge + grip
    reach = reach_mm(load_width_mm=ledger["outside.depth"], hands_mm=start)
    ends = [weight_limit(reach_mm=reach, hands_mm=hands, travel_mm=abs(end - start), start_hands_mm=start) for hands in (start, end)]
    each = min(one.limit_kg for one in ends)
    people = known(job.handling.people, 2)
    shares = team_shares(design)
    able = {n: team_limit_kg(limit_kg=each, people=n, share=shares[n].value) for n in range(1, MOST + 1)}
    team_of = min(int(people.value), MOST)
    limit = able[team_of]
    enough = next((n for n, lifted in able.items() if lifted >= whole.mass_kg), None)
    cure = (
        f"{enough} people lift it (handling.people)" if enough and enough > people.value
        else f"by this rule even {MOST} people lift only {_weight(able[MOST], show)}: use a lifting table or hoist, and hold it "
        "until every fixing is in"
        if enough is None
        else f"{int(people.value)} {'people lift' if people.value > 1 else 'person lifts'} it"
    )  # fmt: skip
    yield Check(
        working=Working(
            rule="lift.team",
            title="mass against what the team may lift",
            given=(
                people.given("people", "n"),
                shares[2].given("share of two", "s2"),
                shares[3].given("share of three", "s3"),
                Given(name="hands at the start", symbol="V1", value=start, unit="mm", origin="assumed"),
                Given(name="hands in place", symbol="V2", value=end, unit="mm"),
                Given(name="reach", symbol="H", value=reach, unit="mm"),
                Given(name="limit of each", symbol="RWL", value=each, unit="kg"),
            ),
            formula="m <= s n RWL; s 2/3 for two, 1/2 for three; RWL = 23 HM VM DM AM FM CM at both ends",
            put_in=f"{whole.mass_kg:.1f} kg against {shares[team_of].value:.2f} x {team_of} x {each:.1f} = {limit:.1f} kg",
            result=whole.mass_kg,
            limit=limit,
            unit="kg",
            side=Limit.AT_MOST,
            source=mark_of(weight_limit).source,
            limit_source=shares[2].source(mark_of(team_limit_kg).source),
            status=weakest(mark_of(weight_limit).status, shares[2].status, shares[3].status),
            assumptions=(
                "lifted from blocks by its sides, a quarter of the height up",
                "rare lifts, firm floor, room to stand",
                "no share is published for more than three people: they count as three",
            ),
            confirms="employer's own assessment",
        ),
        advice=f"{_state(design)} Each of {int(people.value)} people{' (assumed)' if people.assumed else ''} lifts "
        f"{_weight(each, show)} with the hands at {rough(design, show, end)}, "
        f"together {_weight(limit, show)}, against {_weight(whole.mass_kg, show)}{_index(whole.mass_kg, limit)}: {cure}.",
        entries=("outside.height", "outside.depth"),
    )


def team_shares(design: Design) -> Mapping[int, Known]:
    """What one, two and three people lift of the sum of what each may lift alone."""
    return {1: Known(value=1.0, origin="derived"), 2: ruled(design, "team_of_two"), 3: ruled(design, "team_of_three")}


@dataclass(frozen=True, slots=True, kw_only=True)
class Carried:
    """What is carried as one while the piece is built: its mass, how thick it is, how high it stands on its edge. [kg, mm]"""

    body: Assembly
    thick_mm: float
    high_mm: float
    shares: Mapping[int, Known]
    pane_m2: float = 0.0

    def limit_kg(self, people: int) -> float:
        """What so many may lift from blocks on the floor to the bench, the hands a quarter of its height up. [kg]"""
        grip = self.high_mm / 4
        start, end = BLOCKS_MM + grip, BENCH_MM + grip
        reach = reach_mm(load_width_mm=self.thick_mm, hands_mm=start)
        hold: Literal["poor", "fair"] = "poor" if self.pane_m2 else "fair"
        ends = [
            weight_limit(reach_mm=reach, hands_mm=hands, travel_mm=end - start, start_hands_mm=start, coupling=hold).limit_kg
            for hands in (start, end)
        ]
        return team_limit_kg(limit_kg=min(ends), people=people, share=self.shares[people].value)

    @property
    def people(self) -> int:
        """How many carry it; one more than there is a share for where even they are too few."""
        least = 2 if self.pane_m2 > PAIR_M2 or (self.pane_m2 and self.body.mass_kg > PAIR_KG) else 1
        return max(least, next((n for n in range(1, MOST + 1) if self.limit_kg(n) >= self.body.mass_kg), MOST + 1))

    def told(self, show: Show) -> str:
        """In words, with the number of people."""
        hands = f"{self.people} {'person' if self.people == 1 else 'people'}" if self.people <= MOST else "a trolley or lifting table"
        return f"{self.body.name}, {_weight(self.body.mass_kg, show)}, {hands}"


def carried(design: Design) -> tuple[Carried, ...]:
    """What is carried as one before it is put together: the empty frames, each pane, the screen, the panel behind."""
    ledger, parts = design.ledger, {part.id: part for part in design.parts}
    loose = tuple(name for name in ("front-glass", "rear-glass", "screen", "back-panel", "backing") if name in parts)
    empty = assembly(design, "the frames, empty" if "rear-stick-long" in parts else "the frame, empty", leave=loose)
    shares = team_shares(design)
    found = [Carried(body=empty, thick_mm=ledger["outside.depth"], high_mm=ledger["outside.height"], shares=shares)]
    for name in loose:
        wide, high, thick = parts[name].size_mm
        area = wide * high * 1e-6 if name.endswith("-glass") else 0.0
        said = f"the {name.replace('-glass', ' pane').replace('-', ' ')}"
        found.append(Carried(body=assembly(design, said, name), thick_mm=thick, high_mm=high, shares=shares, pane_m2=area))
    return tuple(found)


def loose_parts(design: Design, show: Show) -> Iterator[Check]:
    """How many carry each part to the bench, by the lifting equation; never fewer than two for a large pane."""
    every, people = carried(design), known(design.facts.job.handling.people, 2)
    worst = max(every, key=lambda one: (one.people, one.body.mass_kg))
    mark, two, three = mark_of(weight_limit), every[0].shares[2], every[0].shares[3]
    given = tuple(
        Given(name=f"{one.body.name}, against {one.limit_kg(min(one.people, MOST)):.1f} kg for {min(one.people, MOST)}", symbol=f"m{i}",
              value=one.body.mass_kg, unit="kg", origin="volume and density")
        for i, one in enumerate(every, 1)
    )  # fmt: skip
    yield Check(
        working=Working(
            rule="lift.parts",
            title="people who carry one part to the bench",
            given=(*given, people.given("people", "n"), two.given("share of two", "s2"), three.given("share of three", "s3")),
            formula="m_i <= s n_i RWL; s 2/3 for two, 1/2 for three; two at least for a large pane; n_i <= n",
            put_in="; ".join(
                f"{one.body.name}: {one.body.mass_kg:.1f} kg, {one.limit_kg(min(one.people, MOST)):.1f} kg for {min(one.people, MOST)}"
                for one in every
            ),
            result=worst.people,
            limit=people.value,
            unit="",
            source=mark.source,
            limit_source=f"{two.source(mark_of(team_limit_kg).source)}; two for a large pane: {PRACTICE}",
            status=weakest(mark.status, two.status),
            assumptions=(
                f"from blocks on the floor to a bench of {BENCH_MM:.0f} mm, rarely, on a firm floor",
                "hands a quarter of the height up; panes held without cups",
            ),
            confirms="employer's own assessment",
        ),
        advice=f"To the bench go {'; '.join(one.told(show) for one in every)}. "
        f"{_few(worst, people.value)}Carry glass on edge, with gloves and sleeves, never overhead, the way clear; plan who sets it down.",
        entries=("outside.width", "outside.height"),
    )


def _few(worst: Carried, people: float) -> str:
    if worst.people <= people:
        return ""
    return f"That is more than there are ({int(people)}, handling.people): get help, cups or a trolley for {worst.body.name}. "


def _state(design: Design) -> str:
    """In which state it is put into place, and why."""
    mounting = design.facts.job.mounting
    if mounting.kind is MountingKind.STANDING:
        return "It is stood up complete."
    where = "into its recess" if mounting.kind is MountingKind.RECESSED else "to its wall"
    if mounting.carried_by is CarriedBy.SCREEN_MOUNT:
        return f"It goes {where} complete, on the mount of its screen."
    return f"It goes {where} complete, for what is held from behind cannot be put in there."


def _index(mass_kg: float, limit_kg: float) -> str:
    if limit_kg <= 0:
        return ", hands higher than anyone should lift"
    return f" (lifting index {lifting_index(load_kg=mass_kg, limit_kg=limit_kg):.1f}; from 1 on the risk rises)"


RULES: tuple[Callable[[Design, Show], Iterator[Check | Finding]], ...] = (mass, loose_parts, team)
