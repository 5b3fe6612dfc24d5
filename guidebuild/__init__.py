"""Species accounts, checked once and published as a site, field cards and episode scripts."""

__version__ = "0.1.0"
