"""What must hold of every published file, whatever an author has written."""

from __future__ import annotations

import csv
import io
import json
import re
import zipfile
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pikepdf
from bs4 import BeautifulSoup, Tag

_FORBIDDEN = ("iframe", "object", "embed", "base", "style", "frame", "applet", "marquee", "math")
_ADDRESSED = ("href", "src", "srcset", "action", "formaction", "data", "poster", "background", "ping", "cite", "xlink:href")
_SCHEMES = {"", "http", "https", "mailto", "tel"}
_DATA_SCRIPTS = {"application/json", "application/ld+json", "text/plain"}
_CONTROLS = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\u202a-\u202e\u2066-\u2069]")
_FORMULA = re.compile(r"\s*[=+@\t\r]|\s*-(?!\d)")


ABSENT = "site/404.html"


def faults(published: Path) -> Iterator[str]:
    """Everything in a published folder that could run, mislead or fetch."""
    for file in sorted(path for path in published.rglob("*") if path.is_file()):
        name = file.relative_to(published).as_posix()
        if name == ABSENT:  # a host shows it at any depth: its addresses begin at the host's own root
            page = BeautifulSoup(file.read_text("utf-8"), "html.parser")
            rooted = [str(tag[at]) for at in ("href", "src") for tag in page.find_all(attrs={at: True}) if str(tag[at]).startswith("/")]
            yield from (f"{name}: {way} is another host's" for way in rooted if way.startswith(("//", "/\\")))
        yield from (f"{name}: {fault}" for fault in _faults_of(file, rooted=name == ABSENT))


def _faults_of(file: Path, *, rooted: bool = False) -> Iterator[str]:
    data = file.read_bytes()
    match file.suffix:
        case ".html":
            yield from _hidden(data)
            html = data.decode()
            yield from html_faults(re.sub(r'(?<=(?:href|.src)=")/(?=[^/\\])', "", html) if rooted else html)
        case ".atom" | ".svg" | ".webmanifest" | ".txt" | ".md" | ".vtt" | ".srt" | ".ics" | ".css":
            yield from _hidden(data)
        case ".csv":
            yield from _csv_faults(data)
        case ".zip":
            with zipfile.ZipFile(io.BytesIO(data)) as archive:
                for entry in archive.namelist():
                    if entry.endswith(".csv"):
                        yield from _csv_faults(archive.read(entry))
        case ".pdf":
            yield from pdf_faults(data)


def html_faults(html: str) -> Iterator[str]:
    """What could run, restyle or fetch in a page."""
    page = BeautifulSoup(html, "html.parser")
    for tag in page.find_all(True):
        if tag.name in _FORBIDDEN:
            yield f"a <{tag.name}>"
        if tag.name == "form" and set(tag.attrs) & {"action", "method", "target"}:
            yield "a form that sends"
        if tag.name == "script" and (kind := tag.get("type")) not in _DATA_SCRIPTS and tag.get_text().strip():
            yield f"an inline script of type {kind}: {tag.get_text()[:60]!r}"
        if tag.name == "meta" and str(tag.get("http-equiv", "")).lower() == "refresh" and urlsplit(str(tag["content"])).scheme:
            yield "a refresh to elsewhere"
        if tag.name == "script" and tag.get("type") in _DATA_SCRIPTS - {"text/plain"}:
            json.loads(tag.get_text())
        yield from _attribute_faults(tag)


def _attribute_faults(tag: Tag) -> Iterator[str]:
    for name, value in tag.attrs.items():
        text = value if isinstance(value, str) else " ".join(value)
        if name.startswith("on"):
            yield f"<{tag.name} {name}={text!r}>"
        if name in _ADDRESSED and not _may_stand(tag, text):
            yield f"<{tag.name} {name}={text[:80]!r}>"


def _may_stand(tag: Tag, address: str) -> bool:
    scheme = urlsplit(re.sub(r"[\s\x00-\x20]", "", address)).scheme.lower()
    if scheme == "data":
        return tag.name == "img" and address.startswith("data:image/")
    if tag.name in {"script", "img", "source", "link"} and not scheme:
        return not address.startswith(("//", "/"))
    if tag.name == "link":
        return str(tag.get("rel", [""])[0]) in {"canonical", "alternate", "license"}
    return scheme in _SCHEMES


def _hidden(data: bytes) -> Iterator[str]:
    found = _CONTROLS.search(data.decode())
    if found:
        yield f"the sign U+{ord(found[0]):04X}"


def _csv_faults(data: bytes) -> Iterator[str]:
    for row in csv.reader(io.StringIO(data.decode(), newline="")):
        for cell in row:
            if _FORMULA.match(cell):
                yield f"the cell {cell!r}"


def pdf_faults(data: bytes) -> Iterator[str]:
    """Actions, attachments and links that a printed file needs not have."""
    with pikepdf.open(io.BytesIO(data)) as pdf:
        if "/EmbeddedFiles" in pdf.Root.get("/Names", {}) or "/JavaScript" in pdf.Root.get("/Names", {}):
            yield "an attached file or script"
        for page in pdf.pages:
            for note in page.get("/Annots", []):
                address = str(note.get("/A", {}).get("/URI", ""))
                if note.get("/A", {}).get("/S") not in (None, "/URI", "/GoTo") or urlsplit(address).scheme not in _SCHEMES:
                    yield f"the action {note.get('/A')}"
