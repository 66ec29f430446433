"""The addresses of this face."""

from __future__ import annotations

urlpatterns: list[object] = []
