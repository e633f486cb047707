"""Bring a list in from CSV or XLSX: first look at every problem by line, then save all that is good, or nothing."""

import csv
import io
from typing import TYPE_CHECKING, Any

from django import forms
from django.contrib import messages
from django.core.files.uploadedfile import UploadedFile
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import path
from django.utils import timezone

from spools.errors import ShopError, not_found
from spools.exports import export
from spools.imports.checked import Checked
from spools.imports.table import MOST_BYTES, ImportRefused, Table, read_table
from spools.marks import mark_key
from spools.models import Job
from spools.pages.asking import ShopRequest, fresh_key, posted_key
from spools.pages.import_kinds import BY_CODE, KINDS, UNITS, ImportKind
from spools.queries.imports import READING_COLUMNS, SHOT_COLUMNS, reading_rows, shot_rows
from spools.queries.jobs import one_job

if TYPE_CHECKING:
    Uploaded = UploadedFile[bytes]

GOOD_SHOWN = 20
MOST_TEXT = 2_000_000


class ImportForm(forms.Form):
    """The file, or a list pasted in, and the unit of its numbers where they have none."""

    file = forms.FileField(label="CSV or XLSX file", required=False)
    pasted = forms.CharField(label="Or paste the lines", required=False, widget=forms.Textarea, max_length=MOST_TEXT)
    unit = forms.ChoiceField(label="Coordinates are in", choices=UNITS, initial="ft", required=False)

    def clean_file(self) -> "Uploaded | None":
        """Refuse what is too large before it is read."""
        file: Uploaded | None = self.cleaned_data.get("file")
        if file and (file.size or 0) > MOST_BYTES:
            raise forms.ValidationError(f"The file is larger than {MOST_BYTES // 1_000_000} MB: bring it in parts.")
        return file

    def chosen_unit(self) -> str:
        """Return the unit of coordinates."""
        return str(self.cleaned_data.get("unit") or "ft")

    def content(self) -> bytes:
        """Return the file, or the pasted text as one."""
        file: Uploaded | None = self.cleaned_data.get("file")
        if file:
            read: bytes = file.read(MOST_BYTES + 1)
            return read
        return str(self.cleaned_data.get("pasted", "")).encode()


def import_list(request: ShopRequest, job_id: int, which: str) -> HttpResponse:
    """Show the form, or what a list would bring: every bad line with its reasons. Nothing is saved here."""
    job, kind = one_job(job_id, request.user), _kind(which)
    form = ImportForm(request.POST or None, request.FILES or None)
    context: dict[str, Any] = {"job": job, "kind": kind, "kinds": KINDS, "form": form}
    if request.method != "POST":
        return render(request, "spools/import.html", context)
    if form.is_valid():
        try:
            table = _table(form, kind)
        except ImportRefused as refusal:
            form.add_error("file", str(refusal))
        else:
            checked = kind.check(table, job, form.chosen_unit())
            return render(request, "spools/import_preview.html", context | _preview(checked, table, form))
    return render(request, "spools/import.html", context, status=422)


def _preview(checked: Checked[Any], table: Table, form: ImportForm) -> dict[str, Any]:
    """Return what the preview shows, and the good lines as text for the save that may follow."""
    good_lines = {number for line in checked.good for number in line.all_lines}
    return {
        "bad": checked.bad,
        "good_count": len(checked.good),
        "good": checked.good[:GOOD_SHOWN],
        "headings": table.headings,
        "text": _as_text(table, good_lines),
        "unit": form.chosen_unit(),
        "key": fresh_key(),
    }


def _as_text(table: Table, lines: set[int]) -> str:
    """Return lines of a table as CSV under the names they are known by; the file itself is not kept."""
    names = list(dict.fromkeys(name for row in table.rows for name in row.cells))
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow([name.replace("_", " ") for name in names])
    writer.writerows([row.cells.get(name, "") for name in names] for row in table.rows if row.line in lines)
    return out.getvalue()


def import_save(request: ShopRequest, job_id: int, which: str) -> HttpResponse:
    """Save the good lines: checked again, all of them or none."""
    job, kind = one_job(job_id, request.user), _kind(which)
    if request.method != "POST":
        return redirect("import", job.id, kind.code)
    form = ImportForm({"pasted": request.POST.get("text", ""), "unit": request.POST.get("unit", "ft")})
    try:
        checked = _checked_again(form, kind, job)
        said = kind.save(checked, job, request.user, posted_key(request), timezone.now())
    except (ImportRefused, ShopError) as refusal:
        context = {"job": job, "kind": kind, "kinds": KINDS, "form": form, "trouble": str(refusal)}
        return render(request, "spools/import.html", context, status=422)
    messages.success(request, said)
    return redirect("job", job.id)


def _table(form: ImportForm, kind: ImportKind) -> Table:
    """Return the table; raises ``ImportRefused``."""
    # A list that was looked at comes back under our own names for the columns.
    ours = {name.replace("_", " "): name for name in kind.headings.values()}
    table = read_table(form.content(), known=ours | kind.headings)
    if len(table.rows) > kind.most:
        raise ImportRefused(f"At most {kind.most:,} lines of {kind.words.lower()} at once: bring them in parts.")
    return table


def _checked_again(form: ImportForm, kind: ImportKind, job: Job) -> Checked[Any]:
    if not form.is_valid():
        raise ImportRefused("The list is too long: bring it in parts.")
    checked = kind.check(_table(form, kind), job, form.chosen_unit())
    if checked.bad or not checked.good:
        raise ImportRefused("Something changed meanwhile: look at the list once more.")
    return checked


def readings_export(request: ShopRequest, job_id: int, kind: str) -> HttpResponse:
    """Give every reading of a job as CSV or XLSX."""
    job: Job = one_job(job_id, request.user)
    return export(f"readings-{mark_key(job.number)}", kind, READING_COLUMNS, reading_rows(job))


def shots_export(request: ShopRequest, job_id: int, kind: str) -> HttpResponse:
    """Give every survey shot of a job as CSV or XLSX, in mm."""
    job: Job = one_job(job_id, request.user)
    return export(f"shots-{mark_key(job.number)}", kind, SHOT_COLUMNS, shot_rows(job))


def _kind(code: str) -> ImportKind:
    if code not in BY_CODE:
        raise not_found("list of that kind")
    return BY_CODE[code]


urlpatterns = [
    path("jobs/<int:job_id>/import/<str:which>/", import_list, name="import"),
    path("jobs/<int:job_id>/import/<str:which>/save/", import_save, name="import-save"),
    path("jobs/<int:job_id>/readings.<str:kind>", readings_export, name="readings-export"),
    path("jobs/<int:job_id>/shots.<str:kind>", shots_export, name="shots-export"),
]
