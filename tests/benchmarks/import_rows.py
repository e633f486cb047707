"""How long a list of 5,000 tie-ins with 300 bad lines takes to be looked at and to be saved, over the very pages.

python -m tests.benchmarks.import_rows
"""

import csv
import io
import os
import tempfile
import time
import zipfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any
from xml.sax.saxutils import escape

ROWS, BAD = 5_000, 300
HEADING = [
    "mark",
    "main",
    "station",
    "side",
    "nps",
    "schedule",
    "end at main",
    "end at drain",
    "design included",
    "note",
]


def lines() -> list[list[str]]:
    """A list as a drawing office sends it; every bad line is bad in another of seven ways, two of them at once."""
    found = [HEADING]
    for number in range(ROWS):
        line = [f"T{number}", "East gallery", f"{number // 4}+{number % 4 * 25:02d}", "left" if number % 2 else "R"]
        line += [
            "4" if number % 3 else "6",
            "40",
            "beveled",
            "grooved",
            f"{40 + number % 100}.5",
            f"sheet {number // 50}",
        ]
        if number % (ROWS // BAD) == 0 and number // (ROWS // BAD) < BAD:
            way = number // (ROWS // BAD) % 7
            line[way] = ("T" * 20, "North", "twelve", "up", "5-1/8", "900", "glued")[way]
            line[8] = "not an angle" if way == 6 else line[8]
        found.append(line)
    return found


def as_csv(rows: list[list[str]]) -> bytes:
    """The list as CSV."""
    out = io.StringIO()
    csv.writer(out).writerows(rows)
    return out.getvalue().encode()


def as_xlsx(rows: list[list[str]]) -> bytes:
    """The list as a workbook of one sheet with its texts in place."""
    cells = (
        "<row>" + "".join(f'<c t="inlineStr"><is><t>{escape(cell)}</t></is></c>' for cell in row) + "</row>"
        for row in rows
    )
    space = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
    sheet = f'<?xml version="1.0"?><worksheet xmlns="{space}"><sheetData>{"".join(cells)}</sheetData></worksheet>'
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_STORED) as packed:
        packed.writestr("xl/worksheets/sheet1.xml", sheet)
    return out.getvalue()


@contextmanager
def shop() -> Iterator[Any]:
    """A fresh shop in a folder of its own; gives a signed-in client and the job."""
    with tempfile.TemporaryDirectory() as var:
        os.environ.update(
            {"FABSHOP_VAR": var, "DJANGO_SETTINGS_MODULE": "fabshop.settings", "ALLOWED_HOSTS": "testserver"}
        )
        import django

        django.setup()
        from django.core.management import call_command
        from django.test import Client

        call_command("migrate", verbosity=0)
        from spools.flow.roles import Role
        from spools.models import Main
        from tests.factories.jobs import make_job
        from tests.factories.people import make_person, make_shop

        job = make_job(make_shop())
        Main.objects.create(job=job, name="East gallery", nps="24")
        client = Client()
        client.force_login(make_person(job.shop, *Role))
        yield client, job


def timed(words: str, work: Callable[[], Any]) -> Any:
    """Do a piece of work, print what it took by the wall and of the processor, and return what it gave."""
    began, busy = time.perf_counter(), time.process_time()
    done = work()
    print(f"{words}: {time.perf_counter() - began:.2f} s, {time.process_time() - busy:.2f} s of processor")
    return done


def main() -> None:
    """Print one line for each step."""
    from django.core.files.uploadedfile import SimpleUploadedFile
    from django.test.utils import setup_test_environment

    rows = lines()
    with shop() as (client, job):
        setup_test_environment()
        address = f"/jobs/{job.id}/import/tie-ins/"
        client.get(address)  # a server that runs has read its own code
        for name, content in (("list.xlsx", as_xlsx(rows)), ("list.csv", as_csv(rows))):
            file = SimpleUploadedFile(name, content)
            seen = timed(f"look at {ROWS} lines, {name}", lambda file=file: client.post(address, {"file": file}))
            good, bad = seen.context["good_count"], len(seen.context["bad"])
            print(f"  {bad} bad lines named, {good} good, page of {len(seen.content) // 1000} kB")
        body = {name: str(seen.context[name]) for name in ("text", "key", "unit")}
        saved = timed(f"save {seen.context['good_count']} lines", lambda: client.post(f"{address}save/", body))
        print(f"  {job.tie_ins.count()} tie-ins, answer {saved.status_code}")


if __name__ == "__main__":
    main()
