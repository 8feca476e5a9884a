"""What the desk says of a job: its stage, what differs between two of its states, and what a choice between two changes is about."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from enum import Enum

from halfsilver.files.located import MappingNode, Node, ScalarNode, locate
from halfsilver.store.values import State


class Stage(Enum):
    """What has happened to a piece, in the order in which it happens."""

    ASKED = "asked"
    QUOTED = "quoted"
    AGREED = "agreed"
    CUTTING = "cutting"
    GLUING = "gluing"
    CLOSING = "closing"
    TESTING = "testing"
    PACKED = "packed"
    HUNG = "hung"
    PUT_ASIDE = "put aside"

    @property
    def said(self) -> str:
        """What it means, in a few words."""
        return SAID[self]


SAID = {
    Stage.ASKED: "somebody would like one",
    Stage.QUOTED: "the offer is out",
    Stage.AGREED: "ordered, nothing is cut yet",
    Stage.CUTTING: "timber and glass are being cut",
    Stage.GLUING: "the frames stand in the clamps",
    Stage.CLOSING: "glass and lights go in",
    Stage.TESTING: "it runs on the bench",
    Stage.PACKED: "in its crate",
    Stage.HUNG: "in its place",
    Stage.PUT_ASIDE: "nobody works on it",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One key that differs between two states; an absent value is empty.

    Parameters
    ----------
    path : str
        Dotted key path; ``stage``, ``due`` and ``file NAME`` for what does not stand in the job's text.
    was, now : str
        As written.
    """

    path: str
    was: str
    now: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """One key of a change that came too late.

    Parameters
    ----------
    path : str
        Dotted key path.
    was, theirs, mine : str
        What both saw, what stands now, and what the sender wants.
    """

    path: str
    was: str
    theirs: str
    mine: str

    @property
    def is_real(self) -> bool:
        """Whether both changed it, and differently."""
        return self.theirs not in (self.was, self.mine)


@dataclass(frozen=True, slots=True, kw_only=True)
class TooLate:
    """A change that was based on a state which no longer stands: nothing was written, the sender chooses.

    Parameters
    ----------
    based_on : int
        The state that the sender saw.
    head : State
        The state that stands.
    values : mapping of str to str
        What the sender wants.
    clashes : tuple of Clash
        The sender's keys.
    theirs : tuple of Difference
        What the others changed meanwhile.
    """

    based_on: int
    head: State
    values: Mapping[str, str] = field(default_factory=dict)
    clashes: tuple[Clash, ...] = ()
    theirs: tuple[Difference, ...] = ()

    @property
    def may_keep_both(self) -> bool:
        """Whether no key was changed by both."""
        return not any(clash.is_real for clash in self.clashes)


def leaves(text: str) -> dict[str, str]:
    r"""Every single value of a job's text by its key path, as written.

    Examples
    --------
    >>> leaves("gap: auto\nviewers: [{id: front}]")
    {'gap': 'auto', 'viewers[0].id': 'front'}
    """
    return dict(_leaves(locate(text, file="job.yaml"), ""))


def _leaves(node: Node, path: str) -> Iterator[tuple[str, str]]:
    if isinstance(node, ScalarNode):
        yield path, node.text
    elif isinstance(node, MappingNode):
        for entry in node.entries:
            yield from _leaves(entry.value, f"{path}.{entry.key}" if path else entry.key)
    else:
        for i, item in enumerate(node.items):
            yield from _leaves(item, f"{path}[{i}]")


def differences(was: str, now: str) -> tuple[Difference, ...]:
    """What differs between two texts of a job, key by key, in the order of the new one."""
    old, new = leaves(was), leaves(now)
    return tuple(
        Difference(path=path, was=old.get(path, ""), now=new.get(path, ""))
        for path in dict.fromkeys((*new, *old))
        if old.get(path) != new.get(path)
    )
