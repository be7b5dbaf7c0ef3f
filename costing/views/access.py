"""Who may open a page: one decorator in front of every view of a kitchen."""

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.contrib.auth.views import redirect_to_login
from django.core.exceptions import PermissionDenied
from django.db.models import BigIntegerField
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.cache import patch_cache_control
from django.utils.http import url_has_allowed_host_and_scheme
from django_htmx.middleware import HtmxDetails

from costing.models import Kitchen, Member
from costing.selectors.kitchens import membership
from costing.views.menu import MenuItem, menu_of

LAST_KITCHEN = "last_kitchen"


class KitchenRequest(HttpRequest):
    """A request that `kitchen_view` has let through."""

    kitchen: Kitchen
    member: Member
    menu: list[MenuItem]
    htmx: HtmxDetails


View = Callable[..., HttpResponse]


def kitchen_view(*roles: str) -> Callable[[View], View]:
    """Let in the owner and the named roles of the kitchen in the address.

    Nobody is sent to the sign-in page; to a stranger the kitchen does not exist (404); a member
    with another role is told so (403). The view is called with the request and the kitchen.
    """
    allowed = {Member.Role.OWNER.value, *(str(role) for role in roles)}

    def guard(view: View) -> View:
        @wraps(view)
        def guarded(request: Any, kitchen_id: int, *args: Any, **kwargs: Any) -> HttpResponse:
            if not request.user.is_authenticated:
                return _to_sign_in(request)
            # A number that no row can have would be refused by the database, loudly.
            is_possible = kitchen_id <= BigIntegerField.MAX_BIGINT
            member = membership(request.user, kitchen_id) if is_possible else None
            if member is None:
                raise Http404("No such kitchen.")
            request.kitchen, request.member = member.kitchen, member
            request.menu = menu_of(member, path=request.path)
            if member.role not in allowed:
                raise PermissionDenied(_refusal(member))
            if request.session.get(LAST_KITCHEN) != kitchen_id:
                request.session[LAST_KITCHEN] = kitchen_id
            response = view(request, member.kitchen, *args, **kwargs)
            # A shared device must not show a kitchen's figures again after somebody signed out.
            patch_cache_control(response, private=True, no_store=True)
            return response

        guarded.roles = frozenset(allowed)  # type: ignore[attr-defined]  # read by the tests
        return guarded

    return guard


def way_back(request: HttpRequest, wanted: str, *, otherwise: str = "") -> str:
    """An address of this site that a page was asked to return to; anybody may write one."""
    is_ours = url_has_allowed_host_and_scheme(
        wanted, allowed_hosts={request.get_host()}, require_https=request.is_secure()
    )
    return wanted if is_ours else otherwise


def _to_sign_in(request: Any) -> HttpResponse:
    if request.htmx:
        # Leaving the page would throw away what stands in its form; the live box says it instead.
        return render(request, "partials/signed_out.html")
    return redirect_to_login(request.get_full_path())


def _refusal(member: Member) -> str:
    return (
        f"You work in {member.kitchen} as {member.get_role_display().lower()}, and this page is "
        "not part of that. The owner can change what you may open, under Kitchen, People."
    )
