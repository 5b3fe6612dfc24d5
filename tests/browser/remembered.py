"""What the service worker keeps of a page that was read: it is written while the reader already reads, so a test waits for it."""

from __future__ import annotations

from playwright.sync_api import Page

_ALL_KEPT = """async () => {
    const fetched = performance.getEntriesByType("resource").map(({ name }) => name);
    const own = [location.href, ...fetched].filter((url) => url.startsWith(location.origin));
    const found = await Promise.all(own.map((url) => caches.match(url.split(/[?#]/)[0])));
    return found.every(Boolean);
}"""


def wait_until_remembered(page: Page) -> None:
    """Until the page and all that it fetched can be had without a network."""
    page.wait_for_function(_ALL_KEPT)
