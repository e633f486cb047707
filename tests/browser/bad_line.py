"""A line between browser and server that a test can cut, or make lose answers after the server has done its work."""

import http.client
import os
import random
import threading
import time
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any

LATE_MS = float(os.environ.get("SLOW_LINE_MS", "0"))  # up to so much before each answer: finds what doesn't wait
HOP_BY_HOP = frozenset({"connection", "keep-alive", "transfer-encoding", "upgrade", "proxy-connection", "te"})


class BadLine:
    """Passes everything on until told otherwise."""

    def __init__(self, server_port: int) -> None:
        self.server_port = server_port
        self.up = True
        self.loses_every_second = False
        self.loses_every_answer = False
        self.lost = 0
        self.lost_requests: list[bytes] = []  # what was sent with each answer that never came
        self.passed = 0
        self._lock = threading.Lock()
        self._server = ThreadingHTTPServer(("127.0.0.1", 0), _handler(self))
        self._server.daemon_threads = True
        self.port = self._server.server_address[1]
        threading.Thread(target=self._server.serve_forever, daemon=True).start()

    def cut(self) -> None:
        """No signal from now on."""
        self.up = False

    def mend(self) -> None:
        """Signal again."""
        self.up = True

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
        self._server.shutdown()
        self._server.server_close()


def _handler(line: BadLine) -> type[BaseHTTPRequestHandler]:
    class Handler(BaseHTTPRequestHandler):
        protocol_version = "HTTP/1.0"

        def _pass(self) -> None:
            if line.up:
                body = self.rfile.read(int(self.headers.get("Content-Length") or 0))
                time.sleep(random.uniform(0, LATE_MS) / 1000)
                try:
                    answer, content = _asked(line.server_port, self.command, self.path, dict(self.headers), body)
                except OSError:
                    self.connection.close()
                    return
                if not line.loses_this_answer(self.command, body) and line.up:
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
