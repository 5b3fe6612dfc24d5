"""Tests, mirroring the rooms. A package, so that no library of the same name is taken for it."""
