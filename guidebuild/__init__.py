"""Species accounts, checked once and published as a site, field cards and episode scripts."""

import os

# No plugin of pydantic is of use to us, and looking for some opens what every installed package says of itself.
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")

__version__ = "0.1.0"
