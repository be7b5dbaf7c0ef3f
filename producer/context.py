"""What every template may ask about the site itself."""

from django.conf import settings
from django.http import HttpRequest


def site(request: HttpRequest) -> dict[str, bool]:
    """Is this the demo, which offers its one-button sign-in?"""
    return {"is_demo": settings.DEMO}
