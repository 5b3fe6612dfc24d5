"""A change that is on its way for as long as a test wants: what a slow disk, or a network far away, makes of one."""

from __future__ import annotations

from playwright.sync_api import Page, Route


class FirstHeld:
    """Holds the first of the changes that a page sends to an address of the desk; those after it go on at once."""

    def __init__(self, page: Page, address: str) -> None:
        self._page, self._held = page, list[Route]()
        self.sent = 0
        page.route(f"**/-desk/{address}", self._meet)

    def _meet(self, route: Route) -> None:
        self.sent += 1
        if self.sent > 1:
            route.continue_()
        else:
            self._held.append(route)

    def let_go(self) -> None:
        """Once it has been sent."""
        for _ in range(400):
            if self._held:
                break
            self._page.wait_for_timeout(50)
        self._held.pop().continue_()
