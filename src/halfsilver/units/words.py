"""The known word that somebody most likely meant."""

from __future__ import annotations

from collections.abc import Iterable


def nearest_word(word: str, known: Iterable[str]) -> str | None:
    """The known word most like a written one, or None when none is like it.

    Parameters
    ----------
    word : str
        As written; letter case and the choice of ``-``, ``_`` or space do not count.
    known : iterable of str
        The words that would do.

    Examples
    --------
    >>> nearest_word("moulding_id", ["mounting", "moulding"])
    'moulding'
    >>> nearest_word("xyz", ["mounting", "moulding"]) is None
    True
    """
    from difflib import get_close_matches  # only errors need it

    spelled = {_spelling(name): name for name in reversed(list(known))}
    close = get_close_matches(_spelling(word[:80]), spelled, n=1, cutoff=0.6)
    return spelled[close[0]] if close else None


def _spelling(word: str) -> str:
    return word.casefold().replace("_", "-").replace(" ", "-")
