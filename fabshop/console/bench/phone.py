"""The first page on a slow phone, as a real browser times it: rows for the bench."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from statistics import median
from typing import Any

from playwright.sync_api import CDPSession, Page, sync_playwright

from fabshop import prepare
from fabshop.console.bench.faults import Shop
from fabshop.console.bench.start import free_port

# Slow 4G as browsers' own tools throttle it: 150 ms there and back, 1.6 Mbit/s down.
SLOW_4G = {
    "offline": False,
    "latency": 150,
    "downloadThroughput": 1_638_400 / 8,
    "uploadThroughput": 750_000 / 8,
}
CPU_SLOWER = 4
TURNS = 5
PAINTED = """() => new Promise((done) => {
  new PerformanceObserver((list) => {
    const last = list.getEntries().at(-1);
    const first = performance.getEntriesByName("first-contentful-paint")[0];
    done([first ? first.startTime : 0, last.startTime,
          performance.getEntriesByType("navigation")[0].domContentLoadedEventEnd]);
  }).observe({ type: "largest-contentful-paint", buffered: true });
})"""


def rows() -> Iterator[str]:
    """What now, with nothing in the browser's cache and with everything in it."""
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        shop = Shop(folder, free_port())
        shop.open()
        try:
            browser = playwright.chromium.launch(
                executable_path=prepare.chromium(), args=["--no-sandbox"]
            )
            page = browser.new_context(
                base_url=f"http://127.0.0.1:{shop.port}",
                viewport={"width": 390, "height": 844},
                is_mobile=True,
                has_touch=True,
                service_workers="block",
            ).new_page()
            page.goto(shop.link())
            page.get_by_role("button").first.click()
            page.wait_for_load_state("networkidle")
            yield _row("first page, nothing cached", page, is_cold=True)
            yield _row("first page, again", page, is_cold=False)
            browser.close()
        finally:
            shop.kill()


def _row(name: str, page: Page, *, is_cold: bool) -> str:
    devtools = page.context.new_cdp_session(page)
    came = _bytes_counted(devtools)
    found = []
    for _ in range(TURNS):
        if is_cold:
            devtools.send("Network.clearBrowserCache")
        devtools.send("Network.emulateNetworkConditions", SLOW_4G)
        devtools.send("Emulation.setCPUThrottlingRate", {"rate": CPU_SLOWER})
        came.clear()
        page.goto("/")
        found.append([*page.evaluate(PAINTED), sum(came)])
        page.wait_for_timeout(300)
    devtools.detach()
    first, largest, ready, size = (
        median(column) for column in zip(*found, strict=True)
    )
    return (
        f"{name:<34} first paint {first:.0f} ms, largest {largest:.0f} ms, "
        f"ready {ready:.0f} ms, {size / 1000:.1f} kB "
        f"(slow 4G, processor {CPU_SLOWER} times slower, median of {TURNS})"
    )


def _bytes_counted(devtools: CDPSession) -> list[int]:
    came: list[int] = []

    def heard(event: dict[str, Any]) -> None:
        came.append(int(event["encodedDataLength"]))

    devtools.send("Network.enable")
    devtools.on("Network.loadingFinished", heard)
    return came
