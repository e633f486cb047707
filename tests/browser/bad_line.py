"""A line between browser and server that a test can cut, or make lose answers after the server has done its work."""

import http.client
import os
import random
import socket
import threading
import time
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any

LATE_MS = float(os.environ.get("SLOW_LINE_MS", "0"))  # up to so much before each answer: finds what doesn't wait
SHUT_WITHIN_S = 0.02
HOP_BY_HOP = frozenset({"connection", "keep-alive", "transfer-encoding", "upgrade", "proxy-connection", "te"})


class BadLine:
    """Passes everything on until told otherwise.

    A line that is cut refuses at once, and what was under way is lost for good: nothing that was asked before
    ``mend`` reaches the shop after it.
    """

    def __init__(self, server_port: int) -> None:
        self.server_port = server_port
        self.cuts = 0
        self.loses_every_second = False
        self.loses_every_answer = False
        self.lost = 0
        self.lost_requests: list[bytes] = []  # what was sent with each answer that never came
        self.passed = 0
        self._lock = threading.Lock()
        self._kept_port = _bound(0)  # a line that is cut keeps its port, so that nobody else takes it
        self.port = self._kept_port.getsockname()[1]
        self._server: ThreadingHTTPServer | None = None
        self.mend()

    def cut(self) -> None:
        """No signal from now on."""
        if self._server:
            self.cuts += 1
            self._server.shutdown()
            self._server.server_close()
            self._server = None

    def mend(self) -> None:
        """Signal again."""
        if self._server is None:
            self._server = _Listener(("127.0.0.1", self.port), _handler(self, self.cuts))
            threading.Thread(target=self._server.serve_forever, args=(SHUT_WITHIN_S,), daemon=True).start()

    def loses_this_answer(self, method: str, body: bytes) -> bool:
        """Tell whether the answer to this request is thrown away: of every two to a POST, the first; or each."""
        if method != "POST" or not (self.loses_every_second or self.loses_every_answer):
            return False
        with self._lock:
            self.passed += 1
            lose = self.loses_every_answer or self.passed % 2 == 1
            self.lost += lose
            if lose:
                self.lost_requests.append(body)
            return lose

    def close(self) -> None:
        """Stop listening."""
        self.cut()
        self._kept_port.close()


class _Listener(ThreadingHTTPServer):
    daemon_threads = True
    request_queue_size = 64


def _bound(port: int) -> socket.socket:
    bound = socket.socket()
    bound.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    bound.bind(("127.0.0.1", port))
    return bound


def _handler(line: BadLine, cuts: int) -> type[BaseHTTPRequestHandler]:
    class Handler(BaseHTTPRequestHandler):
        protocol_version = "HTTP/1.0"

        def _pass(self) -> None:
            if line.cuts == cuts:
                body = self.rfile.read(int(self.headers.get("Content-Length") or 0))
                time.sleep(random.uniform(0, LATE_MS) / 1000)
                try:
                    answer, content = _asked(line.server_port, self.command, self.path, dict(self.headers), body)
                except OSError:
                    self.connection.close()
                    return
                if not line.loses_this_answer(self.command, body) and line.cuts == cuts:
                    _send_back(self, answer, content)
                    return
            self.close_connection = True
            self.connection.close()

        do_GET = do_POST = do_HEAD = do_OPTIONS = _pass  # noqa: N815  the names that http.server asks for

        def log_message(self, *args: Any) -> None:
            """Say nothing."""

        def finish(self) -> None:
            """Close what may be closed already."""
            try:
                super().finish()
            except (OSError, ValueError):
                return

    return Handler


def _send_back(handler: BaseHTTPRequestHandler, answer: http.client.HTTPResponse, content: bytes) -> None:
    handler.send_response_only(answer.status, answer.reason)
    for name, value in answer.getheaders():
        if name.lower() not in HOP_BY_HOP | {"content-length"}:
            handler.send_header(name, value)
    handler.send_header("Content-Length", str(len(content)))
    handler.end_headers()
    if handler.command != "HEAD":
        handler.wfile.write(content)


def _asked(
    port: int, method: str, path: str, headers: dict[str, str], body: bytes
) -> tuple[http.client.HTTPResponse, bytes]:
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
    kept = {name: value for name, value in headers.items() if name.lower() not in HOP_BY_HOP}
    connection.request(method, path, body=body or None, headers=kept)
    answer = connection.getresponse()
    content = answer.read()
    connection.close()
    return answer, content
