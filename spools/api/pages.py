"""How the API cuts long lists into pages: by cursor, so that a list that grows meanwhile loses and doubles nothing."""

from rest_framework.pagination import CursorPagination


class ByNumber(CursorPagination):
    """Newest first, 100 to a page."""

    ordering = "-id"
    page_size = 100
