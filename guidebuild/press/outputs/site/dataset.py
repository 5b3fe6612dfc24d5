"""The data as programs read of them: a Dataset of schema.org."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from guidebuild.views.site.data import DataPage, Download
from guidebuild.views.site.page import PageView


def describe_dataset(page: PageView, data: DataPage, sizes: Mapping[str, int], address_of: Callable[[str], str]) -> dict[str, Any]:
    """A Dataset with its files. What is not known is left out, as addresses are where the site has none."""
    site, facts = page.site, data.facts
    own = address_of(page.path)
    maker = _without_empty({"@type": "Organization", "name": site.publisher or site.title, "url": site.address})
    told = {
        "@context": "https://schema.org",
        "@type": "Dataset",
        "name": facts.name,
        "description": facts.description,
        "url": own,
        "identifier": own,
        "inLanguage": page.language,
        "isAccessibleForFree": True,
        "license": data.licence.address if data.licence else "",
        "creator": maker,
        "publisher": maker,
        "creditText": data.citation.line,
        "citation": [cited.line for cited in data.cited],
        "temporalCoverage": "/".join(facts.days),
        "spatialCoverage": _place(data),
        "distribution": [_tell_download(one, sizes, address_of) for one in data.downloads],
    }
    return _without_empty(told)


def _tell_download(one: Download, sizes: Mapping[str, int], address_of: Callable[[str], str]) -> dict[str, Any]:
    told = {"@type": "DataDownload", "name": one.name, "description": one.words, "encodingFormat": one.format}
    size = f"{sizes[one.path]} B" if one.path in sizes else ""
    return _without_empty({**told, "contentUrl": address_of(one.path), "contentSize": size})


def _place(data: DataPage) -> dict[str, Any]:
    """The region, with its box as schema.org writes one: south and west, then north and east."""
    place: dict[str, Any] = {"name": data.facts.region}
    if data.facts.box:
        place["geo"] = {"@type": "GeoShape", "box": " ".join(f"{side:g}" for side in data.facts.box)}
    known = _without_empty(place)
    return {"@type": "Place", **known} if known else {}


def _without_empty(told: Mapping[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in told.items() if value not in ("", [], {})}
