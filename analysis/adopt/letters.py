"""Which revision comes next: letters after ASME Y14.35, or numbers."""

from __future__ import annotations

LETTERS = "ABCDEFGHJKLMNPRTUVWY"  # ASME Y14.35, from memory: without I, O, Q, S, X and Z, which are misread


def following(revision: str) -> str | None:
    """The revision after this one; None where it is neither letters nor a number.

    >>> [following(one) for one in ("A", "H", "R", "Y", "Z", "AY", "YY", "7", "2.1")]
    ['B', 'J', 'T', 'AA', 'AA', 'BA', 'AAA', '8', None]
    """
    if revision.isdigit():
        return str(int(revision) + 1)
    if not revision.isalpha():
        return None
    head, last = revision[:-1], revision[-1]
    later = [letter for letter in LETTERS if letter > last]
    if later:
        return head + later[0]
    return f"{following(head) if head else LETTERS[0]}{LETTERS[0]}"
