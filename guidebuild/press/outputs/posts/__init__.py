"""Texts and pictures to post."""
