"""`serve` as its owner meets it: started for real, asked for real, started again."""

from __future__ import annotations

import re
import socket
import sqlite3
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.console.started import Started, free_port, manage

LINK = re.compile(r"http://[\d.]+:(\d+)(/sign-in/[\w-]+/)")


@pytest.fixture(scope="module")
def data(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("shop") / "data"


@pytest.fixture(scope="module")
def shop(data: Path) -> Iterator[Started]:
    with Started(data=data) as shop:
        shop.first_answer_s()
        yield shop


def test_an_empty_shop_opens_with_a_link_for_its_owner(shop: Started) -> None:
    assert "Sign owner in on a phone by scanning this, once:" in shop.printed
    link = LINK.search(shop.printed)
    assert link is not None
    assert int(link[1]) == shop.port
    # Looking at the link, as a preview does, does not use it up.
    for _ in range(2):
        status, _, page = shop.get(link[2])
        assert status == 200
        assert b"<button" in page


def test_its_code_stands_above_the_link(shop: Started) -> None:
    assert "█" in shop.printed.partition("/sign-in/")[0]


def test_static_files_are_compressed_and_named_by_what_is_in_them(
    shop: Started,
) -> None:
    _, _, page = shop.get("/sign-in/")
    style = re.search(rb'href="(/static/web/shop\.[0-9a-f]{12}\.css)"', page)
    assert style is not None, page
    status, headers, _ = shop.get(style[1].decode(), Accept_Encoding="br")
    assert status == 200
    assert headers["Content-Encoding"] == "br"
    assert "immutable" in headers["Cache-Control"]


def test_the_data_folder_holds_the_shop(shop: Started, data: Path) -> None:
    with sqlite3.connect(data / "shop.sqlite3") as database:
        people = database.execute("SELECT name, role FROM records_person").fetchall()
    assert people == [("owner", "owner")]


def test_a_port_that_is_taken_is_said_with_one_that_is_free(
    shop: Started, tmp_path: Path
) -> None:
    done = manage("serve", "--demo", "--port", str(shop.port), data=tmp_path)
    assert done.returncode == 1
    assert re.fullmatch(
        rf"CommandError: Port {shop.port} on 0\.0\.0\.0 cannot be used \(Address "
        r"already in use\)\. Another is free: python3 manage\.py serve --demo --port "
        r"\d+\n",
        done.stderr,
    ), done.stderr


def test_a_second_start_is_quick_and_gives_a_new_link(
    shop: Started, data: Path
) -> None:
    first = LINK.search(shop.printed)
    with Started(data=data) as again:
        # 5 s is what it is meant to take; a loaded machine gets some patience.
        assert again.first_answer_s() < 20
        second = LINK.search(again.printed)
    assert first is not None
    assert second is not None
    assert first[2] != second[2]


def test_the_demo_is_not_loaded_into_a_shop_in_use(shop: Started, data: Path) -> None:
    with Started("--demo", data=data) as again:
        again.first_answer_s()
        assert "This shop is in use, so the demo is not loaded into it." in (
            again.printed
        )


def test_a_port_that_cannot_be_is_refused(tmp_path: Path) -> None:
    done = manage("serve", "--port", "99999", data=tmp_path)
    assert done.stderr == (
        "CommandError: There is no port 99999. "
        "Try: python3 manage.py serve --port 8000\n"
    )


def test_an_address_that_is_not_here_is_refused(tmp_path: Path) -> None:
    done = manage("serve", "--host", "203.0.113.9", data=tmp_path)
    assert done.stderr.startswith(
        "CommandError: The address 203.0.113.9 cannot be used here ("
    )


def test_a_database_that_does_not_answer_is_said(tmp_path: Path) -> None:
    done = manage(
        "serve",
        f"--port={free_port()}",
        data=tmp_path,
        DATABASE_URL=f"postgres://me@127.0.0.1:{free_port()}/shop",
    )
    assert done.returncode == 1
    assert done.stderr.startswith("CommandError: The database does not open (")
    assert "Look at DATABASE_URL" in done.stderr
    assert "Traceback" not in done.stderr


def test_behind_a_proxy_that_speaks_https_it_does_not_send_in_circles(
    tmp_path: Path,
) -> None:
    with Started(
        data=tmp_path / "data", FABSHOP_HTTPS="1", FABSHOP_HOSTS="shop.example"
    ) as shop:
        while True:
            with socket.socket() as caller:
                if caller.connect_ex(("127.0.0.1", shop.port)) == 0:
                    break
                assert shop.process.poll() is None, shop.printed
        status, _, _ = shop.get(
            "/sign-in/", Host="shop.example", X_Forwarded_Proto="https"
        )
        assert status == 200
        assert "https://shop.example/sign-in/" in shop.printed
