"""Where each face hangs."""

from django.contrib import admin
from django.urls import include, path

urlpatterns = [
    path("api/", include("fabshop.api.urls")),
    path("paper/", include("fabshop.paper.urls")),
    path("office/", admin.site.urls),
    path("", include("fabshop.web.urls")),
]
