"""Which revision comes next."""

import pytest

from analysis.adopt.letters import LETTERS, following


def test_letters_of_the_standard() -> None:
    """ASME Y14.35 (from memory): I, O, Q, S, X and Z are not used; after the last single letter come AA, AB and on."""
    seen, revision = [], "A"
    for _ in range(2 * 20 + 2):
        seen.append(revision)
        revision = following(revision) or ""
    single, double = seen[:20], seen[20:]
    assert single == sorted(set("ABCDEFGHIJKLMNOPQRSTUVWXYZ") - set("IOQSXZ"))
    assert double[:3] == ["AA", "AB", "AC"] and double[20:] == ["BA", "BB"]
    assert not set("".join(seen)) & set("IOQSXZ") and len(set(seen)) == len(seen)
    assert following("YY") == "AAA" and len(LETTERS) == 20


@pytest.mark.parametrize(("now", "after"), [("0", "1"), ("9", "10"), ("S", "T"), ("Z", "AA"), ("AZ", "BA")])
def test_numbers_and_letters_that_others_use(now: str, after: str) -> None:
    assert following(now) == after


@pytest.mark.parametrize("now", ["2.1", "P-3", "A1"])
def test_others_have_no_next_one(now: str) -> None:
    assert following(now) is None
