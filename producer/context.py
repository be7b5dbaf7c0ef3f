from django.conf import settings
from django.http import HttpRequest


def site(request: HttpRequest) -> dict[str, bool]:
    """What every template may ask about the site itself."""
    return {"is_demo": settings.DEMO}
