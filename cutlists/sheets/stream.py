"""A PDF written page by page: each finished page goes to the file at once, so memory stays flat."""

from array import array
from typing import BinaryIO

from reportlab.pdfbase import pdfdoc
from reportlab.pdfgen.canvas import Canvas

from cutlists.sheets.fonts import TEXT, load_fonts


class _StreamedDocument(pdfdoc.PDFDocument):  # type: ignore[misc]  # reportlab has no types
    """reportlab's document, but a page, its contents and a stamp leave memory as soon as they are finished.

    reportlab keeps every page until the end and then joins them in memory twice: 7,000 tickets would need some
    100 MB. Here eight bytes are kept for each written object, its place in the file.
    """

    def __init__(self, out: BinaryIO) -> None:
        super().__init__(compression=1, invariant=1)
        self._out = out
        self._written = 0
        self._places = array("Q", [0])
        self._kids = array("Q")
        self.Reference(self.Pages)  # numbered before the first page, which names it as its parent
        self._write(b"%%PDF-%d.%d\n%%\x93\x8c\x8b\x9e\n" % pdfdoc.PDF_VERSION_DEFAULT)

    def addPage(self, page: pdfdoc.PDFPage) -> None:  # noqa: N802  (reportlab's name)
        page.Contents = pdfdoc.PDFStream(content=page.stream, filters=[pdfdoc.PDFZCompress])
        super().addPage(page)
        self.Pages.pages.clear()
        first = self.objectcounter
        self._kids.append(first)
        self._emit(first)
        for number in range(first + 1, self.objectcounter + 1):  # the contents, registered by the page itself
            self._emit(number)
        for number in range(first, self.objectcounter + 1):
            self._forget(number)

    def addForm(self, name: str, form: pdfdoc.PDFFormXObject) -> None:  # noqa: N802  (reportlab's name)
        form.Contents = pdfdoc.PDFStream(content=form.stream, filters=[pdfdoc.PDFZCompress])
        form.compression = 0  # or reportlab would set its own filters
        super().addForm(name, form)
        self._emit(self.objectcounter)

    def format(self) -> bytes:
        """Write what is still in memory, the table of places and the trailer; the answer is empty: all is written."""
        for number in self._kids:
            self.idToObjectNumberAndVersion[f"Kid{number}"] = (number, 0)
        self.Pages.pages = [pdfdoc.PDFObjectReference(f"Kid{number}") for number in self._kids]
        number = 0
        while (number := number + 1) <= self.objectcounter:  # writing one may register more
            if number >= len(self._places) or not self._places[number]:
                self._emit(number)
        start = self._written
        lines = "".join(f"{place:010d} 00000 n \n" for place in self._places[1:])
        self._write(f"xref\n0 {len(self._places)}\n0000000000 65535 f \n{lines}".encode())
        trailer = pdfdoc.PDFTrailer(
            startxref=start,
            Size=len(self._places),
            Root=self.Reference(self.Catalog),
            Info=self.Reference(self.info),
            ID=self.ID(),
        )
        self._write(trailer.format(self))
        return b""

    def _emit(self, number: int) -> None:
        name = self.numberToId[number]
        while len(self._places) <= number:
            self._places.append(0)
        self._places[number] = self._written
        self._write(pdfdoc.PDFIndirectObject(name, self.idToObject[name]).format(self))
        self.idToObject[name] = None

    def _forget(self, number: int) -> None:
        """Drop the names of what nothing will name again."""
        name = self.numberToId.pop(number)
        del self.idToObject[name], self.idToObjectNumberAndVersion[name]

    def _write(self, data: bytes) -> None:
        self._out.write(data)
        self._written += len(data)


def open_canvas(out: BinaryIO, *, width: float, height: float, title: str, full_size: bool = False) -> Canvas:
    """Return a canvas of a page size in points that writes into ``out``; the same drawing gives the same bytes."""
    load_fonts()
    canvas = Canvas(out, pagesize=(width, height), invariant=1, pageCompression=1, initialFontName=TEXT)
    canvas._doc = _StreamedDocument(out)
    canvas.setTitle(title)
    if full_size:
        canvas.setViewerPreference("PrintScaling", "None")
    canvas.setCreator("")
    canvas.setAuthor("")
    canvas.setSubject("")
    return canvas
