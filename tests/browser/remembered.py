"""What comes true a while after the page could already be used: tests wait for it.

`Page.wait_for_function` takes the promise itself for a yes, so it waits for nothing that the page answers later; this does.
"""

from __future__ import annotations

import time

from playwright.sync_api import Page

_ALL_KEPT = """async () => {
    const answered = performance.getEntriesByType("resource").filter(({ responseStatus }) => responseStatus === 200);
    const fetched = answered.map(({ name }) => name);
    const own = [location.href, ...fetched].filter((url) => url.startsWith(location.origin));
    const found = await Promise.all(own.map((url) => caches.match(url.split(/[?#]/)[0])));
    return found.every(Boolean);
}"""


def wait_until(page: Page, asked: str, *, seconds: float = 30.0) -> None:
    """Until the page answers yes to a question that it answers by a promise.

    Raises:
        AssertionError: When it has not within that time.
    """
    until = time.monotonic() + seconds
    while not page.evaluate(asked):
        assert time.monotonic() < until, asked
        page.wait_for_timeout(50)


def wait_until_remembered(page: Page) -> None:
    """Until the page and all that it fetched can be had without a network: the service worker writes while the reader already reads."""
    wait_until(page, _ALL_KEPT)
