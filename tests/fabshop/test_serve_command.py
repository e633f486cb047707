"""``manage.py migrate`` and ``manage.py serve`` on a new database, as the README says."""

import subprocess
import sys
import time
from http.client import HTTPConnection

from tests.browser.live_shop import ROOT, environment, free_port

LIMIT_S = 180.0


def asked(port: str, page: str) -> str:
    """A page, asked for until it answers."""
    until = time.monotonic() + LIMIT_S
    while True:
        try:
            line = HTTPConnection("127.0.0.1", int(port), timeout=LIMIT_S)
            line.request("GET", page)
            return line.getresponse().read().decode()
        except ConnectionError:
            if time.monotonic() > until:
                raise
            time.sleep(0.2)


def test_a_new_shop_is_served_at_the_address_it_says(tmp_path):
    manage, port = [sys.executable, "manage.py"], str(free_port())
    subprocess.run([*manage, "migrate", "--verbosity", "0"], cwd=ROOT, env=environment(tmp_path), check=True)
    with subprocess.Popen(
        [*manage, "serve", "--port", port], cwd=ROOT, env=environment(tmp_path), stdout=subprocess.PIPE, text=True
    ) as served:
        try:
            assert served.stdout.readline().startswith(f"Serving http://127.0.0.1:{port}/")
            assert 'name="password"' in asked(port, "/sign-in/")
        finally:
            served.kill()
