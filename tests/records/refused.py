"""What a database refuses, by the constraint's own name."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from django.db import IntegrityError, transaction


@contextmanager
def refused(name: str = "") -> Iterator[None]:
    """The block is refused by the check `name`; unique ones differ in their words."""
    with pytest.raises(IntegrityError) as error, transaction.atomic():
        yield
    assert name in str(error.value)
