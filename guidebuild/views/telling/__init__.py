"""Comparisons, diagnoses and keys as shown."""
