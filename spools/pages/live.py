"""Pages that follow each other: a poll gets 304 while nothing has changed, and the live part when it has."""

import functools
from collections.abc import Callable
from typing import Any

from django.http import HttpResponse, HttpResponseNotModified
from django.utils import timezone
from django.utils.cache import patch_vary_headers

from spools.pages.asking import ShopRequest
from spools.queries.freshness import freshness
from spools.templatetags.shop import shop_clock

Page = Callable[..., HttpResponse]


def live(page: Page) -> Page:
    """Let a page be polled: it gets ``polled=True`` when only its live part is wanted."""

    @functools.wraps(page)
    def shown(request: ShopRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if "X-Live" not in request.headers:
            return page(request, *args, polled=False, **kwargs)
        at = timezone.now()
        tag = freshness(request.user, at=at, asked=request.get_full_path())
        if request.headers.get("If-None-Match") == tag:
            answer: HttpResponse = HttpResponseNotModified()
        else:
            answer = page(request, *args, polled=True, **kwargs)
        if answer.status_code in {200, 304}:
            answer["ETag"] = tag
            answer["Cache-Control"] = "private, no-store"
            answer["X-As-Of"] = shop_clock(at, request.user.the_shop)
            patch_vary_headers(answer, ("Cookie", "X-Live"))
        return answer

    return shown
