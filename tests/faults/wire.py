"""A client that costs next to nothing: one kept connection, a request as bytes, an answer as bytes."""

import json
import socket
from dataclasses import dataclass
from typing import Any

HOST = "127.0.0.1"
PATIENCE_S = 30.0


class HungUp(Exception):
    """The other side closed the connection before the answer was whole."""


@dataclass(frozen=True, slots=True)
class Answer:
    """What came back."""

    status: int
    headers: dict[str, str]
    body: bytes

    def read(self) -> Any:
        """Return the body as JSON. Raises ``ValueError`` for anything else, such as an error page."""
        return json.loads(self.body)


def request_bytes(path: str, body: dict[str, Any], *, token: str) -> bytes:
    """Return a POST of JSON as it goes over the wire."""
    content = json.dumps(body).encode()
    head = (
        f"POST {path} HTTP/1.1\r\nHost: {HOST}\r\nAuthorization: Token {token}\r\n"
        f"Content-Type: application/json\r\nContent-Length: {len(content)}\r\n\r\n"
    )
    return head.encode() + content


def look_bytes(path: str, *, token: str) -> bytes:
    """Return a GET as it goes over the wire."""
    return f"GET {path} HTTP/1.1\r\nHost: {HOST}\r\nAuthorization: Token {token}\r\n\r\n".encode()


class Line:
    """One connection that is kept, and opened again when it is gone."""

    def __init__(self, port: int) -> None:
        self.port = port
        self.socket: socket.socket | None = None

    def send(self, request: bytes) -> Answer:
        """Send a request and wait for its answer. Raises ``HungUp``: the server may or may not have done it."""
        self.begin(request)
        try:
            return self._answer()
        except OSError as trouble:
            self.close()
            raise HungUp from trouble

    def begin(self, request: bytes) -> None:
        """Send a request without waiting. A kept connection that the server closed meanwhile is opened again."""
        if self.socket is not None and _closed(self.socket):
            self.close()
        if self.socket is None:
            self.socket = socket.create_connection((HOST, self.port), timeout=PATIENCE_S)
            self.socket.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        self.socket.sendall(request)

    def close(self) -> None:
        """Hang up, whether or not an answer is on its way."""
        if self.socket is not None:
            self.socket.close()
            self.socket = None

    def _answer(self) -> Answer:
        if self.socket is None:
            raise HungUp
        got = b""
        while b"\r\n\r\n" not in got:
            got += self._more()
        head, _, body = got.partition(b"\r\n\r\n")
        first, *rest = head.decode("latin-1").split("\r\n")
        headers = {name.lower(): value.strip() for name, _, value in (one.partition(":") for one in rest)}
        length = int(headers.get("content-length", 0))
        while len(body) < length:
            body += self._more()
        if headers.get("connection") == "close":
            self.close()
        return Answer(int(first.split()[1]), headers, body)

    def _more(self) -> bytes:
        if self.socket is None:
            raise HungUp
        got = self.socket.recv(65536)
        if not got:
            self.close()
            raise HungUp
        return got


def _closed(kept: socket.socket) -> bool:
    """Tell whether the server closed a connection on which nothing is expected."""
    kept.setblocking(False)
    try:
        return kept.recv(1, socket.MSG_PEEK) == b""
    except BlockingIOError:
        return False
    except OSError:
        return True
    finally:
        kept.settimeout(PATIENCE_S)
