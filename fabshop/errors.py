"""What may go wrong in the shop's own words: a code, a sentence and a field."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class FieldError:
    """One sentence about one field of what was typed or sent."""

    field: str
    message: str


class ShopError(Exception):
    """A refusal that a person can act on.

    `code` is a stable slug for programs, `message` one sentence for people,
    `field` the name of what was typed wrong ("" where no single field is).
    `status` is the honest HTTP status that the faces answer with.
    """

    code = "refused"
    status = 422

    def __init__(
        self,
        message: str,
        *,
        field: str = "",
        code: str | None = None,
        errors: tuple[FieldError, ...] = (),
    ) -> None:
        super().__init__(message)
        self.message = message
        self.field = field
        self.code = code or type(self).code
        self.errors = errors or ((FieldError(field, message),) if field else ())

    def __reduce__(self) -> tuple[object, ...]:
        # Errors travel between the worker process and the server.
        return _remade, (type(self), self.message, self.field, self.code, self.errors)

    def __str__(self) -> str:
        return self.message


class BadInput(ShopError):
    """What was typed cannot be understood or may never be true."""

    code = "bad-input"
    status = 422


class BadQuestion(ShopError):
    """A question to the reckoning is malformed; `field` is the path to it."""

    code = "bad-question"
    status = 400


class NotFound(ShopError):
    """Nothing of that name is known here."""

    code = "not-found"
    status = 404


class NotAllowed(ShopError):
    """This person's role does not do that."""

    code = "not-allowed"
    status = 403


class Clash(ShopError):
    """The shop has moved since this was read, or two facts contradict."""

    code = "clash"
    status = 409


class NeedsAnswer(ShopError):
    """It may well be right, but a person must say so first (`confirm`)."""

    code = "needs-answer"
    status = 409


class TooLarge(ShopError):
    """More than the stated limit."""

    code = "too-large"
    status = 413


class TookTooLong(ShopError):
    """A reckoning or a sheet ran into its hard time limit."""

    code = "took-too-long"
    status = 503


def _remade(
    kind: type[ShopError],
    message: str,
    field: str,
    code: str,
    errors: tuple[FieldError, ...],
) -> ShopError:
    return kind(message, field=field, code=code, errors=errors)
