"""The first page with its style and scripts is light for a phone in a bad place."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from threading import Thread
from typing import Any

import pytest
from django.core.management import call_command
from django.core.wsgi import get_wsgi_application
from django.db import connections
from playwright.sync_api import Request
from waitress.server import create_server

from fabshop.records.shop import Shop
from tests.browser.conftest import Phone, sign_in_path
from tests.factories import MOMENT

pytestmark = pytest.mark.django_db(transaction=True)

HOME = Path(__file__).resolve().parents[2]
MOST_BYTES = 60_000
PACKED = "whitenoise.storage.CompressedManifestStaticFilesStorage"


@pytest.fixture
def served(demo: Shop, settings: Any, tmp_path: Path) -> Iterator[str]:
    """The demo shop as `serve` opens it: files collected, hashed and compressed."""
    settings.NOW = MOMENT
    settings.STATIC_ROOT = tmp_path
    settings.WHITENOISE_USE_FINDERS = False
    settings.STORAGES = settings.STORAGES | {"staticfiles": {"BACKEND": PACKED}}
    call_command("collectstatic", interactive=False, verbosity=0)
    shop = get_wsgi_application()

    def answer(environ: dict[str, Any], start: Any) -> Any:
        try:
            return list(shop(environ, start))
        finally:
            connections.close_all()

    server = create_server(answer, host="127.0.0.1", port=0, threads=2)
    thread = Thread(target=server.run, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.effective_port}"
    server.close()
    thread.join(10)


def test_the_first_page_with_style_and_scripts_comes_in_under_60_kb(
    phone: Phone, served: str
) -> None:
    """Heads and bodies as they come through the wire to a browser that kept nothing."""
    page = phone(signed_in=False, base_url=served)
    page.goto(sign_in_path())
    came: dict[str, int] = {}

    def count(request: Request) -> None:
        sizes = request.sizes()
        name = request.url.removeprefix(served)
        came[name] = sizes["responseBodySize"] + sizes["responseHeadersSize"]

    page.context.new_cdp_session(page).send("Network.clearBrowserCache")
    page.on("requestfinished", count)
    page.get_by_role("button", name="Sign me in").tap()
    page.wait_for_url(f"{served}/")
    page.wait_for_load_state("networkidle")
    assert came["/"] > 1_000
    for name in (r"/shop\.\w{12}\.css", r"/shop\.\w{12}\.js", r"/htmx\S+\.js"):
        assert re.search(name, " ".join(came)), (name, came)
    print(f"\nFirst page: {sum(came.values())} bytes, {len(came)} answers", end="")
    assert sum(came.values()) < MOST_BYTES, came


def test_all_scripts_beside_htmx_stay_under_30_kb() -> None:
    folder = HOME / "fabshop" / "web"
    scripts = [*folder.rglob("*.js")]
    assert len(scripts) >= 7
    assert sum(path.stat().st_size for path in scripts) < 30_000
