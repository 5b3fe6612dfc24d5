"""Files of a guide → a Guide and findings. Every value remembers its file, line and column."""

from guidebuild.reading.whole import GuideReading, read_guide

__all__ = ["GuideReading", "read_guide"]
