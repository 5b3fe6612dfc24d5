"""What waits for a page's promise waits: a helper that never did let tests go offline too early."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page

from tests.browser.remembered import wait_until


def test_a_promise_of_no_is_no(page: Page) -> None:
    with pytest.raises(AssertionError, match="async"):
        wait_until(page, "async () => false", seconds=0.3)


def test_what_comes_true_later_is_waited_for(page: Page) -> None:
    page.evaluate("setTimeout(() => { window.done = true; }, 300)")
    wait_until(page, "async () => Boolean(window.done)")
    assert page.evaluate("window.done")
