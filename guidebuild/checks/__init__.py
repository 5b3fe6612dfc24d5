"""Checks: one small pure function a rule, Guide in, findings out."""
