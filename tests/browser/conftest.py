"""One site for all tests here, and a page of a phone's size."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.at_the_desk import PATIENCE
from tests.browser.built_site import build, serve
from tests.desk.opened import Opened, copy_sample, open_desk

expect.set_options(timeout=PATIENCE)  # a machine that is busy is slow, not wrong


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if Path(__file__).parent in item.path.parents:
            item.add_marker(pytest.mark.browser)


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return build(tmp_path_factory.mktemp("site with a space") / "site")


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 390, "height": 844})
    yield context.new_page()
    context.close()


@pytest.fixture(scope="session")
def address(site: Path) -> Iterator[str]:
    server = serve(site.parent)
    yield f"http://127.0.0.1:{server.server_port}/site/"
    server.shutdown()
    server.server_close()


@pytest.fixture(scope="session")
def sample_served(sample_published: Path) -> Iterator[str]:
    server = serve(sample_published / "published" / "site")
    yield f"http://127.0.0.1:{server.server_port}/"
    server.shutdown()
    server.server_close()


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Opened]:
    """A desk with a copy of the sample on it, which nobody has entered yet."""
    with open_desk(copy_sample(tmp_path / "hedge"), entered=False) as opened:
        yield opened


@pytest.fixture
def wide(browser: Browser, desk: Opened) -> Iterator[Page]:
    """Its author's page, on a wide screen."""
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    page = context.new_page()
    page.goto(desk.address)
    yield page
    context.close()
