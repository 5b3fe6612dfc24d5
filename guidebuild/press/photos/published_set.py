"""The published copies of one picture, as a page must know them to draw it without a jump."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Variant:
    """One published file: `format` is `webp` or `jpeg`; `path` counts from the site's root."""

    format: str
    width: int
    path: str
    height: int = 0


@dataclass(frozen=True, slots=True)
class PictureSet:
    """All copies of one picture. `width` and `height` are those of the largest; `placeholder` is a `data:` address or nothing."""

    width: int
    height: int
    variants: tuple[Variant, ...]
    placeholder: str = ""
    colour: str = ""

    @property
    def largest(self) -> Variant:
        """The widest copy that every browser still in use reads: WebP or JPEG, JPEG where both are as wide."""
        common = [v for v in self.variants if v.format in ("jpeg", "webp")] or list(self.variants)
        return max(common, key=lambda v: (v.width, v.format == "jpeg"))

    @property
    def finest(self) -> Variant:
        """The widest copy, in WebP where there is one: what is shown enlarged."""
        return max(self.variants, key=lambda v: (v.width, v.format == "webp"))

    def of_format(self, name: str) -> tuple[Variant, ...]:
        """The copies of one format, narrowest first."""
        return tuple(sorted((v for v in self.variants if v.format == name), key=lambda v: v.width))
