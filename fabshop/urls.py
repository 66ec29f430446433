"""Where each face hangs."""

from django.urls import include, path

from fabshop.web.office import office

urlpatterns = [
    path("api/", include("fabshop.api.urls")),
    path("paper/", include("fabshop.paper.urls")),
    path("office/", office.urls),
    path("", include("fabshop.web.urls")),
]
