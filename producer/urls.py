"""Labels live under /labels/; everything else is costing."""

from django.urls import include, path

urlpatterns = [
    path("labels/", include("labels.urls")),
    path("", include("costing.urls")),
]
