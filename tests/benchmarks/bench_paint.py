"""When the first words of an account's page stand on a slow phone, beside a bare page of the same text.

Run as `python -m tests.benchmarks.bench_paint [SITE]` (needs Chromium).  All pages come from one small server that packs
what it sends, to a processor slowed four times.  The bare page holds the words of the account in one file without style,
script or picture.  The policy of the site forbids style inside the page, so its first words wait for a second request: the
second floor, the same words with one rule of style in a file of its own, shows what that alone costs.

Two models of the line, both of 400 ms there and back and 400 kbit/s (the "slow 3G" of common web tests, from memory):

- Chromium's emulation, which charges every request 400 ms and the opening of a connection nothing.  The bare page needs one
  request and pays once; any page with style in a file pays twice.
- A line that delays packets (`slow_line`) to a server of https, as every host of today is (without it nothing can be kept offline):
  opening a connection takes a round trip for TCP and one for TLS 1.3 (RFC 8446, section 2), for all pages alike.  This is what a
  reader in the field waits for, and what the limit is held against.  Without https this line would mislead: it accepts each
  connection at once and delays it afterwards, so that a browser waits on a new one where a real line would have it use the first.
"""

from __future__ import annotations

import gzip
import shutil
import ssl
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from statistics import median
from threading import Thread

import trustme
from bs4 import BeautifulSoup
from playwright.sync_api import Browser, sync_playwright

from guidebuild.cli import exit_code
from tests.benchmarks.rows import Row, told
from tests.benchmarks.slow_line import slow_line

SAMPLE = Path(__file__).resolve().parents[2] / "sample_guide"
ACCOUNT = "accounts/parent-bug.html"
LINE = {"offline": False, "latency": 400, "downloadThroughput": 400_000 / 8, "uploadThroughput": 400_000 / 8}
SLOWER = 4
LATEST = 1.5
# By this switch the first connection stands; by the context's own setting it is refused, and opened a second time.
TRUSTING = "--ignore-certificate-errors"
PHONE = '<meta name="viewport" content="width=device-width">'
WEIGHTS = (("words, style and scripts", (".html", ".css", ".js"), 35), ("scripts", (".js",), 12), ("typefaces", (".woff2",), 90),
           ("pictures on the first screen", (".avif", ".webp", ".jpg"), 90))  # fmt: skip
PACKED = {".html", ".css", ".js", ".svg"}
FIRST_WORDS = """new Promise((told) => new PerformanceObserver((list) => {
  for (const one of list.getEntriesByName('first-contentful-paint')) told(one.startTime);
}).observe({type: 'paint', buffered: true}))"""
WATCH = """globalThis.jumps = 0;
new PerformanceObserver((list) => { for (const one of list.getEntries()) jumps += one.value; })
  .observe({type: 'layout-shift', buffered: true});"""


class _Packing(SimpleHTTPRequestHandler):
    protocol_version = "HTTP/1.1"

    def log_message(self, *_: object) -> None:
        """Say nothing."""

    def do_GET(self) -> None:
        path = Path(self.translate_path(self.path))
        if not path.is_file():
            self.send_error(404)
            return
        data = path.read_bytes()
        self.send_response(200)
        if path.suffix in PACKED:
            data = gzip.compress(data, 6)
            self.send_header("Content-Encoding", "gzip")
        self.send_header("Content-Type", self.guess_type(str(path)))
        self.send_header("Content-Length", str(len(data)))
        self.send_header("Cache-Control", "no-store")
        self.end_headers()
        self.wfile.write(data)


def bare(page: Path) -> str:
    """The same words without anything else."""
    soup = BeautifulSoup(page.read_text("utf-8"), "html.parser")
    lines = soup.get_text("\n").splitlines() if soup.body is None else soup.body.get_text("\n").splitlines()
    words = "".join(f"<p>{line.strip()}</p>\n" for line in lines if line.strip())
    return f'<!doctype html><html lang="en"><meta charset="utf-8">{PHONE}<title>Bare</title>{words}'


@dataclass(frozen=True)
class Visit:
    """One visit with nothing kept from an earlier one: first words (ms), layout shift, and the bytes that each address sent."""

    first: float
    shift: float
    sent: dict[str, int]

    def weight(self, *suffixes: str) -> float:
        """Kilobytes on the line of what ends so."""
        return sum(size for address, size in self.sent.items() if address.endswith(suffixes)) / 1000


def visit(browser: Browser, address: str, *, slow: bool = True, emulated: bool = True) -> Visit:
    """Open a page at phone width with a slow processor and the emulated slow line, or as this machine is."""
    context = browser.new_context(viewport={"width": 390, "height": 844}, device_scale_factor=2, service_workers="block")
    page = context.new_page()
    page.add_init_script(WATCH)
    line = context.new_cdp_session(page)
    line.send("Network.enable")
    if slow and emulated:
        line.send("Network.emulateNetworkConditions", LINE)
    if slow:
        line.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    sent: dict[str, int] = {}
    asked: dict[str, str] = {}
    line.on("Network.requestWillBeSent", lambda told: asked.update({told["requestId"]: told["request"]["url"]}))
    line.on("Network.loadingFinished", lambda told: sent.update({asked[told["requestId"]]: int(told["encodedDataLength"])}))
    page.goto(address, wait_until="load")
    page.wait_for_load_state("networkidle")
    first = page.evaluate(FIRST_WORDS)
    shift = page.evaluate("jumps")
    context.close()
    return Visit(first, shift, sent)


@contextmanager
def served(site: Path, *, secure: bool = False) -> Iterator[int]:
    """The port on which a site is served, packed as hosts do; `secure` for https with a certificate of our own."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(_Packing, directory=str(site)))
    if secure:
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        context.minimum_version = ssl.TLSVersion.TLSv1_3
        trustme.CA().issue_cert("127.0.0.1").configure_cert(context)
        # The handshake belongs to each connection's own thread.
        server.socket = context.wrap_socket(server.socket, server_side=True, do_handshake_on_connect=False)
    Thread(target=server.serve_forever, daemon=True).start()
    yield server.server_port
    server.shutdown()
    server.server_close()


@contextmanager
def made_site(site: Path | None) -> Iterator[Path]:
    """A site that is given, or else the sample's, published anew."""
    with tempfile.TemporaryDirectory() as folder:
        if site is None:
            guide = Path(folder) / "guide"
            shutil.copytree(SAMPLE, guide, ignore=shutil.ignore_patterns("published", ".guidebuild"))
            exit_code(["make", str(guide), "site", "--quiet"])
            site = guide / "published" / "site"
        yield site


def rows_of(site: Path, times: int) -> Iterator[Row]:
    """What an account's page weighs, and when its first words stand."""
    floor = bare(site / ACCOUNT)
    (site / "bare.html").write_text(floor, encoding="utf-8")
    (site / "styled.html").write_text(floor.replace("<title>", '<link rel="stylesheet" href="one.css"><title>'), encoding="utf-8")
    (site / "one.css").write_text("p{margin:0}", encoding="utf-8")
    with served(site) as plain, served(site, secure=True) as secure, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox", TRUSTING])
        root = f"http://127.0.0.1:{plain}/"
        once = visit(browser, root + ACCOUNT, slow=False)  # also pays for the browser's own start
        for what, suffixes, limit in WEIGHTS:
            weight = once.weight(*suffixes)
            yield Row(f"account page, {what}", f"{limit} kB", f"{weight:.1f} kB", weight / limit, 1)
        yield from _paint_rows(browser, root, times, "requests delayed by Chromium")
        with slow_line(secure) as port:
            yield from _paint_rows(browser, f"https://127.0.0.1:{port}/", times, "packets delayed, https", limit=LATEST)
        browser.close()


def _paint_rows(browser: Browser, root: str, times: int, line: str, limit: float | None = None) -> Iterator[Row]:
    pages, emulated = (ACCOUNT, "bare.html", "styled.html"), "Chromium" in line
    visits = [[visit(browser, root + page, emulated=emulated) for page in pages] for _ in range(times)]
    ours, bare_page, styled = (median(one.first for one in page) for page in zip(*visits, strict=True))
    told_ours = f"{ours:.0f} ms, layout shift {max(page.shift for page, *_ in visits):g}"
    yield Row(f"account page, first words, {line}, beside the bare words", f"{bare_page:.0f} ms", told_ours, ours / bare_page, limit)
    yield Row("the same beside the words with one rule of style in a file", f"{styled:.0f} ms", told_ours, ours / styled)


def rows(times: int = 3, site: Path | None = None) -> Iterator[Row]:
    """The rows for the sample guide, published anew unless a site is given."""
    if not shutil.which("chromium"):
        return
    with made_site(site) as made:
        yield from rows_of(made, times)


if __name__ == "__main__":
    sys.exit(told(partial(rows, 5, Path(sys.argv[1]) if sys.argv[1:] else None)))
