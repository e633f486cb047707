"""Every address of the product."""

from csp.constants import SELF
from csp.decorators import csp_update
from django.contrib import admin
from django.contrib.auth.views import LoginView, LogoutView
from django.urls import include, path
from drf_spectacular.views import SpectacularAPIView, SpectacularSwaggerSplitView

from fabshop.health import health
from fabshop.home import home

# The reader of the API's description sets styles of its own; this page alone lets it.
STYLED = {"style-src": [SELF, "'unsafe-inline'"]}

urlpatterns = [
    path("", home, name="home"),
    path("sign-in/", LoginView.as_view(redirect_authenticated_user=True), name="login"),
    path("sign-out/", LogoutView.as_view(), name="logout"),
    path("health/", health, name="health"),
    path("admin/", admin.site.urls),
    path("api/schema/", SpectacularAPIView.as_view(), name="schema"),
    path("api/docs/", csp_update(STYLED)(SpectacularSwaggerSplitView.as_view()), name="api-docs"),
    path("api/v1/", include(("spools.api.urls", "api"))),
    path("", include("spools.pages.urls")),
    path("", include("cutlists.pages.urls")),
]
