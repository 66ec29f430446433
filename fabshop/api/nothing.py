"""What answers where the API has no such address: a problem, like everything else."""

from __future__ import annotations

from rest_framework.exceptions import NotFound
from rest_framework.request import Request
from rest_framework.views import APIView


class Nothing(APIView):
    """Every method, every address that is no other view's."""

    schema = None  # not part of the description

    def initial(self, request: Request, *args: object, **kwargs: object) -> None:
        super().initial(request, *args, **kwargs)
        raise NotFound(f"Nothing is at {request.path}; /api/schema/ lists what is.")
