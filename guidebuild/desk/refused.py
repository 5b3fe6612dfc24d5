"""What is not taken from a page, and why."""

from __future__ import annotations

from guidebuild.errors import SaidInOneLineError


class NotTakenError(SaidInOneLineError):
    """What was sent is not taken; `status` is HTTP's word for why."""

    def __init__(self, message: str, status: int) -> None:
        super().__init__(message)
        self.status = status
