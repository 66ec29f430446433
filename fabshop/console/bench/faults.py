"""Whether anything is lost or doubled through cuts and kills: rows for the bench."""

from __future__ import annotations

import os
import random
import signal
import sqlite3
import subprocess
import sys
import tempfile
import threading
import time
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from fabshop.console.bench.phones import FAULTS, Phone
from fabshop.console.bench.start import free_port

HOME = Path(__file__).resolve().parents[3]
PATIENCE_S = 120.0
OWNER = "Odile Marchbanks"


@dataclass
class Shop:
    """The demo shop in a folder of its own, served as its owner serves it."""

    folder: str
    port: int
    process: subprocess.Popen[bytes] | None = None

    def open(self) -> None:
        """Start the server and wait for its first answer."""
        argv = ["serve", "--demo", "--host", "127.0.0.1", "--port", str(self.port)]
        self.process = subprocess.Popen(
            [sys.executable, str(HOME / "manage.py"), *argv],
            cwd=HOME,
            env=self._environ,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        began = time.monotonic()
        while True:
            try:
                address = f"http://127.0.0.1:{self.port}/sign-in/"
                with urllib.request.urlopen(address, timeout=5) as answer:
                    answer.read()
                return
            except OSError:
                if time.monotonic() - began > PATIENCE_S:
                    raise
                time.sleep(0.05)

    def kill(self) -> None:
        """As a power cut or a `kill -9` does it: without a word."""
        if self.process is not None:
            self.process.send_signal(signal.SIGKILL)
            self.process.wait()

    def link(self) -> str:
        """The path of a sign-in link for the owner."""
        done = subprocess.run(
            [sys.executable, str(HOME / "manage.py"), "sign_in_link", OWNER],
            cwd=HOME,
            env=self._environ,
            capture_output=True,
            text=True,
            check=True,
        )
        return "/sign-in/" + done.stdout.strip().rsplit("/sign-in/", 1)[1]

    def written(self) -> list[str]:
        """The ids of the notes in the shop's log."""
        path = Path(self.folder) / "shop.sqlite3"
        with closing(sqlite3.connect(path)) as rows:
            sql = "SELECT client_id FROM records_logentry WHERE kind = 'note'"
            return [row[0] for row in rows.execute(sql)]

    @property
    def _environ(self) -> dict[str, str]:
        plain = {k: v for k, v in os.environ.items() if k != "DATABASE_URL"}
        return {**plain, "FABSHOP_DATA": self.folder}


def rows(entries: int = 1000, kills: int = 20) -> Iterator[str]:
    """Cuts at every step of a post, then kills under twenty writing phones."""
    with tempfile.TemporaryDirectory() as folder:
        shop = Shop(folder, free_port())
        shop.open()
        try:
            yield cut(shop, phones=5, entries=entries)
            yield killed(shop, phones=20, kills=kills)
        finally:
            shop.kill()


def cut(shop: Shop, *, phones: int, entries: int) -> str:
    """Entries of several phones while the network fails before, during and after."""
    began, before = time.monotonic(), set(shop.written())
    them = _phones(shop, phones)
    for phone in them:
        for number in range(entries // phones):
            phone.tap(f"cut {number}")
    _all_at_once([lambda p=p: _until_all_in(p, FAULTS) for p in them])
    name = f"{entries} entries, {phones} phones, cuts"
    return _told(name, shop, them, before, began, entries // phones * phones)


def killed(shop: Shop, *, phones: int, kills: int) -> str:
    """Phones that write all the while, the server killed and started again."""
    began, before = time.monotonic(), set(shop.written())
    them = _phones(shop, phones)
    is_over = threading.Event()
    tapped = [0] * phones

    def write(place: int) -> None:
        phone = them[place]
        while not is_over.is_set():
            phone.tap(f"kill {tapped[place]}")
            tapped[place] += 1
            phone.send()
            time.sleep(phone.random.random() * 0.2)

    threads = [threading.Thread(target=write, args=(n,)) for n in range(phones)]
    for thread in threads:
        thread.start()
    for _ in range(kills):
        time.sleep(1.0)
        shop.kill()
        shop.open()
    is_over.set()
    for thread in threads:
        thread.join()
    _all_at_once([lambda p=p: _until_all_in(p, ("none",)) for p in them])
    name = f"{kills} kills under {phones} phones"
    return _told(name, shop, them, before, began, sum(tapped))


def _phones(shop: Shop, count: int) -> list[Phone]:
    found = [Phone(shop.port, random.Random(number)) for number in range(count)]
    for phone in found:
        phone.sign_in(shop.link())
    return found


def _until_all_in(phone: Phone, faults: tuple[str, ...]) -> None:
    began = time.monotonic()
    while phone.kept and time.monotonic() - began < PATIENCE_S:
        phone.send(faults)


def _all_at_once(work: list[Callable[[], None]]) -> None:
    threads = [threading.Thread(target=act) for act in work]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()


def _told(
    name: str,
    shop: Shop,
    phones: list[Phone],
    before: set[str],
    began: float,
    tapped: int,
) -> str:
    taken = set().union(*(phone.taken for phone in phones))
    found = [one for one in shop.written() if one not in before]
    lost = len(taken - set(found))
    doubled = len(found) - len(set(found))
    kept = sum(len(phone.kept) for phone in phones)
    tries = sum(phone.tries for phone in phones)
    return (
        f"{name:<34} {tapped} tapped, {len(set(found))} in the log, {lost} lost, "
        f"{doubled} doubled, {kept} still kept, {tries} tries, "
        f"{sum(phone.refused for phone in phones)} refused, "
        f"{time.monotonic() - began:.0f} s"
    )
