"""The one who writes the guide's files for the desk. A file is changed whole or not at all, and what stood before is kept.

    writer = Writer(folder)
    standing = writer.read("accounts/parent-bug.md")            # its text and digest, and its values as typed
    written = writer.change("accounts/parent-bug.md", standing.digest, [SetValue(("status",), "rare")], guide)
    writer.undo()

Raises RefusedError (nothing written: the message says what to write instead), ConflictError (changed elsewhere meanwhile),
CannotKeepError (the disk refused: all stands as before).
"""
