"""Every mutation still fits its file and names a test that is there; `python -m tests.mutations` runs them."""

import pytest

from tests.broken import ROOT
from tests.mutations import MUTATIONS


@pytest.mark.parametrize("mutation", MUTATIONS, ids=lambda m: f"{m.file}:{m.text[:24]}")
def test_mutation_fits(mutation):
    assert mutation.text in (ROOT / mutation.file).read_text()
    assert mutation.broken != mutation.text
    path, _, name = mutation.test.partition("::")
    assert f"def {name}" in (ROOT / path).read_text()
