"""Addresses. All of a kitchen lives under /k/<kitchen>/, so that a link names its kitchen."""

from django.urls import URLPattern, URLResolver, include, path

from costing.views import accounts

in_a_kitchen: list[URLPattern | URLResolver] = [
    # --- Kitchen -----------------------------------------------------------------------------
    # --- Prices ------------------------------------------------------------------------------
    # --- Recipes: the cost of a kilo ---------------------------------------------------------
    # (recipes, recipe_new, recipe, recipe_edit, recipe_reckon, recipe_versions go here)
    # --- Products: the price at the stall ----------------------------------------------------
    # (products, product_new, product, product_edit, product_reckon go here)
]

urlpatterns: list[URLPattern | URLResolver] = [
    path("", accounts.start, name="start"),
    path("sign-in/", accounts.sign_in, name="sign_in"),
    path("sign-out/", accounts.sign_out, name="sign_out"),
    path("demo/", accounts.demo_sign_in, name="demo_sign_in"),
    path("welcome/", accounts.welcome, name="welcome"),
    path("k/<int:kitchen_id>/", include(in_a_kitchen)),
]
