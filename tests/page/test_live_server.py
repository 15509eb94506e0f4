"""The server of the live page: for this machine only, three kinds of address, and nothing from the disk."""

import http.client
import json
import socket
import threading
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path

import pytest
from page.shown_rooms import room_text, shown

from planner.errors import PlannerError
from planner.page.desk import Desk, Room, Wanted
from planner.page.server import free_socket, serve


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Desk:
    file = tmp_path_factory.mktemp("watched") / "room.yaml"
    file.write_text(room_text(), "utf-8")
    made = Desk(Wanted(file, lambda document: (Room("One", shown(room_text())), Room("Two", shown(room_text())))))
    made.renew()
    return made


@pytest.fixture(scope="module")
def port(desk: Desk) -> Iterator[int]:
    ready, end = threading.Event(), threading.Event()
    listening = free_socket(0)
    server = _Stoppable(desk, listening, ready, end)
    server.start()
    assert ready.wait(20)
    yield listening.getsockname()[1]
    server.stop()


class _Stoppable(threading.Thread):
    """The server in a thread; Ctrl-C is for the main thread: here a flag tells it to end."""

    def __init__(self, desk: Desk, listening: socket.socket, ready: threading.Event, end: threading.Event) -> None:
        super().__init__(daemon=True)
        self._given = (desk, listening, ready.set, end)
        self._end = end

    def run(self) -> None:
        serve(*self._given)

    def stop(self) -> None:
        self._end.set()
        self.join(20)
        assert not self.is_alive()


@dataclass
class _Answer:
    status: int
    headers: http.client.HTTPMessage
    body: bytes


@contextmanager
def _asked(port: int, path: str, method: str, headers: dict[str, str]) -> Iterator[http.client.HTTPResponse]:
    """One request exactly as given; `Host` as a browser sends it unless another is named."""
    with closing(http.client.HTTPConnection("127.0.0.1", port, timeout=20)) as line:
        line.putrequest(method, path, skip_host=True, skip_accept_encoding=True)
        for name, value in ({"Host": f"127.0.0.1:{port}"} | headers).items():
            line.putheader(name, value)
        line.endheaders()
        with line.getresponse() as answer:
            yield answer


def _ask(port: int, path: str = "/", method: str = "GET", **headers: str) -> _Answer:
    with _asked(port, path, method, {name.replace("_", "-"): value for name, value in headers.items()}) as answer:
        return _Answer(answer.status, answer.headers, answer.read())


def test_the_page_of_each_room_is_there_and_no_other(port):
    assert b'<h1 id="job">One</h1>' in _ask(port, "/").body
    assert b'<h1 id="job">Two</h1>' in _ask(port, "/room/2").body
    assert _ask(port, "/room/3").status == 404
    assert _ask(port, "/room/0").status == 404
    assert _ask(port, "/", Host=f"localhost:{port}").status == 200


@pytest.mark.parametrize(
    "host", ["evil.example", "evil.example:{port}", "127.0.0.1", "127.0.0.1:1", "127.0.0.1:{port}.evil.example", ""]
)
def test_a_name_that_means_this_machine_only_by_a_trick_gets_nothing(port, host):
    answer = _ask(port, Host=host.format(port=port))
    assert answer.status == 403
    assert b"<h1" not in answer.body


@pytest.mark.parametrize("origin", ["http://evil.example", "null", "https://127.0.0.1:{port}", "http://127.0.0.1:1"])
def test_a_page_elsewhere_gets_neither_the_plan_nor_the_news(port, origin):
    for path in ("/", "/news"):
        assert _ask(port, path, Origin=origin.format(port=port)).status == 403


def test_pages_elsewhere_may_link_here_but_not_fetch_frame_or_listen(port):
    assert _ask(port, Sec_Fetch_Site="cross-site", Sec_Fetch_Mode="navigate").status == 200
    assert _ask(port, Sec_Fetch_Site="cross-site", Sec_Fetch_Mode="no-cors").status == 403
    assert _ask(port, Sec_Fetch_Site="same-site", Sec_Fetch_Mode="cors").status == 403
    assert _ask(port, "/news", Sec_Fetch_Site="cross-site", Sec_Fetch_Mode="navigate").status == 403
    assert _ask(port).headers["X-Frame-Options"] == "DENY"


@pytest.mark.parametrize(
    "path",
    [
        "/room.yaml", "/../room.yaml", "/%2e%2e/room.yaml", "/..%2f..%2fetc/passwd", "//etc/passwd", "/static/page.css",
        "/room/../room.yaml", "/room/1/../../x", "/docs", "/openapi.json", "/favicon.ico", "/room/", "/room/-1",
        "/room/1.5", "/room/99999999999999999999",
    ],
)  # fmt: skip
def test_nothing_else_is_served(port, path):
    answer = _ask(port, path)
    assert answer.status == 404
    assert b"rectangle" not in answer.body


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "OPTIONS", "PATCH"])
def test_nothing_can_be_sent_to_it(port, method):
    assert _ask(port, "/", method).status == 405


def test_every_answer_bears_the_headers_of_a_page_that_keeps_to_itself(port):
    for answer in (_ask(port), _ask(port, "/nothing"), _ask(port, Host="evil.example")):
        assert answer.headers["Cache-Control"] == "no-store"
        assert answer.headers["X-Content-Type-Options"] == "nosniff"
        assert answer.headers["Cross-Origin-Resource-Policy"] == "same-origin"
        assert answer.headers["Content-Security-Policy"] == "frame-ancestors 'none'"
        assert answer.headers["Referrer-Policy"] == "no-referrer"
        assert answer.headers["Access-Control-Allow-Origin"] is None
        assert answer.headers["Server"] is None


def test_news_tell_how_things_stand_and_then_every_change(port, desk):
    with _asked(port, "/news", "GET", {}) as news:
        assert news.headers["Content-Type"].startswith("text/event-stream")
        first = json.loads(_event(news))
        assert first["state"] == "settled" and first["trouble"] == []
        Path(desk.wanted.file).write_text("room: [", "utf-8")
        desk_at_work = threading.Thread(target=desk.renew)
        desk_at_work.start()
        told = [json.loads(_event(news)) for _ in range(2)]
        desk_at_work.join()
    assert [each["state"] for each in told] == ["busy", "settled"]
    assert told[1]["version"] == first["version"] and told[1]["trouble"][0]["line"] == 1


def _event(news: http.client.HTTPResponse) -> str:
    while not (line := news.readline().decode()).startswith("data: "):
        assert line, "the news ended"
    return line.removeprefix("data: ")


def test_it_listens_on_this_machine_only():
    with free_socket(0) as listening:
        assert listening.getsockname()[0] == "127.0.0.1"


def test_a_port_that_is_taken_is_refused_when_asked_for_and_passed_over_when_not():
    with free_socket(None) as first, free_socket(None) as second:
        taken = first.getsockname()[1]
        assert second.getsockname()[1] != taken
        with pytest.raises(PlannerError, match=f"--port {taken}"):
            free_socket(taken)
