"""Signing in, and the first account of a new installation."""

from typing import Any

from django import forms
from django.contrib.auth import get_user_model
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError

from costing.forms.fields import Line, form_layout

LENGTH_HELP = "At least twelve characters. Four plain words in a row are good and easy to type."


class SignInForm(forms.Form):
    """Name and password."""

    username = forms.CharField(
        label="Your name here",
        max_length=150,
        widget=forms.TextInput(attrs={"autocomplete": "username", "autocapitalize": "none"}),
    )
    password = forms.CharField(
        label="Password",
        strip=False,
        max_length=200,
        widget=forms.PasswordInput(attrs={"autocomplete": "current-password"}),
    )
    helper = form_layout(Line("username"), Line("password"))


class WelcomeForm(forms.Form):
    """The owner's account: the first one, made by whoever installed the site."""

    username = forms.CharField(
        label="Your name here",
        max_length=150,
        help_text="What you type to sign in: letters, digits and . - _ @",
        widget=forms.TextInput(attrs={"autocomplete": "username", "autocapitalize": "none"}),
    )
    password = forms.CharField(
        label="Password",
        strip=False,
        max_length=200,
        help_text=LENGTH_HELP,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )
    helper = form_layout(Line("username"), Line("password"))

    def clean(self) -> dict[str, Any]:
        """Hold the account to the rules of the site: an allowed name, a strong password."""
        data = super().clean() or {}
        accounts = get_user_model()
        user = accounts(username=accounts.normalize_username(data.get("username", "")))
        if "username" in data:
            try:
                user.clean_fields(exclude=["password"])
            except ValidationError as error:
                self.add_error("username", error.message_dict.get("username", []))
        if "password" in data:
            try:
                validate_password(data["password"], user=user)
            except ValidationError as error:
                self.add_error("password", error)
        return data
