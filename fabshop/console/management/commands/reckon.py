"""Answers questions to the reckoning: plain JSON in, plain JSON out."""

from __future__ import annotations

import json
import sys
from argparse import ArgumentParser
from collections.abc import Iterator
from contextlib import contextmanager
from typing import IO, Any

from django.core.management.base import BaseCommand, CommandError

from fabshop import worker
from fabshop.errors import BadQuestion, ShopError
from fabshop.reckoning.questions import KINDS, parse

# A question's own limit, and what starting the solver and reading the answer take.
GRACE_S = 30.0
BAD_QUESTION = 2


class Command(BaseCommand):
    help = (
        "Answer a question: `reckon teardown problem.json`, `-` reads standard input."
    )
    requires_system_checks = ()

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("kind", help=f"One of: {', '.join(sorted(KINDS))}.")
        parser.add_argument("file", help="A file of JSON, or - for standard input.")
        parser.add_argument(
            "--lines",
            action="store_true",
            help="A question a line in; an answer, or an error, a line out.",
        )

    def handle(
        self, *args: Any, kind: str, file: str, lines: bool, **options: Any
    ) -> None:
        with _opened(file) as source:
            if lines:
                for answer in _answers(kind, source):
                    self.stdout.write(json.dumps(answer))
                    self.stdout.flush()
                return
            try:
                answer = _answer(kind, source.read())
            except ShopError as refusal:
                status = BAD_QUESTION if isinstance(refusal, BadQuestion) else 1
                raise CommandError(refusal.message, returncode=status) from refusal
            self.stdout.write(json.dumps(answer, indent=1))


def _answers(kind: str, source: IO[bytes]) -> Iterator[dict[str, Any]]:
    for line in source:
        if line.strip():
            try:
                yield _answer(kind, line)
            except ShopError as refusal:
                yield {"error": refusal.message}


def _answer(kind: str, text: bytes) -> dict[str, Any]:
    try:
        question = json.loads(text.decode("utf-8"), object_pairs_hook=_each_once)
    except UnicodeDecodeError as fault:
        raise BadQuestion(f"question: this is no UTF-8 ({fault})") from fault
    except (ValueError, RecursionError) as fault:
        # Also what Python will not read as a number for its length.
        raise BadQuestion(f"question: this is no JSON ({fault})") from fault
    parsed = parse(kind, question)
    answer: dict[str, Any] = worker.run(
        "fabshop.reckoning.ask",
        "reckon",
        kind,
        question,
        limit_s=float(getattr(parsed, "time_limit_s", 5.0)) + GRACE_S,
    )
    return answer


def _each_once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """An object whose every field is told once; JSON would let the last one win."""
    found = dict(pairs)
    if len(found) < len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise BadQuestion(f"{twice}: told twice in one object", field=twice)
    return found


@contextmanager
def _opened(file: str) -> Iterator[IO[bytes]]:
    if file == "-":
        yield sys.stdin.buffer
        return
    try:
        with open(file, "rb") as source:
            yield source
    except OSError as fault:
        raise CommandError(f"{file} cannot be read: {fault}.") from fault
