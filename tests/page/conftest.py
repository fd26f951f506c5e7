"""One browser for the tests of a file."""

import pytest

from tests.page.browser import started


@pytest.fixture(scope="module")
def browser():
    with started() as one:
        yield one
