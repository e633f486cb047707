"""The addresses of the saw's and the paper's pages, gathered from each page's own file."""

from cutlists.pages import drop_tags, papers, plan, saw, sheets, stock, wrong_piece

urlpatterns = [
    *saw.urlpatterns,
    *wrong_piece.urlpatterns,
    *plan.urlpatterns,
    *stock.urlpatterns,
    *drop_tags.urlpatterns,
    *papers.urlpatterns,
    *sheets.urlpatterns,
]
