"""Signing in and out, the first account, and where everybody starts."""

from typing import Any

from django.conf import settings
from django.contrib.auth import authenticate, get_user_model, login, logout
from django.contrib.auth.hashers import make_password
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_POST

from costing.forms.accounts import SignInForm, WelcomeForm
from costing.forms.fields import mistakes
from costing.models import Member
from costing.selectors.kitchens import memberships
from costing.views.access import LAST_KITCHEN, way_back
from costing.views.menu import first_page
from costing.views.throttle import forget_failures, must_wait, note_failure

BACKEND = "django.contrib.auth.backends.ModelBackend"
WAIT = (
    "Too many wrong passwords for this name from here. Wait ten minutes, then try again; "
    "the owner of the kitchen can give you a new password."
)
WRONG = "That name and password do not go together. Check the capitals in the password."


@never_cache
def start(request: HttpRequest) -> HttpResponse:
    """Send everybody to where their work is: the last kitchen, a new one, or the way in."""
    if not request.user.is_authenticated:
        return redirect("sign_in" if _somebody_exists() else "welcome")
    places = memberships(request.user)
    if not places:
        return redirect("kitchen_new")
    last = request.session.get(LAST_KITCHEN)
    place = next((place for place in places if place.kitchen_id == last), places[0])
    return redirect(first_page(place))


@never_cache
@sensitive_post_parameters()
def sign_in(request: HttpRequest) -> HttpResponse:
    """Name and password; after ten failures a pause of ten minutes."""
    if request.user.is_authenticated:
        return redirect("start")
    if not _somebody_exists():
        return redirect("welcome")
    form = SignInForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        answer = _try(request, form)
        if answer is not None:
            return answer
    page = {"form": form, "mistakes": mistakes(form), "next": request.GET.get("next", "")}
    return render(request, "costing/sign_in.html", page)


def _try(request: HttpRequest, form: SignInForm) -> HttpResponse | None:
    username = form.cleaned_data["username"]
    if must_wait(request, username=username):
        form.add_error(None, WAIT)
        return None
    user = authenticate(request, username=username, password=form.cleaned_data["password"])
    if user is None:
        note_failure(request, username=username)
        form.add_error(None, WRONG)
        return None
    forget_failures(request, username=username)
    login(request, user)
    return HttpResponseRedirect(_next(request))


def _next(request: HttpRequest) -> str:
    return way_back(request, request.POST.get("next", ""), otherwise="/")


@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    """End the visit on this device."""
    logout(request)
    return redirect("sign_in")


@require_POST
def demo_sign_in(request: HttpRequest) -> HttpResponse:
    """One button into the demo kitchen; there is no such door anywhere but in the demo."""
    if not settings.DEMO:
        raise Http404("There is no demo kitchen here.")
    owner = (
        Member.objects.filter(kitchen__is_demo=True, role=Member.Role.OWNER)
        .select_related("user")
        .first()
    )
    if owner is None:
        return render(request, "costing/no_demo.html", status=503)
    login(request, owner.user, backend=BACKEND)
    request.session[LAST_KITCHEN] = owner.kitchen_id
    return redirect("today", owner.kitchen_id)


@never_cache
@sensitive_post_parameters()
def welcome(request: HttpRequest) -> HttpResponse:
    """The owner's account, while there is nobody yet."""
    if _somebody_exists():
        return redirect("start")
    form = WelcomeForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        _first_account(request, form.cleaned_data)
        return redirect("kitchen_new")
    page = {"form": form, "mistakes": mistakes(form)}
    return render(request, "costing/welcome.html", page)


def _first_account(request: HttpRequest, data: dict[str, Any]) -> None:
    accounts = get_user_model()
    user = accounts(username=accounts.normalize_username(data["username"]))
    user.password = make_password(data["password"])
    user.save()
    login(request, user, backend=BACKEND)


def _somebody_exists() -> bool:
    return get_user_model()._default_manager.exists()
