"""The product's addresses, and one more: an authenticated POST that does nothing, as the API would answer it."""

from django.urls import path
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from fabshop.urls import urlpatterns as of_the_product


class Nothing(APIView):
    """Sign the caller in by token, read the JSON, answer."""

    def post(self, request: Request) -> Response:
        """Do nothing else."""
        return Response({"fields": len(request.data)}, status=201)


# It bears the name of an address that is open to all, so that the table of access leaves the signing in to the API.
urlpatterns = [*of_the_product, path("api/nothing/", Nothing.as_view(), name="health")]
