"""The commands that serve, run as processes of their own, and how little the others load."""

import asyncio
import datetime as dt
import os
import re
import shutil
import signal
import socket
import ssl
import subprocess
import sys
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import httpx
import pytest
import uvicorn
from starlette.applications import Starlette

from tests.forked_command import ForkedCommand, running
from tests.stored_files import empty_file, rich_file
from webapp.__main__ import main
from webapp.command.demo import demo_file, prepare_demo
from webapp.command.serving import config_of, listener_on
from webapp.command.shop_server import MOST_OF_ONE, ShopServer
from webapp.services.shop_network import CannotListenError
from webapp.settings import Settings, resource_root

HERON = resource_root() / "seed_data" / "heron.json"
SPEAKS_WITHIN_SECONDS = 30
NOW = dt.datetime(2026, 2, 9, 18, 30)


@pytest.fixture(autouse=True)
def _own_data_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    data_file = tmp_path / "builds.sqlite3"
    data_file.write_bytes(empty_file())
    monkeypatch.setenv("KEYTURN_DATA", str(data_file))
    monkeypatch.setenv("KEYTURN_NOW", NOW.isoformat())
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "share"))


# --- serve and demo -------------------------------------------------------------------------


@contextmanager
def serving(*arguments: str) -> Iterator[tuple[ForkedCommand, str]]:
    """A server as its own process, and the address it says it has."""
    with running(*arguments) as process:
        assert process.stdout is not None
        address = ""
        for line in process.stdout:
            if found := re.search(r"http://\S+", line):
                address = found[0]
                break
        yield process, address


@pytest.mark.slow
def test_the_demo_opens_on_its_bench_and_ends_when_interrupted() -> None:
    with serving("demo", "--port", "0") as (process, address):
        assert address.endswith("/builds/the-heron/bench")
        assert address.startswith("http://127.0.0.1:")
        with urllib.request.urlopen(address, timeout=SPEAKS_WITHIN_SECONDS) as answer:
            assert answer.status == 200
            assert "The Heron" in answer.read().decode()
        process.send_signal(signal.SIGINT)
        _, err = process.communicate(timeout=SPEAKS_WITHIN_SECONDS)
        assert "Traceback" not in err


@pytest.fixture(scope="module")
def made_demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the demo of this week in it, its photographs beside."""
    folder = tmp_path_factory.mktemp("demo")
    prepare_demo(Settings(data_file=folder / demo_file().name, frozen_now=NOW))
    return folder


@pytest.fixture
def _demo_is_there(made_demo: Path) -> None:
    """The demo was opened before: making it takes longer than most tests here."""
    shutil.copytree(made_demo, demo_file().parent, dirs_exist_ok=True)


def said_of_the_network(process: ForkedCommand) -> tuple[str, str]:
    """The first address for phones, and the code that a server says."""
    assert process.stdout is not None
    place = re.search(r"https?://[^\s:]+:\d+/", process.stdout.readline())
    code = re.search(r"[A-Z2-9]{4}-[A-Z2-9]{4}", process.stdout.readline())
    assert place
    assert code
    return place[0], code[0]


def on_this_machine(place: str) -> str:
    """The same way in by an address that each machine has; it is no way of the machine itself."""
    return re.sub(r"//.*:", "//127.0.0.1:", place)


@pytest.mark.slow
@pytest.mark.usefixtures("_demo_is_there")
@pytest.mark.parametrize("asked", [["demo", "--shop"], ["serve", "--host", "0.0.0.0"]])
def test_in_the_network_a_phone_opens_the_address_that_is_said_and_is_paired(
    asked: list[str],
) -> None:
    with serving(*asked, "--port", "0", "--shop-port", "0") as (process, address):
        assert address.startswith("http://127.0.0.1:")
        place, code = said_of_the_network(process)
        assert not place.startswith("http://127.")
        with httpx.Client(base_url=on_this_machine(place), timeout=30) as phone:
            assert phone.get("/").status_code == 403
            assert phone.post("/pair", data={"code": code, "name": "Phone"}).status_code == 303
            assert phone.get("/").status_code == 200
            switch = f"{address.split('/builds')[0].rstrip('/')}/network/switch"
            assert httpx.post(switch, data={"turn": "off"}, timeout=30).status_code == 303
            with pytest.raises(httpx.TransportError):
                phone.get("/")
            assert httpx.post(switch, data={"turn": "on"}, timeout=30).status_code == 303
            page = httpx.get(switch.replace("/switch", ""), timeout=30).text
            (port,) = set(re.findall(r"http://[^\s:]+:(\d+)/<", page))
            again = f"http://127.0.0.1:{port}/"
            assert httpx.get(again, cookies=dict(phone.cookies), timeout=30).status_code == 200
        process.send_signal(signal.SIGINT)
        _, err = process.communicate(timeout=SPEAKS_WITHIN_SECONDS)
        assert err == ""


@pytest.mark.slow
def test_with_a_certificate_the_network_is_encrypted(tmp_path: Path) -> None:
    if shutil.which("openssl") is None:
        pytest.skip("openssl is not here to make a certificate")
    certificate, key = tmp_path / "own.pem", tmp_path / "own.key"
    subprocess.run(
        [
            *("openssl", "req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:P-256"),
            *("-nodes", "-days", "2", "-subj", "/CN=127.0.0.1", "-addext"),
            *("subjectAltName=IP:127.0.0.1", "-keyout", str(key), "-out", str(certificate)),
        ],
        check=True,
        capture_output=True,
    )
    flags = ["--certificate", str(certificate), "--certificate-key", str(key)]
    with serving("serve", "--port", "0", "--shop", "--shop-port", "0", *flags) as (process, own):
        assert own.startswith("http://127.0.0.1:")
        place, code = said_of_the_network(process)
        assert place.startswith("https://")
        trusted = ssl.create_default_context(cafile=str(certificate))
        with httpx.Client(base_url=on_this_machine(place), verify=trusted, timeout=30) as phone:
            answer = phone.post("/pair", data={"code": code, "name": "Phone"})
            assert answer.status_code == 303
            assert "; Secure" in answer.headers["set-cookie"]
            assert phone.get("/").status_code == 200


def test_a_certificate_that_is_none_is_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    other = tmp_path / "notes.txt"
    other.write_text("no certificate at all")
    for path in (other, tmp_path / "nowhere.pem"):
        assert main(["serve", "--port", "0", "--shop", "--certificate", str(path)]) == 2
        assert f"The certificate {path} can not be used" in capsys.readouterr().err


def test_where_the_network_can_not_be_served_it_is_said_and_can_be_tried_again(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    async def refuse(_self: ShopServer, _listener: socket.socket) -> None:
        raise OSError(24, "Too many open files")

    async def tried() -> list[str]:
        settings = Settings(data_file=tmp_path / "x.sqlite3", shop_port=0)
        server = ShopServer(config_of(Starlette()), Starlette(), settings)
        with listener_on("127.0.0.1", 0) as listener:
            serving = asyncio.create_task(server.serve([listener]))
            while not server.started:
                await asyncio.sleep(0.01)
            said = []
            with monkeypatch.context() as patch:
                patch.setattr(ShopServer, "_serve_network", refuse)
                for _ in range(2):
                    try:
                        await asyncio.to_thread(server.open)
                    except CannotListenError as trouble:
                        said.append(str(trouble))
            await asyncio.to_thread(server.open)
            with socket.create_connection(("127.0.0.1", server.port)):
                server.should_exit = True
            await serving
        return said

    said = asyncio.run(tried())
    assert len(said) == 2
    assert all("Too many open files" in each for each in said)


def test_a_port_of_the_network_that_is_taken_is_named(capsys: pytest.CaptureFixture[str]) -> None:
    with socket.create_server(("", 0)) as taken:
        port = taken.getsockname()[1]
        assert main(["serve", "--port", "0", "--shop", "--shop-port", str(port)]) == 2
    err = capsys.readouterr().err
    assert f"port {port}" in err
    assert "--shop-port" in err


@pytest.mark.slow
def test_who_opens_many_connections_in_the_network_leaves_some_for_the_machine() -> None:
    with serving("serve", "--port", "0", "--shop", "--shop-port", "0") as (process, address):
        place, _ = said_of_the_network(process)
        port = int(place.rstrip("/").rpartition(":")[2])
        held = [socket.create_connection(("127.0.0.1", port)) for _ in range(300)]
        try:
            for one in held[:3]:
                one.sendall(b"GET / HTTP/1.1\r\nhost: 127.0.0.1\r\n")
            with urllib.request.urlopen(address, timeout=SPEAKS_WITHIN_SECONDS) as answer:
                assert answer.status == 200
            broken_off = sum(_is_broken_off(one) for one in held)
            assert broken_off == len(held) - MOST_OF_ONE
        finally:
            for one in held:
                one.close()


def _is_broken_off(connection: socket.socket) -> bool:
    connection.settimeout(0.2)
    try:
        return connection.recv(1) == b""
    except TimeoutError:
        return False
    except OSError:
        return True


@pytest.mark.slow
def test_a_port_that_is_taken_is_named(capsys: pytest.CaptureFixture[str]) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        assert main(["serve", "--port", str(port)]) == 2
    err = capsys.readouterr().err
    assert str(port) in err
    assert "--port" in err


@pytest.mark.parametrize("port", ["-1", "65536", "ten", "1" * 30, "\u0668\u0660"])
def test_a_port_is_a_number_up_to_65535(port: str) -> None:
    with pytest.raises(SystemExit) as caught:
        main(["serve", "--port", port])
    assert caught.value.code == 2


FORM = b"content-type: application/x-www-form-urlencoded\r\n"
FILE = b"content-type: multipart/form-data; boundary=edge\r\n"
FILE_BEGUN = b'--edge\r\ncontent-disposition: form-data; name="file"; filename="b.json"\r\n\r\n{'
LENGTH, CHUNKED = b"content-length: 100000\r\n", b"transfer-encoding: chunked\r\n"


@pytest.mark.slow
@pytest.mark.usefixtures("_demo_is_there")
def test_an_upload_that_breaks_off_is_no_accident() -> None:
    with serving("demo", "--port", "0") as (process, address):
        port = int(address.split(":")[2].split("/")[0])
        for path, head, begun in (
            (b"/builds/import", FILE + LENGTH, FILE_BEGUN),
            (b"/builds/import", FILE + CHUNKED, b"%x\r\n%b\r\n" % (len(FILE_BEGUN), FILE_BEGUN)),
            (b"/builds/the-heron/bench/wish", FORM + LENGTH, b"wish=Second+bat"),
        ):
            with socket.create_connection(("127.0.0.1", port)) as client:
                client.sendall(b"POST %b HTTP/1.1\r\nhost: 127.0.0.1\r\n%b\r\n" % (path, head))
                client.sendall(begun)
        with urllib.request.urlopen(address, timeout=SPEAKS_WITHIN_SECONDS) as answer:
            assert "Second bat" not in answer.read().decode()
        process.send_signal(signal.SIGINT)
        _, err = process.communicate(timeout=SPEAKS_WITHIN_SECONDS)
        assert err == ""


def test_no_part_of_an_answer_waits_for_the_one_before_it() -> None:
    """Else each request takes some 40 ms more. Asked is the socket: a time proves nothing."""

    async def sends_at_once() -> int:
        server = uvicorn.Server(config_of(Starlette()))
        with listener_on("127.0.0.1", 0) as listener:
            serving = asyncio.create_task(server.serve([listener]))
            reader, writer = await asyncio.open_connection(*listener.getsockname())
            writer.write(b"GET / HTTP/1.1\r\nhost: 127.0.0.1\r\n\r\n")
            await reader.readuntil(b"\r\n\r\n")
            (connection,) = server.server_state.connections
            accepted = connection.transport.get_extra_info("socket")
            writer.close()
            found = accepted.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY)
            server.should_exit = True
            await serving
        return int(found)

    assert asyncio.run(sends_at_once()) != 0


# --- start-up -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("arguments", "unneeded"),
    [
        (["--help"], ["numpy", "fastapi", "sqlalchemy", "pydantic"]),
        (["plan", str(HERON), "--json"], ["fastapi", "sqlalchemy", "uvicorn", "jinja2"]),
        (["export", "the-heron", "-o", os.devnull], ["alembic", "fastapi", "uvicorn"]),
    ],
)
def test_a_command_loads_no_more_than_it_needs(
    arguments: list[str], unneeded: list[str], tmp_path: Path
) -> None:
    (tmp_path / "builds.sqlite3").write_bytes(rich_file())
    code = (
        "import sys\nfrom webapp.__main__ import main\n"
        "try:\n    main(sys.argv[1:])\nexcept SystemExit:\n    pass\n"
        f"print([name for name in {unneeded!r} if name in sys.modules], file=sys.stderr)"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code, *arguments], capture_output=True, text=True, check=True
    )
    assert ran.stderr.strip() == "[]"
