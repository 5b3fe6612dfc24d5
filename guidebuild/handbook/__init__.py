"""The handbook for authors: chapters as Markdown, and what is known of every key, rule, word and command."""
